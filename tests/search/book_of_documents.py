"""Documents and synonyms for the search tests: a small workshop's book, written for these tests alone."""

from __future__ import annotations

from shearpin.search.document import Document, Synonym

TWO_STAGE = frozenset({"osmere-d24", "osmere-d28", "osmere-t28"})
FRICTION = frozenset({"osmere-d24", "osmere-d28"})
SINGLE_STAGE = frozenset({"tarnbrook-s20", "tarnbrook-s22e"})
TILLER = frozenset({"osmere-r18"})


def document(
    kind: str,
    id: str,
    title: str,
    summary: str,
    *,
    said: str = "",
    also: str = "",
    body: str = "",
    numbers: str = "",
    machines: frozenset[str] | None = None,
) -> Document:
    """A document whose phrases are divided by `;` and whose address follows from its kind and id."""
    fields = {"title": title, "summary": summary, "body": body, "numbers": numbers.replace(";", "\n")}
    fields |= {"said": said.replace(";", "\n"), "also": also.replace(";", "\n")}
    return Document(id, kind, title, f"{kind}s/{id}.html", summary, fields, machines)


SYMPTOMS = (
    document(
        "symptom",
        "one-side-of-auger-does-not-turn",
        "One side of the auger does not turn",
        "Half of the auger stands still while the other half turns.",
        said="left auger not spinning;right side of the auger is dead;only half the auger turns;auger won't spin on "
        "one side;one rake spins, the other just sits there",
        body="The shear bolt of that side has broken as designed, after ice or a stone. The engine and the belt are "
        "in order, since the other side still turns. Look at both bolts before anything is taken apart.",
        machines=TWO_STAGE,
    ),
    document(
        "symptom",
        "auger-does-not-turn",
        "Auger does not turn",
        "The auger lever is down, the engine runs, and the auger stands still.",
        said="auger quit;auger dead;auger won't engage;nothing happens when I squeeze the auger lever;no auger",
        body="Belt off, broken or glazed; control cable slack or frozen; idler pulley seized; impeller iced in; both "
        "shear bolts broken; worm gear stripped. One look behind the belt cover tells most of them apart.",
    ),
    document(
        "symptom",
        "impeller-turns-but-auger-does-not",
        "Impeller turns but auger does not",
        "Snow dust leaves the chute, yet the auger in front stands still.",
        said="fan spins but the auger doesn't;blower wheel turns, rakes don't",
        body="The belt drives the impeller shaft. What is behind it is the auger gearbox and its shear bolts.",
        machines=TWO_STAGE,
    ),
    document(
        "symptom",
        "auger-turns-but-impeller-does-not",
        "Auger turns but impeller does not",
        "The auger feeds snow into the housing, but nothing leaves the chute.",
        said="rakes turn but the fan doesn't;auger spins, nothing comes out",
        body="The shear bolt of the impeller has broken, or its key is gone.",
        machines=TWO_STAGE,
    ),
    document(
        "symptom",
        "auger-keeps-turning-when-released",
        "Auger keeps turning when the lever is released",
        "The auger runs on after the operator lets go. Take the machine out of use.",
        said="auger won't stop;auger doesn't disengage;rakes keep spinning",
        body="The brake pad is worn off or the control cable is too tight or frozen. Nobody runs it until mended.",
    ),
    document(
        "symptom",
        "auger-belt-slips-or-smokes",
        "Auger belt slips or smokes",
        "Smell of hot rubber, squeal under load, auger slows down in heavy snow.",
        said="burning rubber smell;belt squeals;belt is smoking;auger slows down in deep snow",
        body="Belt glazed or stretched, cable out of adjustment, idler pulley seized, impeller dragging on ice.",
    ),
    document(
        "symptom",
        "engine-cranks-but-will-not-start",
        "Engine cranks but will not start",
        "The engine turns over on the rope or the electric starter, and does not fire.",
        said="won't start;it won't fire;pull and pull and nothing;no start;turns over but doesn't catch",
        body="Stop switch, key and fuel valve first. Then fresh fuel, spark, choke and primer, compression.",
    ),
    document(
        "symptom",
        "engine-starts-then-dies",
        "Engine starts, then dies",
        "The engine fires, runs for some seconds and stops.",
        said="starts and quits;runs a few seconds then dies;stalls after a minute;won't stay running",
        body="Fuel cap vent blocked, carburetor bowl empty, water or ice in the fuel, choke opened too early.",
    ),
    document(
        "symptom",
        "engine-surges",
        "Engine surges",
        "Speed rises and falls by itself at no load.",
        said="hunts;hunts and surges;revs up and down;engine won't hold a steady speed",
        body="Pilot jet partly blocked, air leak at the carburetor gasket, governor spring in the wrong hole.",
    ),
    document(
        "symptom",
        "engine-runs-only-on-choke",
        "Engine runs only on choke",
        "It dies as soon as the choke is opened.",
        said="only runs with the choke on;dies when I take the choke off",
        body="The mixture is too lean: main jet blocked after storage, air leak behind the carburetor.",
    ),
    document(
        "symptom",
        "engine-will-not-stop",
        "Engine will not stop",
        "The key or the switch is off and the engine runs on. Take the machine out of use.",
        said="won't turn off;won't shut off;keeps running with the key out;can't kill it",
        body="The stop lead is off or broken, or the stop switch does not ground the coil.",
    ),
    document(
        "symptom",
        "fuel-leak",
        "Fuel leak",
        "Fuel drips or smells. Take the machine out of use, no sparks, no flame.",
        said="leaking gas;gas smell;gas drips from the carb;puddle of gas under it",
        body="Float needle stuck open, bowl gasket, cracked fuel line, loose clamp, primer hose off.",
    ),
    document(
        "symptom",
        "recoil-rope-will-not-pull",
        "Recoil rope will not pull",
        "The rope is stuck or can only be pulled with great force.",
        said="pull cord stuck;can't pull the rope;rope is locked solid",
        body="Seized engine, iced auger engaged, recoil spring jammed, oil above the piston after tipping.",
    ),
    document(
        "symptom",
        "throws-snow-short-distance",
        "Throws snow a short distance",
        "Snow drops a few steps in front of the machine.",
        said="doesn't throw far;weak throw;just dribbles out of the chute",
        body="Auger belt slipping, engine below governed speed, wet snow, worn paddles, iced chute.",
    ),
    document(
        "symptom",
        "no-drive-in-either-direction",
        "No drive in either direction",
        "The engine runs and the wheels do not turn.",
        said="won't self propel;won't move;no forward no reverse;wheels don't turn",
        body="Traction cable slack, friction ring worn or wet, traction belt off, wheel drive pin missing.",
        machines=TWO_STAGE,
    ),
    document(
        "symptom",
        "chute-will-not-rotate",
        "Chute will not rotate",
        "The crank or lever is stiff and the chute stands still.",
        said="chute is frozen;can't turn the chute;chute stuck",
        body="Ice and rust under the chute ring, cable off its drum, worm of the crank dry.",
    ),
    document(
        "symptom",
        "headlight-does-not-work",
        "Headlight does not work",
        "No light with the engine running.",
        said="no light;lamp is dead",
        body="Bulb, plug, lighting coil, broken lead at the handlebar.",
        machines=TWO_STAGE,
    ),
    document(
        "symptom",
        "tines-do-not-turn",
        "Tines do not turn",
        "The tiller engine runs, the lever is engaged, the tines stand still.",
        said="tines won't spin;tiller doesn't dig",
        body="Shear pin of the tine shaft broken, drive belt off, chain case seized.",
        machines=TILLER,
    ),
)

