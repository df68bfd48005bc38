"""Owns the words that synthetic books are written with: general words of the trade, the commonest first."""

from __future__ import annotations

from typing import Final


def _words(text: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text.split()))


NOUNS: Final = _words(
    """
    engine belt bolt cable shaft pulley housing spring cover bearing lever gear wheel nut plug fuel oil blade valve
    pin seal hose carburetor washer bracket switch screw tank guard gasket filter chain clutch flywheel key wire
    bushing rod coil brake pad idler frame handle throttle choke starter rope spindle deck auger impeller chute
    piston cylinder crankshaft ring muffler tire axle hub arm link joint cap bowl float needle jet seat gauge ruler
    wrench socket punch hammer file brush rag tray bench vise stand chock strap clamp hook pliers screwdriver reamer
    puller press feeler lamp meter lead probe clip terminal connector fuse relay solenoid battery charger motor magnet
    stator rotor diode rectifier harness grommet sleeve tube pipe elbow fitting nipple manifold diaphragm primer bulb
    governor vane linkage pivot fork yoke collar spacer shim liner sump breather dipstick drain rocker pushrod tappet
    camshaft cam lobe lifter retainer keeper guide port passage baffle shroud fin fan screen element cartridge canister
    strainer separator venturi butterfly plate slide rail track roller sprocket tensioner drum disc rotor caliper shoe
    lining cone worm pinion rack spline flange boss web rib gusset weld bead seam edge corner face bore stroke groove
    slot notch hole thread pitch taper shoulder head shank tip tooth flank root crest land lip wiper boot bellows
    packing gland thimble ferrule rivet dowel circlip cotter latch catch pawl ratchet detent stop bumper cushion mount
    damper skid scraper paddle tine hood deflector rotator crank knob grip bail trigger pedal column hitch
    drawbar tongue bucket hopper chamber cutter knife anvil bar nose sprayer nozzle lance gun pump unloader regulator
    orifice accumulator manometer thermostat radiator reservoir bleeder purge vent siphon funnel can container label
    decal marking number plate letter stamp scale dial pointer indicator lens reflector light
    workshop counter customer season winter storage snow ice gravel pavement grass soil root stone stick twine wire
    mud sand dust rust scale carbon varnish gum water moisture condensation frost salt heat smoke smell noise knock
    squeal rattle whine hum vibration play slack tension wear crack chip dent burr score pitting scratch leak drip
    stain residue deposit clearance gap height width depth length diameter radius angle force load torque preload
    pressure vacuum flow voltage current resistance speed timing compression mixture spark ignition exhaust intake
    lubrication cooling steering traction lighting drive control adjustment alignment balance inspection service
    address advice agent aid aim air allowance alloy amount anchor apprentice apron area arch array arrow
    article assembly atmosphere attachment attempt attention average awl backing bag balancer ball band bank
    barrel barrier base basin basket batch beam beginning behaviour bellcrank belly bend bevel bill bin binding
    bit blank blend blister blow board body bond book border bottle bottom bow box brace braid branch breakage
    breaker breeze brick bridge bristle bubble buckle bulge bulk bundle burner button buyer cabinet cage
    calendar caliber calm candle canopy capacitor card cargo carriage carrier carton case casing casting
    category cause cavity ceiling cell cement center chalk chamfer chance change channel character charge chart
    chassis check cheek choice circle circuit circumference claim class claw clay cleaner clerk climate clinic
    clock cloth cloud clue coal coat coating code collection collet color combination comb comfort company
    comparison compartment compass complaint compound concrete condition conductor confidence connection
    consequence constant consumption contact contents contour contract contrast conversion cooler copper copy
    cord core cork correction corrosion cost cotton coupling course cradle craft crane creak crease creep crimp
    cross crown crust cube cuff cup curb cure curl curtain curve cushioning custom cycle dashpot data date
    daylight day deadline dealer debris decision defect definition degree delay demand density department depot
    description design detail detergent development device diagnosis diagram die difference direction discount
    discovery dish display distance distributor ditch division dock document dolly dome door dose draft drag
    drawer drawing driveway driver drop drying duct duration duty dye ear earth echo economy edging effect
    efficiency effort elastic electrode electrolyte elevation emery emission enamel end energy entry envelope
    environment epoxy equipment error escape estimate evaporation event evidence examination example exchange
    experience expert explanation extension extent exterior extractor eye eyelet fabric facility fact factor
    factory failure fall farm fashion fastener fatigue feature feedback feel fence fiber field figure filament
    filler film filing finger finish flare flap flash flask flicker flood floor flour flush flux foam foil fold
    foot footing forecast forging form formula foundation fraction fragment freezer friction front fumes
    function furnace furniture gain gallery garage garden garment gas gate gearing generator glass glaze glove
    glue goggles grade grain granule graph graphite grate gravity grease grid grille grinder grinding grit
    ground group growth guarantee guess guidance gutter habit hacksaw hair half hand handbook handbrake handful
    hanger harvest heap hearing heater heel help hemp hex hinge history hoist holder hollow home honing horn
    hour humidity hundred hydrometer idea image impact improvement impulse inch incident increase indent index
    influence ink inlet insert inside insight installation instance instruction instrument insulation intention
    interior interlock interval invoice iron issue item jack jacket jam jar jaw jerk jig job journal judgement
    jumper junction kerosene kettle kit knowledge knurl laboratory lacquer ladder lamination lane lap latex
    lathe lawn layer layout leaf leather leg lesson letterhead level license lid life lifetime limb lime limit
    line liquid list litre lock locknut log loop loss lot lubricant lug lump machine mallet manner manual map
    mark mask mass mat match material matter maximum meaning means measure measurement mechanism medium member
    membrane memory mesh message metal method middle mile mill mind mineral minimum minute mirror mistake mixer
    mode model module moment month morning mortar motion mould mouth movement nail name neck neighbour
    neighbourhood nest net network night nitrogen notice nylon object observation obstacle occasion offer office
    oilcan opener opening operation operator opinion option order origin outdoor outfit outlet outline output
    outside oven overflow owner oxide oxygen pack package padlock page pail paint pair palm pan panel paper
    paraffin park part particle partition partner pass paste patch path pattern pause peak peg pen pencil
    percentage performance period permission person phase photo picture piece pile pillar pit place plan plank
    plastic platform pliability pocket point poke pole polish pond pool portion position possibility post pot
    pound powder power practice precision preparation presence price principle print priority problem procedure
    process product profile profit program progress project proof property protection protractor pry puddle puff
    pulse purchase purpose puzzle quality quantity quarter question queue radio rain raise ramp range rate ratio
    reach reaction reader reading rear reason rebound receipt receiver recess recoil recommendation record
    rectangle reduction reference refill region register relation release relief remainder remedy reminder
    removal rent replacement report request requirement research reserve residual resin resonance respect
    response rest restriction result retail return reverse review ribbon ride ridge rig rise road rock roll roof
    room rotation route routine row rub rule run rung runner rush sack saddle safety sale sample sandpaper
    satisfaction saw sawdust scaffold scent schedule scheme scoop scope screwhead scriber sealant search second
    secret section sector security sediment selection selector sense sensor sequence series set setting
    settlement shade shadow shake shape share sharpness shavings shear shed sheet shelf shell shelter shield
    shift shine shipment shock shop shore shortage shot shovel show shower shutter side sidewalk sight sign
    signal silicone silver simplicity sink site situation size skill skin skirt sky slab slag slant sleet slice
    sling slip slope sludge slug smear snap soap sole solution solvent source space span spanner spare spatter
    specialist specification specimen sphere spill spin spirit splash splint split spoke sponge spool spoon spot
    spout spray spreader sprinkle spur squirt stability stack staff stage stair stake stall standard staple
    start state statement station steam steel stem step stiffener stiffness stock stool storm story stove strand
    streak stream street strength stress stretch string strip structure stub style substance success suction
    summary summer sun supplier supply surface surprise surrounding swab swap sweep swelling swing swivel symbol
    symptom system tab table tack tag tail talc tap tape target task taste teacher technique telephone
    temperature template temper tendency tender tent term terrain test texture theory thickness thinner thought
    thousandth throat throw thrust thumb thumbscrew ticket tide tie tile timber time tin tint toe toggle
    tolerance ton tone tongs tool toolbox top torch total touch tower town trade trail trailer trainee trainer
    training transfer transistor transit transmission trap travel treatment tree trench trend trial triangle
    trick trim trip trolley trouble trough truck trunk trust truth tub tuning tunnel turbine turn turnbuckle
    twist type unit upkeep upper usage use user utility value van variation variety vehicle velocity vendor
    version vessel view visit voice void volume wagon waiting walk wall warehouse warmth wash waste watch wave
    way weather wedge week weight weldment well whip whisker whistle wind winding window wing wiring wish wood
    wool word work worker workpiece world worry wrap wreck wrinkle wrist yard year yield zinc zone
    """
)

