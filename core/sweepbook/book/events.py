"""What lines of the journal tell of: sources that were read, withdrawn, or given again."""

from collections.abc import Mapping
from dataclasses import dataclass
from operator import itemgetter
from typing import Any

from sweepbook.book.journal import Line
from sweepbook.book.layout import NotABook
from sweepbook.errors import ReadProblem

GATHERED = "gathered"
CORRECTED = "corrected"
WITHDRAWN = "withdrawn"
RETURNED = "returned"
GIVEN = "given"


@dataclass(frozen=True, slots=True)
class Listed:
    """A record as a line of the journal lists it.

    Attributes:
        record_id: its identity.
        locator: where in the source it stands.
        label, limit, stated: as in the record, "" where it has none; for the index and the order.
        file_sha256: digest of the record's file when the line was written.
        started: when the test was, as the source states it; "" likewise, and in lines of old.
        began: the same in RFC 3339, for the order; "" where that is not known, and in lines of old.
    """

    record_id: str
    locator: str
    label: str
    limit: str
    stated: str
    file_sha256: str
    started: str = ""
    began: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """How a source was read: two readings the same way need not be made twice.

    Attributes:
        reader: name of the format.
        dialect_name, dialect_sha256: the dialect; "" where the format needs none.
        program: name and version.
        joined: digests of the files with the other parts of its tests.
        part: whether it holds only such parts itself, of tests that are listed with another file.
    """

    reader: str
    dialect_name: str
    dialect_sha256: str
    program: str
    joined: tuple[str, ...] = ()
    part: bool = False


_OF_LISTED = itemgetter(*Listed.__slots__)
_ONLY_TEXTS = {str}
Of = tuple[str, tuple[str, ...]]
"""Digest of a source, and of the files with the other parts of its tests."""


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
        """What was read: a source, with the files that hold the other parts of its tests."""
        return self.sha256, self.way.joined

    def to_json(self) -> dict[str, Any]:
        """The part of a journal line that says all this."""
        dialect = {"name": self.way.dialect_name, "sha256": self.way.dialect_sha256}
        return {
            "program": self.way.program,
            "source": {"sha256": self.sha256, "name": self.name},
            "reader": self.way.reader,
            "dialect": dialect if self.way.dialect_sha256 else None,
            **({"joined_sha256": one_or_list(self.way.joined)} if self.way.joined else {}),
            **({"part": True} if self.way.part else {}),
            "records": [_fields(entry) for entry in self.records],
            "problems": [
                {"place": p.place, "message": p.message, "lost_record": p.lost_record}
                for p in self.problems
            ],
        }


def one_or_list(texts: tuple[str, ...]) -> str | list[str]:
    """One text as it is, several as a list."""
    return texts[0] if len(texts) == 1 else list(texts)


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """Why a source counts no more.

    Attributes:
        line: number of the line of the journal that says so.
        when: the line's time.
        who, why: as they were told.
    """

    line: int
    when: str
    who: str
    why: str


def reading_of(line: Line) -> Reading:
    """The reading that a line tells of."""
    try:
        body = line.body
        source, dialect = body["source"], body["dialect"] or {"name": "", "sha256": ""}
        dialect_name, dialect_sha256 = _texts(dialect, "name", "sha256")
        reader, program = _texts(body, "reader", "program")
        joined = body.get("joined_sha256", [])
        joined = tuple(map(_text, joined if isinstance(joined, list) else [joined]))
        part = body.get("part", False) is True
        way = Way(reader, dialect_name, dialect_sha256, program, joined, part)
        sha256, name = _texts(source, "sha256", "name")
        records = tuple(map(_listed, body["records"]))
        problems = tuple(_problem(name, entry) for entry in body["problems"])
    except (KeyError, TypeError) as error:
        raise _not_of_the_form(line) from error
    return Reading(sha256, name, way, records, problems)


def withdrawals_of(line: Line) -> dict[str, Withdrawal]:
    """The sources that a line withdraws or takes back in, by digest."""
    try:
        at, who, why = _texts(line.body, "at", "who", "why")
        digests = [_text(source["sha256"]) for source in line.body["sources"]]
    except (KeyError, TypeError) as error:
        raise _not_of_the_form(line) from error
    return dict.fromkeys(digests, Withdrawal(line.number, at, who, why))


def places_of(line: Line) -> list[tuple[str, str]]:
    """The digests of sources that were given again, each with the path it had then."""
    try:
        return [(_text(one["sha256"]), _text(one["from"])) for one in line.body["sources"]]
    except (KeyError, TypeError) as error:
        raise _not_of_the_form(line) from error


def line_before(line: Line) -> int:
    """The number of the line whose place this one takes; 0 where there is none."""
    before = line.body.get("read_before")
    number = before.get("line") if isinstance(before, dict) else None
    return number if isinstance(number, int) else 0


def _fields(entry: Listed) -> dict[str, str]:
    return {name: getattr(entry, name) for name in Listed.__slots__}


def _not_of_the_form(line: Line) -> NotABook:
    return NotABook(
        f"Line {line.number} of the journal is not of the form that this version writes.",
        "Use the version of sweepbook that wrote it.",
    )


def _problem(source: str, entry: Mapping[str, Any]) -> ReadProblem:
    place, message = _texts(entry, "place", "message")
    return ReadProblem(source, place, message, bool(entry["lost_record"]))


def _listed(entry: Mapping[str, Any]) -> Listed:
    """A record as a line lists it; lines of old do not say when the test was."""
    texts = _OF_LISTED({"started": "", "began": "", **entry})
    if set(map(type, texts)) != _ONLY_TEXTS:
        raise TypeError(entry)
    return Listed(*texts)


def _texts(entry: Mapping[str, Any], *names: str) -> tuple[str, ...]:
    texts = tuple([entry[name] for name in names])
    if set(map(type, texts)) != _ONLY_TEXTS:
        raise TypeError(entry)
    return texts


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value