PROCEDURES = (
    document(
        "procedure",
        "replace-auger-shear-bolt",
        "Replace an auger shear bolt",
        "The bolt has sheared as designed after a stone or ice; one side of the auger no longer turns.",
        body="Turn the auger by hand until the holes of the auger tube and of the shaft line up. Drive the broken bolt "
        "out with a pin punch. Fit the new bolt and lock nut, and tighten to 9 N·m. Both auger halves turn together. "
        "Run the function test at idle with the chute pointing away from people. Do not use a stronger bolt.",
        machines=TWO_STAGE,
    ),
    document(
        "procedure",
        "replace-auger-belt-two-stage",
        "Replace the auger belt (two-stage)",
        "The belt is glazed, cracked, stretched or broken.",
        body="Remove the belt cover. Take the chute crank off. Slip the old belt from the engine pulley and then from "
        "the auger pulley. Do not pry on the pulley. Fit the new belt behind the idler pulley and turn the rope by "
        "hand to seat it. Adjust the auger control cable. Left and right belt guides stand 3 mm from the belt.",
        machines=TWO_STAGE,
    ),
    document(
        "procedure",
        "replace-auger-belt-single-stage",
        "Replace the auger belt (single-stage)",
        "The belt is glazed, cracked, stretched or broken.",
        body="Remove the side cover on the left. Release the idler spring. Take the belt off the large pulley first. "
        "Fit the new belt, hook the spring, and check that the paddles stop within 5 s when the bail is released.",
        machines=SINGLE_STAGE,
    ),
    document(
        "procedure",
        "adjust-auger-control-cable",
        "Adjust the auger control cable",
        "Take up slack so that the idler tensions the belt and still lets go.",
        body="With the lever released the cable hangs slack by 3 mm. Turn the adjuster one side, then tighten the nut.",
    ),
    document(
        "procedure",
        "replace-spark-plug",
        "Replace the spark plug",
        "The plug is fouled, cracked or worn.",
        also="change plug;new plug",
        body="Pull the plug cap straight off. Clean around the plug. Unscrew the old plug. Set the gap to 0.70-0.80 mm "
        "(0.028-0.031 in). Start the thread by hand and tighten to 24 N·m or 18 ft-lb.",
    ),
    document(
        "procedure",
        "set-ignition-coil-air-gap",
        "Set the ignition coil air gap",
        "The gap between coil and flywheel magnet decides the spark.",
        also="armature gap",
        body="Turn the magnet away. Loosen both screws. Put a 0.25 mm feeler gauge between coil and magnet and tighten.",
    ),
    document(
        "procedure",
        "set-valve-clearance",
        "Set the valve clearance",
        "Intake and exhaust clearance, cold engine, piston at top dead centre.",
        also="adjust tappets;valve lash",
        body="Remove the valve cover. Turn the engine until both valves are closed. Check with a feeler gauge. "
        "Hold the rocker and turn the nut. Tighten the lock nut. Fit a new cover gasket.",
    ),
    document(
        "procedure",
        "clean-carburetor",
        "Clean the carburetor",
        "Varnish from old fuel blocks the jets.",
        also="rebuild carb",
        body="Shut the fuel valve. Remove the bowl. Take out main jet and emulsion tube. Clean with solvent and air, "
        "never with wire. Fit a new bowl gasket. Check that the float needle does not leak.",
    ),
    document(
        "procedure",
        "replace-friction-ring",
        "Replace the friction ring",
        "The rubber ring of the drive is worn to the metal, oily or torn.",
        also="friction wheel;drive disc rubber",
        body="Tip the machine on its nose. Remove the bottom cover. Unbolt the hub and slide the ring off. Keep oil "
        "away from the disc. Adjust the traction cable.",
        machines=FRICTION,
    ),
    document(
        "procedure",
        "treat-or-replace-stale-fuel",
        "Treat or replace stale fuel",
        "Old petrol leaves varnish in the carburetor.",
        body="Drain tank and bowl into a metal can. Fill with fresh fuel. Run the engine for five minutes.",
    ),
    document(
        "procedure",
        "make-machine-safe",
        "Make the machine safe",
        "Engine off, key out, plug lead off, everything stopped.",
        body="Stop the engine. Remove the key. Wait until all moving parts stop. Pull the plug lead off and tie it away.",
    ),
    document(
        "procedure",
        "set-tire-pressure",
        "Set the tire pressure",
        "Equal pressure left and right, or the machine pulls to one side.",
        body="Read the limit on the tire wall. Inflate to 100 kPa (15 psi). Never stand over the rim.",
        machines=FRICTION,
    ),
    document(
        "procedure",
        "change-engine-oil",
        "Change the engine oil",
        "Warm engine, fresh SAE 5W-30.",
        body="Drain while warm. Fill 0.6 L of 5W-30. Check the dipstick. Do not overfill.",
    ),
    document(
        "procedure",
        "replace-tine-shear-pin",
        "Replace the tine shear pin",
        "The pin breaks on a root to save the chain case.",
        body="Turn the tines by hand until the holes line up. Drive the rest of the pin out. Fit a new pin and clip.",
        machines=TILLER,
    ),
)

