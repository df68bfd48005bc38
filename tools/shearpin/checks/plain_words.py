"""Word lists of plain language, and what they find in a sentence: no grammar is parsed, only words are known.

The lists are ours, made of the trade's commands and things; what they cannot know is not reported. So a fault may be
missed, and a word that is both a noun and a verb (`oil`, `clean`) counts as a command only before an article or a
pronoun.
"""

from __future__ import annotations

import re
from itertools import islice
from typing import Final

_EITHER: Final = frozenset(
    """back bar bolt brush clamp clean clear clip coil cover crank dry file free ground guide label lead level light
    lock mount oil open close park pin plug punch record rest ring rock screw seal set slide spring start stop strap
    switch tag tap test thread tie tip torque turn wedge wet work grease block sleeve top top-up repair support
    change charge""".split()
)  # commands that are as often a noun or an adjective
COMMANDS: Final = _EITHER | frozenset(
    """add adjust agree aim align allow apply arrange ask assemble attach avoid bend blow bolt brace break bring brush
    call carry change charge check choose clamp clip coil collect compare connect count cover crank crouch cut detach
    disassemble discard disconnect disengage do drain draw drip drive drop empty engage examine fasten feel file fill
    find fit flush follow fold give go grip ground hang heat hold hook insert inspect install isolate keep knock label
    lay lead leave let lift light listen locate lock loosen lower lubricate make mark measure melt mount move note obey
    observe oil operate paint park place plug polish pour press pry pull punch push put raise read reassemble rebuild
    record refit refuel reinstall release remove renew repair repeat replace reset rest restart return rinse rock roll
    rotate roughen rub run scrape screw seal secure see select send separate set shake shine show sketch slide slit
    smell soak spin spray spread squeeze stand start stay stop store straighten strap stuff support swing switch tag
    take tap tell test thread tie tighten tip torque touch transfer trim try turn twist unbolt unclip undo unhook
    unlock unplug unscrew unwind use verify wait walk warn wash watch wear wedge wet wind wipe withdraw work wrap
    write""".split()
)
"""First words of an instruction."""

