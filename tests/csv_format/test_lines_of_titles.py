"""Titles in three lines, of which upper ones leave cells blank that go on."""

from pathlib import Path

import pytest

from sweepbook_plugins.csv.names import of_lines
from tests.reading import sweep

from .dialects import CURVES, changed
from .reading import read

NAMES = 'frequency = "MHz"\nname = ["{parameter} {pairs}", "{parameter} {pairs} {end}"]\n'
STACKED = changed(
    CURVES,
    f"[csv.curves]\n{NAMES}",
    'upper_titles = ["f", ""]\n[csv.curves]\nfrequency = "f MHz"\nname = ["{parameter} {pairs} '
    'value", "{parameter} {end} {pairs} value"]\nother_columns = ["{parameter} {pairs} limit", '
    '"{parameter} {end} {pairs} limit"]\n',
)
TITLES = ["f,IL,,,RL A", ",1-2,,3-6,1-2", "MHz,value,limit,value,value,limit"]


def test_a_blank_cell_goes_on_until_a_line_further_up_begins_anew() -> None:
    lines = [line.split(",") for line in TITLES]
    assert of_lines(lines[:2], lines[2]) == (
        *("f MHz", "IL 1-2 value", "IL 1-2 limit", "IL 3-6 value"),
        *("RL A 1-2 value", "RL A 1-2 limit"),
    )
    assert of_lines([["f", "IL", "RL"], ["", "1-2", ""]], ["MHz", "dB", "dB"]) == (
        *("f MHz", "IL 1-2 dB", "RL dB"),
    )


def test_three_lines_of_titles_are_one(tmp_path: Path) -> None:
    rows = "1,1.9,4,1.8,27.3,20\n100,19.4,21,19.2,25.1,10\n"
    text = "\n".join(["Link,A", *TITLES, rows])
    document = read(tmp_path, text, STACKED).document
    values = {
        name: [float(v) for v in sweep(document, name)["value_db"]]
        for name in ("insertion_loss 1-2", "insertion_loss 3-6", "return_loss near 1-2")
    }
    assert list(values.values()) == [[1.9, 19.4], [1.8, 19.2], [27.3, 25.1]]
    assert len(document["results"]["sweeps"]) == 3


def test_upper_lines_without_a_table_below_are_keys(tmp_path: Path) -> None:
    text = "Link,A\nf,x\n,y\nRoom,7\n" + "\n".join(TITLES) + "\n1,1.9,4,1.8,27.3,20\n"
    document = read(tmp_path, text, STACKED).document
    assert document["extra"]["f"] == "x"
    assert document["extra"]["Room"] == "7"
    assert len(document["results"]["sweeps"]) == 3


@pytest.mark.parametrize("below", ["", "MHz,dB,dB\n"])
def test_a_line_that_has_all_titles_goes_on_where_both_lines_are_titles(
    below: str, tmp_path: Path
) -> None:
    names = NAMES.replace('frequency = "MHz"', 'frequency = "f"\nother_rows = ["MHz"]')
    upper = f'upper_titles = ["f"]\n[csv.curves]\n{names}'
    text = changed(CURVES, f"[csv.curves]\n{NAMES}", upper)
    lines = f"Link,A\n\nf,RL 1-2,RL 1-2\n,A,B\n{below}1,27.3,26.2\n100,10.1,11.4\n"
    lines += f"\nf,IL 1-2,IL 3-6\n{below}1,1.9,1.8\n100,19.4,19.2\n"
    document = read(tmp_path, lines, text).document
    values = {
        name: [float(v) for v in sweep(document, name)["value_db"]]
        for name in ("return_loss near 1-2", "return_loss far 1-2", "insertion_loss 3-6")
    }
    assert list(values.values()) == [[27.3, 10.1], [26.2, 11.4], [1.8, 19.2]]
    assert len(document["results"]["sweeps"]) == 4
