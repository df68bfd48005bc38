"""Schemas for editors: valid JSON Schema, true to the types, and what the real language server makes of them."""

from __future__ import annotations

import itertools
import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from shearpin.authoring.editor import SETTING, mapping, refresh_schemas, write_schemas
from shearpin.authoring.schema import DIALECT, schemas
from shearpin.book.load import load_book
from shearpin.cli.main import main
from shearpin.model.kinds import KINDS
from shearpin.model.yamltext import parse
from tests.authoring.language_server import LanguageServer, missing
from tests.sound_book import SOUND_BOOK, lay_over

ROOT = Path(__file__).resolve().parents[2]
KB = ROOT / "kb"


@pytest.fixture(scope="module")
def made() -> dict[str, dict[str, Any]]:
    return schemas(load_book(KB))


def validator(schema: dict[str, Any]) -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema)


class TestSchemas:
    def test_are_valid_json_schema_2020_12(self, made: dict[str, dict[str, Any]]) -> None:
        assert set(made) == set(KINDS)
        for schema in made.values():
            assert schema["$schema"] == DIALECT
            jsonschema.Draft202012Validator.check_schema(schema)

    @pytest.mark.parametrize("kind", KINDS)
    def test_accept_every_record_of_the_book(self, kind: str, made: dict[str, dict[str, Any]]) -> None:
        check = validator(made[kind])
        for path in sorted((KB / KINDS[kind].folder).glob("*.yaml")):
            data, _ = parse(path.read_bytes())
            assert [error.message for error in check.iter_errors(data)] == [], path.name

    def test_accept_what_an_editor_takes_for_numbers(self, made: dict[str, dict[str, Any]]) -> None:
        # An editor's YAML reader makes 2, 0.3 and 5 of what a record holds as text.
        reader = YAML(typ="safe", pure=True)
        text = "title: 5\npurpose: 7\nsystems: controls\ntime: 15 min\nparts: [{part: auger-belt, quantity: 2}]\nsteps: [{do: 3}]\n"
        assert list(validator(made["procedure"]).iter_errors(reader.load(text))) == []

    @pytest.mark.parametrize(
        ("kind", "data", "path"),
        [
            ("tool", {"title": "T", "summary": "S", "sumary": "x"}, "$"),
            ("tool", {"title": "T"}, "$"),
            ("tool", {"title": "T", "summary": ""}, "$.summary"),
            ("tool", {"title": "T", "summary": "S", "cautions": "no-such"}, "$.cautions"),
            ("tool", {"title": "T", "summary": "a {b"}, "$.summary"),
            ("tool", {"title": "T", "summary": "{thing:b}"}, "$.summary"),
            ("tool", {"title": "T", "summary": "S", "special": "perhaps"}, "$.special"),
            ("tool", {"title": "T", "summary": "S", "review": {"state": "done"}}, "$.review.state"),
            ("symptom", {"title": "T", "summary": "S", "systems": "controls", "causes": [{"cause": "air-filter-clogged", "chance": "mostly"}]}, "$.causes[0].chance"),
            ("symptom", {"title": "T", "summary": "S", "systems": "controls", "causes": [{"cause": "air-filter-clogged", "chance": 1.5}]}, "$.causes[0].chance"),
        ],
    )  # fmt: skip
    def test_refuse_what_no_record_can_hold(
        self, kind: str, data: dict[str, Any], path: str, made: dict[str, dict[str, Any]]
    ) -> None:
        assert [error.json_path for error in validator(made[kind]).iter_errors(data)] == [path]

    @pytest.mark.parametrize(
        "text", ["{{", "}} {{", "{spark-plug.gap}", "{ part:auger-belt|the belt }", "no brace"]
    )
    def test_let_pass_what_prose_may_hold(self, text: str, made: dict[str, dict[str, Any]]) -> None:
        assert list(validator(made["tool"]).iter_errors({"title": "T", "summary": text})) == []

    @pytest.mark.parametrize("figure", ["≤ 10 %", "½ in", "20 to 27 N·m", "1 h 30 min", "Nm 3", "3/8 in"])
    def test_are_not_strict_about_how_a_figure_is_written(
        self, figure: str, made: dict[str, dict[str, Any]]
    ) -> None:
        data = {"title": "T", "summary": "S", "class": "new-class", "plate": {"where": "W"}, "values": {"auger-belt.length": {"is": figure}}}  # fmt: skip
        assert list(validator(made["machine"]).iter_errors(data)) == []

    def test_of_a_book_without_records_take_any_id(self, tmp_path: Path) -> None:
        (tmp_path / "kb").mkdir()
        tool = schemas(load_book(tmp_path / "kb"))["tool"]
        assert list(validator(tool).iter_errors({"title": "T", "summary": "S", "cautions": ["any-id"]})) == []


