"""Every damage to a copy is named: to files and to the lists of digests, in folders and in archives."""

from __future__ import annotations

import hashlib
import random
import shutil
import stat
import zipfile
from collections.abc import Iterator
from pathlib import Path

import bagit
import pytest

from shearpin.cli.main import main
from shearpin.publish.archive import write_archive
from shearpin.publish.faults import PublishError
from shearpin.publish.holding import MAX_TOTAL, Problem
from shearpin.publish.verification import Report, verify
from tests.publish.small_bag import MOMENT, copy_of, make_bag, make_zip


@pytest.fixture(scope="module")
def bag(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_bag(tmp_path_factory.mktemp("bag"))


def problems(path: Path) -> tuple[Problem, ...]:
    reports = verify(path)
    assert len(reports) == 1
    return reports[0].problems


def test_a_whole_copy_has_no_problem_and_another_program_finds_it_valid(bag: Path, tmp_path: Path) -> None:
    assert problems(bag) == ()
    assert problems(make_zip(bag, tmp_path / "winter-1.zip")) == ()
    assert bagit.Bag(str(copy_of(bag, tmp_path / "copy"))).is_valid()  # the Library of Congress's own library


def test_schemas_for_editors_beside_an_edition_are_none(bag: Path, tmp_path: Path) -> None:
    copy_of(bag, tmp_path / "winter-1")
    (tmp_path / ".shearpin" / "schema").mkdir(parents=True)
    (tmp_path / ".shearpin" / "schema" / "edition.json").write_text("{}")
    assert problems(tmp_path) == ()


def _flip(path: Path, chance: random.Random) -> str:
    data = bytearray(path.read_bytes())
    place = chance.randrange(len(data))
    data[place] ^= 1 << chance.randrange(8)
    path.write_bytes(bytes(data))
    return "changed"


def _drop_byte(path: Path, chance: random.Random) -> str:
    data = bytearray(path.read_bytes())
    del data[chance.randrange(len(data))]
    path.write_bytes(bytes(data))
    return "truncated" if path.parts[-2] in ("data", "procedures", "look") else "changed"


def _cut(path: Path, chance: random.Random) -> str:
    data = path.read_bytes()
    path.write_bytes(data[: chance.randrange(len(data))])
    return "truncated" if path.parts[-2] in ("data", "procedures", "look") else "changed"


def _insert(path: Path, chance: random.Random) -> str:
    data = bytearray(path.read_bytes())
    data.insert(chance.randrange(len(data) + 1), chance.randrange(256))
    path.write_bytes(bytes(data))
    return "changed"


def _delete(path: Path, chance: random.Random) -> str:
    path.unlink()
    return "missing"


def _change_case(path: Path, chance: random.Random) -> str:
    letters = [i for i, letter in enumerate(path.name) if letter.isalpha()]
    place = chance.choice(letters)
    path.rename(path.with_name(path.name[:place] + path.name[place].swapcase() + path.name[place + 1 :]))
    return "missing" if "manifest" in path.name and "tag" in path.name else "renamed"


DAMAGES = (_flip, _flip, _drop_byte, _cut, _insert, _delete, _change_case)


def test_each_of_a_thousand_random_damages_is_named(bag: Path, tmp_path: Path) -> None:
    chance = random.Random(7)
    copy = copy_of(bag, tmp_path / "copy")
    names = sorted(p.relative_to(bag).as_posix() for p in bag.rglob("*") if p.is_file())
    for number in range(1000):
        name = chance.choice(names)
        damage = chance.choice(DAMAGES)
        if not (bag / name).stat().st_size and damage in (_flip, _drop_byte, _cut):
            damage = _insert
        kind = damage(copy / name, chance)
        found = problems(copy)
        told = {(problem.kind, problem.path) for problem in found}
        assert (kind, name) in told, (number, damage.__name__, name, found)
        for path in (copy / name).parent.iterdir():  # put it back
            if path.is_file() and path.name.casefold() == Path(name).name.casefold():
                path.unlink()
        shutil.copyfile(bag / name, copy / name)
    assert problems(copy) == ()


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("data/new.html", "extra"),
        ("note.txt", "extra"),
        ("data/.DS_Store", "extra"),
        ("data/look/Thumbs.db", "extra"),
    ],
)
def test_a_file_that_was_not_published_is_named(bag: Path, tmp_path: Path, name: str, kind: str) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (copy / name).write_bytes(b"x")
    assert [(p.kind, p.path) for p in problems(copy)] == [(kind, name)]


