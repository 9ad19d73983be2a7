"""Columns with blanks between: each text belongs to the one title above it, or the line is told."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sweepbook.dialect.load import BadDialect
from tests.csv_format.dialects import CURVES, POINTS, changed
from tests.csv_format.reading import read
from tests.csv_format.test_sections import sections
from tests.guide import job, told
from tests.reading import sweep

FILES, DIALECT, LINES = job("example-print", "print.txt")
PRINT = FILES["print.txt"]


def aligned(dialect: str, how: str) -> str:
    return dialect.replace('delimiter = ";"\n', "").replace(
        "[csv]\n", f'[csv]\naligned = "{how}"\n'
    )


BLANK = changed(CURVES, 'missing = ["--"]', 'missing = ["--", ""]')


PAIRS = ("1-2", "3-6", "4-5")
WAYS = {
    "left, left": ("left", "{:<10}", "{:<10}"),
    "left, right": ("left", "{:<10}", "{:>9} "),
    "right, right": ("right", "{:>10}", "{:>10}"),
    "right, left": ("right", "{:>10}", " {:<9}"),
    "left edges": ("below", "{:<10}", "{:<10}"),
    "right edges": ("below", "{:>10}", "{:>10}"),
    "in the middle": ("below", "{:^10}", "{:^10}"),
}
"""How a column is named, and how its title and its cells stand in it."""


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    result = read(tmp_path, PRINT, DIALECT)
    assert result.problems == []
    assert told(result.document) == LINES


@pytest.mark.parametrize("way", WAYS)
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(*[st.sampled_from(["", "1.9", "41.05", "0.3", ">80", "102.25"])] * 3),
        min_size=1,
        max_size=6,
    )
)
def test_a_blank_cell_moves_nothing(
    tmp_path: Path, way: str, rows: list[tuple[str, str, str]]
) -> None:
    how, title, cell = WAYS[way]
    lines = ["".join(title.format(of) for of in ("MHz", *(f"IL {pair}" for pair in PAIRS)))]
    for number, row in enumerate(rows, 1):
        lines.append("".join(cell.format(of) for of in (str(number), *row)))
    text = "\n".join(["Link  A", "", *(line.rstrip() for line in lines), ""])
    result = read(tmp_path, text, aligned(BLANK, how))
    assert result.problems == []
    for at, pair in enumerate(PAIRS):
        found = sweep(result.document, f"insertion_loss {pair}")
        column = [row[at] for row in rows]
        gaps = {of for gap in found.get("gaps", []) for of in range(gap["from"], gap["to"] + 1)}
        assert gaps == {number for number, of in enumerate(column) if not of}
        assert [*found["value_db"]] == [float(of.strip(">")) for of in column if of]


@pytest.mark.parametrize(
    ("how", "row", "message"),
    [
        ("below", "     1           1.9", "line 4: '1.9' at character 18 stands below no title"),
        ("below", "     1       1.9.....1.8", "stands below 'IL 1-2' and 'IL 3-6'"),
        ("below", "     1    1.9 1.8", "line 4, column 'IL 1-2': '1.9 1.8' is no number"),
        ("right", "     1       1.9       1.8  1.7", "'1.7' at character 29 stands below no title"),
        ("left", "    1     1.9  1.8", "'1.9' and '1.8' both stand below 'IL 1-2'"),
    ],
)
def test_what_stands_below_no_one_title_is_told(
    how: str, row: str, message: str, tmp_path: Path
) -> None:
    text = f"Link  A\n\n   MHz    IL 1-2    IL 3-6\n{row}\n"
    result = read(tmp_path, text, aligned(BLANK, how))
    assert result.records == []
    assert any(message in f"{of.place}: {of.message}" for of in result.problems), result.problems


def test_titles_come_again_on_each_page_of_a_table_of_several_tests(tmp_path: Path) -> None:
    dialect = changed(
        aligned(POINTS, "left"),
        'aligned = "left"',
        'aligned = "left"\ntitles_again = true\ncomment = "- "',
    )
    titles = "Test  What  Pair  End  MHz   dB    Text\n"
    begin, end = "1     IL    1-2        1     1.9\n", "1     IL    1-2        100   19.4\n"
    rows = f"{begin}{{}}{end}2     IL    1-2        1     2.1\n"
    whole = read(tmp_path, "Link  A\n\n" + titles + rows.format(""), dialect)
    paged = read(tmp_path, "Link  A\n\n" + titles + rows.format("- 2 -\n" + titles), dialect)
    assert paged.problems == whole.problems == []
    for result in (whole, paged):
        assert [*sweep(result.records[0].document, "insertion_loss 1-2")["value_db"]] == [1.9, 19.4]
        assert [*sweep(result.records[1].document, "insertion_loss 1-2")["value_db"]] == [2.1]
    fed = read(tmp_path, "Link  A\n\n" + titles + rows.format(f"\f{titles}"), dialect)
    assert fed.problems == []
    assert len(fed.records) == 2


def test_without_the_word_titles_that_come_again_are_told(tmp_path: Path) -> None:
    table = "MHz   IL 1-2\n1     1.9\nMHz   IL 1-2\n100   19.4\n"
    result = read(tmp_path, f"Link  A\n\n{table}", aligned(BLANK, "left"))
    assert result.records == []


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('aligned = "below"', 'aligned = "centre"', "csv.aligned: 'centre' is not one of"),
        ('aligned = "below"', 'aligned = "below"\ndelimiter = ";"', "csv.delimiter: does not go"),
        ('aligned = "below"', 'aligned = "below"\nupper_titles = ["x"]', "csv.upper_titles: does"),
    ],
)
def test_what_does_not_go_with_it_is_refused(old: str, new: str, key: str, tmp_path: Path) -> None:
    with pytest.raises(BadDialect) as raised:
        read(tmp_path, PRINT, changed(DIALECT, old, new))
    assert any(problem.startswith(key) for problem in raised.value.problems), raised.value.problems


PAIRS_ABOVE = """
[[csv.sections]]
[[csv.sections.rows.figures]]
name = { "" = "{parameter} ({unit})" }
value = "{pairs}"
"""


@pytest.mark.parametrize("way", ["below", "right", "left", "cells"])
def test_rows_may_be_named_left_of_the_first_title(way: str, tmp_path: Path) -> None:
    """A number may be longer than its title, and a row may have one alone."""
    cell = "{:<8}" if way == "left" else "{:>8}"
    rows = [("", "1-2", "3-6"), ("Length (m)", "1038,2", "38,7"), ("Skew (ns)", "4")]
    lines = ["".join([f"{name:<16}", *map(cell.format, some)]) for name, *some in rows]
    if way == "cells":
        lines = [";".join([*row, *[""] * (3 - len(row))]) for row in rows]
    text = "\n".join(["Link: A", "Rooms   R1   R2", *lines, ""])
    dialect = sections(PAIRS_ABOVE).replace('layout = "sections"', _layout(way))
    dialect = changed(dialect, 'length = "Length"', 'length = "Length"\ndelay_skew = "Skew"')
    dialect = changed(dialect, "[numbers]", '[numbers]\ndecimal = ","')
    document = read(
        tmp_path, text, dialect.replace('missing = ["--"]', 'missing = ["--", ""]')
    ).document
    scalars = document["results"]["scalars"]
    assert [of["length_m"] for of in scalars if "length_m" in of] == [1038.2, 38.7]
    assert [of["delay_ns"] for of in scalars if "delay_ns" in of] == [4.0]
    if way != "cells":
        assert document["extra"] == {"Rooms": "R1", "Rooms/2": "R2"}


def _layout(way: str) -> str:
    how = 'delimiter = ";"' if way == "cells" else f'aligned = "{way}"'
    return f'layout = "sections"\n{how}\npreamble.separator = ": "'
