"""The links of a job that changed since an earlier export, and in what."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
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
LINKS = "SELECT id, label FROM link WHERE job_id = :job"
UNTESTED = "SELECT DISTINCT label FROM scheduled WHERE job_id = :job AND link_id IS NULL"
TESTS = "SELECT id, link_id FROM test WHERE job_id = :job"


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
    return in_order(_moved(list(found), before, after, job_id))


def _moved(
    changes: Sequence[Change], before: "sa.Connection", after: "sa.Connection", job_id: int
) -> Iterator[Change]:
    """Links of which a test is of another link of that label now are one link that changed.

    So it is where the building of a link was corrected, or two turned out to be one: both numbers
    stay in the list, since rows of both are to be taken out of another database.
    """
    gone, there = (
        {
            one.link_id: one.label
            for one in changes
            if one.change in kinds and one.link_id is not None
        }
        for kinds in ((GONE,), (NEW, CHANGED))
    )
    was = {row["id"]: row["link_id"] for row in asked(before, TESTS, job_id)} if gone else {}
    moved: set[int | None] = set()
    for row in asked(after, TESTS, job_id) if gone and there else ():
        link, old = row["link_id"], was.get(row["id"])
        if old in gone and link in there and gone[old] == there[link]:
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


def _things(connection: "sa.Connection", job_id: int) -> Mapping[Thing, str | None]:
    """Labels of the links and of the places of the schedule that were never tested."""
    links = {(row["id"], None): row["label"] for row in asked(connection, LINKS, job_id)}
    untested = {(None, row["label"]): row["label"] for row in asked(connection, UNTESTED, job_id)}
    return {**links, **untested}


def in_order(changes: Iterable[Change]) -> list[Change]:
    """Changes by label."""
    return sorted(changes, key=lambda one: (natural_key(one.label or ""), one.link_id or -1))


def told(changes: Sequence[Change]) -> Iterator[str]:
    """How many of each kind: "1 new", "3 changed"."""
    for kind in (NEW, CHANGED, GONE):
        if count := sum(one.change == kind and not one.former for one in changes):
            yield f"{count:,} {kind}"
