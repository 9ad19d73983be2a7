"""Mistakes planted in an export or its dialect are told with their place and the key to change."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.csv_format.dialects import CURVES, changed
from tests.csv_format.reading import read as read_csv
from tests.reading import Result
from tests.xml_format.reading import LISTS
from tests.xml_format.reading import read as read_xml

TABLE = """Link,A-17
Length 1-2,62.1
Delay 1-2,301
MHz,IL 1-2,RL 1-2 A,NEXT 1-2/3-6 A
1,1.9,27.3,80.2
10,5.9,27.1,60.2
250,30.4,15.1,35.0
"""
XML = """<r>
<axis id="a">1 10 250</axis>
<t label="A-17">
<c of="IL" pair="1-2" axis="a">1.9 5.9 30.4</c>
<c of="RL" pair="1-2" end="A" axis="a">27.3 27.1 15.1</c>
</t></r>"""
MISSING = 'missing = ["--"]'
Plant = Callable[[str, str], tuple[str, str]]


def plant(old: str, new: str, key: str = "") -> Plant:
    """A mistake: one text of the export, or of the dialect if a key is named, that is another."""

    def planted(content: str, dialect: str) -> tuple[str, str]:
        if key:
            return content, f"{dialect}\n[{key}]\n{new}\n"
        return changed(content, old, new), dialect

    return planted


def each(pattern: str, into: str, marks: str = "", separator: bool = False) -> Plant:
    """A mistake that every number has."""

    def planted(content: str, dialect: str) -> tuple[str, str]:
        if marks:
            dialect = changed(dialect, MISSING, f"{MISSING}\n{marks}")
        if separator:
            dialect = changed(dialect, 'values = "."', 'values = "."\nseparator = ","')
        return re.sub(pattern, into, content, flags=re.MULTILINE), dialect

    return planted


IN_TABLE = {
    "kHz for MHz": (each(r"^(\d+)(?=,)", r"\g<1>000"), "line 7, column 'MHz'", "units.frequency"),
    "MHz for kHz": (plant("", 'frequency = "kHz"', "units"), "line 7", "units.frequency"),
    "ns for us": (plant("", 'delay = "us"', "units"), "line 3: '301'", "units.delay"),
    "ns for ps": (plant("", 'delay = "ps"', "units"), "line 3: '301'", "units.delay"),
    "negative": (
        each(r"(?<=,)([\d.]+)(?=,|$)", r"-\1"),
        "line 5, column 'IL 1-2'",
        "signs.negative",
    ),
    "turned for nothing": (
        plant("", 'negative = ["return_loss"]', "signs"),
        "line 5, column 'RL 1-2 A'",
        "take it out of signs.negative",
    ),
    "decimal comma": (each(r"(\d)\.(\d)", r"\1,\2"), "line 5", "another delimiter"),
    "quoted decimal comma": (each(r"(\d+)\.(\d)", r'"\1,\2"'), "line 5", "numbers.decimal"),
    "decimal for thousands": (
        each(r"(\d+)\.(\d)", r'"\1,\g<2>00"', 'thousands = ","'),
        "line 5",
        "numbers.thousands",
    ),
    "a cell too few": (plant("10,5.9,27.1,60.2", "10,5.9,27.1"), "line 6", "csv.delimiter"),
    "a cell too many": (plant("10,5.9,", "10,5,9,"), "line 6", "numbers.decimal"),
    "another unit": (plant("5.9,", "5.9 Np,"), "'5.9 Np'", "units.loss"),
    "a frequency of 0": (plant("\n1,1.9", "\n0,1.9"), "line 5, column 'MHz'", "numbers.decimal"),
}
IN_LISTS = {
    "kHz for MHz": (plant("1 10 250", "1000 10000 250000"), "line 2, /r/axis", "units.frequency"),
    "negative": (plant("1.9 5.9 30.4", "-1.9 -5.9 -30.4"), "line 4", "signs.negative"),
    "too short": (plant("1.9 5.9 30.4", "1.9 5.9"), "line 4", "has 2 values where the axis 'a'"),
    "too long": (plant("1.9 5.9", "1.9 5.9 9"), "line 4", "separator"),
    "decimal comma": (each(r"(\d)\.(\d)", r"\1,\2"), "line 4", "numbers.decimal"),
    "decimal comma as separator": (
        each(r"(\d+)\.(\d+) ?", r"\1,\2,", separator=True),
        "line 4",
        "as if ',' were the decimal mark as well as the separator",
    ),
    "no such axis": (plant('"1-2" axis="a"', '"1-2" axis="b"'), "line 4", "xml.axes"),
}


@pytest.mark.parametrize("what", IN_TABLE)
def test_a_mistake_in_a_table_is_told(what: str, tmp_path: Path) -> None:
    planted, place, key = IN_TABLE[what]
    holds(read_csv(tmp_path, *planted(TABLE, CURVES)), place, key)


@pytest.mark.parametrize("what", IN_LISTS)
def test_a_mistake_in_lists_is_told(what: str, tmp_path: Path) -> None:
    planted, place, key = IN_LISTS[what]
    holds(read_xml(tmp_path, *planted(XML, LISTS)), place, key)


def holds(result: Result, place: str, key: str) -> None:
    """The test is not read, and the message says where, and which key to change."""
    assert place in result.lost
    assert key in result.lost


@pytest.mark.parametrize(("axis", "word"), [("1 10 10", "repeats at 10"), ("1 250 10", "falls at")])
def test_an_axis_that_does_not_rise_is_kept_and_told(axis: str, word: str, tmp_path: Path) -> None:
    result = read_xml(tmp_path, changed(XML, "1 10 250", axis), LISTS)
    assert len(result.records) == 1
    (note,) = result.problems
    assert note.place == "line 2, /r/axis, value 3"
    assert word in note.message
    assert "xml.test" in note.message


def test_without_a_mistake_both_are_read(tmp_path: Path) -> None:
    assert read_csv(tmp_path, TABLE, CURVES).document["link"]["label"] == "A-17"
    assert read_xml(tmp_path, XML, LISTS).document["link"]["label"] == "A-17"
