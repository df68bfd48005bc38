"""A record holds where one of its systems is, whether it says so or not."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.book import Book
from shearpin.book.inheritance import joined
from shearpin.book.linked import LinkedBook
from shearpin.model.fields import AppliesTo
from tests.sound_book import read_over, swap

T28 = "machines/brook-t28.yaml"
AUGER = "systems/auger-drive.yaml"
WITHOUT_ENGINE = swap(T28, "engine: ell-e212\nfitted: [recoil-start, tracks]", "fitted: [tracks]")
CARBURETOR = {
    "systems/fuel.yaml": "title: Fuel system\nsummary: Fuel.\napplies_to: {fitted: engine}\nsources: [bench-notes]\n",
    "systems/levers.yaml": "title: Levers\nsummary: Levers.\nsources: [bench-notes]\n",
    "systems/recoil.yaml": "title: Recoil\nsummary: A rope.\napplies_to: {fitted: recoil-start}\nsources: [bench-notes]\n",
}


def cause(systems: str, applies_to: str = "") -> dict[str, str]:
    own = f"applies_to: {applies_to}\n" if applies_to else ""
    text = f"title: Jet blocked\nmechanism: Dirt.\nconfirmed_by: It is seen.\n{own}systems: {systems}\n"
    return {**WITHOUT_ENGINE, **CARBURETOR, "causes/jet-blocked.yaml": text}


def machines_of(linked: LinkedBook, kind: str, record_id: str) -> set[str]:
    record = linked.book.of_kind(kind)[record_id]
    return set(linked.applicability.machines_for(getattr(record, "applies_to")))  # noqa: B009, typed per kind


class TestEngine:
    def test_is_a_feature_of_every_machine_that_names_one(self, tmp_path: Path) -> None:
        linked = read_over(tmp_path, WITHOUT_ENGINE)
        assert linked.applicability.machines_for(AppliesTo(fitted=("engine",))) == {"brook-d24"}
        assert linked.applicability.machines_for(AppliesTo(not_fitted=("engine",))) == {"brook-t28"}
        assert (
            linked.applicability.reason_against(AppliesTo(fitted=("engine",)), "brook-t28")
            == "it needs engine, which this machine does not have"
        )


class TestInheritance:
    @pytest.mark.parametrize(
        ("systems", "machines"),
        [
            ("[fuel]", {"brook-d24"}),
            ("[fuel, recoil]", {"brook-d24"}),
            ("[fuel, levers]", {"brook-d24", "brook-t28"}),
            ("[levers]", {"brook-d24", "brook-t28"}),
        ],
    )
    def test_a_record_holds_where_one_of_its_systems_is(
        self, tmp_path: Path, systems: str, machines: set[str]
    ) -> None:
        linked = read_over(tmp_path, cause(systems))
        assert machines_of(linked, "cause", "jet-blocked") == machines

    def test_its_own_condition_must_hold_too(self, tmp_path: Path) -> None:
        linked = read_over(tmp_path, cause("[fuel]", "{class: two-stage}"))
        condition = linked.book.causes["jet-blocked"].applies_to
        assert condition == AppliesTo.model_validate({"class": "two-stage", "fitted": "engine"})

    def test_a_condition_that_says_as_much_stays_as_it_is(self, tmp_path: Path) -> None:
        linked = read_over(tmp_path, cause("[fuel]", "{machines: brook-d24}"))
        assert linked.book.causes["jet-blocked"].applies_to == AppliesTo(machines=("brook-d24",))

    def test_a_condition_that_no_machine_of_the_system_meets_is_left_to_the_rules(
        self, tmp_path: Path
    ) -> None:
        linked = read_over(tmp_path, cause("[fuel]", "{machines: brook-t28}"))
        assert linked.book.causes["jet-blocked"].applies_to == AppliesTo(machines=("brook-t28",))

    def test_parts_are_fitted_wherever_they_are_needed(self, tmp_path: Path) -> None:
        part = "title: Grease\nsummary: Greases.\nplate: machine\nsystems: [fuel]\n"
        linked = read_over(tmp_path, {**WITHOUT_ENGINE, **CARBURETOR, "parts/grease.yaml": part})
        assert machines_of(linked, "part", "grease") == {"brook-d24", "brook-t28"}

    def test_the_digest_follows_the_condition_of_the_systems(self, tmp_path: Path) -> None:
        def digest(book: Book) -> bytes:
            return book.file_of["cause", "jet-blocked"].digest

        plain = digest(read_over(tmp_path / "a", cause("[levers]")).book)
        fuel = cause("[fuel]")
        here = digest(read_over(tmp_path / "b", fuel).book)
        other = {**fuel, "systems/fuel.yaml": fuel["systems/fuel.yaml"].replace("engine", "recoil-start")}
        assert len({plain, here, digest(read_over(tmp_path / "c", other).book)}) == 3
        assert digest(read_over(tmp_path / "d", fuel).book) == here


class TestJoined:
    @pytest.mark.parametrize(
        ("own", "other", "both"),
        [
            ({"class": ["a", "b"]}, {"class": ["b", "c"]}, {"class": ["b"]}),
            ({"fitted": ["a"]}, {"fitted": ["b", "a"]}, {"fitted": ["a", "b"]}),
            ({"not_fitted": ["a"]}, {"class": ["b"]}, {"class": ["b"], "not_fitted": ["a"]}),
            ({"class": ["a"]}, {"class": ["b"]}, {"class": ["a"]}),
            ({"any_fitted": ["a"]}, {"any_fitted": ["a", "b"]}, {"any_fitted": ["a"]}),
        ],
    )
    def test_holds_where_both_do_or_is_the_records_own(
        self, own: dict[str, list[str]], other: dict[str, list[str]], both: dict[str, list[str]]
    ) -> None:
        read = AppliesTo.model_validate
        assert joined(read(own), read(other)) == read(both)
        assert joined(None, read(other)) == read(other)
