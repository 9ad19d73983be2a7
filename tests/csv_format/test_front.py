"""Frequencies behind numbers that are none: a running one, a count, start and step.

All files are made here, so that it is known which value belongs to which frequency.
"""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect

from .reading import read
from .test_curve_rows import AXIS_ROW, dialect, numbers
from .test_curve_rows import WORDS as ROW_WORDS

RISING = [round(1000 * 1.12**n) for n in range(40)]
EVEN = [1000 * n for n in range(1, 41)]
HEAD = """
schema = "urn:sweepbook:dialect-0"
name = "marked"
title = "marked"
format = "csv"
[csv]
layout = "sections"
delimiter = ";"
test.first_line = "T;"
[[csv.sections]]
mark = "T"
columns = ["mark", "Cable"]
[[csv.sections]]
mark = "C"
columns = ["mark", "no", "Par", "Pair", "End", "n"]
[csv.sections.rows.curve]
name = { Par = "{parameter}", Pair = "{pairs}", End = "{end}" }
frequency = "F"
"""
WORDS = ROW_WORDS + '[units]\nfrequency = "kHz"\n'
EARLY = "ends_early = true\n"


def line(*cells: object) -> str:
    return ";".join(map(str, cells)) + "\n"


def marked(front: list[object], frequencies: list[int], *lengths: int) -> str:
    """A test of curves of so many values, each the number of its frequency in tenths."""
    text = line("T", "A-17") + line("F", *front, *frequencies)
    pairs = ("12", "36", "45", "78")
    for pair, length in zip(pairs, lengths, strict=False):
        values = [f"{n // 10},{n % 10}" for n in range(1, length + 1)]
        text += line("C", "00941", "IL", pair, "", length, *values)
    return text


@pytest.mark.parametrize("frequencies", [RISING, EVEN])
@pytest.mark.parametrize("front", [["00941"], ["00041", 40], [40], [7, 40, 1000, 40000, 1000]])
@pytest.mark.parametrize("early", ["", EARLY])
def test_no_curve_that_goes_on_to_the_last_of_its_frequencies_is_read(
    early: str, front: list[object], frequencies: list[int], tmp_path: Path
) -> None:
    """With `ends_early` each value would be read some points further left, and may pass there."""
    said = read(tmp_path, marked(front, frequencies, 40, 40), HEAD + early + WORDS).lost
    assert f"line 2: {40 + len(front)} numbers stand here for frequencies" in said
    assert f"what they begin with, {', '.join(repr(str(of)) for of in front)}," in said
    assert "csv.sections.1.rows.curve.frequency" in said
    assert "ends_early" not in said


def test_a_count_in_front_is_seen_though_curves_are_of_several_lengths(tmp_path: Path) -> None:
    content = marked([5, 40], RISING, 31, 25)
    said = read(tmp_path, content, HEAD + EARLY + WORDS).lost
    assert "what they begin with, '5', '40', seems to be no frequency" in said


def test_curves_may_end_early_where_one_goes_on_to_the_end(tmp_path: Path) -> None:
    result = read(tmp_path, marked([], EVEN, 40, 30), HEAD + EARLY + WORDS)
    assert result.problems == []
    assert numbers(result, "insertion_loss 1-2")[-1] == (40.0, 4.0)
    assert numbers(result, "insertion_loss 3-6")[-1] == (30.0, 3.0)


def test_frequencies_that_end_far_behind_every_curve_of_a_test_are_read(tmp_path: Path) -> None:
    """As where a tester writes those of the widest sweep that it knows, whatever it measured."""
    result = read(tmp_path, marked([], EVEN, 25, 25), HEAD + EARLY + WORDS)
    assert numbers(result, "insertion_loss 3-6")[-1] == (25.0, 2.5)


def test_a_line_for_every_test_of_a_file_may_have_frequencies_that_one_lacks(
    tmp_path: Path,
) -> None:
    above = "Freq;1,0;2,5;100\nCable;Par;Pair;End\n"
    text = dialect('frequency = "Freq"\nends_early = true')
    content = f"{above}A;IL;12;;1,9;3,0\nB;IL;12;;2,0;3,1;19,9\n"
    result = read(tmp_path, content, text)
    assert [*numbers(result, "insertion_loss 1-2")] == [(1.0, 1.9), (2.5, 3.0)]


