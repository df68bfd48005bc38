"""What every workshop says in several ways, so that no writer has to list it: common practice, no source.

Names of things and their slang are `term` records of the book; here are the plain verbs and adjectives of complaints,
of work and of questions for a figure.
"""

from __future__ import annotations

from typing import Final

from shearpin.search.document import Synonym

_ROWS: Final = """
replace: change, swap, renew, switch out, change out, put in new, put on new, install new, fit new, exchange
adjust: set, tune, readjust, dial in
repair: fix, mend
inspect: check, look at, examine, test
remove: take off, pull off, take out, pull out
lubricate: grease, lube
turn: spin, rotate, revolve, go round, go around, swivel, pivot
stop: quit, cease, halt
turn off: shut off, switch off, shut down
release: let go, let off, let up
leak: drip, seep, weep, dribble, ooze
seized: budge, bound up, hung up, seize up, stuck solid, freeze up, froze up, wedged
break: snap, bust, crack, come apart
noise: sound, racket
smell: stink, reek, odor
vibrate: shake, shudder, wobble, judder, vibration
grind: scrape, rub, growl, crunch
clog: plug up, block, pack up, jam up, gum up, choke up
worn: wear out, chewed up, bald, shot, worn out
weak: feeble, gutless, no power, lacks power, no guts
engage: catch, grab, mesh, bite, kick in
start: fire, fire up, kick over, light off
pavement: asphalt, blacktop, concrete, tarmac, driveway, patio, sidewalk
handle: lever, grip
engine: motor
hot: warm, warmed up, heat up
cold: freezing, below zero, cold out
throw: blow, shoot, toss, fling
climb: uphill, hill, slope, incline
dig in: gouge, tear up, dig, scratch
reverse: backward, backwards, back up
come off: fall off, jump off, pop off, slip off, throw off, come off the pulley
rewind: retract, return, wind back, go back in
surge: rev up and down, rise and fall, up and down, hunt, bounce
one side: only half, one half, left side, right side, left half, right half, driver side, passenger side
idle: tick over, slow running
drain: empty, siphon
storage: put away, winterize, mothball, lay up, off season
tighten: torque down, snug up
capacity: how much, volume, amount, fill quantity
grade: what weight, what type, what kind, viscosity
clearance: gap, spacing
limit: minimum, maximum, least, max, min, allowed
deflection: sag, tension
diameter: how thick, thickness
"""


def _read(rows: str) -> tuple[Synonym, ...]:
    pairs = (row.partition(": ") for row in rows.strip().splitlines())
    return tuple(Synonym(preferred, tuple(others.split(", "))) for preferred, _, others in pairs)


COMMON: Final = _read(_ROWS)
