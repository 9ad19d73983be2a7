"""Tables with the titles in their first column: tests, or curves, side by side."""

import tracemalloc
from pathlib import Path

import pytest

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.csv import turned
from tests.reading import axis, sweep

from .reading import read
from .test_curve_rows import TITLED, TITLES, dialect, numbers

CURVES = dialect(TITLES, 'transposed = "Cable"')
SIDE_BY_SIDE = "\n".join(
    ";".join(cells) for cells in zip(*(line.split(";") for line in TITLED.split()), strict=True)
)
TESTS = """
schema = "urn:sweepbook:dialect-0"
name = "turned"
title = "turned"
format = "csv"
[csv]
layout = "test-per-row"
delimiter = ";"
transposed = ["Cable", "Unit"]
[csv.rows]
test = "Cable"
[[csv.rows.figures]]
value = "{parameter} {pairs}"
[fields]
link.label = "Cable"
test.operator = "Operator"
[words.parameters]
length = "Length"
[words.pairs]
1-2 = "12"
"""


def test_tests_stand_side_by_side(tmp_path: Path) -> None:
    content = "Operator;J. Okoro\nCable;Unit;A;B;C;\nLength 12;m;30.1;40.2;\n\nNote;;dark;;\n"
    result = read(tmp_path, content, TESTS)
    documents = [record.document for record in result.records]
    assert [document["link"]["label"] for document in documents] == ["A", "B"]
    assert [document["results"]["scalars"][0]["length_m"] for document in documents] == [30.1, 40.2]
    assert {document["test"]["operator"] for document in documents} == {"J. Okoro"}
    assert documents[0]["extra"]["Note"] == "dark"
    assert documents[0]["origin"][0]["locator"] == "columns 3-3"
    (problem,) = result.problems
    assert problem.place == "columns 5-5"


def test_curves_stand_side_by_side_with_titles_over_many_lines(tmp_path: Path) -> None:
    result = read(tmp_path, f"Export 4\n{SIDE_BY_SIDE}\n", CURVES)
    assert result.problems == []
    assert [record.label for record in result.records] == ["A", "B"]
    assert numbers(result, "next far 1-2/3-6") == [(1.0, 70.1), (2.5, 65.0), (100.0, 40.25)]
    document = result.records[1].document
    assert axis(document, sweep(document, "insertion_loss 1-2")) == [1.0, 2.5, 100.0]


@pytest.mark.parametrize(
    ("place", "shown"),
    [
        ("lines 1-1000000049", "from line 1 to column 49"),
        ("lines 1000000003-1000000007", "columns 3-7"),
        ("lines 4-9", "lines 4-9"),
        ("line 5, column 'dB'", "line 5, column 'dB'"),
    ],
)
def test_a_place_that_begins_above_the_table_says_so(place: str, shown: str) -> None:
    told = turned.told(Fault(place, ""))
    assert isinstance(told, Fault)
    assert told.place == shown


def test_a_message_names_column_and_row_of_the_file(tmp_path: Path) -> None:
    content = SIDE_BY_SIDE.replace("40,25", "40.x")
    result = read(tmp_path, content, CURVES)
    assert [record.label for record in result.records] == ["B"]
    (problem,) = result.problems
    assert problem.place == "columns 2-3"
    assert problem.message.startswith("column 2, row '100'")


def test_a_line_that_cannot_be_taken_apart_loses_them_all(tmp_path: Path) -> None:
    message = read(tmp_path, SIDE_BY_SIDE.replace("65,0", '"65,0'), CURVES).lost
    assert "line 6: a quote" in message
    assert "every column of it lacks this line" in message


@pytest.mark.parametrize(
    "lines",
    [
        "Cable;Unit;A;B;C\nLength 12;m;30.1;40.2;50.3\nOutcome;;pass;pass\n",
        "Cable;Unit;A;B;C;\nLength 12;m;30.1;40.2;50.3;\nOutcome;;pass;pass;\n",
        "Cable;Unit;A;B;C\nLength 12;m;30.1;40.2;50.3;\nOutcome;;pass;pass;\nNote;;;;;\nTag;;;;;\n",
        "Cable;Unit;A;B;C\nLength 12;m;30.1;40.2;50.3\nOutcome;;pass;pass;fail;pass\n",
        "Cable;Unit;A;B;C\nLength 12;m;30.1;40.2;50.3\nOutcome;;pass;pass;fail;\n",
    ],
)
def test_a_line_of_another_width_loses_them_all(lines: str, tmp_path: Path) -> None:
    """Where a cell is lost from "pass;fail;pass", the pass of C must not become the one of B."""
    text = TESTS.replace("test.operator", 'stated.overall = "Outcome"\ntest.operator')
    message = read(tmp_path, lines, text + '[words.verdicts]\npass = "pass"\nfail = "fail"\n').lost
    assert "line 3: the line has" in message
    assert "nobody can tell which columns they are of" in message
    assert "csv.skip" in message


@pytest.mark.parametrize("titles", ["Cable;Unit;A;B", "Cable;Unit;A;B;;"])
def test_blank_cells_at_the_end_of_the_titles_alone_are_no_loss(
    titles: str, tmp_path: Path
) -> None:
    end = "" if titles.endswith(";") else ";"
    content = f"{titles}\nLength 12;m;30.1;40.2{end}\nNote;;dark;lit{end}\n"
    result = read(tmp_path, content, TESTS)
    assert [record.label for record in result.records] == ["A", "B"]
    assert [record.document["extra"]["Note"] for record in result.records] == ["dark", "lit"]


def test_a_table_that_is_too_large_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(turned, "MOST_CELLS", 10)
    assert "csv.transposed" in read(tmp_path, SIDE_BY_SIDE, CURVES).lost


def test_lines_of_uneven_widths_are_not_filled_up(tmp_path: Path) -> None:
    """One line of 9,000 cells and 2,000 of one would make 18,000,000."""
    content = f"Cable;Unit{';A' * 9_000}\n" + "x\n" * 2_000
    tracemalloc.start()
    try:
        assert "csv.skip" in read(tmp_path, content, TESTS).lost
        assert tracemalloc.get_traced_memory()[1] < 20_000_000
    finally:
        tracemalloc.stop()


def test_a_wire_map_above_the_table_is_kept_whole(tmp_path: Path) -> None:
    """Every further line of the map has the same key, and counts as much as the first."""
    far = {"3": "6", "6": "3"}
    wires = [f"Wire;{near};{far.get(near, near)}\n" for near in "12345678"]
    text = TESTS.replace("[words.par", 'results.wire_map.pins = "Wire"\n[words.par', 1)
    text += '[wire_map]\nbetween_ends = ";"\n'
    result = read(tmp_path, f"{''.join(wires)}Cable;Unit;A;B\nLength 12;m;30.1;40.2\n", text)
    assert [record.label for record in result.records] == ["A", "B"]
    for record in result.records:
        pins = record.document["results"]["wire_map"]["pins"]
        assert [tuple(ends) for ends in pins] == [
            (near, far.get(near, near)) for near in "12345678"
        ]
