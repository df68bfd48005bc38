from __future__ import annotations

from shearpin.search.held import FIGURE_CHARACTERS, MAX_ANSWERS, Held, shown_of, told_of


def held(*holders: str) -> Held:
    return Held(holders=dict.fromkeys(holders), basis={"invented figure": None})


def test_a_figure_is_shown_whole_or_not_at_all() -> None:
    figures = {f"{size} ± 1 N·m (98–115 lbf·in)": held(f"Osmere D{size}") for size in range(10, 16)}
    shown = shown_of(figures, of_some=True)
    *whole, more = shown.split("; ")
    assert (whole, more) == (told_of(figures)[: len(whole)], "…")
    assert len(shown) <= FIGURE_CHARACTERS


def test_of_more_figures_than_have_answers_none_is_shown() -> None:
    figures = {f"{size} mm": held(f"Osmere D{size}") for size in range(10, 11 + MAX_ANSWERS)}
    assert " mm" not in shown_of(figures, of_some=False)
    assert shown_of(figures, of_some=False).startswith(f"{MAX_ANSWERS + 1} figures, ")


def test_a_long_note_is_cut_and_not_where_the_figure_comes_from() -> None:
    shown = shown_of({"3–6 mm, " + "on asphalt and " * 20: held("Osmere D24")}, of_some=True)
    assert shown.startswith("3–6 mm, on asphalt")
    assert shown.endswith(" …; invented figure; Osmere D24")


def test_who_has_the_only_figure_is_named_where_others_do_not_have_it() -> None:
    figures = {"3–6 mm": held("Osmere D24", "Osmere D28")}
    assert shown_of(figures, of_some=True) == "3–6 mm; invented figure; Osmere D24, Osmere D28"
    assert shown_of(figures, of_some=False) == "3–6 mm; invented figure"