def test_a_name_commands_no_terminal(bag: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (copy / "data/\x1b[31m\n.html").write_bytes(b"x")
    assert main(["verify", str(copy)]) == 1
    assert "extra: data/U+001B[31mU+000A.html: was not published" in capsys.readouterr().out


def test_an_empty_folder_that_was_not_published_is_named(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (copy / "data" / "new").mkdir()
    assert [(p.kind, p.path) for p in problems(copy)] == [("extra", "data/new/")]


def test_a_moved_file_is_named_with_its_new_place(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (copy / "data/index.html").rename(copy / "data/front.html")
    (found,) = problems(copy)
    assert (found.kind, found.path) == ("renamed", "data/index.html")
    assert "data/front.html" in found.message


def test_files_that_have_changed_places_are_told_from_cut_ones(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    front, other = copy / "data/index.html", copy / "data/procedures/change-oil.html"
    front.rename(copy / "x")
    other.rename(front)
    (copy / "x").rename(other)
    found = problems(copy)
    assert [(p.kind, p.path) for p in found] == [
        ("changed", "data/index.html"),
        ("changed", "data/procedures/change-oil.html"),
    ]
    assert "that of `data/procedures/change-oil.html`" in found[0].message


def test_a_folder_in_the_place_of_a_file_is_named(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (copy / "data/index.html").unlink()
    (copy / "data/index.html").mkdir()
    assert [(p.kind, p.path) for p in problems(copy)] == [
        ("missing", "data/index.html"),
        ("extra", "data/index.html/"),
    ]


def _without_line(copy: Path, name: str) -> None:
    for manifest in (copy / "manifest-sha256.txt", copy / "manifest-sha512.txt"):
        lines = manifest.read_bytes().splitlines(keepends=True)
        manifest.write_bytes(b"".join(line for line in lines if name.encode() not in line))


def test_a_page_that_both_lists_have_lost_is_no_stranger(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    _without_line(copy, "data/index.html")
    lists = [("changed", "manifest-sha256.txt"), ("changed", "manifest-sha512.txt")]
    assert [(p.kind, p.path) for p in problems(copy)] == lists
    (copy / "data/index.html").write_bytes(b"cut")
    assert [(p.kind, p.path) for p in problems(copy)] == [("truncated", "data/index.html"), *lists]
    (copy / "data/index.html").unlink()
    assert [(p.kind, p.path) for p in problems(copy)] == [("missing", "data/index.html"), *lists]


def test_without_lists_nothing_is_told_to_be_deleted(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    lists = sorted(copy.glob("*manifest-*.txt"))
    for path in lists:
        path.unlink()
    assert [(p.kind, p.path) for p in problems(copy)] == [("missing", path.name) for path in lists]
    (copy / "edition.json").unlink()
    assert {p.kind for p in problems(copy)} == {"missing"}


def test_a_link_is_not_followed(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (copy / "data/index.html").unlink()
    (copy / "data/index.html").symlink_to(bag / "data/index.html")
    assert [(p.kind, p.path) for p in problems(copy)] == [("unsafe", "data/index.html")]


def test_a_list_of_digests_cannot_lead_out_of_the_folder(bag: Path, tmp_path: Path) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (tmp_path / "secret").write_bytes(b"secret")
    with open(copy / "manifest-sha256.txt", "a", encoding="utf-8") as stream:
        stream.write(f"{'0' * 64}  ../../secret\n")
    assert {p.path for p in problems(copy)} == {"manifest-sha256.txt"}


def test_each_flipped_byte_of_an_archive_is_noticed(bag: Path, tmp_path: Path) -> None:
    whole = make_zip(bag, tmp_path / "winter-1.zip").read_bytes()
    target = tmp_path / "damaged" / "winter-1.zip"
    target.parent.mkdir()
    with zipfile.ZipFile(tmp_path / "winter-1.zip") as archive:
        spans = [
            (e.header_offset + 30 + len(e.filename), e.file_size, e.filename.removeprefix("winter-1/"))
            for e in archive.infolist()
        ]
    chance = random.Random(11)
    for place in chance.sample(range(len(whole)), 400):
        data = bytearray(whole)
        data[place] ^= 1 << chance.randrange(8)
        target.write_bytes(bytes(data))
        found = problems(target)
        assert found, place
        for start, size, name in spans:
            if start <= place < start + size:
                assert name in {problem.path for problem in found}, place


def test_a_cut_archive_is_called_truncated(bag: Path, tmp_path: Path) -> None:
    target = make_zip(bag, tmp_path / "winter-1.zip")
    target.write_bytes(target.read_bytes()[:1500])
    assert [(p.kind, p.path) for p in problems(target)] == [("truncated", "winter-1.zip")]


def test_what_follows_an_archive_is_told_from_a_cut(bag: Path, tmp_path: Path) -> None:
    target = make_zip(bag, tmp_path / "winter-1.zip")
    whole = target.read_bytes()
    for data, kind in (
        (whole + b"\0" * 70_000, "changed"),
        (whole + b"x", "changed"),
        (whole[:-1], "truncated"),
        (whole[:-22], "truncated"),
    ):
        target.write_bytes(data)
        assert [(p.kind, p.path) for p in problems(target)] == [(kind, "winter-1.zip")]


def test_a_zip_in_a_zip_is_to_be_unpacked_first(bag: Path, tmp_path: Path) -> None:
    inner = make_zip(bag, tmp_path / "winter-1.zip")
    with zipfile.ZipFile(tmp_path / "outer.zip", "w") as archive:
        archive.write(inner, inner.name)
    with pytest.raises(PublishError, match="holds another zip: unpack it"):
        verify(tmp_path / "outer.zip")


def test_an_archive_packed_again_by_another_program_is_whole(bag: Path, tmp_path: Path) -> None:
    target = Path(shutil.make_archive(str(tmp_path / "again"), "zip", bag.parent, bag.name))
    (report,) = verify(target)
    assert [p for p in report.problems if p.kind != "extra"] == []
    assert "packed again" in report.note or report.problems


HOSTILE = {
    "../escape.txt": "leads out of the folder",
    "/etc/escape.txt": "leads out of the folder",
    "C:\\escape.txt": "leads out of the folder",
    "winter-1/data/..\\..\\escape.txt": "leads out of the folder",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_path_that_leads_out_is_named_and_not_read(bag: Path, tmp_path: Path, name: str) -> None:
    target = make_zip(bag, tmp_path / "winter-1.zip")
    with zipfile.ZipFile(target, "a") as archive:
        archive.writestr(zipfile.ZipInfo(name), "x")
    found = problems(target)
    assert any(p.kind == "unsafe" and HOSTILE[name] in p.message for p in found)


def test_a_link_in_an_archive_is_named(bag: Path, tmp_path: Path) -> None:
    target = make_zip(bag, tmp_path / "winter-1.zip")
    with zipfile.ZipFile(target, "a") as archive:
        entry = zipfile.ZipInfo("winter-1/data/link")
        entry.external_attr = (stat.S_IFLNK | 0o777) << 16
        archive.writestr(entry, "/etc/passwd")
    assert ("unsafe", "data/link") in {(p.kind, p.path) for p in problems(target)}


def test_a_file_twice_in_an_archive_is_named(bag: Path, tmp_path: Path) -> None:
    target = make_zip(bag, tmp_path / "winter-1.zip")
    with zipfile.ZipFile(target, "a") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr("winter-1/data/index.html", "<h1>Other</h1>")
    assert ("unsafe", "data/index.html") in {(p.kind, p.path) for p in problems(target)}


def test_a_bomb_is_not_unpacked(tmp_path: Path) -> None:
    target = tmp_path / "bomb.zip"
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("winter-1/bagit.txt", b"0" * (64 << 20))
    (found,) = problems(target)
    assert found.kind == "unsafe"
    assert "was not read" in found.message


def test_an_archive_that_claims_to_be_huge_is_not_unpacked(bag: Path, tmp_path: Path) -> None:
    target = make_zip(bag, tmp_path / "winter-1.zip")
    data = target.read_bytes()
    central = data.index(b"PK\x01\x02")
    huge = (0xFFFFFFF0).to_bytes(4, "little")
    lied = bytearray(data)
    place = central
    while lied[place : place + 4] == b"PK\x01\x02":
        lied[place + 24 : place + 28] = huge
        lengths = [int.from_bytes(lied[place + at : place + at + 2], "little") for at in (28, 30, 32)]
        place += 46 + sum(lengths)
    target.write_bytes(bytes(lied))
    assert MAX_TOTAL < 0xFFFFFFF0 * 8
    assert {p.kind for p in problems(target)} == {"unsafe"}


def test_a_stick_with_several_copies_is_verified_whole(bag: Path, tmp_path: Path) -> None:
    copy_of(bag, tmp_path / "stick")
    make_zip(bag, tmp_path / "stick" / "winter-1.zip")
    (tmp_path / "stick" / "holiday.txt").write_bytes(b"x")
    assert [report.problems for report in verify(tmp_path / "stick")] == [(), ()]


@pytest.mark.parametrize(
    "name", [".DS_Store", "data/._index.html", "desktop.ini", "System Volume Information/x", "$RECYCLE.BIN/"]
)
def test_what_a_computer_puts_into_every_folder_is_named_and_does_no_harm(
    bag: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    (copy / name).parent.mkdir(exist_ok=True)
    (copy / name).mkdir() if name.endswith("/") else (copy / name).write_bytes(b"x")
    assert main(["verify", str(copy)]) == 0
    told = capsys.readouterr().out
    assert f"extra: {name}: was not published; the computer's own system put it there" in told
    assert f"whole: {verify(bag)[0].files} files" in told
    (copy / "data/index.html").write_bytes(b"y")
    assert main(["verify", str(copy)]) == 1


def test_editions_are_found_deep_on_a_stick(bag: Path, tmp_path: Path) -> None:
    copy_of(bag, tmp_path / "stick" / "Kurs 1" / "Woche 2")
    make_zip(bag, tmp_path / "stick" / "Kurs 1" / "pack.dat")
    (tmp_path / "stick" / "System Volume Information").mkdir()
    with zipfile.ZipFile(tmp_path / "stick" / "holidays.zip", "w") as archive:
        archive.writestr("beach.txt", "x")
    found = verify(tmp_path / "stick")
    assert [(r.path.name, r.problems) for r in found] == [("pack.dat", ()), (bag.name, ())]
    with pytest.raises(PublishError, match=r"is a zip, but no published edition"):
        verify(tmp_path / "stick" / "holidays.zip")


def test_a_folder_that_may_not_be_read_hides_no_edition_beside_it(
    bag: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy_of(bag, tmp_path / "stick" / "course")
    (tmp_path / "stick" / "locked").mkdir()
    listed = Path.iterdir

    def iterdir(folder: Path) -> Iterator[Path]:
        if folder.name == "locked":
            raise PermissionError(folder)
        return listed(folder)

    monkeypatch.setattr(Path, "iterdir", iterdir)
    assert [(r.path.name, r.problems) for r in verify(tmp_path / "stick")] == [(bag.name, ())]


def test_an_archive_is_known_by_its_content_not_by_its_name(bag: Path, tmp_path: Path) -> None:
    made = make_zip(bag, tmp_path / "winter-1.zip")
    (tmp_path / "winter-1.sha256").write_text(
        f"{hashlib.sha256(made.read_bytes()).hexdigest()}  winter-1.zip\n", encoding="utf-8"
    )
    assert problems(tmp_path / "winter-1.sha256") == ()
    made.rename(tmp_path / "winter-1.zip.txt")
    assert problems(tmp_path / "winter-1.zip.txt") == ()
    assert [(p.kind, p.path) for p in problems(tmp_path)] == [("renamed", "winter-1.zip")]


@pytest.mark.parametrize("prefix", ["", "outer/winter-1/"])
def test_an_archive_packed_again_with_another_folder_or_none_is_whole(
    bag: Path, tmp_path: Path, prefix: str
) -> None:
    with zipfile.ZipFile(tmp_path / "again.zip", "w") as archive:
        for path in sorted(p for p in bag.rglob("*") if p.is_file()):
            archive.write(path, prefix + path.relative_to(bag).as_posix())
    (report,) = verify(tmp_path / "again.zip")
    assert report.problems == ()
    assert "packed again" in report.note


def test_a_locked_archive_is_said_to_be_one(bag: Path, tmp_path: Path) -> None:
    data = bytearray(make_zip(bag, tmp_path / "winter-1.zip").read_bytes())
    place = data.find(b"PK\x01\x02")
    while place != -1:
        data[place + 8] |= 1
        place = data.find(b"PK\x01\x02", place + 4)
    (tmp_path / "winter-1.zip").write_bytes(data)
    (problem,) = problems(tmp_path / "winter-1.zip")
    assert (problem.kind, "locked with a password" in problem.message) == ("unsafe", True)


def test_a_damaged_list_of_digests_beside_an_archive_is_named(bag: Path, tmp_path: Path) -> None:
    made = make_zip(bag, tmp_path / "winter-1.zip")
    digest = hashlib.sha256(made.read_bytes()).hexdigest()
    sums = tmp_path / "winter-1.sha256"
    for text in (f"{digest[:-1]}  winter-1.zip\n", f"{digest} winter-1.zip\n", "\0\0\n"):
        sums.write_text(text, encoding="utf-8")
        told = [(r.path.name, p.kind) for r in verify(tmp_path) for p in r.problems]
        assert told == [("winter-1.sha256", "changed")]
    sums.write_text(f"{'0' * 64}  winter-1.zip\n", encoding="utf-8")
    assert [p.kind for r in verify(tmp_path) for p in r.problems] == ["changed"]
    made.write_bytes(b"")
    assert ("truncated", "winter-1.zip") in [(p.kind, p.path) for r in verify(tmp_path) for p in r.problems]


@pytest.mark.parametrize("given", ["abc", "8f727dc0", "x" * 64])
def test_what_is_no_fingerprint_is_refused(bag: Path, capsys: pytest.CaptureFixture[str], given: str) -> None:
    assert main(["verify", str(bag), "--fingerprint", given]) == 2
    assert "is no fingerprint" in capsys.readouterr().err
    fingerprint = verify(bag)[0].fingerprint
    spaced = f" {fingerprint[:32].upper()} {fingerprint[32:]} "
    assert main(["verify", str(bag), "--fingerprint", spaced]) == 0


def test_a_folder_without_an_edition_is_said_to_be_one(tmp_path: Path) -> None:
    with pytest.raises(PublishError, match="no published edition"):
        verify(tmp_path)
    with pytest.raises(PublishError, match="neither a file nor a folder"):
        verify(Path("/dev/null"))


def test_the_folder_of_pages_leads_to_the_edition_it_is_of(bag: Path) -> None:
    with pytest.raises(PublishError, match=f"{bag.name} is one"):
        verify(bag / "data")


def test_a_single_file_is_verified_by_the_digests_beside_it(tmp_path: Path) -> None:
    (tmp_path / "winter-1.pdf").write_bytes(b"%PDF")
    (tmp_path / "winter-1.sha256").write_bytes(
        b"3df79d34abbca99308e79cb94461c1893582604d68329a41fd4bec1885e6adb4  winter-1.pdf\n"
        b"0000000000000000000000000000000000000000000000000000000000000000  winter-1.epub\n"
    )
    reports = {report.path.name: report for report in verify(tmp_path)}
    assert [p.kind for p in reports["winter-1.epub"].problems] == ["missing"]
    digest = hashlib.sha256(b"%PDF").hexdigest()
    (tmp_path / "winter-1.sha256").write_text(f"{digest}  winter-1.pdf\n", encoding="utf-8")
    assert verify(tmp_path / "winter-1.pdf")[0].problems == ()
    (tmp_path / "winter-1.pdf").write_bytes(b"%PDF.")
    assert [p.kind for p in verify(tmp_path / "winter-1.pdf")[0].problems] == ["changed"]


def test_the_command_says_what_is_wrong(
    bag: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = copy_of(bag, tmp_path / "copy")
    assert main(["verify", str(copy)]) == 0
    told = capsys.readouterr().out
    report: Report = verify(copy)[0]
    assert f"fingerprint {report.fingerprint}" in told
    (copy / "data/index.html").unlink()
    assert main(["verify", str(copy)]) == 1
    assert "missing: data/index.html: this file is missing" in capsys.readouterr().out
    assert main(["verify", str(tmp_path / "nowhere")]) == 2


def test_another_whole_edition_does_not_have_the_fingerprint_that_was_told(
    bag: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    fingerprint = verify(bag)[0].fingerprint
    assert main(["verify", str(bag), "--fingerprint", fingerprint]) == 0
    assert main(["verify", str(bag), "--fingerprint", "0" * 64]) == 1
    assert "not the edition that its issuer published" in capsys.readouterr().out


def test_an_archive_depends_on_content_and_moment_alone(bag: Path, tmp_path: Path) -> None:
    one = make_zip(bag, tmp_path / "one.zip").read_bytes()
    (bag / "data" / "index.html").touch()
    assert make_zip(bag, tmp_path / "two.zip").read_bytes() == one
    with open(tmp_path / "three.zip", "wb") as stream:
        write_archive(stream, (("a", b"x"),), MOMENT.replace(year=1970))
    with zipfile.ZipFile(tmp_path / "three.zip") as archive:
        assert archive.infolist()[0].date_time == (1980, 1, 1, 0, 0, 0)
