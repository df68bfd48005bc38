"""Compares a copy with its own manifests. Two algorithms list every file, so a damaged manifest is told from a damaged file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from shearpin.publish.bag import ALGORITHMS, MANIFESTS, Digests
from shearpin.publish.contentrecord import FILE_NAME
from shearpin.publish.holding import Holding, Problem

LISTED: Final = re.compile(r"([0-9a-f]{64}|[0-9a-f]{128})  ([^\r\n]+)")
"""A line of a list of digests: digest and path."""

_SYSTEM_FILES: Final = re.compile(
    r"(^|/)(\.DS_Store|\._[^/]*|Thumbs\.db|desktop\.ini)$"
    r"|^(__MACOSX|System Volume Information|\$RECYCLE\.BIN|\.Trash[^/]*|\.fseventsd|\.Spotlight-V100|lost\+found)(/|$)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Manifest:
    """One manifest as it lies there: digests by path, and whether its text is as we write it."""

    name: str
    algorithm: str
    digests: Mapping[str, str]
    as_written: bool


def judge(holding: Holding, sizes: Mapping[str, int]) -> tuple[Problem, ...]:
    """Return everything wrong with a copy, each damage once, sorted by path."""
    tags = _manifests(holding, "tagmanifest")
    payload = _manifests(holding, "manifest")
    problems = [_with_its_harm(problem) for problem in holding.problems]
    for name in MANIFESTS:
        listed = name.startswith("manifest") and any(name in manifest.digests for manifest in tags)
        if name not in holding.top and not listed:
            problems.append(Problem("missing", name, "this list of digests is missing"))
    damaged = {*_damaged(tags, holding), *_damaged(payload, holding)}
    expected = {**_expected(tags, holding, damaged), **_expected(payload, holding, damaged)}
    for manifest in (*tags, *payload):
        if manifest.name in damaged and manifest.name not in expected:
            problems.append(Problem("changed", manifest.name, "this list of digests is damaged"))
    # What the lists have lost, the content record may still know: enough to miss a file, and to call none a stranger.
    recorded = sizes if _is_sound(FILE_NAME, holding, expected) else {}
    known = {*expected, *recorded, *(manifest.name for manifest in tags)}
    told = _told(tags, payload, recorded)
    missing = [p for p in {**expected, **recorded} if p not in holding.files and p not in holding.blocked]
    extra = [
        p for p in holding.files if p not in known and ("data/" if p.startswith("data/") else "") in told
    ]
    problems += _renamed(holding, expected, missing, extra)
    problems += (Problem("missing", path, "this file is missing") for path in missing)
    problems += (_with_its_harm(Problem("extra", path, "was not published; delete it")) for path in extra)
    problems += _altered(holding, expected, sizes, recorded)
    unique = {(problem.kind, problem.path): problem for problem in problems}
    return tuple(sorted(unique.values(), key=lambda problem: (problem.path, problem.kind)))


def _told(
    tags: tuple[Manifest, ...], payload: tuple[Manifest, ...], sizes: Mapping[str, int]
) -> frozenset[str]:
    """Return the folders of which anything says what belongs in them: where nothing does, nothing is called a stranger."""
    top = {""} if any(manifest.digests for manifest in tags) else set()
    return frozenset({"data/", *top} if sizes or any(manifest.digests for manifest in payload) else top)


def _is_sound(path: str, holding: Holding, expected: Mapping[str, Mapping[str, str]]) -> bool:
    found = holding.files.get(path)
    return found is not None and _matches(found, expected.get(path, {}))


def _altered(
    holding: Holding,
    expected: Mapping[str, Mapping[str, str]],
    sizes: Mapping[str, int],
    recorded: Mapping[str, int],
) -> Iterator[Problem]:
    """Yield the files that are there with another content, or that no list names any more with another size."""
    owners = {tuple(wanted.values()): path for path, wanted in expected.items()}
    for path, wanted in expected.items():
        found = holding.files.get(path)
        if found is not None and not _matches(found, wanted):
            owner = owners.get(tuple(found.by_algorithm[algorithm] for algorithm in wanted))
            yield _changed(path, found, sizes.get(path), owner)
    for path, size in recorded.items():
        found = holding.files.get(path)
        if found is not None and path not in expected and found.size != size:
            yield _changed(path, found, size, None)


def _manifests(holding: Holding, kind: str) -> tuple[Manifest, ...]:
    return tuple(
        _parse(f"{kind}-{algorithm}.txt", algorithm, holding.top[f"{kind}-{algorithm}.txt"])
        for algorithm in ALGORITHMS
        if f"{kind}-{algorithm}.txt" in holding.top
    )


def _parse(name: str, algorithm: str, raw: bytes) -> Manifest:
    text = raw.decode("utf-8", "replace")
    found = {}
    for line in text.split("\n"):
        match = LISTED.fullmatch(line)
        if match:
            found[match[2]] = match[1]
    again = "".join(f"{found[path]}  {path}\n" for path in sorted(found))
    return Manifest(name, algorithm, found, again.encode("utf-8") == raw)


def _matches(found: Digests, wanted: Mapping[str, str]) -> bool:
    """Whether a file has all the digests that sound manifests give it."""
    return all(found.by_algorithm[algorithm] == digest for algorithm, digest in wanted.items())


def _damaged(manifests: tuple[Manifest, ...], holding: Holding) -> Iterator[str]:
    """Yield the names of manifests that are damaged themselves: another list, or the file, speaks against them."""
    for manifest in manifests:
        others = [other for other in manifests if other is not manifest]
        if not manifest.as_written or any(_refuted(manifest, other, holding) for other in others):
            yield manifest.name


def _refuted(manifest: Manifest, other: Manifest, holding: Holding) -> bool:
    for path in {*manifest.digests, *other.digests}:
        found = holding.files.get(path)
        mine, its = manifest.digests.get(path), other.digests.get(path)
        agrees = found is not None and its == found.by_algorithm[other.algorithm]
        if agrees and mine != (found.by_algorithm[manifest.algorithm] if found else None):
            return True  # the file is as the other list has it, and not as this one
        if (
            its is None
            and mine is not None
            and (found is None or mine != found.by_algorithm[manifest.algorithm])
        ):
            return True  # it lists what neither the other list nor the folder has
    return False


def _expected(
    manifests: tuple[Manifest, ...], holding: Holding, damaged: set[str]
) -> dict[str, dict[str, str]]:
    """Return the digests each file must have, from the sound manifests, or from all where none is."""
    sound = [manifest for manifest in manifests if manifest.name not in damaged] or manifests
    wanted: dict[str, dict[str, str]] = {}
    for manifest in sound:
        for path, digest in manifest.digests.items():
            wanted.setdefault(path, {})[manifest.algorithm] = digest
    return wanted


def _renamed(
    holding: Holding, expected: Mapping[str, Mapping[str, str]], missing: list[str], extra: list[str]
) -> Iterable[Problem]:
    """Yield files that are there under another name, and take them off both lists."""
    problems = []
    for path in tuple(missing):
        for other in extra:
            same_letters = other.casefold() == path.casefold()
            same_content = path in expected and _matches(holding.files[other], expected[path])
            if same_letters or same_content:
                how = "upper and lower case differ" if same_letters else "its content is the same"
                problems.append(Problem("renamed", path, f"lies there as `{other}`: {how}"))
                if same_letters and path in expected and not same_content:
                    problems.append(Problem("changed", other, "its content is not what was published either"))
                missing.remove(path)
                extra.remove(other)
                break
    return problems


def is_of_the_system(path: str) -> bool:
    """Whether the system of a computer puts files of this name into folders by itself."""
    return _SYSTEM_FILES.search(path) is not None


def _with_its_harm(problem: Problem) -> Problem:
    """Return a problem with what is beside the edition told from what the system of a computer puts into every folder."""
    if not is_of_the_system(problem.path) or problem.kind not in ("extra", "unreadable"):
        return problem
    words = "was not published; the computer's own system put it there, and it can be deleted"
    return Problem("extra", problem.path, words, harmless=True)


def _changed(path: str, found: Digests, size: int | None, other: str | None) -> Problem:
    if other is not None and found.size:  # an emptied file is cut short, even where another one is empty
        return Problem("changed", path, f"its content is that of `{other}`")
    if size is not None and found.size < size:
        return Problem("truncated", path, f"shorter than published: {found.size:,} of {size:,} bytes")
    more = found.size - size if size is not None else 0
    longer = f", {more:,} byte{'s' * (more != 1)} longer" if more else ""
    return Problem("changed", path, f"its content is not what was published{longer}")
