"""Memory while reading does not grow with the number of tests in a file."""

import gc
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from typing import TextIO

import pytest

from sweepbook.dialect.load import parse
from sweepbook.formats import ReadSetting
from sweepbook.record.model import Record
from sweepbook.source import Source
from sweepbook_plugins.csv import sweeps as csv_sweeps
from tests.reading import LIBRARY

from .dialects import CURVE_ROWS, POINTS
from .test_sections import BY_HEADING, sections

TITLES = "Test;What;Pair;End;MHz;dB;Text\n"


def by_column(stream: TextIO, tests: int) -> None:
    stream.write(TITLES)
    for test in range(tests):
        stream.write(f"{test};Link;;;;;L{test}\n")
        stream.writelines(f"{test};IL;1-2;;{at};{at / 40:.2f};\n" for at in range(1, 250))


def one_after_another(stream: TextIO, tests: int) -> None:
    for test in range(tests):
        stream.write(f"Link,L{test}\n")
        for heading in ("[IL]", "[RL A]"):
            stream.write(f"{heading}\nMHz,1-2,3-6\n")
            stream.writelines(f"{at},{at / 40:.2f},{at / 50:.2f}\n" for at in range(1, 250))


def curve_in_a_row(stream: TextIO, tests: int) -> None:
    stream.write(f"Test;What;Pair;End;{';'.join(map(str, range(1, 500)))}\n")
    for test in range(tests):
        stream.write(f"L{test};IL;1-2;;{';'.join(f'{at / 40:.2f}' for at in range(1, 500))}\n")


LAYOUTS: dict[Callable[[TextIO, int], None], str] = {
    by_column: POINTS,
    curve_in_a_row: CURVE_ROWS,
    one_after_another: sections(BY_HEADING, 'first_line = "Link"'),
}


def fill_stores_of_tuples() -> None:
    """Have Python keep as many freed tuples as it ever does, which would pass for a slow leak.

    CPython keeps 2,000 of each length up to 20 (`Include/internal/pycore_tuple.h`, recalled).
    """
    kept = [tuple([None] * length) for length in range(1, 21) for _ in range(2_000)]
    assert len(kept) == 40_000


def peak_bytes(path: Path, write: Callable[[TextIO, int], None], tests: int) -> int:
    """The most memory in use while a file of so many tests is read and each record let go."""
    with path.open("w", encoding="utf-8") as stream:
        write(stream, tests)
    setting = ReadSetting(LIBRARY, {}, parse(LAYOUTS[write].encode()))
    gc.collect()
    tracemalloc.start()
    fill_stores_of_tuples()
    before = tracemalloc.get_traced_memory()[0]
    tracemalloc.reset_peak()
    count = sum(isinstance(item, Record) for item in csv_sweeps.read(Source(path), setting))
    peak = tracemalloc.get_traced_memory()[1] - before
    tracemalloc.stop()
    gc.collect()
    assert count == tests
    return peak


@pytest.mark.parametrize("write", LAYOUTS)
def test_three_times_the_tests_take_the_same_memory(
    write: Callable[[TextIO, int], None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sweepbook_plugins.csv.lines.BLOCK_CHARACTERS", 1 << 12)
    monkeypatch.setattr("sweepbook.source._CHUNK", 1 << 12)
    peak_bytes(tmp_path / "warm-up.csv", write, 2)
    few = peak_bytes(tmp_path / "few.csv", write, 40)
    many = peak_bytes(tmp_path / "many.csv", write, 120)
    assert many < 1.2 * few  # a leak of the texts of each test would make it 3 times as much
