"""Rows that end in a mark between cells where the titles do not, or the other way round."""

from pathlib import Path

import pytest

from tests.reading import axis, sweep

from .dialects import CURVE_ROWS, CURVES, POINTS, changed
from .reading import read

TITLES = "Test;What;Pair;End;1;2;3"
ROWS = ("A;IL;1-2;;1.9;2.7;3.3", "A;IL;3-6;;1.8;2.6;3.2", "A;IL;4-5;;1.7;2.5;3.1")
LOST = (ROWS[0], "A;IL;3-6;;2.6;3.2", ROWS[2])
"""The second row lost its first value, so that each of the others stands a column further left."""
ALONE = changed(changed(CURVE_ROWS, 'test = "Test"\n', ""), 'label = "Test"', 'label = "Link"')
DIALECTS = {"by column": (CURVE_ROWS, ""), "alone": (ALONE, "Link;A\n")}
ENDS = [("", ""), (";", ""), ("", ";"), (";", ";")]


@pytest.mark.parametrize("dialect", DIALECTS)
@pytest.mark.parametrize(("titles_end", "rows_end"), ENDS)
def test_values_stay_below_their_frequencies(
    dialect: str, titles_end: str, rows_end: str, tmp_path: Path
) -> None:
    chosen, head = DIALECTS[dialect]
    lines = [f"{TITLES}{titles_end}", *(f"{row}{rows_end}" for row in ROWS)]
    document = read(tmp_path, head + "\n".join([*lines, ""]), chosen).document
    for pair, first in (("1-2", 1.9), ("3-6", 1.8), ("4-5", 1.7)):
        curve = sweep(document, f"insertion_loss {pair}")
        assert axis(document, curve) == [1.0, 2.0, 3.0]
        assert curve["value_db"].tolist()[0] == first


@pytest.mark.parametrize("dialect", DIALECTS)
@pytest.mark.parametrize(("titles_end", "rows_end"), ENDS)
@pytest.mark.parametrize("order", [(0, 1, 2), (1, 0, 2)])
def test_a_row_that_lost_a_cell_loses_its_test(
    dialect: str, titles_end: str, rows_end: str, order: tuple[int, ...], tmp_path: Path
) -> None:
    chosen, head = DIALECTS[dialect]
    rows = [f"{LOST[at]}{rows_end}" for at in order]
    content = head + "\n".join([f"{TITLES}{titles_end}", *rows, ""])
    message = read(tmp_path, content, chosen).lost
    line = content.splitlines().index(f"{LOST[1]}{rows_end}") + 1
    assert f"line {line}: the line has" in message


def test_a_curve_may_end_early_in_blank_cells(tmp_path: Path) -> None:
    content = f"{TITLES}\n{ROWS[0]};\nA;IL;3-6;;1.8;2.6;;\n"
    curve = sweep(read(tmp_path, content, CURVE_ROWS).document, "insertion_loss 3-6")
    assert curve["value_db"].tolist() == [1.8, 2.6]


@pytest.mark.parametrize("many", [2, 400])
def test_a_column_of_curves_whose_rows_end_so(many: int, tmp_path: Path) -> None:
    dialect = changed(CURVES, 'missing = ["--"]', 'missing = ["--", ""]')
    rows = [f"{at},{at / 100:.2f},{at / 110:.2f}," for at in range(1, many + 2)]
    table = "\n".join(["Link,A", "MHz,IL 1-2,IL 3-6", *rows, ""])
    found = read(tmp_path, table, dialect).document
    assert len(sweep(found, "insertion_loss 3-6")["value_db"]) == many + 1
    message = read(tmp_path, table.replace("\n2,0.02,", "\n2,"), dialect).lost
    assert "line 4: the line has 3 cells, the last of them blank" in message
    assert "end so with 4" in message


def test_a_last_column_that_is_mostly_blank_is_no_lost_cell(tmp_path: Path) -> None:
    """One row with a blank cell too many says nothing against the others."""
    rows = [f"A;IL;1-2;;{at};{at / 100:.2f};" for at in range(1, 60)]
    rows[7] += ";"
    content = "\n".join(["Test;What;Pair;End;MHz;dB;Text", "A;Link;;;;;L", *rows, ""])
    document = read(tmp_path, content, POINTS).document
    assert len(sweep(document, "insertion_loss 1-2")["value_db"]) == 59


@pytest.mark.parametrize("at", [0, 7, 30, 58])
@pytest.mark.parametrize("pair", ["IL;1-2;", "NEXT;1-2/3-6;A"])
def test_a_row_that_gained_a_cell_loses_its_test(at: int, pair: str, tmp_path: Path) -> None:
    """The frequency stands twice, the value below the title of a column that is mostly blank."""
    rows = [f"A;{pair};{of};{of / 100:.2f};" for of in range(1, 60)]
    rows[at] = f"A;{pair};{at + 1};{at + 1};{(at + 1) / 100:.2f};"
    content = "\n".join(["Test;What;Pair;End;MHz;dB;Text", "A;Link;;;;;L", *rows, ""])
    message = read(tmp_path, content, POINTS).lost
    assert f"line {at + 3}: the line has a cell more than the titles" in message


def test_rows_each_of_whose_cells_ends_in_a_mark_gained_none(tmp_path: Path) -> None:
    """A row that is filled up to its last title has a blank cell more than the others then."""
    rows = ["A;Link;;;;;L;", *(f"A;IL;1-2;;{of};{of / 100:.2f};" for of in range(1, 9))]
    rows.insert(4, "A;Who;;;;;me;")
    rows[7] += "remark;"
    content = "\n".join(["Test;What;Pair;End;MHz;dB;Text", *rows, ""])
    document = read(tmp_path, content, POINTS).document
    assert len(sweep(document, "insertion_loss 1-2")["value_db"]) == 8
