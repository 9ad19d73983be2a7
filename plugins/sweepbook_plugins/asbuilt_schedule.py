"""The cable schedule in the database: where each link stands, and where its ends are."""

import json
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from sweepbook.schedule.reconcile import Item, reconcile
from sweepbook_plugins.asbuilt_values import clean, named

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook.limits.library import Library
    from sweepbook.schedule.attempt import Attempt
    from sweepbook.schedule.model import End, Schedule
    from sweepbook_plugins.asbuilt_entities import Entities, Row
    from sweepbook_plugins.asbuilt_writing import Writing

_ENDS = """
    UPDATE link SET
        {end}_place_id = :place_id, {end}_termination_id = :termination_id,
        {end}_said_by = 'schedule'
    WHERE id = :link_id
"""


def put_schedule(
    writing: "Writing",
    entities: "Entities",
    schedule: "Schedule",
    tests: "Iterable[Attempt]",
    library: "Library",
) -> None:
    """Write where each link stands, and let the schedule say where the ends of its links are.

    An end of which the schedule says nothing stays as the records have it.

    Args:
        writing: within the transaction that wrote the tests, after they were settled.
        entities: of the job.
        schedule: the schedule.
        tests: of this delivery.
        library: to look up what the schedule asks for.
    """
    held = reconcile(schedule, tests, library)
    rows = [
        {**_row(item, n, entities, writing.connection), **_of(schedule)}
        for n, item in enumerate(held.items)
    ]
    for table in ("place", "termination"):
        writing.put(table, entities.waiting.pop(table, ()))
    writing.clear("scheduled", [entities.job_id])
    writing.put("scheduled", rows)
    for end, moved in (("near", list(_moved(rows, "near"))), ("far", list(_moved(rows, "far")))):
        if moved:
            _update(writing.connection, end, moved)


def _of(schedule: "Schedule") -> "Row":
    return {"schedule_name": clean(schedule.name), "schedule_sha256": schedule.sha256}


def _row(item: Item, position: int, entities: "Entities", connection: "sa.Connection") -> "Row":
    link = item.scheduled
    near = [label for label, _ in item.near_misses]
    row: dict[str, str | int | float | None] = {
        "job_id": entities.job_id,
        "position": position,
        "label": clean(item.label),
        "state": item.state.value,
        "is_open": int(item.state.open),
        "reason": clean(" ".join((item.reason, *item.remarks)).strip()) or None,
        "near_labels": clean(json.dumps(near, ensure_ascii=False)) if near else None,
        "link_id": _link_id(item, entities, connection),
        "limit_path_asked": item.asked or None,
    }
    if link is not None:
        row |= {
            "schedule_line": link.line,
            "limit_asked": clean(link.limit) or None,
            "configuration_asked": clean(link.configuration) or None,
            "cable": clean(link.cable) or None,
            "reel": clean(link.reel) or None,
        }
        for name, end in (("near", link.near), ("far", link.far)):
            row |= _end(name, end, entities)
    return row


def _end(name: str, end: "End", entities: "Entities") -> "Row":
    """Numbers of the place and the termination of an end."""
    stated = {"place": dict(end.place), "termination": end.termination}
    return {
        f"{name}_place_id": entities.place(end.place),
        f"{name}_termination_id": entities.termination(stated) if end.termination else None,
    }


def _link_id(item: Item, entities: "Entities", connection: "sa.Connection") -> int | None:
    """The link of the last test."""
    if not item.tests:
        return None
    import sqlalchemy as sa

    number = named(entities.job, clean(item.tests[-1].record_id)).id
    asked = sa.text("SELECT link_id FROM test WHERE id = :number")
    found: int | None = connection.execute(asked, {"number": number}).scalar()
    return found


def _moved(rows: "Iterable[Row]", end: str) -> "Iterator[Row]":
    """The links whose end the schedule states."""
    for row in rows:
        place, termination = row.get(f"{end}_place_id"), row.get(f"{end}_termination_id")
        if row["link_id"] is not None and (place is not None or termination is not None):
            yield {"link_id": row["link_id"], "place_id": place, "termination_id": termination}


def _update(connection: "sa.Connection", end: str, moved: "list[Row]") -> None:
    import sqlalchemy as sa

    connection.execute(sa.text(_ENDS.format(end=end)), [dict(row) for row in moved])
