"""The word tables of the analysis and the weights of the ranking, shared with the browser through the index head."""

from __future__ import annotations

# Longer than 300 lines: tables of words.
from shearpin.search.figure_units import FIGURE_UNITS as FIGURE_UNITS
from shearpin.search.leaning_words import LEANINGS_TEXT


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Short on purpose: negation (no, not, never, without) and particles (on, off, up, out, only) carry the complaint.
STOP_WORDS = _words(
    """
    a an the this that these those it its itself i me my we us our you your he she they them their there
    is are was were be been being am do does did has have had having can could would should may might must
    and or but if so as at by for from in of to with into than then when while because about
    how what which who why where just please get gets got very really also
    thats theres whats hows whos lets theyre youre hes shes ive im theyve weve youve itll
    """
)

# Words that fill a complaint or name the whole machine: they count little beside the words that tell the matter.
WEAK_WORDS = _words(
    """
    machine unit thing snowblower snowthrower rig equipment
    when after before during now still again always ever even back keep keeps kept keeping like crazy hell all whole some any
    anymore more every time times day days minute year new old just bad badly awful awfully terrible terribly real way
    super so too fine ok okay alright good great normal normally sometimes suddenly constantly slightly lot bunch bit
    seem seems see know tell want need try tried trying use used using work works working happen happens happening happened
    make makes made making go goes going went come comes coming came do does doing did done put something anything
    little big much many well here there one two won today yesterday morning winter season problem issue trouble help
    around while own customer client cust owner state states stated say says said complains complaint reports reported claims
    claimed mentioned ticket condition neighbor wife husband
    """
)
WEAK_PAIRS = _words("snow-blower snow-thrower snow-machine")

# Words that say what sort of page is asked for, by what is asked; then they tell nothing of the matter.
ASKING_WORDS = {
    "theory": _words(
        "work works working meaning mean means explain explained theory principle difference function find located location called"
    ),
    "part": _words(
        "part parts number numbers no pn order buy replacement spare need want looking kit new not"
    ),
    "value": _words(
        "spec specs specification value correct proper right recommended should thou thousandths figure want"
    ),
    "do": _words("procedure steps step properly pull pulling getting doing"),
    "do-value": _words("procedure steps step properly"),
    "test": _words("properly find tell know sure out holding right"),
}

NEGATION = "not"

# "no spark", "won't spark" and "does not spark" are one complaint. Apostrophes are optional at the counter.
NEGATIONS = _words(
    """
    no not never cannot none nothing nt wont dont doesnt didnt isnt arent wasnt werent cant couldnt wouldnt
    shouldnt hasnt havent hadnt aint
    """
)

# "won t": what is left of a contraction whose apostrophe became a space.
NEGATION_STEMS = _words(
    "won don doesn didn isn aren wasn weren can couldn wouldn shouldn hasn haven hadn ain"
)

# British and older spellings, by word; looked up by stem, so inflected forms follow.
SPELLING_VARIANTS = {
    "carburettor": "carburetor",
    "carburetter": "carburetor",
    "tyre": "tire",
    "colour": "color",
    "aluminium": "aluminum",
    "gage": "gauge",
    "grey": "gray",
    "centre": "center",
    "metre": "meter",
    "litre": "liter",
    "fibre": "fiber",
    "plough": "plow",
    "kerb": "curb",
    "mould": "mold",
    "vapour": "vapor",
    "vice": "vise",
    "sulphur": "sulfur",
    "odour": "odor",
    "catalogue": "catalog",
    "disc": "disk",
    "draught": "draft",
    "fuelling": "fueling",
    "labelled": "labeled",
    "levelling": "leveling",
    "travelling": "traveling",
    "practise": "practice",
    "licence": "license",
}

# Names of parts whose stems are other words: a tensioner is no tension, a bearing bears nothing in the shop.
OWN_STEMS = {"tensioner": "tensioner", "tensioners": "tensioner", "bearing": "bearing", "bearings": "bearing"}

