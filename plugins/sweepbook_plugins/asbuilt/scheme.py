"""The label scheme in the database: what labels say of ends, and labels that do not fit it."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.schedule.label_scheme import parse
from sweepbook_plugins.asbuilt.ends import put_said
from sweepbook_plugins.asbuilt.stored import asked
from sweepbook_plugins.asbuilt.values import clean

if TYPE_CHECKING:
    from sweepbook.schedule.label_scheme import LabelScheme
    from sweepbook_plugins.asbuilt.entities import Entities, Row
    from sweepbook_plugins.asbuilt.writing import Writing

SAID_BY = "label scheme"
_STORED = "SELECT name, content FROM label_scheme WHERE job_id = :job"
_LABELS = """
    SELECT link.id, link.label FROM link
    WHERE link.job_id = :job AND link.label IS NOT NULL
        AND link.id IN (SELECT link_id FROM test WHERE replaced_by IS NULL)
    ORDER BY link.label, link.id
"""
_SCHEDULED = "SELECT DISTINCT label FROM scheduled WHERE job_id = :job AND link_id IS NULL"


def stand_in(writing: "Writing", job_id: int, scheme: "LabelScheme | None") -> "LabelScheme | None":
    """The scheme that counts: the one that came with the delivery, else the last one stored."""
    if scheme is None:
        for row in asked(writing.connection, _STORED, job_id):
            return parse(row["content"], row["name"])
        return None
    known = {"name": clean(scheme.name), "sha256": scheme.sha256, "content": scheme.content}
    writing.put("label_scheme", [{"job_id": job_id, **known}])
    return scheme


def put_scheme(writing: "Writing", entities: "Entities", scheme: "LabelScheme | None") -> None:
    """Write what the scheme says of the ends of all links of the job.

    Args:
        writing: within the transaction that wrote tests and schedule.
        entities: of the job.
        scheme: the one that counts, None for none.
    """
    if scheme is None:
        return
    job_id, connection = entities.job_id, writing.connection
    links = [(row["id"], row["label"]) for row in asked(connection, _LABELS, job_id)]
    said = list(_said(links, scheme, entities))
    for table in ("place", "termination"):
        writing.put(table, entities.waiting.pop(table, ()))
    put_said(writing, job_id, SAID_BY, said)
    labels = {label for _, label in links}
    labels |= {row["label"] for row in asked(connection, _SCHEDULED, job_id)}
    misfits = [(label, why) for label in sorted(labels) if (why := scheme.misfit(label))]
    writing.clear("label_misfit", [job_id])
    writing.put(
        "label_misfit",
        [
            {"job_id": job_id, "position": n, "label": label, "reason": why}
            for n, (label, why) in enumerate(misfits)
        ],
    )


def _said(
    links: list[tuple[int, str]], scheme: "LabelScheme", entities: "Entities"
) -> "Iterator[Row]":
    for link_id, label in links:
        for at_end, end in zip(("near", "far"), scheme.ends(label) or (), strict=False):
            place_id, termination_id = entities.end(end)
            if place_id is not None or termination_id is not None:
                yield {
                    "link_id": link_id,
                    "at_end": at_end,
                    "place_id": place_id,
                    "termination_id": termination_id,
                }