_DETERMINERS: Final = frozenset(
    "the a an its it them your each all any both one this that these those every another {".split()
)
_WORDS: Final = re.compile(r"[\w'’{}.-]+")
_FIRST: Final = re.compile(r"[\w'’-]+")
_SECOND: Final = re.compile(r"[^\w'’{}.-]*+[\w'’{}.-]++[^\w'’{}.-]++([\w'’{}.-]+)")
_JOINT: Final = re.compile(
    r"(?:[,;] (?:and then |and |then )?|[.!] | and (?:then )?| then )(?P<verb>[A-Za-z]+)(?![\w-])(?= ?(?P<next>\{|[A-Za-z]*))"
)
_LEAD: Final = frozenset(
    """after as at before below beside between by during for from if in inside near on once over since standing to
    under unless until when where while wherever whenever with without within last""".split()
)
_NO_COMMAND: Final = frozenset(
    "the a an this that these those it you your they there we our all both each no he she his her its".split()
)
_NOUNS_IN_ING: Final = frozenset("bring swing ring string spring fling wring sling cling".split())
_SURE_COMMANDS: Final = frozenset(
    word.capitalize() for word in COMMANDS - _NO_COMMAND if not word.endswith("ing")
)
_MODAL: Final = re.compile(r"\b(?:must|should|shall|ought to|has to|have to|needs? to)\b", re.IGNORECASE)
_PARTICIPLE: Final = (
    r"(?:\w{2,}ed|\w+wn|bent|brought|built|cut|done|driven|fed|held|hung|kept|laid|led|left|let|made|put|read|set|"
    r"shut|taken|torn|wound|written)"
)
_PASSIVE: Final = re.compile(
    rf"\b(?:(?:must|should|shall|may|can|will|cannot|is to|are to|has to|have to|needs? to) (?:not )?be (?:\w+ly )?{_PARTICIPLE}"
    rf"|(?:is|are|gets?) (?:\w+ly )?{_PARTICIPLE} by (?:the |a |an )?(?:mechanic|technician|operator|trainee|hand)"
    rf"|being {_PARTICIPLE})\b",
    re.IGNORECASE,
)
_RELATIVE: Final = re.compile(r"\b(?:that|which|who|where|whose|until)\b[^,.]*$", re.IGNORECASE)
_LATE_CONDITION: Final = re.compile(
    r"(?<!as)(?<!even)(?<!only) (?P<cond>if|unless|in case|provided)\b", re.IGNORECASE
)
_QUESTION_VERB: Final = re.compile(
    r"\b(?:see|check|look|ask|note|find out|tell|watch|feel|know|test|try|write|record|verify|show|agree|say|listen|measure)\b",
    re.IGNORECASE,
)  # “check if it turns” asks, and makes nothing depend on it
_FORBIDDING: Final = re.compile(r"^(?:do not|never|only)\b", re.IGNORECASE)
_VAGUE: Final = re.compile(
    r"\b(?:as (?:required|necessary|needed|appropriate)|if (?:necessary|needed|required|possible)|appropriate(?:ly)?"
    r"|proper(?:ly)?|suitabl[ey]|sufficient(?:ly)?|adequate(?:ly)?|and/or|regularly|and so on)\b|\betc\b\.?",
    re.IGNORECASE,
)
_CONTRACTED: Final = re.compile(
    r"\b(?:\w+n['’]t|(?:it|that|there|you|they|we)['’](?:s|re|ll|ve|d))\b", re.IGNORECASE
)
_COUNT_NOUNS: Final = frozenset(
    """axle battery bearing belt blade bolt boot bracket bulb bushing cable cap carburetor chain chute clamp clip coil
    connector cover crankshaft deflector dipstick drum engine filter flywheel funnel gasket gear gearbox guard handle
    head hose housing idler impeller key lever link lock-nut machine muffler nut paddle pin piston plug pulley pump
    rag rod roller rope screw screwdriver seal selector shaft shoe spring starter stud switch tank tester tine tire
    trigger tube valve washer wheel wick wire wrench""".split()
)


OF_MODALS: Final = ("must", "should", "shall", "ought", "has to", "have to", "need")
OF_PASSIVES: Final = (" be ", "being ", " by ")
OF_CONDITIONS: Final = (" if", " unless", " in case", " provided")
OF_VAGUE: Final = (
    "as required", "as necessary", "as needed", "as appropriate", "if ne", "if required", "if possible", "appropriate",
    "proper", "suitab", "sufficient", "adequate", "and/or", "regularly", "and so on", "etc",
)  # fmt: skip
OF_CONTRACTIONS: Final = ("'", "’")
"""What the patterns need: to look for these is many times quicker than the pattern itself."""


def _may_hold(sentence: str, parts: tuple[str, ...]) -> bool:
    """Whether a sentence has one of the parts that a pattern needs; to look for them is quicker than the pattern.

    A letter that is no ASCII may count as one that is, whatever its case.
    """
    small = sentence.lower()
    return not sentence.isascii() or any(part in small for part in parts)


def too_many_commands(text: str) -> tuple[int, str] | None:
    """Return where the third command of an instruction begins, or the second one that is to follow the first.

    Two that are joined by `and` may be one movement of two hands, which ASD-STE100 allows; “push and pull” is one.
    """
    if not _may_have_joints(text):
        return None
    first = _FIRST.match(text)
    count = 0 if first is not None and first.group().lower() in _LEAD else 1
    for match in _JOINT.finditer(text):
        if not _is_command(match) or _is_pair(text, match):
            continue
        count += 1
        joint = text[match.start() : match.start("verb")]
        if count > 2 or (count == 2 and (joint[0] in ".!" or "then" in joint)):
            return match.start("verb"), match.group("verb")
    return None


def _may_have_joints(text: str) -> bool:
    """Whether a text may have two joints, or one behind which something follows; quicker than to look for them."""
    joints = text.count(", ") + text.count("; ") + text.count(" and ")
    return joints > 1 or ". " in text or "! " in text or " then " in text