# Every spelling of a unit becomes one token. Keys are folded text: lower case, "·" kept, superscripts plain.
UNIT_SPELLINGS = {
    "newtonmetre": "n·m nm n.m n-m newtonmetre newtonmeter newtonmetres newtonmeters "
    "newton-metre newton-meter newton-metres newton-meters",
    "poundfoot": "lbf·ft lb·ft ft·lb ft·lbf lb-ft lbf-ft ft-lb ft-lbf ft-lbs ft.lb ft.lbs lb.ft ftlb ftlbs lbft "
    "lbfft foot-pound foot-pounds pound-foot pound-feet footpounds",
    "poundinch": "lbf·in lb·in in·lb in·lbf lb-in lbf-in in-lb in-lbf in-lbs in.lb in.lbs lb.in inlb inlbs lbin "
    "lbfin inch-pound inch-pounds pound-inch pound-inches inchpounds",
    "millimetre": "mm millimetre millimetres millimeter millimeters",
    "centimetre": "cm centimetre centimetres centimeter centimeters",
    "inch": "inch inches",
    "foot": "ft foot feet",
    "metre": "metre metres meter meters",
    "kilopascal": "kpa kilopascal kilopascals",
    "psi": "psi lbf/in2",
    "bar": "bar bars",
    "rpm": "rpm r/min 1/min min-1 rev/min revs/min",
    "cubiccentimetre": "cc ccm cm3",
    "millilitre": "ml millilitre millilitres milliliter milliliters",
    "litre": "litre litres liter liters",
    "ounce": "oz ounce ounces",
    "pound": "lb lbs lbf pound pounds",
    "kilogram": "kg kilogram kilograms",
    "gram": "gram grams",
    "quart": "qt qts quart quarts",
    "ohm": "ohm ohms ω",
    "kiloohm": "kohm kohms kilohm kilohms kω",
    "megaohm": "mohm megohm megohms mω",
    "volt": "volt volts vac vdc",
    "ampere": "amp amps ampere amperes",
    "watt": "watt watts",
    "kilowatt": "kw kilowatt kilowatts",
    "horsepower": "hp horsepower",
    "minute": "minute minutes mins",
    "hour": "hour hours hr hrs",
    "second": "sec secs",
    "celsius": "celsius",
    "fahrenheit": "fahrenheit",
}
UNITS = {spelling: unit for unit, spellings in UNIT_SPELLINGS.items() for spelling in spellings.split()}

# Units only when a number stands before them: "5 in" but "water in fuel".
UNITS_AFTER_NUMBER = {
    "in": "inch",
    "m": "metre",
    "l": "litre",
    "a": "ampere",
    "v": "volt",
    "w": "watt",
    "c": "celsius",
    "f": "fahrenheit",
    "h": "hour",
    "s": "second",
    "g": "gram",
    "min": "minute",
}

# Two units in a row that are one: "18 ft lb", "24 n m".
UNIT_PAIRS = {
    "foot pound": "poundfoot",
    "pound foot": "poundfoot",
    "inch pound": "poundinch",
    "pound inch": "poundinch",
    "newton metre": "newtonmetre",
    "n metre": "newtonmetre",
    "n m": "newtonmetre",
}

# What a figure is asked for with: the steps of two digits at these multiples of it.
FIGURES_NEAR = (1.0, 0.985, 1.015)
FIGURE_NUDGE = 1.000000001
# What a decimal without a unit may be meant in: ".030 gap".
BARE_UNITS = ("inch", "millimetre")

# What is asked for, told by a word of the query before stemming.
INTENT_WORDS = {
    "do": _words(
        """
        replace replacing change changing swap swapping install installing fit fitting remove removing adjust
        adjusting adjustment set setting clean cleaning service servicing repair repairing fix fixing grease drain
        draining bleed purge rebuild sharpen tighten lubricate procedure steps replacement removal installation
        put swapping renew exchange mount thaw grease greasing free unclog unblock unflood winterize winterise store
        new refit straighten rewind restring flush deice defrost reseal regasket overhaul decarbonize decarbonise refill
        loosen unstick unjam unseize realign align balance lube swapped splice retension retighten readjust regap recharge
        renewing fixing rebuilding mounting thawing freeing unclogging setting flushing tightening loosening splitting getting
        """
    ),
    "value": _words(
        """
        gap torque clearance pressure capacity spec specs specification tight tightness resistance value size viscosity rpm
        newtonmetre poundfoot poundinch psi millimetre diameter length width thickness depth height grade thread type
        deflection sag lash limit minimum maximum tolerance interval ratio bore stroke displacement volume amount weight
        ohm ohms volts voltage thick dimension dimensions rating
        """
    ),
    "test": _words(
        "test testing check checking measure measuring inspect inspecting inspection diagnose trace verify verifying confirm locate pinpoint"
    ),
    "theory": _words("works explain explained theory principle meaning difference"),
    "part": _words("part parts order buy spare kit pn"),
}

