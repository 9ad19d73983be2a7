"""A test that is larger than any ends the reading of its file, before it fills the memory."""

from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook_plugins.csv import bounds, lines

from .dialects import CURVES, POINTS
from .reading import read

TITLES = "Test;What;Pair;End;MHz;dB;Text\n"


def _curves(tests: int, points: int) -> str:
    """One test after another, told apart by nothing."""
    rows = "".join(f"{at},{at / 100:.2f}\n" for at in range(1, points + 1))
    return f"Link,L\nMHz,IL 1-2\n{rows}" * tests


def _points(tests: int, points: int) -> str:
    """One test after another, told apart by a column."""
    return TITLES + "".join(
        f"{test};Link;;;;;L{test}\n"
        + "".join(f"{test};IL;1-2;;{at};{at / 100:.2f};\n" for at in range(1, points + 1))
        for test in range(tests)
    )


@pytest.mark.parametrize(
    ("made", "dialect", "cells", "characters"),
    [
        (_curves, CURVES, 4_000, 1 << 20),
        (_curves, CURVES, 1 << 20, 20_000),
        (_points, POINTS, 14_000, 1 << 20),
        (_points, POINTS, 1 << 20, 40_000),
    ],
)
def test_a_test_without_end_is_not_held(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    made: Callable[[int, int], str],
    dialect: str,
    cells: int,
    characters: int,
) -> None:
    monkeypatch.setattr(lines, "BLOCK_CHARACTERS", 4_096)
    monkeypatch.setattr(bounds, "MOST_CELLS", cells)
    monkeypatch.setattr(bounds, "MOST_CHARACTERS", characters)
    assert len(read(tmp_path, made(1, 900), dialect).records) == 1
    told = read(tmp_path, made(1, 4_000), dialect)
    most = f"{cells:,} cells" if cells < 1 << 20 else f"{characters:,} characters"
    assert not told.records
    assert f"no test ends within {most}, and nothing behind this line was read" in told.lost


def test_only_what_stands_since_the_last_test_counts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lines, "BLOCK_CHARACTERS", 4_096)
    monkeypatch.setattr(bounds, "MOST_CELLS", 14_000)
    assert len(read(tmp_path, _points(20, 900), POINTS).records) == 20


def test_a_line_without_end_is_not_followed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lines, "MOST_WITHOUT_END", 2_000_000)
    content = _curves(1, 9)
    assert "longer than 1,000,000" in read(tmp_path, f"{content}{'x' * 1_500_000}\n", CURVES).lost
    told = read(tmp_path, f"{content}{'x' * 2_500_000}\n", CURVES)
    assert "a line does not end within 2,000,000 characters" in told.lost