ADJECTIVES: Final = _words(
    """
    new clean dry tight loose free worn flat straight round smooth even full empty cold warm hot short long upper
    lower left right front rear inner outer small large thin thick light heavy soft hard sharp blunt rough sound
    cracked bent broken rusty oily greasy wet dirty dusty blocked clear open closed slack stiff tired glazed frayed
    chipped dented scored pitted burnt charred swollen brittle sticky gummed corroded seized stripped twisted kinked
    crushed frozen dull bright shiny dark pale brown black grey blue metallic rubber steel brass bronze aluminium
    cast forged pressed welded riveted bolted threaded tapered splined keyed slotted drilled machined ground polished
    hardened plated painted coated sealed vented spare original matching correct wrong doubtful intermittent constant
    gradual sudden early late regular seasonal daily usual unusual normal excessive insufficient adjustable fixed
    sliding rotating floating idle loaded engaged released raised lowered level crooked parallel square central offset
    opposite adjacent remaining visible hidden accessible narrow wide deep shallow hollow solid flexible rigid
    magnetic electric hydraulic mechanical manual automatic positive negative live grounded insulated bare
    able absent absorbent abrupt abundant acceptable accurate acid active actual additional airtight
    ample ancient angular annual apparent approximate apt asymmetric audible available average awkward backward
    basic bearable bendable blind blistered blurred bold bonded bony bottom brief broad bulky bumpy busy careful
    careless cautious certain cheap chemical chief circular clammy clever clogged close clumsy coarse coiled
    collapsed colored comfortable common compact complete complex compressed concave conical consistent
    continuous convenient convex cool cored costly coupled creased crisp critical cross cubic curly curved
    customary damaged damp dead deaf decent defective delicate dense dependent detached detailed diagonal
    different difficult dim direct disconnected discolored dismantled distant distinct distorted domestic double
    downward drained dual due durable dusted eager earthed easy eccentric economic edged effective efficient
    elastic elevated elongated looking endless enormous enough entire equal equipped essential evident exact
    excellent exposed external extra extreme faint fair false familiar far fast faulty favorable feeble few
    filled final fine firm fitting flawed fluid foamy folded following foreign foremost fragile frequent fresh
    frictionless functional further fuzzy galvanized general generous gentle genuine giant glassy gleaming
    glossy good grained grand granular grave greased green gross grooved handmade handy hardwearing harmless
    heated helpful high hinged horizontal household huge humid ideal identical immediate important impossible
    inclined incomplete independent indoor industrial inferior initial inlaid inside instant intact intense
    intermediate internal inverted inward irregular jagged jammed joined just keen key knurled labelled
    laminated lasting latest lateral lean least leftover legible less likely limited linear liquid little local
    locked logical lone loud low lubricated lumpy magnetized main major male marked massive maximum mean medium
    melted middle mild minimal minor minute misaligned missing mixed mobile modern moist molded moving muddy
    multiple narrowed natural nearby neat necessary needed neutral next nominal noisy notched numerous obvious
    occasional odd offbeat old optional ordinary outdoor outward oval overheated overlapping own padded paired
    partial particular past patched perfect permanent perpendicular piped plain plastic plentiful pliable plump
    pointed poor popular porous portable possible powdery powerful practical precise present previous primary
    principal private probable prompt protruding public pure quick quiet rapid rare raw ready real reasonable recent
    recessed reddish reduced regulated reliable remote renewed repeated replaceable resistant responsible
    reverse ribbed rich rigged ripe risky rolled roomy rotary rotten rounded routine rugged safe salty same
    sandy satisfactory scarce scratched scraped second secondary secret secure selective senior sensitive
    separate serious several severe shaded shaky shaped silent similar simple single sized skilled sleek slender
    slight slim slippery slow smart smoky snug soapy sole solitary sooty sore special specific speedy spent
    spherical spiral spongy spotless spotted springy stable staggered stained stainless standard steady steep
    still stout strange streaked strong subtle successful superior supple sure surplus swift
    symmetrical synthetic tall tangled taut temporary tender tepid terminal thorough threadbare tidy timely tiny
    torn total tough trained transparent transverse trapped tricky trim triple true tubular twin typical ugly
    uncommon uneven uniform unique universal unknown unlike unlikely unpainted unstable untidy upright urgent
    used useful useless vacant vague valid valuable various vast vertical viscous vital warped washable
    waterproof wavy waxed waxy weak weary weathered weekly welcome whole wiry wobbly wooden woolly workable
    worthless wound woven wrinkled yearly yellow yielding young
    """
)

