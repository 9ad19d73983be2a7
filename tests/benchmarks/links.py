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
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from sweepbook.cli.desk import Desk
from sweepbook.delivery import About, Delivery
from sweepbook.judging.assessment import Assessment
from tests.benchmarks.material import Material


def main() -> None:
    """Write a delivery, and print what it took."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.links", description=__doc__)
    parser.add_argument("--links", type=int, default=10_000, help="how many (10,000)")
    parser.add_argument("--to", default="xlsx", help="format: xlsx, tables or as-built (xlsx)")
    parser.add_argument("--margins", default="none", help="all, worst or none (none)")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk()
        entries = list(desk.run().walk(Material(Path(folder), 0).demo))
        about = About("", "", "", {}, {}, desk.library, desk.context.catalogue)
        write = desk.registry.writer(asked.to).write
        assert write is not None
        before, started = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
        many = _links(entries, asked.links)
        options = {} if asked.to == "as-built" else {"margins": asked.margins}
        begun = time.perf_counter()
        write(Delivery(many, about, asked=options), Path(folder) / "written")
        clock, took = time.perf_counter() - begun, time.process_time() - started
        grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    which = ", ".join(f"{name} {value}" for name, value in options.items()) or "all of it"
    print(
        f"{asked.links} links to {asked.to}, {which}: {took:.1f} s of processor, {clock:.1f} s by "
        f"the clock, {1e3 * took / asked.links:.2f} ms a link; {grown / 1024:.0f} MB more at peak"
    )


def _links(entries: list[Assessment], count: int) -> Iterator[Assessment]:
    """Links that differ in whatever differs between the links of a job."""
    first = datetime.fromisoformat("2026-03-02T07:30:00+01:00")
    for number in range(count):
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
