"""Small files read by small dialects, for the tests of the formats that read by dialects."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweepbook.dialect.load import parse
from sweepbook.dialect.model import Dialect
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.limits.library import Library
from sweepbook.record import validate
from sweepbook.record.model import Record, frequency_mhz
from sweepbook.source import Source

LIBRARY = Library.load()

Read = Callable[[Source, ReadSetting], Iterator[Record | ReadProblem]]


@dataclass(frozen=True)
class Result:
    """What reading a file gave."""

    records: list[Record]
    problems: list[ReadProblem]

    @property
    def document(self) -> dict[str, Any]:
        """The only record, of a file that was read without a problem."""
        assert self.problems == []
        assert len(self.records) == 1
        document = self.records[0].document
        assert validate.problems(document) == ()
        return document

    @property
    def lost(self) -> str:
        """The message of the only problem, of a file without a record."""
        assert self.records == []
        assert [problem.lost_record for problem in self.problems] == [True]
        return self.problems[0].message


def read_by(
    reader: Read,
    check_dialect: Callable[[Dialect], None],
    path: Path,
    content: str | bytes,
    dialect: str | Dialect,
) -> Result:
    """Write a file, read it by a dialect, and sort what comes."""
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    chosen = parse(dialect.encode(), "test.toml") if isinstance(dialect, str) else dialect
    check_dialect(chosen)
    items = list(reader(Source(path), ReadSetting(LIBRARY, {}, chosen)))
    return Result(
        [item for item in items if isinstance(item, Record)],
        [item for item in items if isinstance(item, ReadProblem)],
    )


def sweep(document: dict[str, Any], name: str) -> dict[str, Any]:
    """A sweep by its name, e.g. "next near 1-2/3-6"."""
    found: list[dict[str, Any]] = [
        entry for entry in document["results"]["sweeps"] if called(entry) == name
    ]
    assert len(found) == 1, [called(entry) for entry in document["results"]["sweeps"]]
    return found[0]


def called(entry: dict[str, Any]) -> str:
    """What a sweep, scalar or stated item is of."""
    parts = (entry["parameter"], entry.get("end"), "/".join(entry.get("pairs", [])))
    return " ".join(part for part in parts if part)


def axis(document: dict[str, Any], entry: dict[str, Any]) -> list[float]:
    """Frequencies of a sweep in MHz."""
    return [float(value) for value in frequency_mhz(document, entry["grid"])]
