"""Handing many thousand links to a writer of tables: python -m tests.benchmarks.links.

The judged tests of the demo come again and again under other labels, as a stream, so that nothing
but the writer's own memory grows. Each has a port and a termination of its own at both ends. The
judging is not timed; what is timed is all that the writer does: the links with their places, what
has to be tested again, findings with what the catalogue says, instruments, the summary, and as many
margins as are asked for; into a database every curve and figure, references and indexes included.
"""

import argparse
import resource
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from sweepbook.cli.desk import Desk
from sweepbook.cli.workers import AT_ONCE
from sweepbook.delivery import About, Delivery, Result, Work
from sweepbook.judging.assessment import Assessment
from sweepbook.spread import in_order
from tests.benchmarks.material import Material

_of_worker: tuple[list[Assessment], Work[Any]]
"""What a worker has: judged tests, and the writer's work."""


def main() -> None:
    """Write a delivery, and print what it took."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.links", description=__doc__)
    parser.add_argument("--links", type=int, default=10_000, help="how many (10,000)")
    parser.add_argument("--to", default="xlsx", help="format: xlsx, tables or as-built (xlsx)")
    parser.add_argument("--margins", help="all, worst or none (none; of as-built all)")
    parser.add_argument("--workers", type=int, default=1, help="processes that make rows (1)")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk()
        entries = list(desk.run().walk(Material(Path(folder), 0).demo))
        about = About("", "", "", {}, {}, desk.library, desk.context.catalogue)
        write = desk.registry.writer(asked.to).write
        assert write is not None
        margins = asked.margins or ("all" if asked.to == "as-built" else "none")
        many, spread = _links(entries, range(asked.links)), None
        if asked.workers > 1:
            spread = partial(_spread, entries, asked.links, asked.workers)
        whole = Delivery(many, about, asked={"margins": margins}, spread=spread)
        before, begun = resource.getrusage(resource.RUSAGE_SELF), time.perf_counter()
        write(whole, Path(folder) / "written")
        clock = time.perf_counter() - begun
    after, others = map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    took = _processor(after) - _processor(before)
    grown = (after.ru_maxrss - before.ru_maxrss) / 1024
    print(
        f"{asked.links} links to {asked.to}, margins {margins}: {took:.1f} s of processor, "
        f"{clock:.1f} s by the clock, {1e3 * took / asked.links:.2f} ms a link; "
        f"{grown:.0f} MB more at peak"
    )
    if spread:
        shared = _processor(others)
        print(f"besides, {shared:.1f} s of {asked.workers} others that made links and rows")


def _processor(used: resource.struct_rusage) -> float:
    return used.ru_utime + used.ru_stime


def _spread(
    entries: list[Assessment], count: int, workers: int, work: Work[Result]
) -> Iterator[Result]:
    """A writer's work on links that other processes make, as those do that judge a book."""
    parts = [range(first, min(first + AT_ONCE, count)) for first in range(0, count, AT_ONCE)]
    start = partial(ProcessPoolExecutor, workers, get_context("fork"), _begin, (entries, work))
    for made in in_order(_worked, parts, start, workers + 2):
        yield from made


def _begin(entries: list[Assessment], work: Work[Any]) -> None:
    global _of_worker
    _of_worker = entries, work


def _worked(part: range) -> list[Any]:
    entries, work = _of_worker
    return [work(link, tuple) for link in _links(entries, part)]


def _links(entries: list[Assessment], numbers: range) -> Iterator[Assessment]:
    """Links that differ in whatever differs between the links of a job."""
    first = datetime.fromisoformat("2026-03-02T07:30:00+01:00")
    for number in numbers:
        entry = entries[number % len(entries)]
        document = entry.record.document
        (origin,) = document["origin"]
        begun = (first + timedelta(minutes=2 * number)).isoformat()
        ends = {end: _end(document["link"][end], end, number) for end in ("near", "far")}
        changed = {
            **document,
            "record_id": f"sb0-{number:064x}",
            "origin": [{**origin, "locator": f"entry {number}, lines {90 * number + 1}-"}],
            "link": {**document["link"], "label": f"L-{number}", **ends},
            "test": {**document["test"], "started": {"as_stated": begun, "rfc3339": begun}},
        }
        record = replace(entry.record, document=changed)
        yield replace(entry, record=record, reason=f"{entry.reason} Test {number}.")


def _end(end: dict[str, Any], name: str, number: int) -> dict[str, Any]:
    """An end in a panel of 24 ports, 40 panels a floor; at the far end of an outlet of its own."""
    panel, port = divmod(number, 24)
    if name == "far":
        return {**end, "termination": f"R{panel:04}-{port + 1:02}"}
    place = {**end["place"], "floor": f"{panel // 40}", "panel": f"P{panel % 40 + 1}"}
    return {
        **end,
        "place": {**place, "port": f"{port + 1:02}"},
        "termination": f"F{panel // 40}-P{panel % 40 + 1}-{port + 1:02}",
    }


if __name__ == "__main__":
    main()
