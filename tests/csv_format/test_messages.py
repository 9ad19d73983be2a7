"""Messages that say a thing once, where it is, and what would help."""

from pathlib import Path

import pytest

from sweepbook.dialect.figures import build
from sweepbook.dialect.load import parse
from sweepbook.dialect.raw import Cell, Name, RawFigure

from .dialects import CURVES, POINTS, changed
from .reading import read
from .test_sections import sections

FOUR = "MHz,IL 1-2,IL 3-6,IL 4-5,IL 7-8\n"


def test_a_fault_of_a_shared_axis_is_told_once(tmp_path: Path) -> None:
    message = read(tmp_path, f"Link,A\n{FOUR}1,1,1,1,1\n2x,2,2,2,2\n", CURVES).lost
    assert message.count("'2x' is no number in MHz") == 1
    assert "line 4, column 'MHz'" in message
    assert "(the same in 4 curves)" in message
    assert "more fault" not in message


def test_a_fault_of_an_axis_does_not_hide_others(tmp_path: Path) -> None:
    text = f"Link,A\nTemperature,21\nResult,GOOD\n{FOUR}1,1,1,1,1\n2x,2,2,2,2\n"
    message = read(tmp_path, text, CURVES).lost
    assert "'2x' is no number" in message
    assert "'GOOD' is no declared verdict" in message


def test_equal_axes_of_points_are_told_once(tmp_path: Path) -> None:
    rows = "".join(f"1;IL;{pair};;{at};1.5;\n" for pair in ("1-2", "3-6") for at in ("1", "2x"))
    message = read(tmp_path, f"Test;What;Pair;End;MHz;dB;Text\n1;Link;;;;;A\n{rows}", POINTS).lost
    assert message.count("is no number in MHz") == 1
    assert "line 4, column 'MHz'" in message
    assert "in 2 curves" in message


@pytest.mark.parametrize(
    ("dialect", "row", "expected"),
    [
        ("", "1,1,9", "line 3: the line has 3 cells where the titles have 2, and all of them are"),
        ('[numbers]\ndecimal = ","\n', "1,1,9", "the decimal mark as well as the delimiter"),
        ('[numbers]\ndecimal = ","\n', "1,1,9x", "',' is csv.delimiter and numbers.decimal"),
        ("", "1", "line 3: the line has 1 cell where the titles have 2 (none for 'IL 1-2')"),
        ("", "1,1.9,7x", "see csv.delimiter, csv.quote, csv.skip and numbers.decimal"),
    ],
)
def test_rows_of_the_wrong_width(dialect: str, row: str, expected: str, tmp_path: Path) -> None:
    chosen = changed(CURVES, "[numbers]\n", dialect) if dialect else CURVES
    assert expected in read(tmp_path, f"Link,A\nMHz,IL 1-2\n{row}\n2,2.5\n", chosen).lost


def test_blank_titles_at_the_end_need_no_cells(tmp_path: Path) -> None:
    document = read(tmp_path, "Link,A\nMHz,IL 1-2,,\n1,1.9\n2,2.5,\n3,2.9,,\n", CURVES).document
    assert document["results"]["sweeps"][0]["value_db"].tolist() == [1.9, 2.5, 2.9]


@pytest.mark.parametrize(
    ("dialect", "titles", "expected"),
    [
        (CURVES, "Frequency,IL 1-2", "no line holds the title 'MHz' and another; see csv.curves."),
        (CURVES, "MHZ,IL 1-2", "line 2 has 'MHZ'; see csv.curves.frequency"),
        (
            POINTS,
            "Test;What;Pair;End;Mhz;dB;Text",
            "line 2 lacks 'MHz' but has 'Mhz'; see csv.rows",
        ),
        (POINTS, "Test;What;Pair;MHz;Text", "line 2 lacks 'End', 'dB'; see csv.rows"),
    ],
)
def test_a_title_that_is_missing_is_named(
    dialect: str, titles: str, expected: str, tmp_path: Path
) -> None:
    assert expected in read(tmp_path, f"Link,A\n{titles}\n", dialect).lost


def test_unknown_titles_are_told_once_with_the_nearest(tmp_path: Path) -> None:
    titles = "MHz,IL 1-2,NEXT 1-2:3-6 A,NEXT 1-2:4-5 A,NEXT 1-2:7-8 A"
    result = read(tmp_path, f"Link,A\n{titles}\n1,1.9,80,81,82\n", CURVES)
    assert len(result.records) == 1
    assert [problem.place for problem in result.problems] == ["line 2"]
    message = result.problems[0].message
    assert "'NEXT 1-2:3-6 A', 'NEXT 1-2:4-5 A', 'NEXT 1-2:7-8 A'" in message
    assert "extra: ':' is not in crosstalk.between, where '/' is" in message
    assert "csv.curves.name" in message


