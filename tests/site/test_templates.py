"""Templates that were compiled by an earlier build are used again, and only while they and the program are the same."""

from __future__ import annotations

from pathlib import Path

import jinja2
import pytest

from shearpin.model import usercache
from shearpin.site import templates
from shearpin.site.templates import KeptTemplates


def render(folder: Path, kb: Path) -> tuple[str, bool]:
    """Render a template in a new environment; return what came out, and whether it had to be compiled."""
    compiled = []

    class Noting(jinja2.Environment):
        def compile(self, *words: object, **named: object) -> object:  # type: ignore[override]
            compiled.append(words)
            return super().compile(*words, **named)  # type: ignore[call-overload]

    env = Noting(loader=jinja2.FileSystemLoader(folder), auto_reload=False, bytecode_cache=KeptTemplates(kb))
    return env.get_template("page.html").render(title="Auger"), bool(compiled)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "theme").mkdir()
    (tmp_path / "theme" / "page.html").write_text("<h1>{{ title }}</h1>")
    return tmp_path / "theme"


def test_a_template_is_compiled_once(folder: Path, tmp_path: Path) -> None:
    assert render(folder, tmp_path / "kb") == ("<h1>Auger</h1>", True)
    assert render(folder, tmp_path / "kb") == ("<h1>Auger</h1>", False)


def test_another_template_is_compiled_anew(folder: Path, tmp_path: Path) -> None:
    render(folder, tmp_path / "kb")
    (folder / "page.html").write_text("<h2>{{ title }}</h2>")
    assert render(folder, tmp_path / "kb") == ("<h2>Auger</h2>", True)


@pytest.mark.parametrize(
    "content", [b"", b"not ours", None], ids=["empty", "something else", "a flipped bit"]
)
def test_code_that_this_program_did_not_seal_is_never_run(
    folder: Path, tmp_path: Path, content: bytes | None
) -> None:
    render(folder, tmp_path / "kb")
    (kept,) = usercache.cache_of(tmp_path / "kb").glob("template-*.bin")
    whole = bytearray(kept.read_bytes())
    whole[-3] ^= 1
    kept.write_bytes(whole if content is None else content)
    assert render(folder, tmp_path / "kb") == ("<h1>Auger</h1>", True)


def test_another_program_compiles_for_itself(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    render(folder, tmp_path / "kb")
    monkeypatch.setattr(templates, "program_digest", lambda: "another")
    assert render(folder, tmp_path / "kb") == ("<h1>Auger</h1>", True)


def test_a_cache_that_cannot_be_written_is_no_fault(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SHEARPIN_CACHE", str(folder / "page.html" / "no folder"))
    assert render(folder, tmp_path / "kb") == ("<h1>Auger</h1>", True)
