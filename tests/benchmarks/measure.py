"""One line of the table, and how it is timed: turn about, so that a busy machine hits both."""

import gc
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple


class Row(NamedTuple):
    """One measurement beside its floor.

    Attributes:
        what: what was done.
        floor: what the floor is.
        ours, least: medians of both, in `unit`.
        unit: ms, MB, or "x" for so many times.
    """

    what: str
    floor: str
    ours: float
    least: float
    unit: str = "ms"

    @property
    def ratio(self) -> float:
        return self.ours / self.least


class Cost(NamedTuple):
    """What a process took, those that it started included.

    Attributes:
        seconds: of the processor.
        wall: seconds by the clock.
        peak_mb: at the peak of the largest of them.
    """

    seconds: float
    wall: float
    peak_mb: float


def beside(
    what: str, ours: Callable[[], object], floor: str, least: Callable[[], object], rounds: int = 5
) -> Row:
    """Time two things turn about, once each to warm up and then some rounds; medians in ms.

    The time is that of the processor, so that what else the machine does counts for little.
    """
    ours(), least()
    taken: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds):
        for times, go in zip(taken, (ours, least), strict=True):
            gc.collect()
            start = time.process_time()
            go()
            times.append(1e3 * (time.process_time() - start))
    return Row(what, floor, statistics.median(taken[0]), statistics.median(taken[1]))


_WATCHED = """
import os, subprocess, sys, time
start = time.perf_counter()
child = subprocess.Popen([sys.executable, *sys.argv[1:]], stdout=subprocess.DEVNULL)
_, status, usage = os.wait4(child.pid, 0)
busy = usage.ru_utime + usage.ru_stime
print(os.waitstatus_to_exitcode(status), busy, time.perf_counter() - start, usage.ru_maxrss)
os._exit(0)
"""


def process(*arguments: str, compiled: Path | None = None) -> Cost:
    """Run Python with some arguments to its end; its output is dropped.

    A small process in between starts it: the peak of a child counts what its parent held when it
    was forked.

    Args:
        arguments: of Python.
        compiled: where compiled modules are kept from run to run, whatever the surroundings say:
            an installed program is not compiled anew each time that it starts.

    Raises:
        RuntimeError: it ended by more than a finding.
    """
    surroundings = dict(os.environ)
    if compiled is not None:
        surroundings.pop("PYTHONDONTWRITEBYTECODE", None)
        surroundings["PYTHONPYCACHEPREFIX"] = str(compiled)
    command = [sys.executable, "-S", "-c", _WATCHED, *arguments]
    done = subprocess.run(command, capture_output=True, check=True, env=surroundings)
    code, seconds, wall, kilobytes = done.stdout.split()
    if int(code) > 1:
        raise RuntimeError(f"{' '.join(arguments)}: {done.stderr.decode()}")
    return Cost(float(seconds), float(wall), int(kilobytes) / 1024.0)


def table(rows: Sequence[Row]) -> str:
    """The rows below titles, for a terminal."""
    wide = max(len(row.what) for row in rows), max(len(row.floor) for row in rows)
    titles = f"{'what':{wide[0]}}  {'floor':{wide[1]}}       ours      floor  ratio"
    lines = [
        f"{row.what:{wide[0]}}  {row.floor:{wide[1]}}  "
        f"{row.ours:6.1f} {row.unit}  {row.least:6.1f} {row.unit}  {row.ratio:5.2f}"
        for row in rows
    ]
    return "\n".join([titles, "-" * len(titles), *lines])
