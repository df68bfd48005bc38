"""Every place that names a record: in fields, as names of fields, in texts, on hand-written pages; and how it is rewritten."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ruamel.yaml.nodes import MappingNode, ScalarNode

from shearpin.authoring.formatting import says
from shearpin.authoring.source import Edit, Source, apply_edits, scalar_text
from shearpin.model.fields import Record
from shearpin.model.inline import Link, ValueMention, parse_inline
from shearpin.model.kinds import KINDS
from shearpin.model.position import FieldPath
from shearpin.model.references import InlineText, Reference, mentions


@dataclass(frozen=True, slots=True)
class Renaming:
    """A record of a kind gets another id."""

    kind: str
    old: str
    new: str


def renamed_data(record: Record, data: Mapping[str, Any], renaming: Renaming) -> tuple[dict[str, Any], int]:
    """Return the data of a record with every mention of the old id rewritten, and how many there were."""
    made = copy.deepcopy(dict(data))
    keys: list[FieldPath] = []
    count = 0
    for mention in mentions(record):
        if isinstance(mention, Reference):
            if mention.id != renaming.old or renaming.kind not in mention.kinds:
                continue
            count += 1
            if mention.on_key:
                keys.append(mention.path)
            else:
                _put(made, mention.path, renaming.new)
        elif isinstance(mention, InlineText):
            text, found = renamed_text(str(_get(made, mention.path)), renaming)
            if found:
                _put(made, mention.path, text)
                count += found
    for path in keys:
        holder = _get(made, path[:-1])
        renamed = {(renaming.new if name == path[-1] else name): inner for name, inner in holder.items()}
        holder.clear()
        holder.update(renamed)
    return made, count + _renamed_reasons(record, made, renaming)


def _renamed_reasons(record: Record, data: dict[str, Any], renaming: Renaming) -> int:
    """Rewrite the id in the reasons of suppressions: plain text, in which it stands as a word."""
    count = 0
    word = re.compile(rf"(?<![a-z0-9.-]){re.escape(renaming.old)}(?![a-z0-9-]|\.[a-z0-9])")
    for index, entry in enumerate(record.ignore):
        if _says_id(renaming.old) and word.search(entry.reason):
            path = ("ignore", index, "reason")
            text, found = word.subn(renaming.new, str(_get(data, path)))
            _put(data, path, text)
            count += found
    return count


def _says_id(record_id: str) -> bool:
    """Tell an id from a common word: only `auger-belt`, not `headlight`, is surely one in a plain text."""
    return "-" in record_id or "." in record_id


def renamed_text(text: str, renaming: Renaming) -> tuple[str, int]:
    """Return a text with values and links in braces rewritten, and how many."""
    lead = len(text) - len(text.lstrip())
    edits = []
    for piece in parse_inline(text.strip()):
        if isinstance(piece, ValueMention) and renaming.kind == "value" and piece.name == renaming.old:
            start = lead + piece.offset
            edits.append(Edit(start, start + len(renaming.old), renaming.new))
        elif isinstance(piece, Link) and (piece.kind, piece.id) == (renaming.kind, renaming.old):
            start = lead + piece.offset + len(piece.kind) + 1
            edits.append(Edit(start, start + len(renaming.old), renaming.new))
    return apply_edits(text, edits), len(edits)


def _get(data: Any, path: FieldPath) -> Any:
    for part in path:
        data = _step(data, part)
    return data


def _step(data: Any, part: str | int) -> Any:
    # A single item may stand where a list is allowed: its index 0 is itself.
    return data if part == 0 and not isinstance(data, list) else data[part]


def _put(data: Any, path: FieldPath, value: Any) -> None:
    if path[-1] == 0 and not isinstance(_get(data, path[:-1]), list):
        path = path[:-1]
    _get(data, path[:-1])[path[-1]] = value


def rewritten(text: str, new: Mapping[str, Any], renaming: Renaming) -> str:
    """Return the text of a record with every mention rewritten where it stands; `new` is what it must read back as.

    Raises `ValueError` where that does not succeed.
    """
    for whole in (False, True):
        source = Source(text)
        edits = list(_edits(source, source.root, new, renaming, flow=False, whole=whole))
        made = apply_edits(text, edits)
        if says(made, new):
            return made
    raise ValueError("a mention could not be rewritten")


def _edits(
    source: Source, node: Any, new: Any, renaming: Renaming, *, flow: bool, whole: bool
) -> Iterator[Edit]:
    if isinstance(node, ScalarNode):
        if str(node.value) != new:
            yield Edit(
                source.start(node), source.end(node), _scalar(source, node, new, renaming, flow, whole)
            )
        return
    inside = flow or bool(node.flow_style)
    if isinstance(node, MappingNode):
        for (key, value), (name, inner) in zip(node.value, new.items(), strict=True):
            if str(key.value) != name:
                yield Edit(
                    source.start(key), source.end(key), scalar_text(name, in_flow=inside, style=key.style)
                )
            yield from _edits(source, value, inner, renaming, flow=inside, whole=whole)
    else:
        for item, inner in zip(node.value, new, strict=True):
            yield from _edits(source, item, inner, renaming, flow=inside, whole=whole)


def _scalar(source: Source, node: ScalarNode, new: str, renaming: Renaming, flow: bool, whole: bool) -> str:
    """Return the source of a scalar: a text keeps its folding, unless it has to be written anew as a whole."""
    written = source.text[source.start(node) : source.end(node)]
    if not whole and str(node.value) != renaming.old:
        return _in_braces(renaming).sub(renaming.new, written)
    after = "\n" if node.style in (">", "|") and written.endswith("\n") else ""
    return scalar_text(new, in_flow=flow, style=node.style) + after


def renamed_translation(text: str, renaming: Renaming) -> tuple[str, int]:
    """Return a translation file with what stands in braces rewritten, in original and translation, and how often."""
    return re.subn(_braces(renaming), renaming.new, text)


def _braces(renaming: Renaming) -> str:
    old = re.escape(renaming.old)
    if renaming.kind == "value":
        return rf"(?<=[^{{]\{{){old}(?=\s*\}})|(?<=[^{{]\{{ ){old}(?=\s*\}})"  # a doubled brace is a brace
    return rf"(?<={renaming.kind}:){old}(?=\s*[|}}])"


def _in_braces(renaming: Renaming) -> re.Pattern[str]:
    """Return what finds the old id in the source of a text: in braces, or as a word where it can be nothing else."""
    old, braces = re.escape(renaming.old), _braces(renaming)
    word = rf"(?<![a-z0-9.:{{-]){old}(?![a-z0-9-]|\.[a-z0-9])" if _says_id(renaming.old) else ""
    return re.compile("|".join(filter(None, (braces, word))))


def renamed_page(text: str, renaming: Renaming) -> tuple[str, int]:
    """Return a hand-written page with its links to the record rewritten, and how many: by kind and id, or by address."""
    old = re.escape(renaming.old)
    by_kind = rf"(?<=\]\({renaming.kind}:){old}(?=\))"
    by_address = rf"(?<={KINDS[renaming.kind].folder}/){old}(?=\.(?:html|yaml|svg)\b)"
    return re.subn(f"{by_kind}|{by_address}", renaming.new, text)
