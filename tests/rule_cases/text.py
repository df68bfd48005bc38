"""Boundary cases of the rules on the text and the characters of a file, and on drawings (FMT, FIG)."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, found, silent

PUNCH = "tools/pin-punch.yaml"


def _punch(text: str) -> dict[str, str]:
    return {PUNCH: f"title: Pin punch\n{text}"}


FORMAT: Final[tuple[Case, ...]] = (
    found("FMT001", "colon in plain text", _punch("summary: Out with a pin: now.\n"), f"{PUNCH}:2:24"),
    found("FMT001", "colon after letters beyond ASCII", _punch("summary: µ±é pin: now.\n"), f"{PUNCH}:2:17"),
    found("FMT001", "byte order mark is no column", {PUNCH: "\ufefftitle: Pin: punch\n"}, f"{PUNCH}:1:11"),
    found("FMT001", "a tab as indentation", _punch("summary: Drives\n\tout pins.\n"), f"{PUNCH}:3:1"),
    found(
        "FMT001",
        "a quote that never closes",
        _punch('summary: "Drives out\nalso: [drift]\n'),
        f"{PUNCH}:2:10",
    ),
    found("FMT001", "a second document", _punch("summary: Drives.\n---\ntitle: b\n"), f"{PUNCH}:3:1"),
    found("FMT001", "text after a closing quote", _punch('summary: "Drives" out.\n'), f"{PUNCH}:2:19"),
    found("FMT001", "Windows line ends", _punch("summary: a\r\nalso: b: c\r\n"), f"{PUNCH}:3:8"),
    silent(
        "FMT001", "one document with its marks", {PUNCH: "---\ntitle: Pin punch\nsummary: Drives.\n...\n"}
    ),
    silent("FMT001", "a colon that no blank follows", _punch("summary: Set to 1:30 at http://a.example.\n")),
    found("FMT002", "nothing at all", {PUNCH: ""}, f"{PUNCH}:1:1"),
    found("FMT002", "only a comment", {PUNCH: "# later\n"}, f"{PUNCH}:1:1"),
    found("FMT002", "text instead of fields", {PUNCH: "\n\n  Pin punch\n"}, f"{PUNCH}:3:3"),
    found("FMT002", "a list as a field name", _punch("summary: Drives.\n? [a]\n: b\n"), f"{PUNCH}:3:3"),
    found("FMT002", "nested in brackets", _punch("also: " + "[" * 41 + "]" * 41 + "\n"), f"{PUNCH}:2:45"),
    found(
        "FMT002", "brackets hidden by quotes", _punch("also: " + "[']'," * 60_000 + "\n"), f"{PUNCH}:2:197"
    ),
    found(
        "FMT002",
        "nested by indentation",
        _punch("".join(f"{' ' * depth}a:\n" for depth in range(60))),
        f"{PUNCH}:41:40",
    ),
    found("FMT002", "nested dashes on one line", _punch("also:\n" + "- " * 60 + "a\n"), f"{PUNCH}:3:77"),
    found("FMT002", "more entries than a record has", _punch(f"also: [{'a,' * 20_000}]\n"), f"{PUNCH}:2:7"),
    found("FMT002", "a file beyond a megabyte", _punch(f"summary: {'a' * 1_000_000}\n"), f"{PUNCH}:1:1"),
    found(
        "FMT003",
        "Latin-1 after UTF-8",
        {PUNCH: "title: µ Pin punch\nsummary: é ".encode() + b"5 \xb1 1\n"},
        f"{PUNCH}:2:14",
    ),
    found("FMT003", "UTF-16", {PUNCH: "title: Pin punch\n".encode("utf-16")}, f"{PUNCH}:1:1"),
    found("FMT003", "UTF-16 without its mark", {PUNCH: "title: a\n".encode("utf-16-le")}, f"{PUNCH}:1:2"),
    found("FMT003", "a byte of zero", _punch("summary: ± Drives\0.\n"), f"{PUNCH}:2:18"),
    found("FMT003", "a bell", _punch("summary: ± Drives\a.\n"), f"{PUNCH}:2:18"),
    found("FMT003", "half of a surrogate pair", {PUNCH: b"title: \xed\xa0\x80\n"}, f"{PUNCH}:1:8"),
    found(
        "FMT003",
        "a line break that no editor shows",
        _punch("summary: ± Drives.\u2028also: drift\n"),
        f"{PUNCH}:2:19",
    ),
    found("FMT003", "next-line sign", {PUNCH: "\ufefftitle: Pin\u0085summary: b\n"}, f"{PUNCH}:1:11"),
    found("FMT004", "in block style", _punch("summary: a\nsummary: b\n"), f"{PUNCH}:3:1"),
    found(
        "FMT004",
        "in flow style",
        _punch("summary: a\nreview: {state: draft, by: ±, state: draft}\n"),
        f"{PUNCH}:3:31",
    ),
    found(
        "FMT004",
        "three times",
        _punch("summary: a\nsummary: b\n\nsummary: c\n"),
        f"{PUNCH}:3:1",
        f"{PUNCH}:5:1",
    ),
    silent("FMT004", "in two items of a list", _punch("summary: a\nignore: []\nalso: [b, b]\n")),
    found("FMT005", "an anchor", _punch("summary: &a Drives.\n"), f"{PUNCH}:2:10"),
    found("FMT005", "an alias to nothing", _punch("summary: *bold* pins.\n"), f"{PUNCH}:2:10"),
    found("FMT005", "the same anchor twice", _punch("summary: &a b\nalso: &a c\n"), f"{PUNCH}:2:10"),
    found("FMT005", "a list that holds itself", _punch("summary: b\nalso: &a [*a]\n"), f"{PUNCH}:3:7"),
    found("FMT005", "a tag", _punch("summary: b\nspecial: !!bool no\n"), f"{PUNCH}:3:10"),
    found("FMT005", "a tag of one's own", _punch("summary: !important b\n"), f"{PUNCH}:2:10"),
    found("FMT005", "a merge key", _punch("summary: b\n<<: {also: c}\n"), f"{PUNCH}:3:1"),
    silent("FMT005", "signs inside text", _punch('summary: Nuts & bolts * 2 ! at "once" << now.\n')),
    found("FMT006", "in plain text", _punch("summary: Drives out she\u200bar bolts.\n"), f"{PUNCH}:2:24"),
    found("FMT006", "after letters beyond ASCII", _punch("summary: ± µ\u00adm.\n"), f"{PUNCH}:2:13"),
    found("FMT006", "in quotes", _punch('summary: "It \\"drives\\" a\u200b."\n'), f"{PUNCH}:2:26"),
    found("FMT006", "in single quotes", _punch("summary: 'It''s a\u200b.'\n"), f"{PUNCH}:2:18"),
    found("FMT006", "in quotes over two lines", _punch('summary: "One\n  two\u200b."\n'), f"{PUNCH}:3:6"),
    found(
        "FMT006", "after an escaped line break", _punch('summary: "One\\\n  two\u200b."\n'), f"{PUNCH}:3:6"
    ),
    found("FMT006", "after blanks in quotes", _punch('summary: "  One\u200b"\n'), f"{PUNCH}:2:16"),
    found(
        "FMT006",
        "in plain text over lines",
        _punch("summary: One\n\n  two\n  three\u200b.\n"),
        f"{PUNCH}:5:8",
    ),
    found(
        "FMT006", "in folded text", _punch("summary: >-\n  One\n  two\n\n  three\u200b.\n"), f"{PUNCH}:6:8"
    ),
    found("FMT006", "in literal text", _punch("summary: |2-\n\n  One\n    two\u200b.\n"), f"{PUNCH}:5:8"),
    found(
        "FMT006",
        "in folded text, Windows line ends",
        _punch("summary: >\r\n  One\r\n  tw\u200bo\r\n"),
        f"{PUNCH}:4:5",
    ),
    found("FMT006", "written as an escape", _punch('summary: "One \\u200b two"\n'), f"{PUNCH}:2:15"),
    found("FMT006", "a control character as an escape", _punch('summary: "One \\0 two"\n'), f"{PUNCH}:2:15"),
    found("FMT006", "no-break space", _punch("summary: 5\u00a0mm\n"), f"{PUNCH}:2:11"),
    found(
        "FMT006",
        "a Cyrillic letter in a Latin word",
        _punch("summary: the shе\u0430r bolt\n"),
        f"{PUNCH}:2:14",
    ),
    found(
        "FMT006",
        "in an item of a list",
        _punch("summary: a\nalso:\n  - drift\n  - pu\u200bnch\n"),
        f"{PUNCH}:5:7",
    ),
    silent(
        "FMT006",
        "signs of the trade",
        _punch("summary: 24 ± 2 N·m, 7 kΩ, 5 μm, ΔT 3 °C, – ½ “a” 4\u202fmm.\n"),
    ),
    silent("FMT006", "text in another script", _punch("summary: A punch, выколотка.\n")),
)

FIGURE = "figures/shear-bolt.yaml"
SVG = "figures/shear-bolt.svg"


def _labels(*labels: str) -> str:
    lines = "".join(f"  - {label}\n" for label in labels)
    return f"title: A bolt\nalt: A bolt through the shaft.\nlabels:\n{lines}"


def _sized(width: int, size: int) -> str:
    return f"<svg viewBox='0 0 {width} 99'><text font-size='{size}px'>bolt</text></svg>"


DRAWINGS: Final[tuple[Case, ...]] = (
    found(
        "FIG001",
        "after a comment",
        {FIGURE: "# drawn here\ntitle: A bolt\nlabels: [{text: bolt, part: auger-shear-bolt}]\n"},
        f"{FIGURE}:2:1",
    ),
    found("FIG002", "no drawing", {SVG: None}, f"{FIGURE}:1:1"),
    found("FIG002", "not a drawing", {SVG: "<html></html>"}, f"{FIGURE}:1:1"),
    found("FIG002", "not UTF-8", {SVG: "<svg><text>bolt</text></svg>".encode("utf-16")}, f"{FIGURE}:1:1"),
    found("FIG002", "an act on loading", {SVG: "<svg onload='a()'><text>bolt</text></svg>"}, f"{FIGURE}:1:1"),
    found(
        "FIG002",
        "a script under another name",
        {SVG: "<svg><text>bolt</text><s:script>a()</s:script></svg>"},
        f"{FIGURE}:1:1",
    ),
    found(
        "FIG002",
        "a picture from elsewhere",
        {SVG: "<svg><text>bolt</text><path fill='url(http://a.example)'/></svg>"},
        f"{FIGURE}:1:1",
    ),
    found(
        "FIG002",
        "an entity",
        {SVG: '<!DOCTYPE svg [<!ENTITY a "b">]><svg><text>bolt</text>&a;</svg>'},
        f"{FIGURE}:1:1",
    ),
    found("FIG002", "beyond a megabyte", {SVG: f"<svg>{' ' * 1_000_000}</svg>"}, f"{FIGURE}:1:1"),
    silent(
        "FIG002",
        "a shade of its own",
        {SVG: "<svg><path fill='url( \"#shade\")' mask='url(#m)'/><text>bolt</text></svg>"},
    ),
    found(
        "FIG003",
        "the second label",
        {FIGURE: _labels("{text: bolt, part: auger-shear-bolt}", "{text: bolt}")},
        f"{FIGURE}:5:12",
    ),
    found(
        "FIG004",
        "a part that is drawn in other words",
        {FIGURE: _labels("{text: nut, part: auger-shear-bolt}")},
        f"{FIGURE}:4:12",
    ),
    found("FIG004", "words outside any text", {SVG: "<svg><title>bolt</title></svg>"}, f"{FIGURE}:4:12"),
    silent(
        "FIG004",
        "a label on two lines, with a sign that is escaped",
        {
            FIGURE: _labels("{text: nut & bolt, part: auger-shear-bolt}"),
            SVG: "<svg><text>nut &amp;<tspan x='0' dy='9'>bolt</tspan></text></svg>",
        },
    ),
    found("FIG005", "just below", {SVG: _sized(359, 11)}, f"{FIGURE}:1:1"),
    silent("FIG005", "just enough", {SVG: _sized(358, 11)}),
    silent("FIG005", "no width to measure by", {SVG: _sized(0, 1)}),
)