# Two words of a question, joined: how to do it and how much it is, anywhere; what it is, whether it is so and where it is, first.
HOW_TO = _words("how-to how-do how-can how-should how-i how-start what-to to-do way-to ways-to")
# Two words, anywhere, that ask for a part, and for a test.
WANTS_PART = _words(
    "need-a need-an need-new need-some want-a want-new looking-for got-any got-a have-any pack-of set-of sell-me"
)
# One word, first, that asks for a part, and for work to be done.
PART_FIRST = _words("replacement spare")
DO_FIRST = _words("turn lower raise pump inflate take undo stop lift split open close shorten lengthen")
WANTS_TOOL = _words("tool-to tool-for which-tool what-tool tools-to tools-for which-tools what-tools")
WANTS_TEST = _words(
    "see-is see-are see-does check-is check-if check-whether see-if see-whether tell-if tell-whether know-if know-whether sure-if find-out make-sure"
)
HOW_MUCH = _words(
    """
    how-much how-many how-tight how-big how-far how-fast how-long how-often how-thick how-thin how-wide how-deep how-high
    how-hot how-heavy how-loose how-worn how-old how-short how-low how-close how-near how-small how-slack how-slow how-strong
    how-large how-broad how-full how-soon how-quick how-apart what-size what-torque what-gap what-oil what-fuel what-gas what-octane
    what-pressure what-psi what-rpm what-speed what-voltage what-thread what-grade what-weight what-viscosity what-plug
    which-plug which-size which-oil which-fuel which-grade which-torque which-gap which-thread which-weight which-pressure
    """
)
# Two words, first: how a thing works, not how to do it.
HOW_IT_WORKS = "how-does"
WHAT_IS = _words(
    """
    what-is what-are what-does how-does whats-a what's-a whats-the what's-the
    """
)
# One word, first, and two words, anywhere, that ask for a cause.
CAUSE_FIRST = _words("why reason reasons cause causes")
WANTS_CAUSE = _words(
    "what-causes what-makes what-made what-would how-come reason-for reasons-for cause-of causes-of"
)
# Verbs that stand apart from the second word of theirs: "take the wheel off". With these two a query asks how to do it.
APART = _words("off out apart back")
MAX_APART = 3
DONE_APART = _words(
    """
    take-off take-out take-apart taking-off taking-out pull-off pull-apart pulling-off get-off get-out get-apart getting-off
    getting-out lift-off lift-out lifting-off put-back put-on putting-back putting-on
    """
)
WHERE_IS = _words("where-is where-are where-can where-do wheres-the where's-the")
WHETHER = _words("is-the are-the is-my are-my is-there does-the do-the has-the")

# Sixteenths by which a kind's score is multiplied, by what is asked for; a kind that is not named has 16.
_FACTORS = """
          symptom procedure value  test cause caution system  part  tool  term  page source edition figure
complaint      18        11    15     8    12      12     15    18    12     9    12      8       8      9
cause          15        11    12    12    26      12     13    12    12    14    12      8       8      9
do             17        35    15    13    11      14     10    14    11     6    10      7       7      8
value          13        17    24    15    11      10     11    13    12     9    11      8       8      8
do-value       11        27    20    14    11      10     10    12    11     6    10      7       7      8
test           16        15    10    36    13      11     12    11    14    10    12      8       8      9
theory         11        12    12    13    15      11     28    12    12    23    13     10       8     10
tool           10        12    10    12    10      10     11    12    34    11    12      8       8      9
part           11        10    14    12    11      11     12    31    18    11    12     10       8      9
"""


def _read_factors(table: str) -> dict[str, dict[str, int]]:
    head, *rows = (line.split() for line in table.strip().splitlines())
    return {row[0]: dict(zip(head, map(int, row[1:]), strict=True)) for row in rows}


