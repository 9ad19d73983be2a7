"""The links of a job that changed since a moment or an earlier export, and in what."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from sweepbook.text import natural_key
from sweepbook_plugins.asbuilt.compared import Thing, differences
from sweepbook_plugins.asbuilt.stored import asked

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook_plugins.asbuilt.entities import Row
    from sweepbook_plugins.asbuilt.schema import Schema

NEW, CHANGED, GONE = "new", "changed", "gone"
_OTHER_WAY = {NEW: GONE, GONE: NEW}
_LINKS = "SELECT id, label FROM link WHERE job_id = :job"
_UNTESTED = "SELECT DISTINCT label FROM scheduled WHERE job_id = :job AND link_id IS NULL"
_TESTS = "SELECT id, link_id FROM test WHERE job_id = :job"
_TIMED = {
    "test": "SELECT link_id, gathered AS at FROM test WHERE job_id = :job",
    "correction": "SELECT link_id, entered AS at FROM correction "
    "JOIN test ON test.id = correction.test_id WHERE test.job_id = :job",
    "finding": "SELECT link_id, accepted_on AS at FROM finding "
    "JOIN test ON test.id = finding.test_id "
    "WHERE test.job_id = :job AND accepted_by IS NOT NULL",
}
"""When something came to a link, by the table that it came into."""


@dataclass(frozen=True, slots=True)
class Change:
    """A link, or a place of the schedule that was never tested, that changed.

    Attributes:
        link_id: its number; None for a place that was never tested, neither before nor after.
        label: its label; None where it has none.
        change: NEW, CHANGED or GONE.
        changed_in: tables.
        untested: whether it is a place of the schedule that no test is of now.
        former: whether it is what a link was before its place was corrected, which is listed too.
    """

    link_id: int | None
    label: str | None
    change: str
    changed_in: tuple[str, ...]
    untested: bool = False
    former: bool = False

    def row(self, job_id: int, position: int) -> "Row":
        """As `changed_link` has it."""
        return {
            "job_id": job_id,
            "position": position,
            "link_id": self.link_id,
            "label": self.label,
            "change": self.change,
            "changed_in": ", ".join(self.changed_in),
        }


def since_export(
    before: "sa.Connection", after: "sa.Connection", schema: "Schema", job_id: int
) -> list[Change]:
    """What differs between an earlier database and a later one."""
    differ = differences(before, after, schema, job_id)
    there, here = _things(before, job_id), _things(after, job_id)

    def change(thing: Thing) -> str:
        if thing not in there:
            return NEW
        return CHANGED if thing in here else GONE

    found = _as_one(
        Change(
            thing[0],
            here.get(thing, there.get(thing)),
            change(thing),
            tuple(tables),
            untested=thing[0] is None,
        )
        for thing, tables in differ.items()
    )
    return _sorted(_moved(list(found), before, after, job_id))


def _moved(
    changes: Sequence[Change], before: "sa.Connection", after: "sa.Connection", job_id: int
) -> Iterator[Change]:
    """Links of which a test is of another link of that label now are one link that changed.

    So it is where the building of a link was corrected: both numbers stay in the list, since rows
    of both are to be taken out of another database.
    """
    gone, new = (
        {
            one.link_id: one.label
            for one in changes
            if one.change == kind and one.link_id is not None
        }
        for kind in (GONE, NEW)
    )
    was = {row["id"]: row["link_id"] for row in asked(before, _TESTS, job_id)} if gone else {}
    moved: set[int | None] = set()
    for row in asked(after, _TESTS, job_id) if gone and new else ():
        link, old = row["link_id"], was.get(row["id"])
        if old in gone and link in new and gone[old] == new[link]:
            moved |= {old, link}
    for one in changes:
        former = one.link_id in gone
        yield replace(one, change=CHANGED, former=former) if one.link_id in moved else one


def _as_one(changes: Iterable[Change]) -> Iterator[Change]:
    """A place of the schedule and the link that was tested there since, or before, are one link."""
    listed = list(changes)
    places = {(one.label, one.change): one for one in listed if one.link_id is None}
    joined: set[Change] = set()
    for one in listed:
        place = places.get((one.label, _OTHER_WAY.get(one.change, "")))
        if one.link_id is not None and place is not None:
            joined.add(place)
            tables = tuple(dict.fromkeys((*one.changed_in, *place.changed_in)))
            untested = place.change == NEW
            yield replace(one, change=CHANGED, changed_in=tables, untested=untested)
        elif one.link_id is not None:
            yield one
    yield from (place for place in places.values() if place not in joined)


def since_moment(connection: "sa.Connection", job_id: int, moment: datetime) -> list[Change]:
    """What came to links from a moment on, or at a time that nobody can tell."""
    came: defaultdict[int, list[str]] = defaultdict(list)
    old: set[int] = set()
    for table, question in _TIMED.items():
        for row in asked(connection, question, job_id):
            if not _from_then_on(row["at"], moment):
                if table == "test":
                    old.add(row["link_id"])
            elif table not in came[row["link_id"]]:
                came[row["link_id"]].append(table)
    labels = {row["id"]: row["label"] for row in asked(connection, _LINKS, job_id)}
    return _sorted(
        Change(link, labels[link], CHANGED if link in old else NEW, tuple(tables))
        for link, tables in came.items()
        if tables
    )


def _things(connection: "sa.Connection", job_id: int) -> Mapping[Thing, str | None]:
    """Labels of the links and of the places of the schedule that were never tested."""
    links = {(row["id"], None): row["label"] for row in asked(connection, _LINKS, job_id)}
    untested = {(None, row["label"]): row["label"] for row in asked(connection, _UNTESTED, job_id)}
    return {**links, **untested}


def _from_then_on(text: str | None, moment: datetime) -> bool:
    """Whether a time or a day is at a moment or later; True where that cannot be told."""
    try:
        if text is not None and len(text) == len("2026-03-01"):
            return date.fromisoformat(text) >= moment.date()
        at = datetime.fromisoformat(text or "")
    except ValueError:
        return True
    return (at if at.tzinfo else at.replace(tzinfo=UTC)) >= moment


def _sorted(changes: Iterable[Change]) -> list[Change]:
    return sorted(changes, key=lambda one: (natural_key(one.label or ""), one.link_id or -1))


def told(changes: Sequence[Change]) -> Iterator[str]:
    """How many of each kind: "1 new", "3 changed"."""
    for kind in (NEW, CHANGED, GONE):
        if count := sum(one.change == kind and not one.former for one in changes):
            yield f"{count:,} {kind}"