class TestCommand:
    def test_writes_one_schema_per_kind_and_prints_the_setting(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        assert main(["schema", "--kb", str(kb), "--json"]) == 0
        document = json.loads(capsys.readouterr().out)
        assert [Path(path).stem for path in document["schemas"]] == list(KINDS)
        assert all(Path(path).is_file() for path in document["schemas"])
        assert document["settings"][SETTING]["./.shearpin/schema/cause.json"] == "kb/causes/*.yaml"

    def test_says_when_the_folder_cannot_be_made(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        (tmp_path / "file").write_text("", encoding="utf-8")
        assert main(["schema", "--kb", str(SOUND_BOOK), "--out", str(tmp_path / "file" / "x")]) == 1
        assert "cannot make the folder" in capsys.readouterr().err

    def test_settings_of_this_project_name_every_schema(self) -> None:
        settings = json.loads((ROOT / ".vscode" / "settings.json").read_text(encoding="utf-8"))
        assert settings[SETTING] == mapping(KB, KB.parent / ".shearpin" / "schema")

    def test_schemas_learn_of_new_records_only_where_there_are_some(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        assert not refresh_schemas(load_book(kb))
        write_schemas(load_book(kb), tmp_path / ".shearpin" / "schema")
        (kb / "tools" / "drift.yaml").write_text("title: Drift\nsummary: S.\n", encoding="utf-8")
        assert refresh_schemas(load_book(kb))
        assert '"drift"' in (tmp_path / ".shearpin" / "schema" / "procedure.json").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanguageServer]:
    """The language server on a copy of the book, with the settings that the command prints."""
    if missing():
        pytest.fail(f"not installed: {missing()}", pytrace=False)
    project = tmp_path_factory.mktemp("project")
    kb = Path(shutil.copytree(KB, project / "kb"))
    folder = project / ".shearpin" / "schema"
    write_schemas(load_book(kb), folder)
    settings = {
        "yaml": {
            "schemas": mapping(kb, folder), "validate": True, "completion": True, "hover": True,
            "schemaStore": {"enable": False},
        },
        "http": {}, "[yaml]": {}, "editor": {}, "files": {},
    }  # fmt: skip
    with LanguageServer(project, settings) as running:
        yield running


_numbers = itertools.count()


def ask(server: LanguageServer, method: str, kind: str, text: str) -> Any:
    """Ask about the place of `|` in a new file of this kind."""
    before, _, after = text.partition("|")
    path = f"kb/{KINDS[kind].folder}/new-{next(_numbers)}.yaml"
    server.open(path, before + after)
    return server.at(method, path, before.count("\n"), len(before.rpartition("\n")[2]))


def offered(server: LanguageServer, kind: str, text: str) -> dict[str, str]:
    """Return what the editor offers at `|`, with its help."""
    items = ask(server, "completion", kind, text)["items"]
    return {
        item["label"]: help if isinstance(help := item.get("documentation") or "", str) else help["value"]
        for item in items
    }


class TestLanguageServer:
    @pytest.mark.parametrize("kind", KINDS)
    def test_marks_nothing_in_records_of_the_book(self, kind: str, server: LanguageServer) -> None:
        paths = sorted((KB / KINDS[kind].folder).glob("*.yaml"))
        for path in {paths[0], paths[len(paths) // 2], paths[-1]}:
            marked = server.open(f"kb/{KINDS[kind].folder}/{path.name}", path.read_text(encoding="utf-8"))
            assert [mark["message"] for mark in marked] == [], path.name

    def test_offers_fields_with_their_help(self, server: LanguageServer) -> None:
        fields = offered(server, "procedure", "title: X\n|")
        assert fields["purpose"] == "Why it is done, in a sentence or two."
        assert "title" not in fields
        assert "confirm" in offered(server, "procedure", "title: X\nsteps:\n  - do: a\n    |")

    @pytest.mark.parametrize(
        ("kind", "text", "label", "words"),
        [
            ("procedure", "remedies: [|]", "auger-belt-broken", "Auger belt broken"),
            ("procedure", "remedies:\n  - |", "auger-belt-broken", "Auger belt broken"),
            ("procedure", "remedies: |", "auger-belt-broken", "Auger belt broken"),
            ("procedure", "parts:\n  - part: |", "auger-belt", "Auger belt"),
            ("procedure", "parts: [{part: |}]", "auger-belt", "Auger belt"),
            (
                "machine",
                "values:\n  |",
                "spark-plug.gap",
                "Length; the engine plate decides, plausible 0.6–0.8 mm.",
            ),
            ("test", "results:\n  - id: a\n    given:\n      |", "auger-belt-broken", ""),
        ],
    )
    def test_offers_ids_with_their_titles(
        self, server: LanguageServer, kind: str, text: str, label: str, words: str
    ) -> None:
        assert offered(server, kind, f"title: X\n{text}")[label] == words

    @pytest.mark.parametrize(
        ("kind", "text", "words"),
        [
            ("procedure", "skill: |", {"trainee", "mechanic", "specialist"}),
            ("caution", "signal_word: |", {"DANGER", "WARNING", "CAUTION", "NOTICE"}),
            ("machine", "values:\n  spark-plug.gap: {is: 3 mm, basis: |}", {"maker", "measured", "demo"}),
            ("symptom", "causes:\n  - chance: |", {"always", "often", "never"}),
            ("procedure", "steps:\n  - do: a\n    action: |", {"run-engine", "drain-fuel"}),
            ("machine", "fitted: [|]", {"recoil-start"}),
        ],
    )
    def test_offers_the_words_a_field_can_hold(
        self, server: LanguageServer, kind: str, text: str, words: set[str]
    ) -> None:
        assert words <= set(offered(server, kind, f"title: X\n{text}"))

    def test_explains_a_field_and_a_value_under_the_pointer(self, server: LanguageServer) -> None:
        shown = ask(server, "hover", "cause", "title: X\nmecha|nism: Y\n")["contents"]["value"]
        assert "What has happened and why it makes the symptom." in shown
        shown = ask(server, "hover", "engine", "title: X\nvalues:\n  spark-|plug.gap: {is: 1 mm}\n")[
            "contents"
        ]["value"]
        assert "Spark plug, gap" in shown
        assert "plausible 0.6–0.8 mm" in shown

    @pytest.mark.parametrize(
        ("text", "message", "place"),
        [
            ("sumary: x\n", "Property sumary is not allowed.", (2, 0)),
            ("cautions: [no-such]\n", "the book has no such caution; `shearpin schema` tells the editor of new records", (2, 11)),
            ("also:\n  a: b\n", 'Incorrect type. Expected "array".', (3, 2)),
        ],
    )  # fmt: skip
    def test_marks_a_wrong_field_at_its_place(
        self, server: LanguageServer, text: str, message: str, place: tuple[int, int]
    ) -> None:
        path = f"kb/tools/wrong-{next(_numbers)}.yaml"
        marked = server.open(path, f"title: X\nsummary: Y\n{text}")
        assert [
            (m["message"], (m["range"]["start"]["line"], m["range"]["start"]["character"])) for m in marked
        ] == [(message, place)]