# No verb here names a hazardous act: those stand in the finishing steps, with their action declared.
ACTS: Final = _words(
    """
    loosen tighten remove refit turn press hold slide push lay wipe brush inspect measure compare mark align check
    clamp support grease file deburr renew replace seat hook unhook thread tap rock feel read wrap hang fit free
    locate center square clean rinse dry sand dress trim cut splice crimp solder insulate route clip secure latch
    unlatch engage release close cover uncover protect label count weigh trace follow note record repeat finish
    """
)

ACTIONS_OF_THINGS: Final = _words(
    """
    holds carries turns drives guides seals presses pulls pushes stops rubs touches meets clears limits feeds cools
    oils wets blocks opens closes lifts lowers locks frees loads wears cracks bends shears stretches heats starves
    floods grounds shorts feeds meters regulates balances supports centers aligns protects covers shields locates
    """
)

PREPOSITIONS: Final = _words("on in at from behind under above beside near against through along between")

MANNER: Final = _words(
    """
    evenly slowly by-hand fully firmly lightly squarely crosswise carefully twice again completely gently steadily
    straight freely smoothly together separately first last later sideways upwards downwards halfway outwards inwards
    """
)

OCCASIONS: Final = _words(
    """
    season winter storm hour service repair start load frost thaw storage delivery overhaul inspection adjustment
    replacement refuelling transport
    """
)

