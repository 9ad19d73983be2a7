"""What the page takes of each test, beside the judging of the same tests: processor and bytes.

    python -m tests.benchmarks.page --tests 60

The curves are the demo's with noise, which is the worst case for plots: no curve is smooth.
"""

import argparse
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeVar

from sweepbook.cli.desk import Desk
from sweepbook.people.names import NOBODY
from sweepbook_plugins.report.sheet import sheet
from tests.benchmarks.material import Material

Value = TypeVar("Value")


class Clock:
    """Processor time by name, summed up."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}

    def timed(self, name: str, call: Callable[[], Value]) -> Value:
        """Call and time."""
        begun = time.process_time()
        found = call()
        self.seconds[name] = self.seconds.get(name, 0.0) + time.process_time() - begun
        return found


def measure(root: Path) -> None:
    """Judge each record of a book and write its sheet without plots and with them, turn about."""
    desk = Desk(paths=(root,))
    run = desk.run()
    judged = run.walk(desk.items((root,)))
    clock, tests, plain, drawn = Clock(), 0, 0, 0
    while (entry := clock.timed("read, judge, rules", lambda: next(judged, None))) is not None:
        held = run.held(entry)
        plain += len(clock.timed("sheet without plots", partial(sheet, entry, NOBODY)))
        drawn += len(clock.timed("sheet with plots", partial(sheet, entry, NOBODY, held)))
        tests += 1
    for name, seconds in clock.seconds.items():
        print(f"{name:24} {1e3 * seconds / tests:8.1f} ms of processor a test")
    print(f"{'without plots':24} {plain / tests / 1e3:8.1f} kB a test")
    print(f"{'with plots':24} {drawn / tests / 1e3:8.1f} kB a test")


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--tests", type=int, default=60)
    with TemporaryDirectory() as folder:
        measure(Material(Path(folder), parser.parse_args().tests).book.root)
