"""What every workshop says in several ways, so that no writer has to list it: common practice, no source.

Names of things and their slang are `term` records of the book; here are the plain verbs and adjectives of complaints,
of work and of questions for a figure.
"""

from __future__ import annotations

from typing import Final

from shearpin.search.document import Synonym

_ROWS: Final = """
replace: change, swap, renew, switch out, change out, put in new, put on new, install new, fit new, exchange, r&r, r and r, remove and replace, repl
adjust: set, tune, readjust, dial in, adj, tweak, retension, take up
repair: fix, mend, overhaul, put right, sort out, cure
inspect: check, look at, examine, test, insp, verify, confirm, look over, examination
remove: take off, pull off, take out, pull out, get off, lift off, take apart, dismount, demount, strip out, dismantle
lubricate: grease, lube, oil up, greasing, lubrication
turn: spin, rotate, revolve, go round, go around, swivel, pivot
stop: quit, cease, halt
turn off: shut off, switch off, shut down, shutdown
release: let go, let off, let up
leak: drip, seep, weep, dribble, ooze, leaky, seepage, leakage
seized: budge, bound up, hung up, seize up, stuck solid, freeze up, froze up, wedged, sticking, stiff, jammed solid, blocked solid, rusted solid, rusted tight
break: snap, bust, crack, come apart
noise: sound, racket, noisy, rumble, din
smell: stink, reek, odor, whiff, pong
vibrate: shake, shudder, wobble, judder, vibration, shaky, jerky, tremble, rattle all over
grind: scrape, rub, growl, crunch, screech
clog: plug up, block, pack up, jam up, gum up, choke up, pack full, packs, bung up, bunged up, silted up
worn: wear out, chewed up, bald, shot, worn out
weak: feeble, gutless, no power, lacks power, no guts, no grunt, no oomph, sluggish, bog, bog down, lug, labor, underpowered, low power, power loss, lost power, loses power, loss of power, down on power, no strength, poor power
engage: catch, grab, mesh, bite, kick in
start: turn on, switch on, fire, fire up, kick over, light off, come to life
pavement: asphalt, blacktop, concrete, tarmac, driveway, patio, sidewalk
handle: lever, grip
engine: motor, eng
hot: warm, warmed up, heat up
cold: freezing, below zero, cold out
throw: blow, shoot, toss, fling, hurl, eject, spit, launch, spray, chuck
climb: uphill, hill, slope, incline
dig in: gouge, tear up, dig, scratch, snag, gouging, scuff
reverse: backward, backwards, back up, rev gear, go back, astern
come off: fall off, jump off, pop off, slip off, throw off, come off the pulley
rewind: retract, return, wind back, go back in
surge: rev up and down, rise and fall, up and down, hunt, bounce
one side: only half, one half, left side, right side, left half, right half, driver side, passenger side
idle: tick over, slow running, slow run, idle run
drain: empty, siphon, drain off
storage: put away, winterize, mothball, lay up, off season, store, lay-up, overwinter
tighten: torque down, snug up, nip up
capacity: how much, volume, amount, fill quantity, how many, quantity, qty, refill, fill
grade: what weight, what type, what kind, viscosity
clearance: gap, spacing
oil: oily
ice: icy, iced up, ice up
rust: rusty, corrode, corroded
stick: sticky, gummy, tacky
fit: put back, reinstall, mount, refit
jump: jerk, hop, lurch, leap, lunge, buck
under load: hit snow, hit bank, heavy going, deep going
limit: minimum, maximum, least, max, min, allowed
deflection: sag, tension
diameter: how thick, thickness, dia
rebuild: overhaul, recondition, redo
free: unstick, unjam, unseize, free up, break loose, work loose, unfreeze, deice, de-ice, thaw
clear: clear out, dig out, rake out
loosen: slacken, back off, undo, unscrew, unbolt, untighten
align: line up, straighten, true up
seal: reseal
carbon: decarbonize, decoke, coke
clatter: rattle, clank, clunk, tick
squeal: screech, squeak, chirp, whine, howl
smoke: smolder, fumes, smoky
short distance: not far, few feet, couple feet, couple of feet, two feet, three feet, close by, poor distance, throwing distance
steer: maneuver, turn around, swing round, swing around, turn corner
pull to one side: veer, drift, wander, pull left, pull right, go left, go right, drift left, drift right, want to go right, want to go left, head left, head right, go sideways, steer by itself
forward: ahead, forwards, fwd
slip: lose grip, lose traction, no grip, no bite
flatness: warp, warpage, distortion
slack: stretched, floppy, sloppy
does not work: inop, inoperative, kaput, out of order, broke down, conked out, on the fritz, not functioning, dead, packed up, packed in, packed it in, out of action, knackered, defective, faulty, no function
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
"""


def _read(rows: str) -> tuple[Synonym, ...]:
    pairs = (row.partition(": ") for row in rows.strip().splitlines())
    return tuple(Synonym(preferred, tuple(others.split(", "))) for preferred, _, others in pairs)


COMMON: Final = _read(_ROWS)
