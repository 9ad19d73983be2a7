"""A column may go by several titles: the one that is there counts, in every layout."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from tests.reading import sweep

from .dialects import CURVES, FIGURES, POINTS, changed
from .reading import read

ROWS = "1;Link;;;;;A-17\n1;IL;1-2;;1;1.9;\n1;Length;1-2;;;62.1;\n"
POINT = 'frequency = "MHz"\nvalue = "dB"'
LISTS = changed(POINTS, POINT, 'frequency = ["f/MHz", "MHz"]\nvalue = ["Wert", "dB"]').replace(
    'value = "dB"', 'value = ["Wert", "dB"]'
)
VALUES = changed(
    FIGURES,
    'value = "{parameter} ({unit})"',
    'value = ["{parameter} {unit}", "{parameter} in {unit}"]',
)


@pytest.mark.parametrize("titles", ["MHz;dB", "f/MHz;dB", "MHz;Wert", "f/MHz;Wert"])
def test_points_go_by_the_titles_that_are_there(tmp_path: Path, titles: str) -> None:
    head = f"Test;What;Pair;End;{titles};Text\n"
    document = read(tmp_path, head + ROWS, LISTS).document
    assert document["results"]["scalars"][0]["length_m"] == 62.1
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9]


def test_of_several_titles_that_are_there_the_first_of_the_list_counts(tmp_path: Path) -> None:
    head, row = "Test;What;Pair;End;MHz;dB;Wert\n", "1;Link;;;;A-17;\n1;IL;1-2;;1;7.7;1.9\n"
    dialect = LISTS.replace('value = "Text"', 'value = "dB"')
    document = read(tmp_path, head + row, dialect).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9]


@pytest.mark.parametrize("title", ["Length m", "Length in m"])
def test_figures_go_by_any_of_several_templates(tmp_path: Path, title: str) -> None:
    text = f"Link;A\n[Figures]\nPair;{title};Loop ohm\n1-2;61.2;9.1\n"
    scalars = read(tmp_path, text, VALUES).document["results"]["scalars"]
    assert [of.get("length_m", of.get("resistance_ohm")) for of in scalars] == [61.2, 9.1]


def test_a_table_without_any_of_them_says_which_are_wanted(tmp_path: Path) -> None:
    head = "Test;What;Pair;End;kHz;Wert;Text\n"
    said = read(tmp_path, head + ROWS, LISTS).lost
    assert "'f/MHz' or 'MHz'" in said
    assert "line 1 lacks" in said


@pytest.mark.parametrize("title", ["MHz", "Frequency"])
def test_the_axis_of_curves_goes_by_several_titles(tmp_path: Path, title: str) -> None:
    dialect = changed(CURVES, 'frequency = "MHz"', 'frequency = ["Frequency", "MHz"]')
    document = read(tmp_path, f"Link,A\n{title},IL 1-2\n1,1.9\n", dialect).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9]


def test_an_axis_of_points_is_no_template(tmp_path: Path) -> None:
    wrong = changed(POINTS, 'frequency = "MHz"', 'frequency = ["MHz", "{parameter} MHz"]')
    with pytest.raises(BadDialect, match="is a template; name the titles themselves"):
        read(tmp_path, "Link,A\n", wrong)
