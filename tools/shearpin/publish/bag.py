"""BagIt (RFC 8493): a folder that carries the digests of its own content."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final

from shearpin import __version__
from shearpin.publish.archive import files_below

ALGORITHMS: Final = ("sha256", "sha512")
MANIFESTS: Final = tuple(f"{kind}-{a}.txt" for kind in ("tagmanifest", "manifest") for a in ALGORITHMS)
DECLARATION: Final = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
CHUNK: Final = 1 << 20


@dataclass(frozen=True, slots=True)
class Digests:
    """Size and digests of one file."""

    size: int
    by_algorithm: Mapping[str, str]


def digests_of(chunks: Iterable[bytes]) -> Digests:
    """Return size and digests of a content that comes in pieces."""
    hashes = {name: hashlib.new(name) for name in ALGORITHMS}
    size = 0
    for chunk in chunks:
        size += len(chunk)
        for hasher in hashes.values():
            hasher.update(chunk)
    return Digests(size, MappingProxyType({name: hasher.hexdigest() for name, hasher in hashes.items()}))


def manifest_text(algorithm: str, files: Mapping[str, Digests]) -> str:
    """Return a manifest as we write it: sorted by path, two blanks between digest and path.

    Paths of ours hold no `%`, CR or LF, so that nothing is escaped and the usual digest tools read it.
    """
    return "".join(f"{files[path].by_algorithm[algorithm]}  {path}\n" for path in sorted(files))


def write_bag(bag: Path, info: Iterable[tuple[str, str]]) -> str:
    """Complete a folder whose `data/` and further tag files are there; return the edition's fingerprint.

    The fingerprint is the SHA-256 of `tagmanifest-sha512.txt`, which covers the manifests and through them every file.
    """
    contents = {name: digests_of([data]) for name, data in files_below(bag)}
    payload = {name: found for name, found in contents.items() if name.startswith("data/")}
    octets = sum(found.size for found in payload.values())
    lines = [
        *info,
        ("Payload-Oxum", f"{octets}.{len(payload)}"),
        ("Bag-Software-Agent", f"Shearpin {__version__}"),
    ]
    tags = {"bagit.txt": DECLARATION, "bag-info.txt": "".join(f"{k}: {_one_line(v)}\n" for k, v in lines)}
    tags |= {f"manifest-{algorithm}.txt": manifest_text(algorithm, payload) for algorithm in ALGORITHMS}
    for name, text in tags.items():
        _write(bag / name, text)
    tagged = {name: found for name, found in contents.items() if name not in payload}
    tagged |= {name: digests_of([text.encode("utf-8")]) for name, text in tags.items()}
    for algorithm in ALGORITHMS:
        _write(bag / f"tagmanifest-{algorithm}.txt", manifest_text(algorithm, tagged))
    return fingerprint_of((bag / "tagmanifest-sha512.txt").read_bytes())


def fingerprint_of(tagmanifest_sha512: bytes) -> str:
    """Return the fingerprint of an edition from its `tagmanifest-sha512.txt`."""
    return hashlib.sha256(tagmanifest_sha512).hexdigest()


def _one_line(value: str) -> str:
    return " ".join(value.split())


def _write(path: Path, text: str) -> None:
    path.write_bytes(text.encode("utf-8"))
