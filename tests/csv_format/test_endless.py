"""Files that go on and on with what nothing takes, as small packed files can, are not read on."""

import gzip
from pathlib import Path

import pytest

from .dialects import CURVES, POINTS, changed
from .reading import read

HEAD = "Link,A-17\n"
TABLE = "MHz,IL 1-2\n1,1.90\n2,2.50\n100,19.4\n"
POINT = "Test;What;Pair;End;MHz;dB;Text\n1;Link;;;;;A\n1;IL;1-2;;1;1.9;\n"
COMMENTED = changed(CURVES, "[csv]", '[csv]\ncomment = "#"')
BY_COLUMN = changed(CURVES, 'frequency = "MHz"', 'frequency = "MHz"\ntest = "Link"')


@pytest.mark.parametrize(
    ("dialect", "content", "stray", "line", "expected"),
    [
        (CURVES, HEAD + TABLE, "-x,y\n", 20_006, "20,000 rows hold no number where a frequency"),
        (CURVES, HEAD + TABLE, "x,y\n", 20_006, "20,000 lines of one test are odd"),
        (CURVES, HEAD + TABLE, "-,2\n", 20_006, "20,000 rows hold no number where a frequency"),
        (CURVES, HEAD, "x,y\n", 20_001, "20,000 lines of one test stand in no table"),
        (CURVES, HEAD, "1,2\n", 100_001, "100,000 rows stand below no known line of titles"),
        (CURVES, HEAD + TABLE, "1,2,3\n", 20_006, "20,000 lines of one test are odd"),
        (COMMENTED, HEAD + TABLE, "#\n", 100_006, "100,000 lines of one test are comments"),
        (
            BY_COLUMN,
            "Link,MHz,IL 1-2\nA,1,1.9\nA,2,2.5\n",
            "A,1\n",
            20_004,
            "20,000 lines are of another width than the titles",
        ),
        (BY_COLUMN, "Link,MHz,IL 1-2\n", 'A,"1,2\n', 20_002, "20,000 lines cannot be taken apart"),
        (POINTS, POINT, "1;IL;1-2;;;;\n", 100_003, "100,000 rows of one test are no points"),
        (POINTS, POINT, "1;XX;1-2;;1;2;\n", 100_003, "100,000 rows of one test are no points"),
    ],
)
def test_stray_lines_without_end_are_told_and_not_read_on(
    dialect: str, content: str, stray: str, line: int, expected: str, tmp_path: Path
) -> None:
    packed = gzip.compress((content + stray * (line + 5_000)).encode(), 1)
    message = read(tmp_path, packed, dialect).lost
    assert f"line {line}: more than {expected}" in message
    assert "nothing behind this line was read; " in message
    assert "remove them from the file, or see csv." in message
    titled = "if they are points, what is said of their titles comes first; else remove" in message
    assert titled == ("known line of titles" in expected)


def test_tests_before_the_stray_lines_are_kept(tmp_path: Path) -> None:
    dialect = changed(CURVES, "[csv.curves]", '[csv.test]\nlast_line = "End"\n[csv.curves]')
    found = read(tmp_path, HEAD + TABLE + "End\n" + "x,y\n" * 25_000, dialect)
    assert [record.document["link"]["label"] for record in found.records] == ["A-17"]
    assert ["nothing behind this line was read" in of.message for of in found.problems] == [True]


def test_blank_lines_without_end_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sweepbook_plugins.csv.walk._MOST_BLANK", 1000)
    assert read(tmp_path, HEAD + TABLE + ",\n" * 1000, CURVES).document["origin"]
    assert "line 1006: more than" in read(tmp_path, HEAD + TABLE + ",\n" * 9000, CURVES).lost


def test_tests_that_come_back_without_end_are_told(tmp_path: Path) -> None:
    lines = "A,1,1.9\nB,1,1.9\n" * 15_000
    problems = read(tmp_path, f"Link,MHz,IL 1-2\n{lines}", BY_COLUMN).problems
    expected = "line 20004: more than 20,000 lines begin or go on with a test that stood further up"
    assert expected in problems[-1].message
