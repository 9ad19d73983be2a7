"""Rows of several kinds and widths in one file, told by their first cell."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook_plugins.csv.layout import layout_of
from tests.reading import axis, sweep

from .dialects import CURVES, changed
from .reading import read

LAYOUT = """layout = "sections"
delimiter = ";"
comment = ["# ", "--"]
test.first_line = "T;"
[[csv.sections]]
mark = ["T", "T2"]
columns = ["kind", "Link", "Limit"]
[[csv.sections]]
mark = "S"
columns = ["kind", "what", "pair", "MHz", "margin"]
[[csv.sections.rows.figures]]
name = { what = "{parameter}", pair = "{pairs}" }
worst_margin.margin = "margin"
worst_margin.frequency = "MHz"
[[csv.sections]]
mark = "P"
columns = ["kind", "what", "pair", "MHz", "dB"]
[csv.sections.rows]
point = { name = { what = "{parameter}", pair = "{pairs}" }, frequency = "MHz", value = "dB" }
[[csv.sections]]
mark = "V"
columns = ["kind", "what", "pair"]
[csv.sections.rows]
curve = { name = { what = "{parameter}", pair = "{pairs}" }, frequency = "F" }
[[csv.sections]]
mark = "C"
columns = ["kind", "MHz", "IL 4-5", "IL 7-8"]
curves = { frequency = "MHz", name = "{parameter} {pairs}" }
"""


def kinds(*changes: tuple[str, str]) -> str:
    """The words of the dialect of curves, with marked rows."""
    head, rest = CURVES.partition("layout =")[0], CURVES[CURVES.index("[fields]") :]
    dialect = f"{head}{LAYOUT}{rest}"
    for before, after in changes:
        dialect = changed(dialect, before, after)
    return dialect


def losses(document: dict, name: str) -> list[float]:  # type: ignore[type-arg]
    """The values of a curve."""
    return [float(value) for value in sweep(document, name)["value_db"]]


def test_rows_of_one_width_and_several_kinds_stand_in_any_order(tmp_path: Path) -> None:
    margins = "".join(f"S;IL;{pair};{at};1.5\n" for pair, at in (("1-2", 50), ("3-6", 60)))
    points = "".join(f"P;IL;1-2;{mhz};{mhz / 10}\n" for mhz in range(1, 40))
    text = (
        f"T;A-1;Cat 6A PL\nP;IL;3-6;1;1.8\n{margins}{points}S;IL;4-5;70;1.5\n"
        "P;IL;3-6;50;9.9\nT2;A-1;Cat 6A PL\nP;IL;1-2;40;4\nT;A-2;Cat 6A PL\nP;IL;1-2;1;2.1\n"
    )
    found = read(tmp_path, text, kinds())
    assert [problem.message for problem in found.problems] == []
    one, two = (record.document for record in found.records)
    assert losses(one, "insertion_loss 1-2") == [mhz / 10 for mhz in range(1, 41)]
    assert losses(one, "insertion_loss 3-6") == [1.8, 9.9]
    stated = [
        (item["pairs"], item["worst_margin"]["frequency_mhz"]) for item in one["stated"]["items"]
    ]
    assert sorted(stated) == [(["1-2"], 50), (["3-6"], 60), (["4-5"], 70)]
    assert losses(two, "insertion_loss 1-2") == [2.1]
    assert "extra" not in one  # the mark says nothing more


def test_rows_may_be_curves_and_columns_may_be_curves(tmp_path: Path) -> None:
    text = (
        "T;A-1;\nF;;;1;4;100\nV;IL;1-2;1.9;3.7;19.4\nC;1;1.7;1.6\nV;IL;3-6;1.8;3.6;19.3\n"
        "C;100;19.1;19.0\n"
    )
    found = read(tmp_path, text, kinds())
    assert [problem.message for problem in found.problems] == []
    document = found.document
    assert losses(document, "insertion_loss 1-2") == [1.9, 3.7, 19.4]
    assert losses(document, "insertion_loss 3-6") == [1.8, 3.6, 19.3]
    assert axis(document, sweep(document, "insertion_loss 3-6")) == [1, 4, 100]
    assert losses(document, "insertion_loss 4-5") == [1.7, 19.1]
    assert losses(document, "insertion_loss 7-8") == [1.6, 19.0]


def test_what_no_mark_tells_is_kept(tmp_path: Path) -> None:
    text = (
        "# made by hand\n--\nT;A-1;\nP;IL;1-2;1;1.9\nX;IL;3-6;1;1.8\nX;IL;3-6;2;1.7\n"
        "P;IL;1-2;2;2.0\nP;XT;1-2;1;50\n"
    )
    found = read(tmp_path, text, kinds())
    (record,) = found.records
    document = record.document
    assert losses(document, "insertion_loss 1-2") == [1.9, 2.0]
    assert len(document["results"]["sweeps"]) == 1
    extra = document["extra"]
    assert extra["X"] == "IL"
    assert extra["X/4"].splitlines() == ["1.8", "1.7"]
    assert extra["XT 1-2"] == "1 50"
    assert extra["comments"] == "# made by hand\n--"
    assert any("nothing is known by the name 'XT 1-2'" in of.message for of in found.problems)


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ("P;IL;1-2;2", "the line has 4 cells where the titles have 5 (none for 'dB')"),
        ("P;IL;1-2;2;1.9;7", "the line has 6 cells where the titles have 5"),
        ("T2;A-1", "the line has 2 cells where the titles have 3 (none for 'Limit')"),
        ("T2;A-9;", "the key 'Link' comes a second time ('A-1', then 'A-9')"),
    ],
)
def test_a_row_that_does_not_fit_its_columns_loses_the_test(
    row: str, what: str, tmp_path: Path
) -> None:
    found = read(tmp_path, f"T;A-1;\nP;IL;1-2;1;1.9\n{row}\nP;IL;1-2;3;2.2\n", kinds())
    assert found.records == []
    assert any(what in problem.message for problem in found.problems)


@pytest.mark.parametrize(
    ("before", "after", "what"),
    [
        ('mark = "P"', 'mark = "S"', "csv.sections.1.mark: 'S' is the mark of csv.sections.2"),
        (
            '"# ", "--"]',
            '"# ", "P;"]',
            "csv.sections.2.mark: lines that begin with 'P' are csv.comment",
        ),
        ('columns = ["kind", "Link", "Limit"]\n', "", "columns"),
    ],
)
def test_marks_that_cannot_tell_rows_are_refused(before: str, after: str, what: str) -> None:
    with pytest.raises(BadDialect) as refused:
        layout_of(parse(kinds((before, after)).encode()))
    assert what in str(refused.value)


def test_marks_of_two_headings_may_be_alike(tmp_path: Path) -> None:
    below = 'heading = "[{parameter}]"\nmark = "P"\ncolumns = ["kind", "pair", "MHz", "dB"]'
    other = (
        'heading = "[{parameter}, kHz]"\nmark = "P"\ncolumns = ["kind", "pair", "MHz", "k", "d"]'
    )
    name, bare = 'name = { what = "{parameter}", pair = "{pairs}" }', 'name = { pair = "{pairs}" }'
    dialect = kinds(
        ('mark = "P"\ncolumns = ["kind", "what", "pair", "MHz", "dB"]', below),
        (f"point = {{ {name}", f"point = {{ {bare}"),
        ('mark = "V"\ncolumns = ["kind", "what", "pair"]\n', f"{other}\n"),
        (
            f'curve = {{ {name}, frequency = "F" }}',
            f'point = {{ {bare}, frequency = "MHz", value = "d" }}',
        ),
    )
    text = "T;A-1;\n[IL]\nP;1-2;1;1.9\n[IL, kHz]\nP;3-6;4;4000;20.5\n"
    document = read(tmp_path, text, dialect).document
    assert losses(document, "insertion_loss 1-2") == [1.9]
    assert losses(document, "insertion_loss 3-6") == [20.5]


@pytest.mark.parametrize("mark", ["Room", "7"])
def test_a_marked_line_among_rows_of_curves_is_no_point(mark: str, tmp_path: Path) -> None:
    """A mark may be a number, and then begins as a frequency does."""
    layout = (
        f'layout = "sections"\n[[csv.sections]]\nmark = "{mark}"\ncolumns = ["mark", "Reason"]\n'
        '[[csv.sections]]\ncurves = { frequency = "MHz", name = "{parameter} {pairs}" }\n'
    )
    head, rest = CURVES.partition("layout =")[0], CURVES[CURVES.index("[fields]") :]
    text = f"Link,A\n\nMHz,IL 1-2\n1,1.9\n4,3.8\n{mark},first\n"
    document = read(tmp_path, text, f"{head}{layout}{rest}").document
    assert losses(document, "insertion_loss 1-2") == [1.9, 3.8]
    assert document["test"]["purpose"] == "initial"
