"""What is measured on: the demo's exports unpacked, and books of any size made from its records."""

import csv
import gzip
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import cycle, islice
from pathlib import Path
from typing import Any

import numpy as np

from sweepbook.book import store
from sweepbook.book.layout import Book, open_book
from sweepbook.cli.asked import Asked
from sweepbook.cli.desk import Desk
from sweepbook.record import codec
from sweepbook.record.model import Record
from tests.program import DEMO, run

Part = dict[str, Any]

FULL = 1_000
"""Points that a whole sweep of the demo has; shorter ones are planted."""

COLUMNS = """layout = "curve-per-column"
signature = "Heron sweep report,4"

[csv.curves]
frequency = "MHz"
name = ["{parameter} {pairs}", "{parameter} {end} {pairs}"]
"""
ROWS = """layout = "curve-per-row"
signature = "Heron sweep report,4"

[csv.rows.curve]
name = { MHz = ["{parameter} {pairs}", "{parameter} {end} {pairs}"] }
values = "{frequency}"
"""
"""The same curves as rows, below titles that are frequencies."""

ROUGH = ("return_loss", "next", "fext")
"""Losses that differ by a dB and more between two links alike."""

OVER_AND_OVER = 12
"""So often the tests of an XML export come in a long one."""

RIPPLE = 40
"""Points from one turn of the ripple to the next: some 6 MHz where field tests are finest."""
RIPPLE_DB = 20.0
"""By which two links of one base have fingerprints as far apart as those of sister links of 8 m."""


@dataclass
class Material:
    """Files in a folder that is thrown away afterwards.

    Attributes:
        folder: where they lie.
        records: how many records the book has.
    """

    folder: Path
    records: int

    @cached_property
    def exports(self) -> dict[str, list[Path]]:
        """The demo's exports by make, unpacked."""
        found: dict[str, list[Path]] = {}
        for packed in sorted((DEMO / "exports").iterdir()):
            raw = packed.read_bytes()
            plain = self.folder / packed.name.removesuffix(".gz")
            plain.write_bytes(gzip.decompress(raw) if packed.suffix == ".gz" else raw)
            found.setdefault(plain.name.partition("-")[0], []).append(plain)
        return found

    @cached_property
    def long_exports(self) -> list[Path]:
        """The XML exports with their tests over and over: 17 to 19 MB, read in a quarter second.

        Of the short ones a turn takes 20 ms, of which the most part of the difference is that the
        processor's caches hold other things at its beginning.
        """
        paths = []
        for path in self.exports["erruk"]:
            raw = path.read_bytes()
            first, end = raw.index(b"<entry "), raw.rindex(b"</entry>") + len(b"</entry>")
            paths.append(self.folder / f"long-{path.name}")
            tests = b"\n".join([raw[first:end]] * OVER_AND_OVER)
            paths[-1].write_bytes(raw[:first] + tests + raw[end:])
        return paths

    @cached_property
    def curves_in_rows(self) -> tuple[list[Path], Path]:
        """The exports of a column a curve with their tables turned round, and a dialect of them."""
        paths = []
        for path in self.exports["heron"]:
            head, _, table = path.read_text().partition("\nMHz,")
            rows = zip(*csv.reader(f"MHz,{table}".splitlines()), strict=True)
            paths.append(self.folder / f"turned-{path.name}")
            paths[-1].write_text("\n".join([f"{head}\n", *map(",".join, rows), ""]))
        dialect = self.folder / "turned.toml"
        before, table, behind = (
            (DEMO / "dialects" / "brindlewick-heron-5.toml").read_text().partition(COLUMNS)
        )
        assert table
        dialect.write_text(before + ROWS + behind)
        return paths, dialect

    @cached_property
    def demo(self) -> list[Record]:
        """The demo's records with at least so many sweeps and points as a whole test has."""
        paths = [path for files in self.exports.values() for path in files]
        dialects = tuple(str(path) for path in sorted((DEMO / "dialects").glob("*.toml")))
        found = Desk(Asked(dialects=dialects)).pipeline.read_all(paths)
        return [one for one in found if isinstance(one, Record) and _is_full(one.document)]

    @cached_property
    def book(self) -> Book:
        """A book of as many records as were asked for, each with curves of its own."""
        return self.book_of(self.records)

    @cached_property
    def as_stated(self) -> Book:
        """A book of as many, with the demo's curves: what is stated follows from them.

        Under noise most stated figures do not, and a check would be timed on faults alone.
        """
        return self._made(self._relabelled(lambda results: results), self.records, "as-stated")

    def book_of(self, count: int) -> Book:
        """A book of so many records: the demo's, each with noise of its own."""
        random = np.random.default_rng(1)
        return self._made(self._relabelled(lambda one: _noisy(one, random)), count, str(count))

    def _made(self, records: Iterator[Record], count: int, name: str) -> Book:
        target, exports = self.folder / f"book-{name}", self.folder / f"records-{name}"
        exports.mkdir()
        for number, record in enumerate(islice(records, count)):
            (exports / f"{number:05d}.json").write_bytes(codec.dumps(record))
        assert run("gather", target, exports).exit_code in (0, 1)
        return open_book(target)

    def files_of(self, book: Book) -> list[Path]:
        """The files of a book's records."""
        return [book.record(entry.listed.record_id) for entry in store.contents_of(book).entries()]

    def _relabelled(self, change: Callable[[Part], Part]) -> Iterator[Record]:
        """The demo's records over and over, as those of other links, with changed results."""
        for number, record in enumerate(cycle(self.demo)):
            document = record.document
            yield _labelled(document, change(document["results"]), f"L{number:05d}")


def _is_full(document: Part) -> bool:
    sweeps = document["results"]["sweeps"]
    points = max((one["value_db"].size for one in sweeps if "value_db" in one), default=0)
    return len(sweeps) >= 36 and points >= FULL


def _noisy(results: Part, random: np.random.Generator) -> Part:
    """Results far enough from the first not to be looked at as their copy.

    What differs between two links is no noise from point to point, which means over a band of
    frequencies would not show, but ripple that comes and goes within some MHz. It is added to the
    losses here, so that no link fails by it.
    """

    def noisy(sweep: Part) -> Part:
        if "value_db" not in sweep:
            return sweep
        values = sweep["value_db"]
        if sweep["parameter"] in ROUGH:
            at = np.arange(values.size)
            knots = at[::RIPPLE]
            noise = np.interp(at, knots, random.uniform(0.0, RIPPLE_DB, knots.size))
        else:
            noise = random.integers(-5, 6, values.size) / 100.0
        return {**sweep, "value_db": np.round(values + noise, 2)}

    return {**results, "sweeps": [*map(noisy, results["sweeps"])]}


def _labelled(document: Part, results: Part, label: str) -> Record:
    names = ("stated", "extra", "resolved", "provenance")
    return Record.build(
        link={**document["link"], "label": label},
        test=document["test"],
        results=results,
        origin=document["origin"],
        **{name: document[name] for name in names if name in document},
    )
