"""What the journal adds up to: which reading of each source is current, and what is in it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sweepbook.book import journal
from sweepbook.book.layout import NotABook
from sweepbook.errors import ReadProblem
from sweepbook.text import natural_key

GATHERED = "gathered"
CORRECTED = "corrected"


@dataclass(frozen=True, slots=True)
class Listed:
    """A record as a line of the journal lists it.

    Attributes:
        record_id: its identity.
        locator: where in the source it stands.
        label, limit, stated: as in the record, "" where it has none; for the index and the order.
        file_sha256: digest of the record's file when the line was written.
        started: when the test was, as the source states it; "" likewise, and in lines of old.
    """

    record_id: str
    locator: str
    label: str
    limit: str
    stated: str
    file_sha256: str
    started: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """How a source was read: two readings the same way need not be made twice.

    Attributes:
        reader: name of the format.
        dialect_name, dialect_sha256: the dialect; "" where the format needs none.
        program: name and version.
        joined_sha256: digest of the file with the other parts of its tests; "" where there is none.
    """

    reader: str
    dialect_name: str
    dialect_sha256: str
    program: str
    joined_sha256: str = ""


Of = tuple[str, str]
"""Digest of a source, and of the file with the other parts of its tests, "" where there is none."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One source, read once.

    Attributes:
        sha256: digest of the source.
        name: its name.
        way: how it was read.
        records: what came of it, in the source's order.
        problems: what could not be taken.
    """

    sha256: str
    name: str
    way: Way
    records: tuple[Listed, ...]
    problems: tuple[ReadProblem, ...]

    @property
    def of(self) -> "Of":
        """What was read: a source, with the file that holds the other parts of its tests."""
        return self.sha256, self.way.joined_sha256

    def to_json(self) -> dict[str, Any]:
        """The part of a journal line that says all this."""
        dialect = {"name": self.way.dialect_name, "sha256": self.way.dialect_sha256}
        return {
            "program": self.way.program,
            "source": {"sha256": self.sha256, "name": self.name},
            "reader": self.way.reader,
            "dialect": dialect if self.way.dialect_sha256 else None,
            **({"joined_sha256": self.way.joined_sha256} if self.way.joined_sha256 else {}),
            "records": [_fields(entry) for entry in self.records],
            "problems": [
                {"place": p.place, "message": p.message, "lost_record": p.lost_record}
                for p in self.problems
            ],
        }


@dataclass(frozen=True, slots=True)
class Entry:
    """A current record and the sources it was found in.

    Attributes:
        listed: what the journal says of it.
        sources: names of the sources, sorted.
    """

    listed: Listed
    sources: tuple[str, ...]


@dataclass
class Contents:
    """The journal, added up.

    Attributes:
        last: the last line; None in a new book.
        latest: the last reading of each source, by its digest and that of the file joined to it,
            with its line's number.
        current: the last reading of each source that gave a record, by the same.
        file_sha256: digest of each record's file as last written, by record id.
        corrections: each correction that was entered, text by title, with its line's number.
    """

    last: journal.Line | None = None
    latest: dict[Of, tuple[int, Reading]] = field(default_factory=dict)
    current: dict[Of, Reading] = field(default_factory=dict)
    file_sha256: dict[str, str] = field(default_factory=dict)
    corrections: list[tuple[int, Mapping[str, Any]]] = field(default_factory=list)
    _of_line: dict[int, Of] = field(default_factory=dict)

    def add(self, line: journal.Line) -> None:
        """Take in the next line.

        Raises:
            NotABook: the line says something else than such a line must.
        """
        self.last = line
        if line.event == CORRECTED and isinstance(line.body.get("correction"), dict):
            self.corrections.append((line.number, line.body["correction"]))
        if line.event != GATHERED:
            return
        reading = _reading(line)
        replaced = self._of_line.pop(_line_before(line), None)
        if replaced is not None:
            del self.latest[replaced]
            if reading.records:
                self.current.pop(replaced, None)
        if reading.of in self.latest:
            del self._of_line[self.latest[reading.of][0]]
        self._of_line[line.number] = reading.of
        self.latest[reading.of] = (line.number, reading)
        if reading.records:
            self.current[reading.of] = reading
        self.file_sha256.update({r.record_id: r.file_sha256 for r in reading.records})

    def entries(self) -> list[Entry]:
        """The current records, by label in natural order, then by id."""
        listed: dict[str, Listed] = {}
        names: dict[str, set[str]] = {}
        for reading in self.current.values():
            for record in reading.records:
                listed[record.record_id] = record
                names.setdefault(record.record_id, set()).add(reading.name)
        order = sorted(listed.values(), key=lambda r: (natural_key(r.label), r.label, r.record_id))
        return [Entry(record, tuple(sorted(names[record.record_id]))) for record in order]

    def sources(self) -> set[str]:
        """Digests of all sources that were read."""
        return {sha256 for sha256, _ in self.latest}

    def readings_of(self, sha256: str) -> list[tuple[int, Reading]]:
        """The last readings of a source, one for each file that was joined to it."""
        return [entry for (source, _), entry in self.latest.items() if source == sha256]

    def problems(self) -> Iterator[ReadProblem]:
        """What the last reading of each source could not take, by source and place."""
        by_name = sorted(
            self.latest.values(), key=lambda item: (natural_key(item[1].name), item[0])
        )
        for _, reading in by_name:
            yield from reading.problems


def add_up(lines: Iterable[journal.Line]) -> Contents:
    """Add up all lines.

    Raises:
        BrokenJournal: a line was changed.
        NotABook: a line says something else than such a line must.
    """
    contents = Contents()
    for line in lines:
        contents.add(line)
    return contents


def _fields(entry: Listed) -> dict[str, str]:
    return {name: getattr(entry, name) for name in Listed.__slots__}


def _reading(line: journal.Line) -> Reading:
    """The reading that a line tells of."""
    try:
        body = line.body
        source, dialect = body["source"], body["dialect"] or {"name": "", "sha256": ""}
        dialect_name, dialect_sha256 = _texts(dialect, "name", "sha256")
        reader, program = _texts(body, "reader", "program")
        joined = _text(body.get("joined_sha256", ""))
        way = Way(reader, dialect_name, dialect_sha256, program, joined)
        sha256, name = _texts(source, "sha256", "name")
        records = tuple(
            Listed(*_texts({"started": "", **entry}, *Listed.__slots__))
            for entry in body["records"]
        )
        problems = tuple(_problem(name, entry) for entry in body["problems"])
    except (KeyError, TypeError) as error:
        raise NotABook(
            f"Line {line.number} of the journal is not of the form that this version writes.",
            "Use the version of sweepbook that wrote it.",
        ) from error
    return Reading(sha256, name, way, records, problems)


def _line_before(line: journal.Line) -> int:
    """The number of the line whose place this one takes; 0 where there is none."""
    before = line.body.get("read_before")
    number = before.get("line") if isinstance(before, dict) else None
    return number if isinstance(number, int) else 0


def _problem(source: str, entry: Mapping[str, Any]) -> ReadProblem:
    place, message = _texts(entry, "place", "message")
    return ReadProblem(source, place, message, bool(entry["lost_record"]))


def _texts(entry: Mapping[str, Any], *names: str) -> tuple[str, ...]:
    return tuple(_text(entry[name]) for name in names)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value
