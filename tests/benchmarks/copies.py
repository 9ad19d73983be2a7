"""Looking for copied tests among very many: python -m tests.benchmarks.copies [--tests N].

The tests are made of the curves of sister links by the demo's model, each curve drawn by itself, so
that all tests are of one cable, length and connectors, and any two have some curves in common: more
alike than links are. Among them are copies of every kind. What is timed is what comes on top of
checking: the search, and holding two tests' sweeps against each other.
"""

import argparse
import platform
import time
import tracemalloc
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TypeVar

import numpy as np

from sweepbook.copies.curves import PARAMETERS, readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.fingerprint import BANDS, F32, band_means, fingerprint, matrix, pooled
from sweepbook.copies.likeness import likeness
from sweepbook.copies.search import near
from sweepbook.copies.within import made_from_another
from sweepbook.judging.curves import F64
from sweepbook.limits.practice import Practice
from tests.copies.kinds import KINDS, Test
from tests.copies.sisters import sister

LENGTH_M = 8.0
SISTERS = 60
ORIGINALS = 25
AT_ONCE = 2_000

Result = TypeVar("Result")


def main() -> None:
    """Make the tests, look for the copies, and print what it took and what was found."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.copies", description=__doc__)
    parser.add_argument("--tests", type=int, default=100_000, help="how many tests (100000)")
    count = parser.parse_args().tests
    figures = Figures.of(Practice.shipped())
    sisters = [sister(LENGTH_M, seed) for seed in range(SISTERS)]
    originals = sisters[:ORIGINALS]
    copies = [kind(test) for kind in KINDS.values() for test in originals]
    planted = matrix([fingerprint(test) for test in (*originals, *copies)])
    prints = np.concatenate([planted, _drawn(sisters, count - len(planted))])

    busy = time.process_time()
    seconds, found = _timed(lambda: near(prints, figures.fingerprint_db))
    busy = time.process_time() - busy
    tracemalloc.start()
    near(prints, figures.fingerprint_db)
    peak_mb = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()

    told = {pair[1] for pair in found if pair[1] < len(planted)}
    false = sum(
        one % ORIGINALS != other % ORIGINALS or other >= len(planted) for one, other in found
    )
    print(f"{datetime.now(UTC).date()}, Python {platform.python_version()}, {platform.machine()}")
    print(f"{count} fingerprints: {prints.nbytes / 1e6:.0f} MB kept")
    print(f"search: {seconds:.1f} s, {busy:.1f} s of processor, {peak_mb:.0f} MB at its peak")
    print(f"copies found: {len(told)} of {len(copies)}")
    print(f"pairs to hold against each other: {len(found)}, of which no copies: {false}")
    _each(sisters, figures)


def _drawn(sisters: list[Test], count: int) -> F32:
    """Fingerprints of tests whose curves are drawn from those of the sisters: float32[n, 64]."""
    random = np.random.default_rng(1)
    pools = [_pool(sisters, parameter) for parameter in PARAMETERS]
    made = np.empty((count, len(PARAMETERS) * 2 * BANDS), dtype=np.float32)
    for start in range(0, count, AT_ONCE):
        stop = min(start + AT_ONCE, count)
        blocks = []
        for pool in pools:
            chosen = random.integers(pool.shape[0], size=(stop - start, pool.shape[1]))
            blocks.append(pooled(pool[chosen, np.arange(pool.shape[1])]))
        made[start:stop] = np.concatenate(blocks, axis=1)
    return made


def _pool(sisters: list[Test], parameter: str) -> F64:
    """Band means of every sister's curves: float64[sisters, curves, BANDS]."""
    means = [band_means(test[parameter]) for test in sisters]
    return np.array([one for one in means if one is not None])


def _each(sisters: list[Test], figures: Figures) -> None:
    """Print what one test costs, and what one pair."""
    prints, _ = _timed(lambda: [fingerprint(test) for test in sisters])
    within, _ = _timed(lambda: [list(made_from_another(test, figures)) for test in sisters])
    read = [readings(test, figures.structure_db) for test in sisters[:6]]
    held, _ = _timed(lambda: [likeness(read[0], other, figures) for other in read[1:]])
    print(
        f"a test: {1e3 * prints / SISTERS:.2f} ms for its fingerprint, "
        f"{1e3 * within / SISTERS:.2f} ms for its curves among themselves; "
        f"a pair: {1e3 * held / 5:.0f} ms once both are read"
    )


def _timed(work: Callable[[], Result]) -> tuple[float, Result]:
    """Seconds on the wall, and what came of it."""
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


if __name__ == "__main__":
    main()