OTHERS = (
    document(
        "value",
        "spark-plug.gap",
        "Spark plug gap",
        "E127 0.70-0.80 mm; E208 0.70-0.80 mm; E212 0.70-0.80 mm; E272 0.90-1.00 mm; E306 0.90-1.00 mm.",
        also="plug gap",
        body="Ellvane E127 E208 E212 E272 E306. Measured with a wire gauge.",
    ),
    document(
        "value",
        "auger-shear-bolt.torque",
        "Auger shear bolt torque",
        "D24 9 N·m; D28 9 N·m; T28 11 N·m.",
        body="Osmere D24 D28 T28. Tight enough that it does not rattle, no more.",
        machines=TWO_STAGE,
    ),
    document(
        "value",
        "valve.clearance",
        "Valve clearance",
        "Intake 0.10-0.15 mm, exhaust 0.15-0.20 mm, cold.",
        body="Ellvane E127 E208 E212 E272 E306.",
    ),
    document(
        "value",
        "tire.pressure",
        "Tire pressure",
        "D24 100 kPa; D28 120 kPa.",
        body="Osmere D24 D28.",
        machines=FRICTION,
    ),
    document(
        "value",
        "engine.governed-speed",
        "Governed speed",
        "3600 rpm at no load on the throwers, 3,300 rpm on the tiller.",
        body="Measured with a tachometer. r/min, rev/min.",
    ),
    document(
        "test",
        "spark-test",
        "Spark test",
        "A tester between plug cap and engine shows whether there is spark.",
        said="no spark",
        body="Use a spark tester, not a screwdriver. Pull the rope. Blue and loud: good. None: switch, coil, key.",
    ),
    document(
        "test",
        "belt-inspection",
        "Inspect the belt",
        "Cracks, glaze, frayed cord, oil.",
        body="Take the belt cover off. Turn the belt by hand and look at both sides.",
    ),
    document(
        "test",
        "compression-test",
        "Compression test",
        "Gauge in the plug hole, full throttle, five pulls.",
        body="Compare with the value of the engine. Low: valve, ring, head gasket.",
    ),
    document(
        "cause",
        "auger-shear-bolt-sheared",
        "Auger shear bolt sheared",
        "The bolt that joins one auger half to the shaft broke at its groove.",
        body="It breaks on purpose before the gearbox does. The half without a bolt does not turn.",
        machines=TWO_STAGE,
    ),
    document(
        "cause",
        "carburetor-jets-blocked",
        "Carburetor jets blocked",
        "Fuel dried to varnish in the main or pilot jet.",
        body="After a summer with fuel in the bowl. Engine surges, or runs only on choke.",
    ),
    document(
        "cause",
        "fuel-cap-vent-blocked",
        "Fuel cap vent blocked",
        "No air enters the tank, the bowl runs empty.",
        body="Ice or dirt in the cap. The engine dies after minutes and starts again once the cap is opened.",
    ),
    document(
        "machine", "osmere-d24", "Osmere D24", "Two-stage snow thrower, 61 cm.", machines=frozenset({"osmere-d24"})
    ),
    document(
        "machine",
        "tarnbrook-s20",
        "Tarnbrook S20",
        "Single-stage snow thrower, 51 cm.",
        machines=frozenset({"tarnbrook-s20"}),
    ),
    document("engine", "ellvane-e212", "Ellvane E212", "212 cm³ overhead-valve four-stroke engine."),
    document(
        "system",
        "auger-drive",
        "Auger drive",
        "Belt, idler pulley and cable that turn the auger.",
        body="How the auger drive works: the lever pulls the cable, the idler tensions the belt, the belt turns the shaft.",
    ),
    document(
        "system",
        "engine-ignition",
        "Ignition",
        "Magnet, coil, plug and stop switch.",
        body="How the magneto works: the magnet passes the coil and the plug sparks.",
    ),
    document(
        "part",
        "auger-shear-bolt",
        "Auger shear bolt",
        "M6 × 45 with lock nut, grade 2. Ordered by the machine plate.",
        numbers="986-3413;986-3420",
        machines=TWO_STAGE,
    ),
    document(
        "part",
        "auger-belt",
        "Auger belt",
        "Ordered by the machine plate.",
        numbers="OSM-4471-B;TB 2210",
    ),
    document(
        "part",
        "spark-plug",
        "Spark plug",
        "14 mm thread. Ordered by the engine plate.",
        numbers="EL-PL6R",
        also="plug",
    ),
    document("tool", "feeler-gauge", "Feeler gauge", "Blades from 0.05 to 1.00 mm.", also="thickness gauge"),
    document("tool", "torque-wrench", "Torque wrench", "5 to 50 N·m, 3/8 inch square."),
    document(
        "caution",
        "sharp-auger-edges",
        "Sharp auger edges",
        "CAUTION: the auger edges cut. Wear gloves.",
        body="The auger can turn a little when ice lets go, also with the engine off.",
    ),
    document("term", "shear-bolt", "Shear bolt", "A bolt with a groove that breaks before the gearbox does."),
    document("term", "carburetor", "Carburetor", "Mixes fuel and air."),
    document("source", "institute-bench-notes", "Bench notes of the institute", "Measured in the workshop."),
    document("page", "calculators", "Bench calculators", "Torque with an adapter, belt speed, displacement."),
)

DOCUMENTS = SYMPTOMS + PROCEDURES + OTHERS

SYNONYMS = (
    Synonym("turn", ("spin", "rotate", "go round")),
    Synonym("auger", ("rake", "snow screw"), ("augre", "augur")),
    Synonym("impeller", ("fan", "blower wheel")),
    Synonym("carburetor", ("carb", "carbie"), ("carburator", "carberator")),
    Synonym("fuel", ("gas", "gasoline", "petrol")),
    Synonym("shear bolt", ("shear pin", "sheer bolt", "breakaway bolt")),
    Synonym("stop switch", ("kill switch", "on-off switch")),
    Synonym("surge", ("hunt",)),
    Synonym("friction ring", ("friction wheel", "rubber wheel")),
    Synonym("recoil rope", ("pull cord", "pull rope", "starter cord")),
    Synonym("traction", ("self-propel", "drive")),
    Synonym("engine", ("motor",)),
    Synonym("die", ("stall", "quit", "cut out")),
    Synonym("valve clearance", ("tappet gap", "valve lash")),
)
