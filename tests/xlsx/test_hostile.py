"""Text from outside stays text: no formula, no link, no markup, whatever a label looks like."""

from pathlib import Path
from zipfile import ZipFile

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree
from openpyxl import load_workbook
from openpyxl.utils.escape import unescape

from sweepbook.errors import ReadProblem
from sweepbook.judging.assessment import Assessment
from sweepbook.record.model import Record
from sweepbook.text import printable
from sweepbook_plugins.xlsx import workbook as xlsx

from .making import about_rows, assessment, delivery, document, record, rows, written

PLAIN = (
    "=1+1",
    '=HYPERLINK("http://a.example","x")',
    "{=1+1}",
    "+41 44 000 00 00",
    "-5",
    "@x",
    "007",
    "1E5",
    "NA",
    "#N/A",
    "TRUE",
    "2026-03-04",
    "http://a.example/x",
    "mailto:a@a.example",
    "internal:Links!A1",
    "external:c:\\a.xlsx",
    " in front",
    "behind ",
    "<r>",
    "</r>",
    "<b>&amp;</b>",
    "_x0041_",
    "'quoted",
    "Büro 3 / Süd",
    "部屋三",
    "🏢",
    "%s {0} $1",
)
MARKUP = (
    "<r></r>",
    "<r><t>x</t></r>",
    '<r><t>x</t></r></is></c><c r="Z2"><f>1+1</f><v>2</v></c><c r="Z3"><is><r></r>',
    "<r>&</r>",
    "<r>_x0041_</r>",
)
SHEET = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"


def labelled(label: str) -> Assessment:
    return assessment(record(document(label)))


def labels(path: Path) -> list[object]:
    """With the escapes of ECMA-376 part 1, 22.9.2.19 undone: openpyxl leaves them in."""
    return [unescape(row["Link"]) for row in rows(load_workbook(path), "Links")]


def no_formula_no_link(path: Path) -> None:
    """Of the file as it is, without a library that knows spreadsheets."""
    with ZipFile(path) as archive:
        names = archive.namelist()
        sheets = [name for name in names if name.startswith("xl/worksheets/")]
        assert len(sheets) >= 5
        assert not [name for name in names if "rels" in name and "sheet" in name]
        for name in sheets:
            tree = etree.fromstring(archive.read(name))
            for forbidden in ("f", "hyperlink", "hyperlinks"):
                assert tree.find(f".//{SHEET}{forbidden}") is None
            places = [cell.get("r") for cell in tree.iter(f"{SHEET}c")]
            assert len(set(places)) == len(places)


def test_labels_come_back_letter_by_letter(tmp_path: Path) -> None:
    target, texts = tmp_path / "labels.xlsx", (*PLAIN, *MARKUP)
    xlsx.write(delivery(map(labelled, texts)), target)
    no_formula_no_link(target)
    assert labels(target) == list(texts)


def test_every_text_of_a_record_is_text(tmp_path: Path) -> None:
    parts = document("=1+1", cable={"maker": "=2+2", "part": "+5", "reel": MARKUP[2]})
    parts["test"]["operator"] = "@x"
    target = tmp_path / "cells.xlsx"
    xlsx.write(delivery([assessment(record(parts), reason="=3+3")]), target)
    no_formula_no_link(target)
    (row,) = rows(load_workbook(target), "Links")
    shown = [row[name] for name in ("Why", "Cable maker", "Cable part", "Reel or batch")]
    assert shown == ["=3+3", "=2+2", "+5", MARKUP[2]]
    for sheet in load_workbook(target):
        assert {cell.data_type for line in sheet.iter_rows() for cell in line} <= {"s", "n"}


def test_the_title_and_problems_are_text(tmp_path: Path) -> None:
    target = tmp_path / "about.xlsx"
    problems = [ReadProblem("=a.csv", "line 1", MARKUP[2])]
    xlsx.write(delivery([assessment()], title="=1+1\x01\ud800", problems=problems), target)
    no_formula_no_link(target)
    book = load_workbook(target)
    assert book["About"]["A1"].value == "=1+1\\x01\\ud800"
    assert about_rows(book)["=a.csv line 1"] == MARKUP[2]


@pytest.mark.parametrize(
    ("label", "shown"),
    [
        ("a\x00b", "a\\x00b"),
        ("a\x1b[31mb", "a\\x1b[31mb"),
        ("a\r\nb", "a\\r\\nb"),
        ("a\tb", "a\\tb"),
        ("a\x7fb", "a\\x7fb"),
        ("a\ufffeb", "a\\ufffeb"),
        ("a\u202eb", "a\\u202eb"),
        ("", "(no label)"),
    ],
)
def test_what_cannot_be_shown_is_made_visible(tmp_path: Path, label: str, shown: str) -> None:
    target = tmp_path / "control.xlsx"
    xlsx.write(delivery([labelled(label)]), target)
    assert labels(target) == [shown]


def test_a_lone_surrogate_is_made_visible(tmp_path: Path) -> None:
    target = tmp_path / "surrogate.xlsx"
    entry = assessment(Record.of({"link": {"label": "a\udc80"}, "record_id": "sb0-0"}))
    xlsx.write(delivery([entry]), target)
    assert labels(target) == ["a\\udc80"]


@pytest.mark.parametrize("letter", ["x", "ü", "🏢"])
def test_a_text_that_just_fits_a_cell_is_whole(tmp_path: Path, letter: str) -> None:
    units = len(letter.encode("utf-16-le")) // 2
    label = letter * (32_767 // units)
    target = tmp_path / "fits.xlsx"
    xlsx.write(delivery([labelled(label)]), target)
    assert labels(target) == [label]


@pytest.mark.parametrize("letter", ["x", "🏢", "<", "\x00"])
def test_a_text_too_long_for_a_cell_is_cut_and_says_so(tmp_path: Path, letter: str) -> None:
    (row,) = rows(written(tmp_path / "long.xlsx", [labelled(letter * 32_768)]), "Links")
    shown = row["Link"]
    assert len(shown.encode("utf-16-le")) // 2 <= 32_767
    assert shown.startswith(printable(letter) * 5_000)
    assert shown.endswith(" characters, whole in the record)")


@pytest.mark.parametrize("inner", ["x" * 32_760, "&" * 32_760, "🏢" * 16_380])
def test_long_markup_is_whole_and_stays_text(tmp_path: Path, inner: str) -> None:
    """Of 32,767 units with its marks; as XML it is up to five times as long, which counts not."""
    target = tmp_path / "markup.xlsx"
    xlsx.write(delivery([labelled(f"<r>{inner}</r>")]), target)
    no_formula_no_link(target)
    assert labels(target) == [f"<r>{inner}</r>"]


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.lists(
        st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=20)
        | st.sampled_from(["=", "<r>", "</r>", "_x0041_", "]]>", "&#0;"]).flatmap(
            lambda mark: st.text(max_size=5, alphabet="=<r>/&;_x0+-@").map(lambda text: mark + text)
        ),
        min_size=1,
        max_size=20,
    )
)
def test_any_label_comes_back_as_it_can_be_shown(tmp_path: Path, texts: list[str]) -> None:
    target = tmp_path / "any.xlsx"
    xlsx.write(delivery(map(labelled, texts)), target)
    no_formula_no_link(target)
    assert labels(target) == [printable(text) for text in texts]