def test_unknown_names_of_rows_are_told_once_with_the_nearest(tmp_path: Path) -> None:
    rows = "1;Link;;;;;A\n1;IL;1-2;;1;1.9;\n1;NEXt;1-2/3-6;A;1;80;\n1;TCL;1-2;A;1;40;\n"
    result = read(tmp_path, f"Test;What;Pair;End;MHz;dB;Text\n{rows}", POINTS)
    assert [problem.place for problem in result.problems] == ["line 4"]
    message = result.problems[0].message
    assert "'NEXt 1-2/3-6 A', 'TCL 1-2 A'" in message
    assert "extra: 'NEXt' is not in words.parameters, where 'NEXT' is (column 'What')" in message


def test_frequencies_that_repeat_name_the_keys(tmp_path: Path) -> None:
    result = read(tmp_path, "Link,A\nMHz,IL 1-2\n1,1.9\n2,2.5\n1,1.9\n2,2.5\n", CURVES)
    assert "falls at 1" in result.problems[0].message
    assert "say where a test begins ([csv.test]" in result.problems[0].message


def test_a_fault_that_comes_again_is_told_once_with_how_often(tmp_path: Path) -> None:
    verdicts = "".join(f"{of} result,GOOD\n" for of in ("IL", "RL", "NEXT"))
    text = f"Link,A\nResult,GOOD\n{verdicts}MHz,IL 1-2\n1,1.9x\n"
    message = read(tmp_path, text, CURVES).lost
    assert message.count("'GOOD' is no declared verdict") == 1
    assert "line 2" in message
    assert "(and 3 times more)" in message
    assert "'1.9x' is no number" in message, "it hides no other"


@pytest.mark.parametrize(("written", "shown"), [(";", "';'"), ("\t", "'\\t'"), ("|", "'|'")])
def test_another_delimiter_is_named_where_it_would_do(
    tmp_path: Path, written: str, shown: str
) -> None:
    text = f"Link,A\n{FOUR}1,1,1,1,1\n".replace(",", written)
    message = read(tmp_path, text, CURVES).lost
    assert f"line 2 does, with the delimiter {shown}; see csv.curves.frequency" in message


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_a_file_in_utf16_is_told_by_its_first_bytes(tmp_path: Path, encoding: str) -> None:
    """U+FEFF at the beginning of a text is its byte order mark (The Unicode Standard)."""
    raw = f"\ufeffLink,A\n{FOUR}1,1,1,1,1\n".encode(encoding)
    message = read(tmp_path, raw, CURVES).lost
    assert 'begins as UTF-16 does; write csv.encoding = "utf-16"' in message
    assert "title" not in message


def test_a_value_in_place_of_a_verdict_is_told_to_be_one(tmp_path: Path) -> None:
    message = read(tmp_path, f"Link,A\nResult,66.0 m\n{FOUR}1,1,1,1,1\n", CURVES).lost
    assert "'66.0 m' is no declared verdict" in message
    assert "but rather a value; see which key or column" in message


HEADED = changed(
    changed(CURVES, '"curve-per-column"', '"sections"'),
    "[csv.curves]",
    '[[csv.sections]]\nheading = "Loss table"\n[csv.sections.curves]',
)


@pytest.mark.parametrize("stray", ["Loss tabel", "Loss tabel,", "Type,Echo", "Echo,all,pairs"])
def test_a_heading_that_is_not_declared_is_called_so(stray: str, tmp_path: Path) -> None:
    text = f"Link,A\nLoss table\nMHz,IL 1-2\n1,1.9\n{stray}\n2,22.9\n"
    message = read(tmp_path, text, HEADED).lost
    assert f"line 5: {stray.rstrip(',')!r} stands among rows and holds no number" in message
    assert "it is no declared heading" in message
    assert "declare it as a heading in [[csv.sections]]" in message
    assert "is no number in MHz" not in message
    assert ("; 'Loss table' would be known" in message) == stray.startswith("Loss")


def test_a_row_that_says_its_value_is_missing_is_no_heading(tmp_path: Path) -> None:
    message = read(tmp_path, "Link,A\nMHz,IL 1-2\n1,1.9\nx,--\n", CURVES).lost
    assert "'x' is no number in MHz" in message
    assert "heading" not in message


MARGINS = """
[[csv.sections]]
heading = "[Margins]"
[[csv.sections.rows.figures]]
name = { Of = "{parameter}", Pair = "{pairs}", Side = "{end}" }
worst_margin.margin = "Margin"
worst_margin.frequency = "At MHz"
"""


def margins(rows: str, titles: str = "Of,Pair,Side,Margin,At MHz") -> str:
    return f"Link,A\n[Margins]\n{titles}\n{rows}"


def test_a_figure_that_comes_again_is_told_with_the_first_and_what_its_name_leaves_open(
    tmp_path: Path,
) -> None:
    bare = changed(MARGINS, ', Pair = "{pairs}", Side = "{end}"', "")
    text = margins("RL,1-2,A,3.1,50\nRL,3-6,A,2.5,20\n")
    message = read(tmp_path, text, sections(bare)).lost
    assert "the worst_margin.margin of 'return_loss' comes a second time" in message
    assert "the first in line 4, column 'Margin'; the name says no pair and end" in message
    assert "margin of 'return_loss 1-2 near'" not in message
    whole = read(tmp_path, text + "RL,1-2,A,3.3,60\n", sections(MARGINS)).lost
    assert "of 'return_loss 1-2 near' comes a second time, the first in line 4, column" in whole
    assert "the name says no" not in whole
    assert "two forms or columns of the dialect take it" in whole


