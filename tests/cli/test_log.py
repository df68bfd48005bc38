"""`shearpin log` from the first repair to the report, on the sound book."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shearpin.cli.main import main
from shearpin.diagnosis.repair import Repair
from shearpin.diagnosis.repair_log import RepairLog
from tests.sound_book import SOUND_BOOK

KB = str(SOUND_BOOK)
SYMPTOM = "one-side-of-auger-does-not-turn"
BOLT = "auger-shear-bolt-sheared"
REPAIR = [SYMPTOM, "--machine", "brook-d24", "--cause", BOLT, "--date", "2026-11-28"]


class Shop:
    """One log, and what the command said about it."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.path = folder / "log.sqlite"
        self._capsys = capsys

    def log(self, action: str, *words: str, code: int = 0) -> str:
        assert main(["log", action, *words, "--log", str(self.path), "--kb", KB]) == code
        captured = self._capsys.readouterr()
        return captured.out or captured.err


@pytest.fixture
def shop(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shop:
    return Shop(tmp_path, capsys)


def test_a_repair_is_kept_listed_and_taken_out_again(shop: Shop) -> None:
    shop.log("add", *REPAIR, "--test", "shear-bolt-inspection=broken 6 min", "--minutes", "9")
    (entry,) = json.loads(shop.log("list", "--json"))["repairs"]
    assert (entry["cause"], entry["minutes"], entry["number"]) == (BOLT, 9, 1)
    assert entry["tests"] == [{"test": "shear-bolt-inspection", "result": "broken", "minutes": 6}]
    assert "1 repair in" in shop.log("list", "--symptom", SYMPTOM)
    assert "no repairs in" in shop.log("list", "--machine", "brook-t28")
    shop.log("remove", "1")
    assert "has no entry 1" in shop.log("remove", "1", code=1)


def test_an_equal_repair_is_asked_about_before_it_is_added(shop: Shop) -> None:
    shop.log("add", *REPAIR)
    assert "say --again" in shop.log("add", *REPAIR, code=1)
    shop.log("add", *REPAIR, "--again")
    assert len(RepairLog(shop.path).repairs()) == 2


def test_importing_an_export_adds_it_once(shop: Shop, tmp_path: Path) -> None:
    shop.log("add", *REPAIR)
    shop.log("add", *REPAIR, "--again")
    exported = tmp_path / "log.csv"
    assert "2 repairs written" in shop.log("export", str(exported))
    assert "exists already" in shop.log("export", str(exported), code=1)
    again = tmp_path / "again.csv"
    assert json.loads(shop.log("export", str(again), "--json"))["file"] == str(again)
    assert again.read_bytes() == exported.read_bytes()
    assert "no repairs added" in shop.log("import", str(exported))
    other = Shop(tmp_path / "other", shop._capsys)
    assert json.loads(other.log("import", str(exported), "--json"))["added"] == 2
    assert "2 were there already" in other.log("import", str(exported))


def test_one_wrong_row_keeps_the_whole_file_out(shop: Shop, tmp_path: Path) -> None:
    table = tmp_path / "shop.csv"
    table.write_text(
        f"date,machine,symptom,cause\n2026-11-28,brook-d24,{SYMPTOM},{BOLT}\n2026-11-31,Å,b,c\n", "utf-8"
    )
    said = shop.log("import", str(table), code=1)
    assert "row 3, column date (A)" in said
    assert "row 3, column machine (B)" in said
    assert "2 faults; nothing was added." in said
    assert not shop.path.exists()


def test_ids_the_book_does_not_know_are_kept_from_a_file_and_refused_from_a_person(
    shop: Shop, tmp_path: Path
) -> None:
    table = tmp_path / "old.csv"
    table.write_text(f"date,machine,symptom,cause\n2024-01-09,brook-d20,{SYMPTOM},{BOLT}\n")
    assert "This book has no machine `brook-d20` (1 repair); kept, but not counted." in shop.log(
        "import", str(table)
    )
    assert len(RepairLog(shop.path).repairs()) == 1
    assert "did you mean `brook-d24`" in shop.log(
        "add", SYMPTOM, "--machine", "brook-24", "--cause", BOLT, code=2
    )
    wrong = [*REPAIR, "--test", "shear-bolt-inspection=fine"]
    assert "it has: broken" in shop.log("add", *wrong, code=2)


def test_a_day_that_has_not_come_is_refused(shop: Shop) -> None:
    assert "has not come yet" in shop.log("add", *REPAIR[:-1], "2999-01-01", code=2)


def test_nothing_about_customers_goes_in(shop: Shop) -> None:
    assert "nothing about customers" in shop.log("add", *REPAIR, "--note", "Smith, 555-0142-77", code=2)
    assert not shop.path.exists()


def test_the_report_tells_what_surprises(shop: Shop) -> None:
    odd = Repair("2026-11-28", "brook-d24", SYMPTOM, (), "something-else")
    RepairLog(shop.path).add([odd] * 6, again=True)
    said = shop.log("report")
    assert "6 of 6, more often than the book's words allow for" in said
    told = json.loads(shop.log("report", "--json"))
    assert {(item["cause"], item["count"]) for item in told["surprises"]} == {
        ("something-else", 6),
        (BOLT, 0),
    }
    assert SYMPTOM not in told["without_history"]
    assert told["repairs"] == told["proven"] == 6


def test_luck_that_no_number_holds_is_told_as_next_to_none(shop: Shop) -> None:
    odd = Repair("2026-11-28", "brook-d24", SYMPTOM, (), "something-else")
    RepairLog(shop.path).add([odd] * 1200, again=True)
    assert "by luck less than once in 1,000,000,000" in shop.log("report")


def test_one_repair_is_no_repairs(shop: Shop) -> None:
    RepairLog(shop.path).add([Repair("2026-11-28", "brook-d24", SYMPTOM, (), BOLT)])
    assert shop.log("report").startswith("1 repair in the log, 1 with a proven cause.")


def test_a_log_never_lies_with_what_others_get(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    built = tmp_path / "site"
    (built / "look").mkdir(parents=True)
    (built / "index.html").write_text("x")
    records = tmp_path / "kb"
    (records / "symptoms").mkdir(parents=True)
    for place in (str(records / "log.sqlite"), str(built / "log.sqlite"), str(built / "look" / "log.sqlite")):
        assert main(["log", "list", "--log", place]) == 2
        assert "lies inside" in capsys.readouterr().err


def test_a_damaged_log_is_said_so(shop: Shop) -> None:
    shop.path.write_bytes(b"SQLite format 3\0" + bytes(500))
    assert "Nothing was changed" in shop.log("add", *REPAIR, code=1)


def test_actions_are_listed_and_mistyped_ones_understood(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["log"]) == 2
    assert "report  causes that surprise" in capsys.readouterr().out
    assert main(["log", "exprot"]) == 2
    assert "did you mean `export`" in capsys.readouterr().err


def test_diagnose_counts_what_a_named_log_holds(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    odd = Repair("2026-11-28", "brook-d24", SYMPTOM, (), "something-else")
    RepairLog(shop.path).add([odd] * 10, again=True)
    words = ["diagnose", SYMPTOM, "--machine", "brook-d24", "--json", "--model", "--kb", KB]
    chances = []
    for log in ([], ["--log", str(shop.path)]):
        assert main([*words, *log]) == 0
        chances.append(json.loads(capsys.readouterr().out)["model"]["priors"]["something-else"])
    words_alone, with_log = chances
    assert with_log == pytest.approx((10 * words_alone + 10) / 20)


@pytest.mark.parametrize("command", [["build"], ["diagnose", SYMPTOM]])
def test_a_log_that_is_named_must_be_there_and_whole(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "log.sqlite"
    assert main([*command, "--log", str(path), "--kb", KB]) == 1
    assert "there is no repair log" in capsys.readouterr().err
    path.write_bytes(b"")
    assert main([*command, "--log", str(path), "--kb", KB]) == 1
    assert "is damaged" in capsys.readouterr().err


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="there is no endless file here")
def test_an_endless_file_is_refused_before_it_fills_the_memory(shop: Shop) -> None:
    assert "more than 20 MB" in shop.log("import", "/dev/zero", code=1)
