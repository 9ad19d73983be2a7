"""First lines and keys of which a number differs from test to test: "Run 2 of 3,B"."""

from pathlib import Path

import pytest

from .dialects import changed
from .reading import read
from .test_sections import LAYOUT_OF_SECTIONS, sections

TABLE = '[[csv.sections]]\ncurves = { frequency = "MHz", name = "{parameter} {pairs}" }\n'


def export(first_line: str) -> str:
    """Three tests, each with a line that begins with the same word, too."""
    return "".join(
        f"{first_line.format(number, label)}\nRun by,Ida\nMHz,IL 1-2\n1,{number}.9\n"
        for number, label in enumerate(("A-1", "B-7", "C-3"), 1)
    )


def dialect(first_line: str, key: str) -> str:
    made = changed(
        sections(TABLE),
        LAYOUT_OF_SECTIONS,
        f'{LAYOUT_OF_SECTIONS}test.first_line = "{first_line}"\n',
    )
    return changed(made, '"Link"', f'"{key}"')


@pytest.mark.parametrize(
    ("line", "first_line", "key"),
    [
        ("Run {} of 3,{}", "Run {number} of {number}", "Run {number} of {number}"),
        ("Run {}/3,{}", "Run {number}/{number}", "Run {number}/{number}"),
        ("{} of 3: {}", "{number} of {number}: {}", "{number} of {number}: {}"),
        ("== Run {}: {} ==", "== Run {number}: {} ==", "== Run {number}: {} =="),
        ("Run {} of 3: {}", "Run {number} of {number}:", "Run {number} of {number}:"),
    ],
)
def test_a_number_in_a_first_line_says_nothing(
    line: str, first_line: str, key: str, tmp_path: Path
) -> None:
    result = read(tmp_path, export(line), dialect(first_line, key))
    assert result.problems == []
    assert [record.label for record in result.records] == ["A-1", "B-7", "C-3"]
    assert all(record.document["extra"] == {"Run by": "Ida"} for record in result.records)


def test_a_key_of_any_line_may_count(tmp_path: Path) -> None:
    text = "".join(
        f"--- start\nRun {number} of 3,{label}\nMHz,IL 1-2\n1,1.9\n"
        for number, label in enumerate("ABC", 1)
    )
    result = read(tmp_path, text, dialect("--- start", "Run {number} of {number}"))
    assert result.problems == []
    assert [record.label for record in result.records] == ["A", "B", "C"]


def test_what_is_no_whole_number_begins_no_test(tmp_path: Path) -> None:
    text = "Run two of 3,B\nMHz,IL 1-2\n1,1.9\n"
    result = read(tmp_path, text, dialect("Run {number} of {number}", "Run {number} of {number}"))
    assert "no line begins with 'Run {number} of {number}'" in result.lost
