"""What every workshop says in several ways, so that no writer has to list it: common practice, no source.

Names of things and their slang are `term` records of the book; here are the plain verbs and adjectives of complaints,
of work and of questions for a figure.
"""

from __future__ import annotations

from typing import Final

from shearpin.search.document import Synonym

_ROWS: Final = """
replace: change, swap, renew, switch out, change out, put in new, put on new, install new, fit new, exchange, r&r, r and r, remove and replace, repl, put in another, put another, put a new, put a fresh, bolt on, screw in, chuck in a new, swop, stick in a new, slap on
adjust: set, tune, readjust, dial in, adj, tweak, retension, take up
repair: fix, mend, overhaul, put right, sort out, cure, patch up, patch, make good, doctor, put to rights, bodge, get going again
inspect: check, look at, examine, test, insp, verify, confirm, look over, examination, look into, have a look, peek at, eyeball, going over, look for, take a look
remove: take off, pull off, take out, pull out, get off, lift off, take apart, dismount, demount, strip out, dismantle, take down, come out, drop out, winkle out, knock out
lubricate: grease, lube, oil up, greasing, lubrication
turn: spin, rotate, revolve, go round, go around, swivel, pivot
stop: quit, cease, halt, give up, knock off, pack up
turn off: shut off, switch off, shut down, shutdown
release: let go, let off, let up, turn loose, drop the handle, let loose, take my hand off, leave go, hand off
leak: drip, seep, weep, dribble, ooze, leaky, seepage, leakage, pour out, run out of, drool, spill, pee, weepy
seized: budge, bound up, hung up, seize up, stuck solid, freeze up, froze up, wedged, sticking, stiff, jammed solid, blocked solid, rusted solid, rusted tight, locked solid, frozen solid, rusted up, solid, stuck fast, gummed solid, immovable
break: snap, bust, crack, come apart, fall apart, give way, bust up, busted, broken, snapped off, come to bits, torn
noise: sound, racket, noisy, rumble, din, clamor, hullabaloo, loud
smell: stink, reek, odor, whiff, pong, honk, niff, smelly
vibrate: shake, shudder, wobble, judder, vibration, shaky, jerky, tremble, rattle all over, rattle my teeth, jump about, jumpy, numb hands, tingle, jiggle, throb
grind: scrape, rub, growl, crunch, screech, graunch, graunching, metal on metal, rasp, gnash
clog: plug up, block, pack up, jam up, gum up, choke up, pack full, packs, bung up, bunged up, silted up, clag up, clagged, stuffed up, block up, blockage
worn: wear out, chewed up, bald, shot, worn out, clapped out, had it, past it, knackered out, on its last legs, threadbare, ground down
weak: feeble, gutless, no power, lacks power, no guts, no grunt, no oomph, sluggish, bog, bog down, lug, labor, underpowered, low power, power loss, lost power, loses power, loss of power, down on power, no strength, poor power, wimpy, puny, no push, no poke, falls flat
engage: catch, grab, mesh, bite, kick in, take hold, grip, hook up, latch on, pick up
start: turn on, switch on, fire, fire up, kick over, light off, come to life, get going, get it going, wake up, spark up, crank up
pavement: asphalt, blacktop, concrete, tarmac, driveway, patio, sidewalk, paving, slab, slabs, cement, garage floor
handle: lever, grip
engine: motor, eng
hot: warm, warmed up, heat up, hots up, boiling, roasting
cold: freezing, below zero, cold out, frosty, frost, bitter, winter morning
throw: blow, shoot, toss, fling, hurl, eject, spit, launch, spray, chuck, lob, heave, sling, dribble out, pitch, push snow
climb: uphill, hill, slope, incline
dig in: gouge, tear up, dig, scratch, snag, gouging, scuff
reverse: backward, backwards, back up, rev gear, go back, astern, rearward
come off: fall off, jump off, pop off, slip off, throw off, come off the pulley
rewind: retract, return, wind back, go back in
surge: rev up and down, rise and fall, up and down, hunt, bounce
one side: only half, one half, left side, right side, left half, right half, driver side, passenger side
idle: tick over, slow running, slow run, idle run
drain: empty, siphon, drain off, let out, run out, pump out, suck out, dump
storage: put away, winterize, mothball, lay up, off season, store, lay-up, overwinter, pack away, over summer, for the summer, hibernate, lay away
tighten: torque down, snug up, nip up, do up, cinch, crank down, pinch up
capacity: how much, volume, amount, fill quantity, how many, quantity, qty, refill, fill
grade: what weight, what type, what kind, viscosity
clearance: gap, spacing
oil: oily
ice: icy, iced up, ice up
rust: rusty, corrode, corroded, rusted, corrosion, pitted
stick: sticky, gummy, tacky
fit: put back, reinstall, mount, refit, bolt up, bolt on, put on, go back on, refix
jump: jerk, hop, lurch, leap, lunge, buck, bounce, skip, kick, bound
under load: hit snow, hit bank, heavy going, deep going
limit: minimum, maximum, least, max, min, allowed
deflection: sag, tension
diameter: how thick, thickness, dia
rebuild: overhaul, recondition, redo
free: unstick, unjam, unseize, free up, break loose, work loose, unfreeze, deice, de-ice, thaw
clear: clear out, dig out, rake out, unblock, get out, muck out, fish out, pick out, pull out
loosen: slacken, back off, undo, unscrew, unbolt, untighten, crack loose, break loose, slack off, undone
align: line up, straighten, true up
seal: reseal
carbon: decarbonize, decoke, coke
clatter: rattle, clank, clunk, tick, tap, tapping, ticking, jangle, bag of bolts
squeal: screech, squeak, chirp, whine, howl, shriek, scream, whistle
smoke: smolder, fumes, smoky
short distance: not far, few feet, couple feet, couple of feet, two feet, three feet, close by, poor distance, throwing distance, at my feet, on my boots, foot away, barely, no distance, no throw
steer: maneuver, turn around, swing round, swing around, turn corner, turn it round, turn round, cornering
pull to one side: veer, drift, wander, pull left, pull right, go left, go right, drift left, drift right, want to go right, want to go left, head left, head right, go sideways, steer by itself
forward: ahead, forwards, fwd, forrard
slip: lose grip, lose traction, no grip, no bite, spin out, lose bite, slide, skid
flatness: warp, warpage, distortion
slack: stretched, floppy, sloppy, loose, wobbly, slop, wiggly
does not work: inop, inoperative, kaput, out of order, broke down, conked out, on the fritz, not functioning, dead, packed up, packed in, packed it in, out of action, knackered, defective, faulty, no function, no work, stuffed, buggered, cactus, crook, kaputt, banjaxed, goosed, duff, gone phut, give up the ghost
length: long, how long
thickness: how thick, thin, how thin
width: wide, how wide, across
interval: how often, often
height: tall, how high
type: what type, what kind
thread: bolt size, screw size
bearing: brg
gasket: gskt
assembly: assy
hydrostatic transmission: trans, tranny
cylinder: cyl
speed: how fast, how quick, rpm, revs
depth: how deep, how far down
torque: how tight, tightening torque
pre-season: autumn, fall, before winter, first snow
lower: bring down, drop
grind: grating, grate
dirt: crud, gunk, muck, grime, gook, sludge, filth, debris, rubbish, grit, dirty, grubby
stone: rock, pebble, gravel, brick
plate: tag, sticker, decal, label, nameplate
cap: lid
multimeter: meter, tester, put a meter on
thousandth: thou, thousandths, mil, mils
string: cord, twine, line
clearance: slot, space, spacing
safe: safely, without losing a finger, without getting hurt, safety
injury: hurt, wound, lose a finger, bite me, get bitten
wet snow: sloppy snow, sticky snow, mushy snow
dent: dinged, bashed, crumpled, caved in
bend: bent, twisted, tweaked, buckled, wonky, out of shape
crooked: cockeyed, skew, askew, skewed, wonky
spanner: wrench
torch: flashlight
"""


def _read(rows: str) -> tuple[Synonym, ...]:
    pairs = (row.partition(": ") for row in rows.strip().splitlines())
    return tuple(Synonym(preferred, tuple(others.split(", "))) for preferred, _, others in pairs)


COMMON: Final = _read(_ROWS)
