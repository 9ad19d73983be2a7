"""What the journal adds up to: which reading of each source is current, and what is in it."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sweepbook.book import events, journal
from sweepbook.book.events import Listed, Of, Reading, Withdrawal
from sweepbook.errors import ReadProblem
from sweepbook.rules.times import in_time
from sweepbook.text import natural_key


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
        latest: the last reading of each source, by its digest and those of the files joined to it,
            with its line's number.
        current: the last reading of each source that gave a record, by the same.
        file_sha256: digest of each record's file as last written, by record id.
        corrections: each correction that was entered, text by title, with its line's number.
        table_sha256: digest of the table with the last of them in it; "" without any.
        withdrawn: the sources that count no more now, by digest.
        came_from: the paths under which each source was given, by digest.
    """

    last: journal.Line | None = None
    latest: dict[Of, tuple[int, Reading]] = field(default_factory=dict)
    current: dict[Of, Reading] = field(default_factory=dict)
    file_sha256: dict[str, str] = field(default_factory=dict)
    corrections: list[tuple[int, Mapping[str, Any]]] = field(default_factory=list)
    table_sha256: str = ""
    withdrawn: dict[str, Withdrawal] = field(default_factory=dict)
    came_from: dict[str, set[str]] = field(default_factory=dict)
    _of_line: dict[int, Of] = field(default_factory=dict)
    _readings: Counter[str] = field(default_factory=Counter)
    """How many readings are the last of their kind, by the digest of the source."""

    def add(self, line: journal.Line) -> None:
        """Take in the next line.

        Raises:
            NotABook: the line says something else than such a line must.
        """
        self.last = line
        if line.event == events.CORRECTED and isinstance(line.body.get("correction"), dict):
            self.corrections.append((line.number, line.body["correction"]))
            self.table_sha256 = str(line.body.get("table_sha256", ""))
        if line.event in (events.WITHDRAWN, events.RETURNED):
            self._withdraw(line)
        if line.event == events.GIVEN:
            for sha256, place in events.places_of(line):
                self.came_from.setdefault(sha256, set()).add(place)
        if line.event == events.GATHERED:
            self._gather(line)

    def _withdraw(self, line: journal.Line) -> None:
        """Take in a line that withdraws sources, or takes some back in."""
        for sha256, withdrawal in events.withdrawals_of(line).items():
            if line.event == events.WITHDRAWN:
                self.withdrawn[sha256] = withdrawal
            else:
                self.withdrawn.pop(sha256, None)

    def _gather(self, line: journal.Line) -> None:
        """Take in a line that tells of a reading."""
        reading = events.reading_of(line)
        self.came_from.setdefault(reading.sha256, set()).add(str(line.body.get("from", "")))
        replaced = self._of_line.pop(events.line_before(line), None)
        if replaced is not None:
            del self.latest[replaced]
            self._readings[replaced[0]] -= 1
            if reading.records or reading.way.part:
                self.current.pop(replaced, None)
        if reading.of in self.latest:
            del self._of_line[self.latest[reading.of][0]]
        else:
            self._readings[reading.sha256] += 1
        self._of_line[line.number] = reading.of
        self.latest[reading.of] = (line.number, reading)
        if reading.records:
            self.current[reading.of] = reading
        self.file_sha256.update({r.record_id: r.file_sha256 for r in reading.records})

    def counts(self, of: Of) -> bool:
        """Whether a reading counts: neither its source, nor a file joined to it, is withdrawn."""
        return self.withdrawal_of(of) is None

    def withdrawal_of(self, of: Of) -> Withdrawal | None:
        """Why a reading does not count; None where it does."""
        every = (of[0], *of[1])
        return next((self.withdrawn[sha256] for sha256 in every if sha256 in self.withdrawn), None)

    def at_rest(self) -> dict[str, Listed]:
        """The records that would be current if nothing were withdrawn, by their ids."""
        every = (listed for reading in self.current.values() for listed in reading.records)
        counting = {entry.listed.record_id for entry in self.entries()}
        return {one.record_id: one for one in every if one.record_id not in counting}

    def entries(self) -> list[Entry]:
        """The current records, by label in natural order, then by time of the test."""
        listed: dict[str, Listed] = {}
        names: dict[str, set[str]] = {}
        for reading in self.current.values():
            if not self.counts(reading.of):
                continue
            for record in reading.records:
                listed[record.record_id] = record
                names.setdefault(record.record_id, set()).add(reading.name)
        order = sorted(listed.values(), key=lambda one: place_of(one, one.label))
        return [Entry(record, tuple(sorted(names[record.record_id]))) for record in order]

    def sources(self) -> set[str]:
        """Digests of all sources that were read."""
        return {sha256 for sha256, _ in self.latest}

    def has(self, sha256: str) -> bool:
        """Whether a source of this digest was read."""
        return self._readings[sha256] > 0

    def readings_of(self, sha256: str) -> list[tuple[int, Reading]]:
        """The last readings of a source, one for each set of files that was joined to it."""
        return [entry for (source, _), entry in self.latest.items() if source == sha256]

    def problems(self) -> Iterator[ReadProblem]:
        """What the last reading of each source that counts could not take, by source and place."""
        by_name = sorted(
            self.latest.values(), key=lambda item: (natural_key(item[1].name), item[0])
        )
        for _, reading in by_name:
            if self.counts(reading.of):
                yield from reading.problems


def place_of(listed: Listed, label: str) -> tuple[object, ...]:
    """Where a record stands among others: by label, then by time of the test, unknown ones last.

    Args:
        listed: the record.
        label: as people see it.
    """
    return natural_key(label), label, *in_time(listed.began), listed.record_id


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
