"""Drafts of exports with units in each cell, words of their own, and older code pages."""

from pathlib import Path

from tests.program import run

from .drafting import curves, draft_of, edited, read, written
from .links import link
from .tellers import (
    ends_in_ids,
    named_outside,
    over_two_lines,
    own_words,
    polish,
    titles_above,
    with_units,
)

ONE = link("L-1", 35.5)


def test_numbers_with_their_units_need_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, with_units(ONE))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(ONE, "insertion_loss", "return_loss", "next", "fext")
    assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_words_of_headings_are_told_by_their_places_and_curves(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, own_words(ONE))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(ONE, "insertion_loss", "return_loss", "next")
    assert '\nnear = "hither"\nfar = "yonder"\n' in draft
    assert draft.count("ASSUMED: by the course of its curves alone") == 3


def test_the_code_page_is_that_in_which_words_of_the_trade_appear(tmp_path: Path) -> None:
    path = tmp_path / "export.csv"
    path.write_bytes(polish(ONE))
    draft = run("dialect", "draft", path).stdout
    assert "\n# ASSUMED: by the letters that it makes of the bytes" in draft
    assert '\nencoding = "cp1250"\n' in draft
    (record,), problems = read(path, draft)
    assert problems == []
    assert record.label == "L-1"
    assert curves(record.document) == written(ONE, "insertion_loss", "return_loss")


def test_titles_with_their_values_on_the_next_line(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, titles_above(ONE))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.label == "L-1"
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    assert record.document["resolved"]["limit"]["path"] == "tia-568.2-d/cat6a/permanent-link"
    assert curves(record.document) == written(ONE, "insertion_loss")


def test_titles_over_two_lines(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, over_two_lines(ONE))
    assert '\nupper_titles = ["Sweep"]\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(ONE, "insertion_loss", "return_loss", "next")


def test_a_curve_names_its_axis_in_an_element_around_it(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, named_outside(ONE), "export.xml")
    assert '\naxis = "../@freq"\n' in draft
    (record,), _ = read(tmp_path / "export.xml", draft)
    assert curves(record.document) == written(ONE, "insertion_loss", "return_loss")


def test_labels_with_the_letter_of_an_end_name_no_curves(tmp_path: Path) -> None:
    links = [link("1A-P1-01", 35.5), link("1A-P1-03", 80.0)]
    draft = draft_of(tmp_path, ends_in_ids(links), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["1A-P1-01", "1A-P1-03"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, "insertion_loss", "return_loss")


def test_another_scheme_of_colours_takes_one_change(tmp_path: Path) -> None:
    """T568A has the colours of two pairs the other way round (ANSI/TIA-568, recalled)."""
    draft = draft_of(tmp_path, named_outside(ONE), "export.xml")
    changed = edited(draft, ('scheme = "T568B"', 'scheme = "T568A"'))
    (record,), _ = read(tmp_path / "export.xml", changed)
    turned = {"1-2": "3-6", "3-6": "1-2"}
    assert curves(record.document) == {
        (parameter, end, tuple(turned.get(pair, pair) for pair in pairs)): values
        for (parameter, end, pairs), values in written(ONE, "insertion_loss", "return_loss").items()
    }


def test_a_table_of_one_row_keeps_it(tmp_path: Path) -> None:
    text = "1;NEXT;2-3;a;1;x;Link;EA\n1;info;Time;;;;;y\n"
    assert "TO-BE-SETTLED" in draft_of(tmp_path, text)
