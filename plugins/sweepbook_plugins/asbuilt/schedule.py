"""The cable schedule in the database: where each link stands, by all tests that are there."""

import json
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, cast

from sweepbook.schedule.cable import contradictions
from sweepbook.schedule.model import End
from sweepbook.schedule.place import levels_apart
from sweepbook.schedule.reconcile import Item, reconcile
from sweepbook.schedule.told import in_words
from sweepbook_plugins.asbuilt import stored
from sweepbook_plugins.asbuilt.compared import Thing
from sweepbook_plugins.asbuilt.ends import put_said
from sweepbook_plugins.asbuilt.values import clean, named

if TYPE_CHECKING:
    from sweepbook.limits.library import Library
    from sweepbook.schedule.attempt import Attempt
    from sweepbook.schedule.label_scheme import LabelScheme
    from sweepbook.schedule.model import Schedule
    from sweepbook.schedule.told import Accepts
    from sweepbook_plugins.asbuilt.entities import Entities, Row
    from sweepbook_plugins.asbuilt.writing import Writing

LetStand = Mapping[Thing, str]
"""The day on which somebody last accepted what the schedule says of a link, or of a place that was
never tested."""
WIDE = ("site", "building")
"""Levels of a link that are those of its ends unless they say otherwise."""


def put_schedule(
    writing: "Writing",
    entities: "Entities",
    schedule: "Schedule | None",
    library: "Library",
    scheme: "LabelScheme | None",
    site: str,
    accepts: "Accepts | None",
) -> LetStand:
    """Write where each link stands, and what the schedule says of the ends of its links.

    Args:
        writing: within the transaction that wrote the tests, after they were settled.
        entities: of the job.
        schedule: the one that came with the delivery; where none did, the last one counts on.
        library: to look up what the schedule asks for.
        scheme: tells places that neither the schedule nor a test names.
        site: of the job, as its project file has it.
        accepts: see `reconcile`.

    Returns:
        When what the schedule says of a link was accepted.
    """
    connection, job_id = writing.connection, entities.job_id
    wanted = schedule or stored.schedule(connection, job_id)
    if wanted is None:
        return {}
    held = reconcile(wanted, stored.attempts(connection, job_id), library, scheme, site, accepts)
    link_of = stored.link_of_test(connection, job_id)
    rows = [
        {**_row(item, n, entities), **_last(item, link_of, entities)}
        for n, item in enumerate(held.items)
    ]
    told = {"schedule_name": clean(wanted.name), "schedule_sha256": wanted.sha256}
    for table in ("place", "termination"):
        writing.put(table, entities.waiting.pop(table, ()))
    for table in ("scheduled_test", "scheduled"):
        writing.clear(table, [job_id])
    writing.put("scheduled", [{**row, **told} for row in rows])
    writing.put(
        "scheduled_test",
        [row for n, item in enumerate(held.items) for row in _tests(item, n, entities)],
    )
    said = [*_said(held.items, link_of, entities, scheme)]
    for table in ("place", "termination"):
        writing.put(table, entities.waiting.pop(table, ()))
    put_said(writing, job_id, "schedule", said)
    return _let_stand(held.items, rows)


def _let_stand(items: Iterable[Item], rows: Iterable["Row"]) -> LetStand:
    """The last day on which something was accepted of each link or place without a test."""
    found: dict[Thing, str] = {}
    for item, row in zip(items, rows, strict=True):
        by = [one for one in (item.accepted, *(said.accepted for said in item.remarks)) if one]
        link, label = cast("int | None", row["link_id"]), cast("str | None", row["label"])
        thing: Thing = (link, None) if link is not None else (None, label)
        for accepted in by:
            found[thing] = max(accepted.when, found.get(thing, ""))
    return found


def _row(item: Item, position: int, entities: "Entities") -> "Row":
    link = item.scheduled
    near = [label for label, _ in item.near_misses]
    row: dict[str, str | int | float | None] = {
        "job_id": entities.job_id,
        "position": position,
        "label": clean(item.label),
        "state": item.state.value,
        "is_open": int(item.open),
        "reason": clean(in_words(item.reason, item.accepted)) or None,
        "remarks": clean(" ".join(one.words for one in item.remarks)) or None,
        "near_labels": clean(json.dumps(near, ensure_ascii=False)) if near else None,
        "limit_path_asked": item.asked or None,
        "place_id": entities.place(dict(item.place)),
    }
    if link is not None:
        row |= {
            "schedule_line": link.line,
            "limit_asked": clean(link.limit) or None,
            "configuration_asked": clean(link.configuration) or None,
            "cable": clean(link.cable) or None,
            "reel": clean(link.reel) or None,
            "own_place_id": entities.place(link.place),
            **_end("near", link.near, entities),
            **_end("far", link.far, entities),
        }
    return row


def _end(name: str, end: "End", entities: "Entities") -> "Row":
    """Numbers of the place and the termination of an end."""
    place_id, termination_id = entities.end(end)
    return {f"{name}_place_id": place_id, f"{name}_termination_id": termination_id}


def _last(item: Item, link_of: dict[int, int], entities: "Entities") -> "Row":
    """The last test of an item, and its link."""
    if not item.tests:
        return {"link_id": None}
    number = _number(item.tests[-1], entities)
    return {"link_id": link_of[number], "test_id": number}


def _tests(item: Item, position: int, entities: "Entities") -> "Iterable[Row]":
    """The tests of an item, with what their cables contradict."""
    link = item.scheduled
    for test in item.tests:
        apart = contradictions(link.cable, link.reel, test.cable) if link else ()
        yield {
            "job_id": entities.job_id,
            "position": position,
            "test_id": _number(test, entities),
            "cable_differs_in": ", ".join(apart) or None,
        }


def _number(test: "Attempt", entities: "Entities") -> int:
    return named(entities.job, clean(test.record_id)).id


def _said(
    items: Iterable[Item],
    link_of: dict[int, int],
    entities: "Entities",
    scheme: "LabelScheme | None",
) -> "Iterable[Row]":
    """What the schedule says of the ends of links that were tested."""
    for item in items:
        link = item.scheduled
        if link is None or not item.tests:
            continue
        read = (scheme.ends(link.label) if scheme else None) or (End(), End())
        tests = item.tests
        near = _of_link(link.place, link.near, [*(test.near for test in tests), read[0]])
        far = _of_link(link.place, link.far, [*(test.far for test in tests), read[1]])
        for name, end in (("near", near), ("far", far)):
            place_id, termination_id = entities.end(end)
            if place_id is not None or termination_id is not None:
                yield {
                    "link_id": link_of[_number(tests[-1], entities)],
                    "at_end": name,
                    "place_id": place_id,
                    "termination_id": termination_id,
                }


def _of_link(own: Mapping[str, str], end: End, others: Iterable[End]) -> End:
    """An end that the schedule states, with site and building of its link.

    It has these unless the schedule, a test or the label scheme says otherwise of the end: a link
    may lead into another building.
    """
    wide = {level: own[level] for level in WIDE if level in own}
    if any(levels_apart(wide, one.place) for one in (end, *others)):
        return end
    return End({**wide, **end.place}, end.termination)
