"""A column of frequencies for each curve: small files written by hand, with what they must give."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sweepbook.limits.lines import unrounded_line
from sweepbook.numerals import POINT
from sweepbook_plugins.csv.axis_columns import may_be_axis
from tests.reading import LIBRARY, axis, sweep

from .dialects import CURVES, LEAST, changed
from .reading import read

NUMBERED = changed(CURVES, 'frequency = "MHz"', 'frequency = "f{number}"')
LISTED = changed(CURVES, 'frequency = "MHz"', 'frequency = ["f1", "f2"]')
NAMED = changed(
    changed(CURVES, 'frequency = "MHz"', 'frequency = "{parameter} {pairs} MHz"'),
    'name = ["{parameter} {pairs}", "{parameter} {pairs} {end}"]',
    'name = "{parameter} {pairs} dB"',
)


def points(document: dict[str, Any], name: str) -> list[tuple[float, float]]:
    curve = sweep(document, name)
    return list(zip(axis(document, curve), curve["value_db"].tolist(), strict=True))


ONE = [(1.0, 1.9), (10.0, 5.7), (100.0, 19.4)]
OTHER = [(1.0, 1.8), (20.0, 8.1)]


@pytest.mark.parametrize(
    ("dialect", "titles"),
    [
        (NUMBERED, "f1,IL 1-2,f2,IL 3-6"),
        (LISTED, "f1,IL 1-2,f2,IL 3-6"),
        (CURVES, "MHz,IL 1-2,MHz,IL 3-6"),
        (NAMED, "IL 1-2 MHz,IL 1-2 dB,IL 3-6 MHz,IL 3-6 dB"),
    ],
)
@pytest.mark.parametrize("many", [0, 40])
def test_each_curve_goes_by_the_frequencies_beside_it(
    dialect: str, titles: str, many: int, tmp_path: Path
) -> None:
    """The second curve ends before the first; the longer file is kept as bytes."""
    more = [(float(200 + at), 20.0 + at / 4) for at in range(many)]
    rows = "1,1.9,1,1.8\n10,5.7,20,8.1\n100,19.4,,\n"
    rows += "".join(f"{mhz:g},{db:.2f},,\n" for mhz, db in more)
    document = read(tmp_path, f"Link,A\n{titles}\n{rows}", dialect).document
    assert points(document, "insertion_loss 1-2") == [*ONE, *more]
    assert points(document, "insertion_loss 3-6") == OTHER
    assert "extra" not in document


def test_titles_that_name_a_curve_count_before_where_they_stand(tmp_path: Path) -> None:
    content = "IL 1-2 dB,IL 3-6 dB,IL 3-6 MHz,IL 1-2 MHz\n1.9,1.8,1,1\n5.7,8.1,20,10\n"
    document = read(tmp_path, f"Link,A\n{content}", NAMED).document
    assert points(document, "insertion_loss 1-2") == ONE[:2]
    assert points(document, "insertion_loss 3-6") == OTHER


def test_several_curves_may_share_one_of_the_columns(tmp_path: Path) -> None:
    content = "f1,IL 1-2,IL 3-6,f2,RL 1-2 A\n1,1.9,1.8,2,30\n10,5.7,5.5,4,28\n"
    document = read(tmp_path, f"Link,A\n{content}", NUMBERED).document
    assert [grid["id"] for grid in document["results"]["grids"]] == ["g1", "g2"]
    assert points(document, "insertion_loss 3-6") == [(1.0, 1.8), (10.0, 5.5)]
    assert points(document, "return_loss near 1-2") == [(2.0, 30.0), (4.0, 28.0)]


def test_the_first_curve_may_end_before_the_second(tmp_path: Path) -> None:
    content = "f1,IL 1-2,f2,IL 3-6\n1,1.9,1,1.8\n,,20,8.1\n"
    document = read(tmp_path, f"Link,A\n{content}", NUMBERED).document
    assert points(document, "insertion_loss 1-2") == ONE[:1]
    assert points(document, "insertion_loss 3-6") == OTHER


def test_tests_told_apart_by_a_column_have_axes_of_their_own_too(tmp_path: Path) -> None:
    dialect = changed(NUMBERED, "[csv.curves]", '[csv.curves]\ntest = "Link"')
    content = "Link,f1,IL 1-2,f2,IL 3-6\nA,1,1.9,1,1.8\nA,10,5.7,20,8.1\nB,1,2.0,3,2.1\n"
    first, second = (of.document for of in read(tmp_path, content, dialect).records)
    assert points(first, "insertion_loss 3-6") == OTHER
    assert points(second, "insertion_loss 3-6") == [(3.0, 2.1)]


def test_titles_of_two_lines_name_the_columns_of_frequencies(tmp_path: Path) -> None:
    dialect = changed(
        NAMED,
        'layout = "curve-per-column"',
        'layout = "curve-per-column"\nupper_titles = ["IL 1-2"]',
    )
    content = "IL 1-2,,IL 3-6,\nMHz,dB,MHz,dB\n1,1.9,1,1.8\n10,5.7,20,8.1\n"
    document = read(tmp_path, f"Link,A\n{content}", dialect).document
    assert points(document, "insertion_loss 1-2") == ONE[:2]
    assert points(document, "insertion_loss 3-6") == OTHER


@pytest.mark.parametrize(
    ("content", "dialect", "told"),
    [
        (
            "f1,IL 1-2,f2,IL 3-6\n1,1.9,1,1.8\n10,5.7,,8.1\n",
            NUMBERED,
            ["line 4, column 'IL 3-6'", "'8.1' stands beside a blank cell", "'f2', cell 3"],
        ),
        (
            "f1,IL 1-2,f2,IL 3-6\n1,1.9,1,1.8\n10,5.7,20,\n",
            NUMBERED,
            ["line 4, column 'IL 3-6'", "numbers.missing"],
        ),
        (
            "IL 1-2,f1,IL 3-6,f2\n1.9,1,1.8,1\n5.7,10,8.1,20\n",
            NUMBERED,
            ["line 2, column 'IL 1-2'", "no column of frequencies", "csv.curves.frequency"],
        ),
        (
            "IL 1-2 MHz,IL 1-2 dB,RL 3-6 MHz,IL 3-6 dB\n1,1.9,1,1.8\n",
            NAMED,
            ["line 2, column 'IL 3-6 dB'", "or is named like it"],
        ),
        (
            "f1,IL 1-2,f2,IL 3-6\n1,1.9,1,1.8\n10,5.7\n",
            NUMBERED,
            ["line 4", "2 cells where the titles have 4"],
        ),
        (
            "f1,IL 1-2,f2,IL 3-6\n1,1.9,1000,1.8\n10,5.7,20000,8.1\n",
            NUMBERED,
            ["column 'f2'", "units.frequency"],
        ),
        (
            "f1,IL 1-2,F2,IL 3-6\n1,1.9,1,1.8\n10,5.7,20,8.1\n",
            NUMBERED,
            ["line 2, column 'IL 3-6'", "'f1' or under 'F2'", "csv.curves.frequency"],
        ),
        (
            "f1,IL 1-2,,IL 3-6,f3,RL 1-2 A\n1,1.9,1,1.8,1,30\n10,5.7,20,8.1,10,28\n",
            NUMBERED,
            ["line 2, column 'IL 3-6'", "'f1' or under ''", "csv.curves.other_columns"],
        ),
        (
            "MHz,IL 1-2,MHz 2,IL 3-6\n1,1.9,2,1.8\n2,5.7,3,8.1\n3,7.0,4,9.0\n4,8.0,,\n",
            CURVES,
            ["line 2, column 'IL 3-6'", "'MHz' or under 'MHz 2'", "csv.curves.frequency"],
        ),
        (
            "MHz,IL 1-2,MHz 2,IL 3-6\n1,1.9,3,1.8\n2,5.7,7,8.1\n4,7.0,11,9.0\n",
            CURVES,
            ["line 2, column 'IL 3-6'", "'MHz' or under 'MHz 2'", "csv.curves.frequency"],
        ),
        (
            "MHz,IL 1-2,,IL 3-6\n"
            + "".join(f"{at},1.{at},{2.5 + at / 4},2.{at}\n" for at in range(1, 13)),
            CURVES,
            ["line 2, column 'IL 3-6'", "'MHz' or under ''", "csv.curves.other_columns"],
        ),
        (
            "IL 1-2 MHz,IL 1-2 dB,IL 6-3 MHz,IL 3-6 dB\n1,1.9,1,1.8\n10,5.7,20,8.1\n",
            NAMED,
            ["line 2, column 'IL 3-6 dB'", "or is named like it"],
        ),
    ],
)
def test_what_cannot_be_told_is_refused(
    content: str, dialect: str, told: list[str], tmp_path: Path
) -> None:
    message = read(tmp_path, f"Link,A\n{content}", dialect).lost
    assert all(text in message for text in told), message


@pytest.mark.parametrize("limit", ["2.1,3.2,4", "1,2,3", "1,2,2"])
def test_a_limit_between_is_no_column_of_frequencies(limit: str, tmp_path: Path) -> None:
    """Nor is one that repeats all of them: it changes nothing."""
    rows = "".join(f"{at},{of},1.{at}\n" for at, of in zip("123", limit.split(","), strict=True))
    result = read(tmp_path, f"Link,A\nMHz,most,IL 1-2\n{rows}", CURVES)
    (record,) = result.records
    assert points(record.document, "insertion_loss 1-2") == [(1.0, 1.1), (2.0, 1.2), (3.0, 1.3)]


@pytest.mark.parametrize(
    ("step", "decimals"), [(0.25, 2), (0.25, 3), (1.0, 1), (1.0, 2), (5.0, 1), (25.0, 2)]
)
def test_no_limit_that_rises_is_taken_for_frequencies(step: float, decimals: int) -> None:
    """Insertion loss of the limit tables, whose sources stand there, over sweeps of even steps."""
    tried = 0
    for path in LIBRARY.paths():
        table = LIBRARY.table(path)
        if "insertion_loss" in table.parameters:
            mhz = np.arange(step, 2_000.0, step)
            line = unrounded_line(table, "insertion_loss", mhz).value
            texts = [f"{of:.{decimals}f}" for of in line[np.isfinite(line)]]
            if len(texts) == len(set(texts)) >= 10:
                known = frozenset(f"{of:g}" for of in mhz)
                assert not may_be_axis("Max", texts, known, POINT), path
                tried += 1
    assert tried


def test_a_curve_without_any_point_is_told_and_left_out(tmp_path: Path) -> None:
    result = read(tmp_path, "Link,A\nf1,IL 1-2,f2,IL 3-6\n1,1.9,,\n10,5.7,,\n", NUMBERED)
    (document,) = (of.document for of in result.records)
    assert points(document, "insertion_loss 1-2") == ONE[:2]
    assert len(document["results"]["sweeps"]) == 1
    (problem,) = result.problems
    assert problem.place == "line 2, column 'IL 3-6'"
    assert "has no point here" in problem.message


def test_frequencies_that_name_another_curve_are_not_taken(tmp_path: Path) -> None:
    """One column names its curve, one a parameter, one none: the nearest is not always meant."""
    frequency = '["MHz", "{parameter} {pairs} MHz", "{parameter} MHz"]'
    dialect = changed(NAMED, '"{parameter} {pairs} MHz"', frequency)
    both = '["{parameter} {pairs} dB", "{parameter} {pairs} {end} dB"]'
    dialect = changed(dialect, '"{parameter} {pairs} dB"', both)
    titles = "MHz,IL 1-2 MHz,IL 1-2 dB,IL 3-6 dB,RL MHz,RL 1-2 A dB,RL 3-6 A dB,NEXT 1-2/3-6 A dB"
    content = f"{titles}\n1,1,1.9,1.8,2,30,31,60\n20,10,5.7,8.1,4,28,29,50\n"
    document = read(tmp_path, f"Link,A\n{content}", dialect).document
    assert points(document, "insertion_loss 1-2") == ONE[:2]
    assert points(document, "insertion_loss 3-6") == OTHER
    assert points(document, "return_loss near 3-6") == [(2.0, 31.0), (4.0, 29.0)]
    assert points(document, "next near 1-2/3-6") == [(1.0, 60.0), (20.0, 50.0)]


def test_frequencies_of_an_unknown_curve_are_kept(tmp_path: Path) -> None:
    content = "f1,IL 1-2,f2,Hum 3-6\n1,1.9,1,5\n10,5.7,20,6\n"
    result = read(tmp_path, f"Link,A\n{content}", NUMBERED)
    assert result.records[0].document["extra"] == {"f2": "1\n20", "Hum 3-6": "5\n6"}
    assert ["'Hum 3-6'" in of.message for of in result.problems] == [True]


@pytest.mark.parametrize(
    ("frequency", "told"),
    [
        ('"{parameter} f{number}"', "csv.curves.frequency: '{parameter} f{number}' may hold"),
        ('"{side} MHz"', "csv.curves.frequency: '{side} MHz' may hold these only"),
    ],
)
def test_a_template_that_cannot_be_is_refused(frequency: str, told: str, tmp_path: Path) -> None:
    from sweepbook.dialect.load import BadDialect

    dialect = changed(LEAST, 'frequency = "MHz"', f"frequency = {frequency}")
    with pytest.raises(BadDialect) as raised:
        read(tmp_path, "", dialect)
    assert raised.value.problems[0].startswith(told)
