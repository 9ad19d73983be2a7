"""Whatever the order of the lines, every text is in a record or in a range that a message names."""

import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from sweepbook.record import codec
from tests.reading import Result

from .dialects import CURVES
from .reading import read
from .test_sections import BY_HEADING, FIGURES, sections

MARKS = ["", 'first_line = "Link"', 'last_line = "End"', "blank_lines = 2"]
KINDS = [
    "Link,L{n}x",
    "Link,L{n}x",
    "Note{n}x,w{n}x",
    "Note{n}x",
    "Note{n}x,",
    "Result,PASS",
    "[IL]",
    "[NEXT A]",
    "[NEXT Q]",
    "[Points]",
    "[Pairs]",
    "MHz,1-2,3-6",
    "MHz,1-2/3-6,1-2/4-5",
    "MHz,odd{n}x",
    "Pair,Length m,Delay ns",
    "1-2,61.{n}1,298.{n}1",
    "{n}.5,1.{n}1,2.{n}1",
    "{n}.5,1.{n}1,2.{n}1",
    "{n}.5,1.{n}1,2.{n}1",
    "{n}.5,1.{n}1",
    "RL,1-2,A,{n},20.{n}1",
    "Bad{n}x,1.{n}1,2.{n}1",
    "Bad{n}x,1.{n}1,2.{n}1,3.{n}1",
    "",
    "",
    "End",
    "# c{n}x",
]
ANY = st.lists(st.sampled_from(KINDS), max_size=30)
GOOD = ["Link,L{n}x", "[IL]", "MHz,1-2,3-6", "{n}.5,1.{n}1,2.{n}1", "{n}.5,1.{n}1,2.{n}1"]
LINES = ANY | ANY.map(lambda kinds: GOOD + kinds) | ANY.map(lambda kinds: [*GOOD, *kinds, *GOOD])


def covered(result: Result) -> set[int]:
    """Numbers of the lines that a problem is about: of a lost test, or of no test."""
    found: set[int] = set()
    if not result.records:
        return set(range(1, 1000))
    for problem in result.problems:
        if span := re.search(r"lines (\d+)-(\d+)", problem.place):
            found |= set(range(int(span[1]), int(span[2]) + 1))
        elif not problem.place:
            found |= set(range(1, 1000))
    return found


@pytest.mark.parametrize("marks", MARKS)
@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@example(kinds=["Link,L{n}x", "[IL]", "MHz,1-2,3-6", "{n}.5,1.{n}1,2.{n}1", "[NEXT Q]", KINDS[12]])
@example(kinds=[*GOOD, "End", "# c{n}x"])
@example(kinds=[*GOOD, "End", "# c{n}x", "Note{n}x,w{n}x"])
@given(kinds=LINES)
def test_no_text_is_lost(marks: str, kinds: list[str], tmp_path: Path) -> None:
    dialect = sections(BY_HEADING + FIGURES, marks).replace(
        '"sections"', '"sections"\ncomment = "#"'
    )
    lines = [kind.format(n=number + 100) for number, kind in enumerate(kinds, 1)]
    result = read(tmp_path, "\n".join(lines) + "\n", dialect)
    kept = " ".join(codec.dumps(record).decode() for record in result.records)
    told = " ".join(problem.message for problem in result.problems)
    excused = covered(result)
    if any(problem.lost_record for problem in result.problems):  # comments go with their test
        excused |= {number for number, line in enumerate(lines, 1) if line.startswith("#")}
    for number, line in enumerate(lines, 1):
        for text in re.findall(r"[A-Za-z]*\d+x|\d+\.\d*1(?=,|$)", line):
            assert number in excused or text in kept or text in told, (number, line)


def test_a_column_of_numbers_without_a_title_is_told(tmp_path: Path) -> None:
    result = read(tmp_path, "Link,A\nMHz,IL 1-2,\n1,1.9,30\n10,5.7,28\n", CURVES)
    assert result.records[0].document["extra"] == {"": "30\n28"}
    assert ["by the title ''" in of.message for of in result.problems] == [True]