def _is_command(match: re.Match[str]) -> bool:
    verb = match.group("verb").lower()
    if verb in _EITHER:
        return match.group("next").lower() in _DETERMINERS
    return verb in COMMANDS or (verb == "do" and match.group("next") == "not")


def _is_pair(text: str, match: re.Match[str]) -> bool:
    before = text[: match.start()].rpartition(" ")[2].lower()
    return match.group().startswith(" and ") and before in COMMANDS


def not_a_command(sentence: str, may_say_must: bool = True) -> tuple[int, str] | None:
    """Return where and by which words a sentence turns out to be no command; None where it is one, or may be.

    `may_say_must` is false where it is known to have none of `OF_MODALS`.
    """
    if not may_say_must and sentence.partition(" ")[0] in _SURE_COMMANDS:
        return None
    first = _FIRST.match(sentence)
    if first is None:
        return None
    modal = _MODAL.search(sentence) if may_say_must and _may_hold(sentence, OF_MODALS) else None
    if modal and not _RELATIVE.search(sentence[: modal.start()]):
        return modal.start(), modal.group()
    word = first.group().lower()
    if word in _LEAD:
        return None  # what follows the condition is looked at as the next part
    if word in _NO_COMMAND or (word.endswith("ing") and word not in _NOUNS_IN_ING and len(word) > 5):
        return 0, first.group()
    return None


def passive(sentence: str) -> tuple[int, str] | None:
    """Return where a sentence tells what is to be done without saying to whom it is told."""
    if not _may_hold(sentence, OF_PASSIVES):
        return None
    for match in _PASSIVE.finditer(sentence):
        if not _RELATIVE.search(sentence[: match.start()]):
            return match.start(), match.group()
    return None


def late_condition(sentence: str) -> tuple[int, str] | None:
    """Return where a condition follows the command that depends on it."""
    if not _may_hold(sentence, OF_CONDITIONS):
        return None
    first = _FIRST.match(sentence)
    if first is None or first.group().lower() in _LEAD or _FORBIDDING.match(sentence):
        return None
    for match in _LATE_CONDITION.finditer(sentence):
        if not _QUESTION_VERB.search(sentence[: match.start()]):
            rest = sentence[match.start("cond") :]
            return match.start("cond"), rest.rstrip(".") if len(rest) < 60 else match.group("cond")
    return None


def vague(sentence: str) -> tuple[int, str] | None:
    """Return the first word that leaves to the reader what it should say."""
    match = _VAGUE.search(sentence) if _may_hold(sentence, OF_VAGUE) else None
    return (match.start(), match.group()) if match else None


def contracted(sentence: str) -> tuple[int, str] | None:
    """Return the first contracted form, such as `don't`."""
    match = _CONTRACTED.search(sentence) if any(sign in sentence for sign in OF_CONTRACTIONS) else None
    return (match.start(), match.group()) if match else None


def bare_noun(sentence: str) -> tuple[int, str] | None:
    """Return a thing that one can count and that follows the command without an article."""
    second = _SECOND.match(sentence)
    if second is None or second[1].rstrip(".") not in _COUNT_NOUNS:
        return None  # as most sentences: found without looking at every word
    words = list(islice(_WORDS.finditer(sentence), 4))
    if words[0].group().lower() not in COMMANDS:
        return None
    nouns = []
    for word in words[1:]:
        if word.group().rstrip(".") not in _COUNT_NOUNS:
            break
        nouns.append(word)
    if not nouns or nouns[-1].group().endswith("."):
        return (nouns[0].start(), nouns[0].group().rstrip(".")) if nouns else None
    after = sentence[nouns[-1].end() :]
    # “bolt and nut” needs no article; a plural or another noun behind may be a word that the list does not know.
    if re.match(r"(?:,| and | or |\s\w+s\b)", after) or re.match(
        r"\s(?:number|side|end|plate|hole)\b", after
    ):
        return None
    return nouns[0].start(), nouns[0].group()