def test_one_cell_that_two_forms_take_is_no_fault_of_the_file() -> None:
    figure = RawFigure(Name("length", ("1-2",)), "value", Cell("62.1", "line 4, column 'm'"))
    (fault,) = build([figure, figure], parse(CURVES.encode(), "d.toml").meaning).faults
    assert fault.message.startswith("the value of 'length 1-2' is read from here twice")


def test_a_column_that_is_called_like_a_key_says_so_in_a_section(tmp_path: Path) -> None:
    text = margins("RL,1-2,A,3,50,30\nRL,3-6,A,2,20,28\n", "Of,Pair,Side,Margin,At MHz,Limit")
    message = read(tmp_path, text, sections(MARGINS)).lost
    assert "line 5, column 'Limit': '30' becomes '28' within one test" in message
    assert "[fields] has a key 'Limit', so that this column fills it too" in message
    assert "name it in csv.sections.0.rows.other_columns" in message
    apart = changed(
        MARGINS,
        "[[csv.sections.rows.figures]]",
        '[csv.sections.rows]\nother_columns = "Limit"\n[[csv.sections.rows.figures]]',
    )
    named = text.replace("Link,A", "Link,A\nLimit,6A")
    document = read(tmp_path, named, sections(apart)).document
    assert document["test"]["limit"]["as_stated"] == "6A"
    assert document["extra"]["Limit"] == "30\n28"


@pytest.mark.parametrize("word", ["IL", "XX"])
def test_a_blank_cell_that_leaves_a_row_without_a_name_is_told(word: str, tmp_path: Path) -> None:
    rows = f"1;Link;;;;;A\n1;IL;1-2;;1;1.9;\n1;{word};;;2;2.5;\n"
    result = read(tmp_path, f"Test;What;Pair;End;MHz;dB;Text\n{rows}", POINTS)
    (problem,) = result.problems
    assert problem.place == "line 4"
    told = "with a blank cell under 'Pair', 'End'" in problem.message
    assert told == ("add a form to csv.rows without it" in problem.message)
    assert told == (word == "IL")  # of another row it is the word that is not known


@pytest.mark.parametrize("lost", [False, True])
def test_a_line_with_most_titles_of_a_table_is_told_first(lost: bool, tmp_path: Path) -> None:
    points = '[[csv.sections]]\ncurves = { frequency = "MHz", name = "{parameter} {pairs}" }\n'
    text = f"MHz,IL 1-2\n1,1.9\n2,2.5\n{margins('RL,1-2,A,3,50', 'Of,Pair,Side,Margin,At kHz')}"
    text += "\nResult,SO-SO\n" if lost else "\n"
    result = read(tmp_path, text, sections(points + MARGINS))
    said = result.lost if lost else result.problems[0].message
    assert said.startswith("line 6: 'Of' and 4 more cells" if lost else "'Of' and 4 more cells")
    assert "would be the titles of a table, but lack 'At MHz', and the line has 'At kHz'" in said
    assert "see csv.sections.1.rows" in said


def test_a_row_of_units_with_another_one_of_frequency_is_told(tmp_path: Path) -> None:
    curves = 'curves = { frequency = "f", name = "{parameter} {pairs}", other_rows = "MHz" }\n'
    text = "Link,L-1\n\nf,IL 1-2,IL 3-6\n{},dB,dB\n1,1.9,1.8\n2,2.5,2.4\n"
    dialect = sections(f"[[csv.sections]]\n{curves}")
    right = read(tmp_path, text.format("MHz"), dialect)
    assert len(right.document["results"]["sweeps"]) == 2
    said = read(tmp_path, text.format("kHz"), dialect).lost
    assert "'kHz' stands where csv.sections.0.curves.other_rows has 'MHz'" in said
    assert "are in another unit" in said


def test_a_title_in_another_unit_below_rows_is_told(tmp_path: Path) -> None:
    points = '[[csv.sections]]\ncurves = { frequency = "f (MHz)", name = "{parameter} {pairs}" }\n'
    names = ",".join(f"IL {pair}" for pair in ("1-2", "3-6", "4-5", "7-8"))
    rows = "1000,1.9,1.8,1.9,1.9\n2000,2.5,2.4,2.5,2.5\n"
    text = f"{margins('RL,1-2,A,3,50')}\nf (kHz),{names}\n{rows}"
    said = read(tmp_path, text, sections(points + MARGINS)).lost
    assert "'f (kHz)' is the declared title 'f (MHz)' in another unit" in said
    right = text.replace("kHz", "MHz").replace("000", "")
    assert len(read(tmp_path, right, sections(points + MARGINS)).document["results"]["sweeps"]) == 4
