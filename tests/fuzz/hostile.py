"""Owns hostile record files: each is made from a seed, so that one that failed can be made again."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Final

from tests.sound_book import SOUND_BOOK

NAMES: Final = tuple(sorted(path.relative_to(SOUND_BOOK).as_posix() for path in SOUND_BOOK.rglob("*.yaml")))
RAW: Final = {name: (SOUND_BOOK / name).read_bytes() for name in NAMES}
IDS: Final = tuple(name.split("/")[1].removesuffix(".yaml") for name in NAMES)
PIECES: Final = tuple(
    piece.encode("utf-8", "surrogatepass")
    for piece in (
        *"[]{},:-?&*!|>%@`#'\"\n\r\t", "\n\n", "\r\n", ": ", "- ", "? ", "<<: ", "&a ", "*a", "!!python/object:os.system ",
        "---\n", "...\n", "%YAML 1.1\n", "\x00", "\x07", "\x7f", "\x85", "\u2028", "\u200b", "\u202e", "\ufeff", "\ud800", "ⅷ", "а",
        "{auger-shear-bolt.torque}", "{tool:pin-punch}", "{kind:../../x}", "{{", "}}", "{", "null", "~", "no", "1:30", "0x1f", "1e999",
        "9" * 400, "24 ± 2 N·m", "9 lbf", "-0.0 N·m", "∞ N·m", "../../../etc/passwd", "C:\\con", "a" * 5000, "💥", "<script>alert(1)</script>",
        "title: x\n", "steps:\n", "  - do: Pull, then push, and turn it if it is, unless it must be.\n", "ignore: [{code: FMT001, reason: x}]\n",
        "review: {state: reviewed, digest: 0000000000000000}\n", "applies_to: {class: two-stage, fitted: []}\n", "before: [make-machine-safe]\n",
    )
)  # fmt: skip
_BAD_NAMES: Final = (
    "..", ".", "con", "nul", "aux.txt", "a b", "Ä", "a/../../b", "a\u202eb", "pin-punсh", "x" * 300, "index", "-", "a..b", "%2e%2e", "a\nb",
)  # fmt: skip


def hostile_file(seed: int) -> tuple[str, bytes]:
    """Return the path below `kb/` and the bytes of the hostile file of a seed."""
    rng = random.Random(seed)
    name = rng.choice(NAMES)
    raw = rng.choice(_MAKERS)(rng, name)
    if rng.random() < 0.05:
        folder = name.split("/")[0]
        name = f"{folder}/{rng.choice(_BAD_NAMES)}.yaml"
    return name, raw[:3_000_000]


def _random_bytes(rng: random.Random, name: str) -> bytes:
    return rng.randbytes(rng.randrange(0, 600))


def _pieces(rng: random.Random, name: str) -> bytes:
    return b"".join(rng.choices(PIECES, k=rng.randrange(0, 60)))


def _mutated(rng: random.Random, name: str) -> bytes:
    raw = RAW[name]
    for _ in range(rng.randrange(1, 5)):
        start = rng.randrange(0, len(raw) + 1)
        end = min(len(raw), start + rng.choice((0, 0, 1, 3, 20)))
        put = rng.choice(PIECES) if rng.random() < 0.7 else rng.randbytes(rng.randrange(0, 6))
        raw = raw[:start] + put + raw[end:]
    return raw


def _lines(rng: random.Random, name: str) -> bytes:
    lines = [line for other in (name, rng.choice(NAMES)) for line in RAW[other].splitlines(keepends=True)]
    rng.shuffle(lines)
    return b"".join(
        rng.choice((b"", b"", b" ", b"  ", b"- ")) + line for line in lines[: rng.randrange(0, 40)]
    )


def _swapped_ids(rng: random.Random, name: str) -> bytes:
    """References to other records, to itself and to none: circles among preparations, tests, causes."""
    raw = RAW[name]
    for _ in range(rng.randrange(1, 6)):
        raw = raw.replace(rng.choice(IDS).encode(), rng.choice((*IDS, "no-such", "../x", "")).encode())
    return raw


def _deep(rng: random.Random, name: str) -> bytes:
    depth = rng.choice((10, 39, 40, 41, 1_000, 50_000))
    kind = rng.randrange(4)
    if kind == 0:
        return b"title: " + b"[" * depth + b"]" * rng.choice((depth, 0))
    if kind == 1:
        return b"title: " + b"{a: " * depth
    if kind == 2:
        return b"- " * depth
    return b"".join(b" " * level + b"a:\n" for level in range(min(depth, 900)))


def _huge(rng: random.Random, name: str) -> bytes:
    length = rng.choice((10_000, 300_000, 999_000, 1_000_001))
    filler = rng.choice(
        (
            b"x",
            b" ",
            b"\n",
            b"# c\n",
            b"a: b\n",
            b"- a\n",
            b"\\u0041",
            b"{a.b} ",
            b"9",
            "é".encode(),
            b"and pull, ",
        )
    )
    head = rng.choice((b"title: ", b"title: '", b'title: "', b"title: |\n  ", b"", b"steps:\n  - do: "))
    return (head + filler * (length // len(filler)))[:length]


def _bomb(rng: random.Random, name: str) -> bytes:
    """Aliases that multiply: nine levels would be a billion items."""
    lines = [b"a: &a [x,x,x,x,x,x,x,x,x]"]
    for this, last in zip("bcdefghi", "abcdefgh", strict=True):
        lines.append(f"{this}: &{this} [{','.join(['*' + last] * 9)}]".encode())
    return b"\n".join(rng.sample(lines, rng.randrange(1, len(lines) + 1)))


def _encoded(rng: random.Random, name: str) -> bytes:
    text = RAW[name].decode()
    return rng.choice((text.encode("utf-16"), text.encode("utf-32"), text.encode("latin-1", "replace"), b"\xef\xbb\xbf" * 2 + RAW[name],
                       RAW[name].replace(b"e", b"\xe9"), RAW[name].replace(b"\n", b"\r"), RAW[name] + b"\xff", RAW[name] + b"\xed\xa0\x80"))  # fmt: skip


_MAKERS: Final[tuple[Callable[[random.Random, str], bytes], ...]] = (
    _random_bytes, _pieces, _pieces, _mutated, _mutated, _mutated, _mutated, _lines, _swapped_ids, _swapped_ids, _deep, _huge, _bomb, _encoded,
)  # fmt: skip
