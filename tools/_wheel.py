"""Puts the theme's templates, styles and scripts into the wheel: there they lie inside the package, here at the top.

`pyproject.toml` names the class below as the command `build_py` of setuptools.
"""

from __future__ import annotations

from pathlib import Path

from setuptools.command.build_py import build_py
from setuptools.errors import SetupError

ROOT = Path(__file__).resolve().parents[1]
LOOK = Path("site_overrides")
INSIDE = Path("shearpin", "look")


class BuildPy(build_py):
    """The usual command, and after it the look; an editable installation reads the look where it lies."""

    def run(self) -> None:
        """Copy the package, then the look beside it."""
        super().run()
        if not self.editable_mode:
            for source, target in self._look().items():
                self.mkpath(str(Path(target).parent))
                self.copy_file(source, target, preserve_mode=False)

    def get_source_files(self) -> list[str]:
        """Return what a source archive needs to build the same wheel."""
        own = Path(__file__).relative_to(ROOT).as_posix()
        return [*super().get_source_files(), own, *self._look()]

    def get_outputs(self, include_bytecode: bool = True) -> list[str]:
        """Return every file that is written."""
        outputs: list[str] = super().get_outputs(include_bytecode)
        return outputs if self.editable_mode else [*outputs, *self._look().values()]

    def _look(self) -> dict[str, str]:
        """Return each file of the look, and where it goes."""
        files = sorted(path for path in (ROOT / LOOK).rglob("*") if path.is_file())
        if not files:
            raise SetupError(f"{LOOK} is missing: this copy is incomplete. Copy the whole folder again.")
        to = Path(self.build_lib) / INSIDE
        return {
            path.relative_to(ROOT).as_posix(): (to / path.relative_to(ROOT / LOOK)).as_posix()
            for path in files
        }
