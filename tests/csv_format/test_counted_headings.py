"""Headings that count the tests of a file: a person is told to take them for first lines."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect

from .dialects import changed
from .reading import read
from .test_sections import BY_HEADING, LAYOUT_OF_SECTIONS, ONE, sections

COUNTED = "".join(
    f"[Run 0{number}/3]\nLink,{label}\n[IL]\nMHz,1-2\n1,1.9\n"
    for number, label in enumerate("ABC", 1)
)


def test_headings_that_count_the_tests_are_told(tmp_path: Path) -> None:
    """Each message says all that is to be done, and what is done by it reads."""
    counted = "".join(f'[[csv.sections]]\nheading = "[Run 0{n}/3]"\n' for n in (1, 2, 3))
    plain = sections(BY_HEADING)
    headed = changed(sections(counted + BY_HEADING), '"Link"', '"[Run 01/3]/Link"')
    out = "take these sections out and '[Run 01/3]/' and the like off the keys"
    message = read(tmp_path, COUNTED, headed).lost
    assert "at the headings '[Run 01/3]', '[Run 02/3]' and 1 more, which differ by a" in message
    assert f'add csv.test.first_line = "[Run", and {out}' in message
    first_line = f'{LAYOUT_OF_SECTIONS}test.first_line = "[Run"\n'
    with pytest.raises(BadDialect) as refused:
        read(tmp_path, COUNTED, changed(headed, LAYOUT_OF_SECTIONS, first_line))
    assert f"begin as csv.test.first_line says that a test does; {out}" in str(refused.value)
    result = read(tmp_path, COUNTED, changed(plain, LAYOUT_OF_SECTIONS, first_line))
    assert result.problems == []
    assert [record.label for record in result.records] == ["A", "B", "C"]


def test_headings_with_numbers_that_begin_no_test_are_headings(tmp_path: Path) -> None:
    units = "".join(f'[[csv.sections]]\nheading = "[Unit {number}]"\n' for number in (1, 2))
    text = f"{ONE}[Unit 1]\nSerial,U-7\n[Unit 2]\nSerial,U-8\n"
    first_line = f'{LAYOUT_OF_SECTIONS}test.first_line = "Link"\n'
    table = '[[csv.sections]]\ncurves = { frequency = "MHz", name = "{parameter} {pairs}" }\n'
    dialect = changed(sections(units + table), LAYOUT_OF_SECTIONS, first_line)
    (record,) = read(tmp_path, text, dialect).records
    assert record.document["extra"] == {"[Unit 1]/Serial": "U-7", "[Unit 2]/Serial": "U-8"}
