"""`shearpin init`: a book that checks clean, in a new or an empty folder, or nothing at all."""

from __future__ import annotations

import errno
import json
import os
from pathlib import Path

import pytest
import yaml

from shearpin.authoring import starter
from shearpin.authoring.formatting import formatted, quantity_kinds
from shearpin.book.linked import load_linked
from shearpin.cli.main import main
from shearpin.inspection import inspect_book
from shearpin.model.kinds import KINDS


def files_of(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


class TestBook:
    def test_checks_clean_and_is_in_its_usual_form(self) -> None:
        linked = load_linked(starter.STARTER / "kb", "kb")
        assert inspect_book(linked) == ()
        figures = quantity_kinds(linked.book)
        for (kind, _), file in linked.book.file_of.items():
            content = (linked.book.kb / file.path).read_bytes()
            assert formatted(content, KINDS[kind], figures) == content, file.path

    def test_shows_every_kind_of_record_but_drawings(self) -> None:
        book = load_linked(starter.STARTER / "kb", "kb").book
        assert {kind for kind, _ in book.file_of} == set(KINDS) - {"figure"}

    def test_says_that_nothing_in_it_was_reviewed_and_that_figures_are_invented(self) -> None:
        book = load_linked(starter.STARTER / "kb", "kb").book
        for (_, record_id), file in book.file_of.items():
            assert file.record is not None
            assert file.record.review is not None, record_id
            assert file.record.review.state == "draft", record_id
        entries = [
            entry
            for plated in (*book.machines.values(), *book.engines.values())
            for entry in plated.values.values()
        ]
        assert {entry.basis for entry in entries} == {"demo"}


class TestInit:
    def test_fills_a_new_folder(self, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        folder = tmp_path / "Späne & Öl"
        assert main(["init", str(folder), "--name", 'Fred: "best" # 1', "--json"]) == 0
        said = json.loads(capsys.readouterr().out)
        assert said == {"folder": str(folder), "files": files_of(folder)}
        assert {".gitignore", ".vscode/settings.json", "README.md", "mkdocs.yml"} <= set(said["files"])
        settings = yaml.safe_load((folder / "mkdocs.yml").read_text(encoding="utf-8"))
        assert settings["site_name"] == 'Fred: "best" # 1'
        schemas = json.loads((folder / ".vscode/settings.json").read_text(encoding="utf-8"))["yaml.schemas"]
        assert schemas["./.shearpin/schema/cause.json"] == "kb/causes/*.yaml"

    def test_fills_the_empty_folder_it_stands_in(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        monkeypatch.chdir(tmp_path)
        assert main(["init", "."]) == 0
        assert "cd " not in capsys.readouterr().out
        assert main(["check"]) == 0

    @pytest.mark.parametrize("name", ["notes.txt", ".hidden"])
    def test_leaves_a_folder_in_use_alone(
        self, tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        (tmp_path / name).write_text("mine", encoding="utf-8")
        assert main(["init", str(tmp_path)]) == 2
        assert "is not empty" in capsys.readouterr().err
        assert files_of(tmp_path) == [name]

    def test_refuses_a_file_a_link_and_a_place_that_does_not_exist(self, tmp_path: Path) -> None:
        (tmp_path / "file").touch()
        (tmp_path / "empty").mkdir()
        (tmp_path / "link").symlink_to(tmp_path / "empty")
        for given in ("file", "link", "nowhere/shop"):
            assert main(["init", str(tmp_path / given)]) == 2, given
        assert files_of(tmp_path) == ["file"]

    def test_refuses_a_name_of_blanks(self, tmp_path: Path) -> None:
        assert main(["init", str(tmp_path / "shop"), "--name", "  "]) == 2
        assert not (tmp_path / "shop").exists()

    def test_clears_what_a_killed_beginning_left(self, tmp_path: Path) -> None:
        (tmp_path / ".shearpin-init-123" / "kb").mkdir(parents=True)
        assert main(["init", str(tmp_path)]) == 0
        assert not (tmp_path / ".shearpin-init-123").exists()

    @pytest.mark.parametrize("there", [True, False])
    @pytest.mark.parametrize("fails_at", [1, 3])
    def test_leaves_nothing_behind_when_it_fails(
        self,
        tmp_path: Path,
        monkeypatch: pytest.MonkeyPatch,
        capsys: pytest.CaptureFixture[str],
        there: bool,
        fails_at: int,
    ) -> None:
        folder = tmp_path / "shop"
        if there:
            folder.mkdir()
        calls = 0

        def full(source: Path, target: Path) -> None:
            nonlocal calls
            calls += 1
            if calls == fails_at:
                raise OSError(errno.ENOSPC, "No space left on device")
            os.replace(source, target)

        monkeypatch.setattr(starter.os, "rename", full)
        assert main(["init", str(folder)]) == 1
        assert "No space left on device; nothing was begun" in capsys.readouterr().err
        assert folder.exists() is there
        assert list(tmp_path.rglob("*")) == ([folder] if there else [])