STATEMENTS: Final = tuple(
    sentence.split()
    for sentence in (
        "The A N ACTS the N PREP the A N",
        "The N ACTS the A N until the N is A",
        "When the N is A , the N ACTS the A N",
        "A A N leaves the N A and the A N soon follows",
        "After a OCC the A N PREP the N is often A",
        "The N sits PREP the A N and ACTS the N",
        "Most of the N is A , and the rest shows PREP the N",
        "It begins PREP the A N and ends with a A N",
        "Where the N is A the A N ACTS the N instead",
        "A A N tells the same story as a A N PREP the N",
        "Between one OCC and the next the N loses its A N",
        "Neither the A N nor the N ACTS the N while the N stays A",
        "The A N belongs to the N , not to the A N",
        "With the N A , the A N has no N left",
        "Look at the N before the A N is blamed",
        "A N that is A PREP one side and A PREP the other points to the N",
    )
)

INSTRUCTIONS: Final = tuple(
    sentence.split()
    for sentence in (
        "ACT the A N MANNER",
        "ACT the N PREP the A N",
        "ACT the A N and the N PREP the N",
        "ACT the N until the A N is A",
        "ACT the N MANNER and look at the A N",
        "With the N A , ACT the A N PREP the N",
        "ACT each N PREP the A N and MANNER wipe the N",
        "ACT the A N so that the N stays A",
    )
)

CONFIRMATIONS: Final = tuple(
    sentence.split()
    for sentence in (
        "The N is A PREP the N",
        "The A N moves MANNER",
        "No A N shows PREP the N",
        "Both sides of the N are A",
        "The N and the A N line up",
    )
)

COMPLAINTS_SAID: Final = tuple(
    sentence.split()
    for sentence in (
        "N won't move",
        "there is a A N PREP the N",
        "it makes a N when the N is A",
        "N came off",
        "N is A and it quit",
        "lost the N PREP the N",
        "N won't stay A",
        "a N after the OCC",
        "no N at all",
        "N gets A after an hour",
    )
)
