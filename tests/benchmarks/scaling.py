"""How much several processes gain, beside what plain arithmetic gains in the same run.

Two processes of one machine seldom do twice as much: they share its memory and what else it does.
So a check by several workers is held against arithmetic in as many processes, turn about. Both are
timed by the clock, and of each the least is taken.
"""

import os
import subprocess
import sys
import time
from collections.abc import Iterator

from tests.benchmarks.material import Material
from tests.benchmarks.measure import Row, process

TIMES = 8
"""The book has so many times the records asked for, so that starting counts for little."""
ROUNDS = 3
SQUARES = 40_000_000


def rows(material: Material) -> Iterator[Row]:
    """One row for each power of two up to the number of processors."""
    count = TIMES * material.records
    root = str(material.book_of(count).root)
    most = os.cpu_count() or 1
    for workers in [2**power for power in range(1, most.bit_length()) if 2**power <= most]:
        taken: list[tuple[float, float, float, float]] = []
        for _ in range(ROUNDS):
            ours = _check(root, 1), _check(root, workers)
            taken.append((*ours, _arithmetic(1), _arithmetic(workers)))
        one, many, plain, shared = (min(column) for column in zip(*taken, strict=True))
        what = f"check --workers {workers}, {count} records: gain over one"
        floor = f"gain of plain arithmetic, {workers} processes"
        yield Row(what, floor, one / many, plain / shared, "x ")


def _check(root: str, workers: int) -> float:
    """Seconds by the clock of a check by so many workers."""
    words = ("-m", "sweepbook", "check", root, "--json", "--workers", str(workers))
    return process(*words).wall


def _arithmetic(processes: int) -> float:
    """Seconds by the clock for the same arithmetic in all, in so many processes at once."""
    code = f"print(sum(k * k for k in range({SQUARES // processes})))"
    start = time.perf_counter()
    every = [
        subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.DEVNULL)
        for _ in range(processes)
    ]
    for one in every:
        one.wait()
    return time.perf_counter() - start
