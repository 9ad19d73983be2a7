"""Titles above the curves whose values stand in the line below them."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import parse
from sweepbook.formats import Strength
from sweepbook_plugins.csv.identify import claim_of
from tests.reading import sweep

from .dialects import CURVES, changed
from .reading import read

TABLE = "\nMHz,IL 1-2\n1,1.9\n2,2.5\n"
TITLED = CURVES.replace("[csv.curves]", 'preamble.titles = ["Link"]\n\n[csv.curves]', 1)


@pytest.mark.parametrize("row", ["A-17,ann", " A-17 , ann ", "A-17,ann,"])
def test_each_title_is_the_key_of_the_value_below_it(tmp_path: Path, row: str) -> None:
    document = read(tmp_path, f"Link,Remark\n{row}\n{TABLE}", TITLED).document
    assert document["link"]["label"] == "A-17"
    assert document["extra"]["Remark"] == "ann"
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]


def test_a_value_that_is_missing_leaves_its_title(tmp_path: Path) -> None:
    document = read(tmp_path, f"Link,Remark,Wing\nA-17,,north\n{TABLE}", TITLED).document
    assert (document["extra"]["Remark"], document["extra"]["Wing"]) == ("", "north")


@pytest.mark.parametrize("below", ["", "A-17\n", "A-17,ann,more\n"])
def test_titles_without_as_many_values_are_an_ordinary_line(tmp_path: Path, below: str) -> None:
    document = read(tmp_path, f"Link,A-9\n{below}{TABLE}", TITLED).document
    assert document["link"]["label"] == "A-9"


TWO_LINES = changed(
    CURVES,
    '[csv.curves]\nfrequency = "MHz"',
    'upper_titles = ["Frequency"]\n[csv.curves]\nfrequency = "Frequency MHz"',
)


@pytest.mark.parametrize(
    "upper", ["Frequency,IL,,RL,RL", "Frequency,IL,IL,RL", " Frequency , IL ,,RL, "]
)
def test_titles_may_take_two_lines(tmp_path: Path, upper: str) -> None:
    lower, rows = "MHz,1-2,3-6,1-2 A,1-2 B", "1,1.9,1.8,30.1,30.2\n2,2.5,2.4,29.9,29.8\n"
    document = read(tmp_path, f"Link,A-17\n\n{upper}\n{lower}\n{rows}", TWO_LINES).document
    assert sweep(document, "insertion_loss 3-6")["value_db"].tolist() == [1.8, 2.4]
    assert sweep(document, "return_loss near 1-2")["value_db"].tolist() == [30.1, 29.9]
    assert sweep(document, "return_loss far 1-2")["value_db"].tolist() == [30.2, 29.8]
    assert "extra" not in document


def test_an_upper_line_without_titles_below_is_an_ordinary_one(tmp_path: Path) -> None:
    text = "Link,A-17\nFrequency,top\nNote,x\nFrequency,IL\nMHz,1-2\n1,1.9\n2,2.5\n"
    assert read(tmp_path, text, TWO_LINES).document["extra"] == {"Frequency": "top", "Note": "x"}


def test_a_file_is_recognised_by_titles_of_two_lines() -> None:
    dialect = parse(TWO_LINES.encode(), "two.toml")
    claim = claim_of(b"Link,A-17\nFrequency,IL\nMHz,1-2\n1,1.9\n", dialect)
    assert claim is not None
    assert claim.strength is Strength.STRUCTURE


def test_a_second_table_may_begin_so_right_below_the_first(tmp_path: Path) -> None:
    kind = 'curves = {{ frequency = "{} MHz", name = "{{parameter}} {{pairs}}" }}'
    sections = "".join(f"[[csv.sections]]\n{kind.format(word)}\n" for word in ("F", "G"))
    head, _, tail = TWO_LINES.partition("[csv.curves]")
    dialect = head.replace("curve-per-column", "sections").replace('"Frequency"', '"F", "G"')
    dialect += f"{sections}[fields]{tail.partition('[fields]')[2]}"
    tables = "F,IL\nMHz,1-2\n1,1.9\n2,2.5\nG,IL\nMHz,3-6\n1,1.8\n2,2.4\n"
    document = read(tmp_path, f"Link,A-17\n\n{tables}", dialect).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]
    assert sweep(document, "insertion_loss 3-6")["value_db"].tolist() == [1.8, 2.4]


def test_the_title_of_the_axis_may_stand_above_alone(tmp_path: Path) -> None:
    dialect = changed(
        CURVES,
        '[csv.curves]\nfrequency = "MHz"',
        'upper_titles = ["MHz"]\n[csv.curves]\nother_rows = ["in"]\nfrequency = "MHz"',
    )
    text = "Link,A-17\n\nMHz,IL,,RL\n,1-2,3-6,1-2 A\nin,dB,dB,dB\n1,1.9,1.8,30.1\n2,2.5,2.4,29.9\n"
    document = read(tmp_path, text, dialect).document
    assert sweep(document, "insertion_loss 3-6")["value_db"].tolist() == [1.8, 2.4]
    assert sweep(document, "return_loss near 1-2")["value_db"].tolist() == [30.1, 29.9]
    below = read(tmp_path, "Link,A-17\nMHz,IL 1-2\n1,1.9\n", dialect).document
    assert sweep(below, "insertion_loss 1-2")["value_db"].tolist() == [1.9]
