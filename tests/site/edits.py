"""Owns random edits of a `kb/`: what a writer does to records, in any order, sound or not."""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Callable
from pathlib import Path

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_WORD = re.compile(r"[A-Za-z]{4,}")
_TITLE = re.compile(r"^title: (.*)$", re.MULTILINE)
_DECIDES = re.compile(
    r"\b(applies_to|class|fitted|engine|machines|also|title|plate|is|before|actions?|energies|cautions?|review|remedies|given|said)\b"
)
"""Fields that other pages depend on."""


class Editor:
    """Edits the records in `kb`, of which `sound` holds the originals; every choice comes from `chance`."""

    def __init__(self, kb: Path, sound: Path, chance: random.Random) -> None:
        self.kb, self.sound, self.chance = kb, sound, chance
        self._ways: tuple[tuple[Callable[[Path], str], int], ...] = (
            (self._figure, 4),
            (self._line_that_decides, 5),
            (self._word, 3),
            (self._line_away, 2),
            (self._line_of_another, 2),
            (self._break, 1),
            (self._mend, 3),
            (self._remove, 1),
            (self._rename, 1),
            (self._copy, 1),
            (self._drawing, 1),
            (self._title_of_machine, 3),
            (self._facts_of_machine, 3),
        )

    def edit(self) -> str:
        """Make one edit; return what it was."""
        files = sorted(self.kb.glob("*/*.yaml"))
        ways, weights = zip(*self._ways, strict=True)
        kind = self.chance.choice(
            sorted({file.parent for file in files})
        )  # as many of the rare kinds as of others
        file = self.chance.choice([each for each in files if each.parent == kind])
        (way,) = self.chance.choices(ways, weights)
        return f"{way.__name__[1:]} {file.relative_to(self.kb)}: {way(file)}"

    def _figure(self, file: Path) -> str:
        return self._change(file, _NUMBER, lambda found: str(self.chance.randint(0, 60)))

    def _word(self, file: Path) -> str:
        return self._change(file, _WORD, lambda found: found[::-1].capitalize())

    def _change(self, file: Path, what: re.Pattern[str], anew: Callable[[str], str]) -> str:
        text = file.read_text(encoding="utf-8")
        found = list(what.finditer(text))
        if not found:
            return "nothing"
        match = self.chance.choice(found)
        new = anew(match.group())
        file.write_text(text[: match.start()] + new + text[match.end() :], encoding="utf-8", newline="\n")
        return f"{match.group()} -> {new}"

    def _line_that_decides(self, file: Path) -> str:
        """Put words from the same kind of line of another record into a line that other pages depend on."""
        lines = file.read_text(encoding="utf-8").splitlines()
        places = [number for number, line in enumerate(lines) if _DECIDES.search(line)]
        if not places:
            return "nothing"
        place = self.chance.choice(places)
        match = _DECIDES.search(lines[place])
        assert match is not None
        others = [
            line
            for other in sorted(file.parent.glob("*.yaml"))
            for line in other.read_text(encoding="utf-8").splitlines()
            if match.group() in line and line != lines[place]
        ]
        if not others:
            return "nothing"
        lines[place] = self.chance.choice(others)
        return self._write(file, lines, lines[place])

    def _line_away(self, file: Path) -> str:
        lines = file.read_text(encoding="utf-8").splitlines()
        gone = lines.pop(self.chance.randrange(len(lines))) if lines else ""
        return self._write(file, lines, gone)

    def _line_of_another(self, file: Path) -> str:
        lines = file.read_text(encoding="utf-8").splitlines()
        other = self.chance.choice(sorted(file.parent.glob("*.yaml")))
        line = self.chance.choice(other.read_text(encoding="utf-8").splitlines() or [""])
        lines.insert(self.chance.randint(0, len(lines)), line)
        return self._write(file, lines, line)

    def _title_of_machine(self, file: Path) -> str:
        """Give a machine another title, whichever record was chosen: most pages name a machine."""
        machines = sorted((self.kb / "machines").glob("*.yaml"))
        machine = self.chance.choice(machines) if machines else file
        titles = [found for each in machines if (found := _TITLE.search(each.read_text(encoding="utf-8")))]
        if machine not in machines or not titles:
            return "nothing"
        title = self.chance.choice(titles)[1] + self.chance.choice(
            ["", " E", " <b>&", " Übergröße", " 1" * 40]
        )
        text = machine.read_text(encoding="utf-8")
        machine.write_text(_TITLE.sub(f"title: {title}", text, count=1), encoding="utf-8", newline="\n")
        return f"{machine.name}: {title}"

    def _facts_of_machine(self, file: Path) -> str:
        """Give a machine what another one has, or something less: its class, its engine or what is fitted to it."""
        machines = sorted((self.kb / "machines").glob("*.yaml"))
        machine, other = (self.chance.choice(machines or [file]) for _ in range(2))
        fact = re.compile(rf"^{self.chance.choice(['class', 'engine', 'fitted'])}: .*\n", re.MULTILINE)
        text = machine.read_text(encoding="utf-8")
        theirs = fact.findall(other.read_text(encoding="utf-8"))
        new = self.chance.choice(["", *theirs, *(line.replace("[", "[tracks, ") for line in theirs)])
        machine.write_text(fact.sub(new, text), encoding="utf-8", newline="\n")
        return f"{machine.name}: {new.strip()}"

    def _write(self, file: Path, lines: list[str], words: str) -> str:
        file.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
        return words.strip()

    def _break(self, file: Path) -> str:
        words = self.chance.choice(["colour: red", "title: [", "\tx", "steps: none", "{{{", "\x00"])
        with file.open("a", encoding="utf-8", newline="\n") as stream:
            stream.write(f"{words}\n")
        return repr(words)

    def _mend(self, file: Path) -> str:
        """Bring one file of the originals back, if need be one that is gone."""
        originals = sorted(self.sound.glob("*/*.yaml"))
        differ = [
            each
            for each in originals
            if not (there := self.kb / each.relative_to(self.sound)).is_file()
            or there.read_bytes() != each.read_bytes()
        ]
        original = self.chance.choice(differ or originals)
        shutil.copyfile(original, self.kb / original.relative_to(self.sound))
        return str(original.relative_to(self.sound))

    def _remove(self, file: Path) -> str:
        file.unlink()
        return ""

    def _rename(self, file: Path) -> str:
        new = file.with_name(f"{file.stem}-{self.chance.randint(2, 9)}.yaml")
        file.replace(new)
        return new.name

    def _copy(self, file: Path) -> str:
        new = file.with_name(f"another-{file.name}")
        shutil.copyfile(file, new)
        return new.name

    def _drawing(self, file: Path) -> str:
        drawings = sorted((self.kb / "figures").glob("*.svg"))
        if not drawings:
            return "nothing"
        drawing = self.chance.choice(drawings)
        drawing.write_text(drawing.read_text(encoding="utf-8").replace("</svg>", "<path d='M0 0h1'/></svg>"))
        return drawing.name
