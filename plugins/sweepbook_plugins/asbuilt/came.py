"""What came to the links of a job from a moment on, and which of them lost tests since."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from sweepbook_plugins.asbuilt.changes import (
    CHANGED,
    GONE,
    LINKS,
    NEW,
    UNTESTED,
    Change,
    in_order,
)
from sweepbook_plugins.asbuilt.stored import asked, link_of_test
from sweepbook_plugins.asbuilt.values import clean, named

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook.record.model import Record
    from sweepbook_plugins.asbuilt.entities import Entities
    from sweepbook_plugins.asbuilt.schedule import LetStand

_TIMED = {
    "test": "SELECT id AS test_id, link_id, gathered AS at FROM test WHERE job_id = :job",
    "correction": "SELECT link_id, entered AS at FROM correction "
    "JOIN test ON test.id = correction.test_id WHERE test.job_id = :job",
    "finding": "SELECT link_id, accepted_on AS at FROM finding "
    "JOIN test ON test.id = finding.test_id "
    "WHERE test.job_id = :job AND accepted_by IS NOT NULL",
    "set_finding": """
        SELECT test.link_id, came.at FROM (
            SELECT named.position AS position, MAX(test.gathered) AS at
            FROM set_finding_test AS named JOIN test ON test.id = named.test_id
            WHERE named.job_id = :job GROUP BY named.position
            UNION ALL
            SELECT position, accepted_on FROM set_finding
            WHERE job_id = :job AND accepted_by IS NOT NULL
        ) AS came
        JOIN set_finding_test ON set_finding_test.position = came.position
            AND set_finding_test.job_id = :job
        JOIN test ON test.id = set_finding_test.test_id
    """,
}
"""When something came to a link, by the table that it came into. A finding about tests together
came with the last of them."""


_TEST, _SCHEDULED = "test", "scheduled"


def since_moment(
    connection: "sa.Connection",
    entities: "Entities",
    moment: datetime,
    recounted: "Iterable[Record]" = (),
    let_stand: "LetStand | None" = None,
) -> list[Change]:
    """What came to links from a moment on, or at a time that nobody can tell.

    Args:
        connection: to a database that holds the delivery, and nothing else.
        entities: of its job.
        moment: in UTC.
        recounted: tests that ceased to count from then on, or began to count again, whatever they
            do now. Whoever had one that counts no more has it of the link that it would be of.
        let_stand: see `put_schedule`.
    """
    job_id = entities.job_id
    came: defaultdict[int, list[str]] = defaultdict(list)
    old: set[int] = set()
    back, lost = _recounted(connection, entities, recounted)
    for table, question in _TIMED.items():
        for row in asked(connection, question, job_id):
            again = table == _TEST and row["test_id"] in back
            if not again and not _from_then_on(row["at"], moment):
                if table == _TEST:
                    old.add(row["link_id"])
            elif table not in came[row["link_id"]]:
                came[row["link_id"]].append(table)
    stand = [thing for thing, day in (let_stand or {}).items() if _from_then_on(day, moment)]
    for link, _ in stand:
        if link is not None:
            came[link].append(_SCHEDULED)
    labels = {row["id"]: row["label"] for row in asked(connection, LINKS, job_id)}
    for link in lost.keys() & labels.keys():
        old.add(link)
        came[link] = list(dict.fromkeys((_TEST, *came[link])))
    there = (
        Change(link, labels[link], CHANGED if link in old else NEW, tuple(tables))
        for link, tables in came.items()
        if tables
    )
    gone = {link: label for link, label in lost.items() if link not in labels}
    listed = [*there, *_gone(connection, job_id, gone)]
    known = {one.label for one in listed if one.untested}
    places = (
        Change(None, label, CHANGED, (_SCHEDULED,), untested=True)
        for link, label in stand
        if link is None and label not in known
    )
    return in_order((*listed, *places))


def _recounted(
    connection: "sa.Connection", entities: "Entities", recounted: "Iterable[Record]"
) -> tuple[set[int], dict[int, str | None]]:
    """The tests among them that count now; the links of the others, with what these call them."""
    back: set[int] = set()
    lost: dict[int, str | None] = {}
    known: dict[int, int] | None = None
    for record in recounted:
        if known is None:
            known = link_of_test(connection, entities.job_id)
        number = named(entities.job, clean(record.record_id)).id
        if number in known:
            back.add(number)
        else:
            lost[entities.link_of(record)] = clean(record.label) or None
    return back, lost


def _gone(
    connection: "sa.Connection", job_id: int, gone: dict[int, str | None]
) -> Iterator[Change]:
    """Links that no test is of any longer: those on the schedule are places without a test now."""
    places = {row["label"] for row in asked(connection, UNTESTED, job_id)} if gone else set()
    for link, label in gone.items():
        untested = label is not None and label in places
        yield Change(link, label, CHANGED if untested else GONE, (_TEST,), untested=untested)


def _from_then_on(text: str | None, moment: datetime) -> bool:
    """Whether a time or a day is at a moment or later; True where that cannot be told."""
    try:
        if text is not None and len(text) == len("2026-03-01"):
            return date.fromisoformat(text) >= moment.date()
        at = datetime.fromisoformat(text or "")
    except ValueError:
        return True
    return (at if at.tzinfo else at.replace(tzinfo=UTC)) >= moment
