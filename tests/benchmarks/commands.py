"""Whole commands as processes: what they take to start, and what they take as a book grows."""

import statistics
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.benchmarks.material import Material
from tests.benchmarks.measure import Cost, Row, process

STARTED = (("--help",), ("formats",), ("rules", "list"), ("rules", "show", "COR001"))
LIBRARIES = "import click, pluggy"
LOADED = "import click, jsonschema_rs, numpy, orjson, pluggy, rfc8785, simdjson"


def rows(material: Material) -> Iterator[Row]:
    """One row a command that reads no record."""
    for words in STARTED:
        compiled = material.folder / "compiled"
        ours, least = _turn_about(["-m", "sweepbook", *words], ["-c", LIBRARIES], 7, compiled)
        yield Row(f"start: {' '.join(words)}", f'python -c "{LIBRARIES}"', 1e3 * ours, 1e3 * least)


def growth(material: Material, sizes: Sequence[int]) -> Iterator[Row]:
    """Processor time a record and peak memory of `check` over books of some sizes."""
    empty = process("-c", LOADED)
    first: Cost | None = None
    for size in sizes:
        book = material.book if size == material.records else material.book_of(size)
        cost = process("-m", "sweepbook", "check", str(book.root), "--json", "--workers", "1")
        each = cost._replace(seconds=1e3 * cost.seconds / size)
        first = first or each
        at = f"check --json, {size} records"
        yield Row(f"{at}: time a record", f"of {sizes[0]} records", each.seconds, first.seconds)
        yield Row(f"{at}: peak memory", "its libraries loaded", each.peak_mb, empty.peak_mb, "MB")


def _turn_about(
    ours: Sequence[str], least: Sequence[str], rounds: int, compiled: Path
) -> tuple[float, float]:
    """Median seconds of processor of two processes, each run so often, turn about.

    Each is run once before, so that its modules are compiled.
    """
    both = (ours, least)
    taken = [[process(*of, compiled=compiled).seconds for of in both] for _ in range(1 + rounds)]
    one, two = zip(*taken[1:], strict=True)
    return statistics.median(one), statistics.median(two)
