"""Drafts for files with more in them than curves: limits are never taken for measurements."""

from pathlib import Path

from .drafting import curves, draft_of, edited, read, written
from .links import WORDS, link
from .odd_files import (
    all_numbers,
    ends_by_elements,
    in_attributes,
    limit_first,
    one_table,
    with_a_closing_line,
    with_items,
    with_limits,
    with_marks,
)

FIRST = ('first = "TO-BE-SETTLED"', 'first = "disturbing"')


def test_limit_lines_and_a_row_of_units_are_no_curves(tmp_path: Path) -> None:
    one = link("07", 52.4)
    draft = edited(draft_of(tmp_path, with_limits(one)), FIRST)
    assert '\nother_rows = ["MHz"]\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.label == "07"
    assert curves(record.document) == written(one, *WORDS)
    assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_marks_around_tests_hold_the_label(tmp_path: Path) -> None:
    links = [link("A-07", 52.4), link("A-08", 20.0)]
    draft = draft_of(tmp_path, with_marks(links))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-07", "A-08"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, "insertion_loss", "return_loss", "next")
        scalars = record.document["results"]["scalars"]
        assert [e["length_m"] for e in scalars if "length_m" in e] == [one.metres] * 4


def test_keys_in_attributes_and_names_in_elements(tmp_path: Path) -> None:
    links = [link("A-07", 52.4), link("A-08", 20.0)]
    draft = edited(draft_of(tmp_path, with_items(links), "export.xml"), FIRST)
    records, _ = read(tmp_path / "export.xml", draft)
    assert [record.label for record in records] == ["A-07", "A-08"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *WORDS)
        assert record.document["test"]["operator"] == "op-9"
        assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_of_several_numbers_a_point_the_one_that_varies_is_measured(tmp_path: Path) -> None:
    one = link("07", 52.4)
    draft = draft_of(tmp_path, limit_first(one), "export.xml")
    above = draft[: draft.index("\npoint = ")]
    assert "ASSUMED: of several numbers a point" in above.rpartition("[[xml.curves]]")[2]
    (record,), _ = read(tmp_path / "export.xml", draft)
    assert curves(record.document) == written(one, "insertion_loss", "return_loss")


def test_lists_in_attributes(tmp_path: Path) -> None:
    one = link("07", 52.4)
    draft = draft_of(tmp_path, in_attributes(one), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert record.label == "07"
    assert curves(record.document) == written(one, "insertion_loss", "return_loss", "next")


def test_tests_told_apart_by_columns_beside_the_axis(tmp_path: Path) -> None:
    links = [link("A-07", 52.4), link("A-08", 20.0)]
    draft = draft_of(tmp_path, one_table(links))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-07", "A-08"]
    for one, record in zip(links, records, strict=True):
        document = record.document
        assert curves(document) == written(one, "insertion_loss", "return_loss")
        assert document["stated"]["overall"]["verdict"] == "pass"
        assert document["resolved"]["limit"]["path"] == "tia-568.2-d/cat6a/permanent-link"


def test_numbers_of_ends_are_told_from_numbers_of_pairs(tmp_path: Path) -> None:
    links = [link("A-07", 52.4), link("A-08", 20.0)]
    draft = edited(draft_of(tmp_path, all_numbers(links), "export.xml"), FIRST)
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(links, records, strict=True):
        wanted = written(one, "insertion_loss", "return_loss", "next", "acr_f")
        assert curves(record.document) == wanted
        assert record.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:09-00:00"


def test_elements_that_name_the_end(tmp_path: Path) -> None:
    one = link("07", 52.4)
    draft = draft_of(tmp_path, ends_by_elements(one), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    wanted = written(one, "return_loss", "next")
    wanted |= {
        (name, "near", pairs): values
        for (name, _, pairs), values in written(one, "insertion_loss").items()
    }
    assert curves(record.document) == wanted


def test_words_that_no_trade_has_and_a_closing_line(tmp_path: Path) -> None:
    one = link("07", 52.4)
    draft = draft_of(tmp_path, with_a_closing_line(one))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.label == "07"
    assert curves(record.document) == written(one, "insertion_loss", "return_loss")
    assert record.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00-00:00"
    assert draft.count("ASSUMED: by the course of its curves alone") == 2