@pytest.mark.parametrize("front", [[40], ["00003", 40]])
def test_a_count_that_stands_in_front_of_values_as_well_is_none_of_them(
    front: list[object], tmp_path: Path
) -> None:
    values = [f"{n // 10},{n % 10}" for n in range(1, 41)]
    content = (
        line("Cable", "Par", "Pair", "End", "v1")
        + line("A", "Freq", "", "", *front, *RISING)
        + line("A", "IL", "12", "", *front, *values)
        + line("A", "IL", "36", "", *front, *values)
    )
    said = read(tmp_path, content, dialect(AXIS_ROW, words=WORDS)).lost
    assert "of which one counts the 40 behind: what stands in front is no frequency" in said
    assert "(the same in 2 curves)" in said


def test_each_row_of_frequencies_between_marked_rows_counts_from_there_on(tmp_path: Path) -> None:
    """Rows of two sweeps of one test, over as many frequencies each."""
    content = (
        line("T", "A-17")
        + line("F", *EVEN)
        + line("C", "1", "IL", "12", "", 40, *(["1,0"] * 40))
        + line("F", *[of * 2 for of in EVEN])
        + line("C", "1", "RL", "12", "A", 40, *(["20,0"] * 40))
    )
    result = read(tmp_path, content, HEAD + WORDS)
    assert result.problems == []
    assert numbers(result, "insertion_loss 1-2")[-1] == (40.0, 1.0)
    assert numbers(result, "return_loss near 1-2")[-1] == (80.0, 20.0)


SAID = HEAD.replace(
    """[[csv.sections]]
mark = "C"
""",
    """[[csv.sections]]
mark = "F"
columns = ["mark", "no", "count", "f1"]
frequencies = "f1"
[[csv.sections]]
mark = "C"
""",
)


@pytest.mark.parametrize("front", [["00941", 40], ["00941", "*"]])
def test_a_dialect_says_where_frequencies_begin(front: list[object], tmp_path: Path) -> None:
    result = read(tmp_path, marked(front, RISING, 40, 40), SAID + WORDS)
    assert result.problems == []
    for name in ("insertion_loss 1-2", "insertion_loss 3-6"):
        read_out = numbers(result, name)
        assert read_out == [(of / 1000, (n + 1) / 10) for n, of in enumerate(RISING)]


def test_what_stands_in_front_of_frequencies_is_a_key(tmp_path: Path) -> None:
    (record,) = read(tmp_path, marked([941, 40], RISING, 40), SAID + WORDS).records
    assert record.document["extra"]["count"] == "40"


def test_every_curve_may_end_early_where_the_dialect_says_where_frequencies_begin(
    tmp_path: Path,
) -> None:
    result = read(tmp_path, marked([1, 2], EVEN, 38, 38), SAID + EARLY + WORDS)
    assert numbers(result, "insertion_loss 3-6")[-1] == (38.0, 3.8)


def test_a_column_of_a_count_is_no_place_where_frequencies_begin(tmp_path: Path) -> None:
    wrong = SAID.replace(', "f1"]', "]").replace('= "f1"', '= "count"')
    for early in ("", EARLY):
        said = read(tmp_path, marked([941, 40], RISING, 40, 40), wrong + early + WORDS).lost
        assert "'40'" in said


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('frequencies = "f1"', 'frequencies = "no"', "'no' is not the last of csv.sections.1.col"),
        ('frequency = "F"', 'frequency = "G"', "no rows.curve has frequency = 'F'"),
        (
            'frequencies = "f1"',
            'frequencies = "f1"\nrows.property = {key="no", value="count"}',
            "go",
        ),
    ],
)
def test_frequencies_of_no_curves_are_refused(
    old: str, new: str, said: str, tmp_path: Path
) -> None:
    assert SAID.count(old) == 1
    with pytest.raises(BadDialect, match=said.replace(".", r"\.")):
        read(tmp_path, marked([941, 40], RISING, 40), SAID.replace(old, new) + WORDS)