KIND_FACTORS = _read_factors(_FACTORS)

# How far a trait of the query pushes each of these kinds: a letter for each, "m" for not at all, each letter after it a
# sixteenth of a doubling, each before it a sixteenth of a halving (see `leaning`).
LEANING_KINDS = (
    *("symptom", "procedure", "value", "test", "cause", "machine", "engine"),
    *("system", "part", "tool", "caution", "term", "figure"),
)
LEANINGS = dict(row.split("=") for row in LEANINGS_TEXT.split())
# What a sum of such pushes, from -48 to 48, multiplies with, in 256ths. As numbers, for the browser's powers may differ.
# The pushes were fitted to queries of no more words: those of a longer one, as a customer's message, are brought down to as many.
MOST_LEANING_WORDS = 16
LEANING_FACTORS = tuple(round(256 * 2 ** (step / 16)) for step in range(-48, 49))
# Words by which traits are told.
LEANING_GROUPS = {
    "not": _words("not no dont wont cant isnt doesnt never nothing aint"),
    "who": _words("she it he they i my me"),
    "whether": _words("can does is are will any has do did"),
    "question": _words("how what where which why when whats hows"),
    "the": _words("the a an"),
    "where": _words(
        "for that which between behind inside under round around over beside end holds thing bit"
    ),
    "part": _words(
        "kit set seals gaskets assembly cover bolt nut pin spring belt cable pulley gasket bearing switch lever handle wheel bulb cap filter"
    ),
}

# Eighths by which a match counts: the word itself, its synonym, the word itself in a synonym of several, two words written as one, a longer word it begins.
WEIGHT_WORD = 8
WEIGHT_SYNONYM = 6
WEIGHT_IN_PHRASE = 5
WEIGHT_JOINED = 6
WEIGHT_PREFIX = 6
# Eighths of its weight that a weak word keeps.
WEAK_SHARE = 3
# Eighths added when two words of the query stand side by side in a title, a spoken phrase or another name.
WEIGHT_PAIR = 5
# Eighths added when the query says just what a title, a spoken phrase or another name says.
WEIGHT_LINE = 12

# Sixteenths of its weight that a word counts as matched where a record only mentions it.
SHARE_MENTIONED = 5

# Sixteenths for a record that has every word of the query in its title, spoken phrases, other names or numbers.
FACTOR_ALL_STRONG = 20

# Sixteenths for a record of the chosen machine, and for one that does not fit it.
FACTOR_OWN_MACHINE = 19
FACTOR_OTHER_MACHINE = 5

# A query of more words than the first is read without its weak words, and then no further than the second.
MANY_QUERY_WORDS = 12
MAX_QUERY_WORDS = 16
MAX_CHUNK = 40
MAX_PREFIX_TERMS = 64
MAX_PREFIX_USED = 8
MIN_PREFIX = 3

# Neighbouring keys of a QWERTY keyboard, and letters that sound alike.
KEY_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
SOUND_GROUPS = ("aeiouy", "ckqsxz", "bp", "dt", "fv", "gj", "mn", "lr")

# What each slip of a letter costs. People seldom miss the first letter; weak letters go missing, or slip in, most easily.
COST_OTHER_LETTER = 10
COST_NEAR_KEY = 7
COST_SOUNDS_ALIKE = 6
COST_SWAPPED = 6
COST_DOUBLED = 4
COST_WEAK_LETTER = 7
COST_MISSING_LETTER = 9
COST_FIRST_LETTER = 3
WEAK_LETTERS = "aeiouyh"

# How many of the likeliest words are compared by what they stand near in the book, and what each such place is worth.
MAX_CANDIDATES = 6
CONTEXT_BONUS = 8
# How common words of questions and of negation are, beside the book's own (0 to 9).
COMMON_WORD = 8

# By length of a word, the cost up to which it is corrected; longer words are as the last.
LARGEST_COSTS = (-1, -1, -1, 9, 13, 14, 18, 18, 18, 24)

# Different letters two words may have between them, a cheap test before the exact one: to correct, and to suggest.
LETTERS_APART = 4
LETTERS_APART_NEAREST = 6
NEAREST_WORDS = 5
