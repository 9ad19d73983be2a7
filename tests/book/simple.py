"""A format for the tests of the book: each line `label,verdict,loss` is a test."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pluggy

from sweepbook.book.gather import Outcome, gather
from sweepbook.book.layout import Book, open_or_begin
from sweepbook.errors import ReadProblem
from sweepbook.formats import Format, ReadSetting
from sweepbook.limits.library import Library
from sweepbook.reading import Pipeline
from sweepbook.record.model import Record
from sweepbook.registry import Registry
from sweepbook.source import Source

STARTED = {
    "as_stated": "2024-05-01",
    "rfc3339": "2024-05-01T09:00:00-00:00",
    "zone_source": "unknown",
}


def record(label: str, verdict: str, loss_db: str, source: Source, line: int) -> Record:
    """A record with one curve of one point."""
    return Record.build(
        link={"label": label},
        test={"limit": {"as_stated": "House limit"}, "started": STARTED},
        results={
            "grids": [{"id": "g1", "frequency_mhz": [1.0]}],
            "sweeps": [
                {
                    "parameter": "insertion_loss",
                    "pairs": ["1-2"],
                    "grid": "g1",
                    "decimals": 2,
                    "value_db": [float(loss_db)],
                }
            ],
        },
        stated={"overall": {"verdict": verdict, "as_stated": verdict}},
        origin=[{"sha256": source.sha256, "name": source.name, "locator": f"line {line}"}],
    )


def read(source: Source, _: ReadSetting) -> Iterator[Record | ReadProblem]:
    """One record a line; a line that begins with "!" is a problem, one with "?" a crash."""
    with source.open() as stream:
        for number, line in enumerate(stream.read().decode().splitlines(), start=1):
            if line.startswith("!"):
                yield ReadProblem(source.name, f"line {number}", "It cannot be taken.")
            elif line.startswith("?"):
                raise ZeroDivisionError(line)
            else:
                label, verdict, loss_db = line.split(",")
                yield record(label, verdict, loss_db, source, number)


def pipeline(form: Format | None = None) -> Pipeline:
    """A pipeline that knows the simple format alone."""
    simple = form or Format("simple", "Tests of the book", (".txt",), read=read)
    registry = Registry(pluggy.PluginManager("sweepbook"), formats={simple.name: simple})
    return Pipeline(registry, ReadSetting(Library({})))


@dataclass(frozen=True)
class Job:
    """A folder of exports and a book beside it."""

    exports: Path
    book: Book

    @staticmethod
    def begin(folder: Path, **texts: str) -> "Job":
        """Write the exports, one file a text, and begin the book."""
        exports = folder / "exports"
        exports.mkdir()
        for name, text in texts.items():
            (exports / f"{name}.txt").write_text(text)
        return Job(exports, open_or_begin(folder / "book"))

    def gather(self, *, again: bool = False, by: Pipeline | None = None) -> list[Outcome]:
        """Gather all exports."""
        return list(gather(self.book, [self.exports], by or pipeline(), again))

    def snapshot(self) -> dict[str, bytes]:
        """Every file of the book, by its path in it."""
        root = self.book.root
        files = (path for path in root.rglob("*") if path.is_file())
        return {path.relative_to(root).as_posix(): path.read_bytes() for path in files}
