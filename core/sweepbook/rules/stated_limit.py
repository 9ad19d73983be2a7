"""What the limit that a source states leads to."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from sweepbook.limits.compare import asks_no_less
from sweepbook.limits.library import AmbiguousLimit, Library, UnknownLimit
from sweepbook.rules.times import moment

if TYPE_CHECKING:
    from sweepbook.limits.model import LimitTable
    from sweepbook.record.model import Record


class Lead(StrEnum):
    """How a stated limit was followed up."""

    FOUND = "found"
    BY_DATE = "by date"
    UNKNOWN = "unknown"
    AMBIGUOUS = "ambiguous"
    NOT_STATED = "not stated"


@dataclass(frozen=True, slots=True)
class StatedLimit:
    """The limit as stated, and the table it leads to.

    Attributes:
        spelling: as the source has it; "" where it states none.
        lead: how it was followed up.
        how: the same in words.
        table: the table, or None where there is none.
        candidates: paths of the tables that it may mean, where it is ambiguous.
        contradicted: paths of the tables that the spelling means by itself, where the words of the
            dialect lead to one of another class, category or configuration.
    """

    spelling: str
    lead: Lead
    how: str
    table: "LimitTable | None" = None
    candidates: tuple[str, ...] = ()
    contradicted: tuple[str, ...] = ()

    @property
    def path(self) -> str | None:
        """Path of the table, or None where there is none."""
        return None if self.table is None else self.table.path


def find(record: "Record", library: Library) -> StatedLimit:
    """Follow up the limit that a record states.

    A path that the reader found, by the words of its dialect, goes before the spelling, and what
    the job means by the spelling before both; where the source spells none, there was nothing to
    find it by, and it counts for nothing.

    Args:
        record: one that follows its schema.
        library: the tables at hand.
    """
    test = record.document["test"]
    spelling = test.get("limit", {}).get("as_stated", "")
    pinned = record.document.get("resolved", {}).get("limit", {})
    by_name = _by_name(record, spelling, library)
    by_reader = spelling and "path" in pinned and library.own_name(spelling) is None
    if not by_reader or pinned == {"path": by_name.path, "how": by_name.how}:
        return by_name
    try:
        table = library.table(pinned["path"])
    except UnknownLimit as error:
        how = f"{spelling!r} is {pinned['path']} ({pinned['how']}). {error.message}"
        return StatedLimit(spelling, Lead.UNKNOWN, how)
    how = pinned.get("how", "by the reader")
    meant = (by_name.path,) if by_name.path else by_name.candidates
    if any(_is_same(table, library.table(path), library) for path in meant):
        meant = ()
    return StatedLimit(spelling, Lead.FOUND, how, table, contradicted=meant)


def _is_same(taken: "LimitTable", meant: "LimitTable", library: Library) -> bool:
    """Whether two tables are of one class or category and configuration, or one holds the other."""
    if meant.path in library.based_on(taken.path):
        return asks_no_less(taken, meant)
    return (taken.class_or_category, taken.configuration, taken.family) == (
        meant.class_or_category,
        meant.configuration,
        meant.family,
    )


def _by_name(record: "Record", spelling: str, library: Library) -> StatedLimit:
    if not spelling:
        return StatedLimit("", Lead.NOT_STATED, "the record names no limit")
    test = record.document["test"]
    started = moment(test.get("started"))
    try:
        found = library.resolve(
            spelling, started.date if started else None, test.get("configuration", {}).get("kind")
        )
    except AmbiguousLimit as error:
        return StatedLimit(spelling, Lead.AMBIGUOUS, error.message, candidates=error.candidates)
    except UnknownLimit as error:
        return StatedLimit(spelling, Lead.UNKNOWN, error.message)
    lead = Lead.BY_DATE if found.by == "date" else Lead.FOUND
    return StatedLimit(spelling, lead, found.how, library.table(found.path))
