"""Titles above the curves whose values stand in the line below them."""

from pathlib import Path

import pytest

from tests.reading import sweep

from .dialects import CURVES
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
