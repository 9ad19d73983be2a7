"""Where the ends of links are: what each source says of them, and what they make together."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.schedule.model import End
from sweepbook.schedule.place import levels_apart
from sweepbook_plugins.asbuilt.stored import asked, levels_of, place_in

if TYPE_CHECKING:
    from sweepbook_plugins.asbuilt.entities import Entities, Row
    from sweepbook_plugins.asbuilt.writing import Writing

SURENESS = ("schedule", "record", "label scheme")
"""Sources, the surest first: what was ordered, what somebody typed at the link, what its name
implies."""

_FORGET = """
    DELETE FROM end_said
    WHERE said_by = :said_by AND link_id IN (SELECT id FROM link WHERE job_id = :job)
"""
_SAID = f"""
    SELECT
        end_said.link_id, end_said.at_end, end_said.said_by, termination.label,
        {levels_of("place")}
    FROM end_said
    JOIN link ON link.id = end_said.link_id
    LEFT JOIN place ON place.id = end_said.place_id
    LEFT JOIN termination ON termination.id = end_said.termination_id
    WHERE link.job_id = :job
"""
_THERE = """
    SELECT
        id, near_place_id, near_termination_id, near_said_by,
        far_place_id, far_termination_id, far_said_by
    FROM link WHERE job_id = :job
"""
_CHANGE = """
    UPDATE link SET
        {end}_place_id = :place_id, {end}_termination_id = :termination_id,
        {end}_said_by = :said_by
    WHERE id = :link_id
"""


class Settled(NamedTuple):
    """One end of a link as a row of `link` has it."""

    place_id: int | None = None
    termination_id: int | None = None
    said_by: str | None = None


def together(said: Mapping[str, End]) -> tuple[End, tuple[str, ...]]:
    """What several sources make of one end, and those of them that gave a part of it.

    Surer ones come first. One that names another place than those before it gives nothing.
    """
    place: dict[str, str] = {}
    termination, givers = "", []
    for source in SURENESS:
        end = said.get(source, End())
        if levels_apart(place, end.place):
            continue
        gives = bool(end.place.keys() - place.keys()) or bool(end.termination and not termination)
        if gives:
            givers.append(source)
        place = {**end.place, **place}
        termination = termination or end.termination
    return End(place, termination), tuple(givers)


def put_said(writing: "Writing", job_id: int, said_by: str, rows: "Iterable[Row]") -> None:
    """Write what a source says of ends, in place of what it said before.

    Args:
        writing: what writes; places and terminations are written already.
        job_id: the job.
        said_by: the source.
        rows: link, end, and numbers of place and termination; the first of an end counts.
    """
    import sqlalchemy as sa

    writing.connection.execute(sa.text(_FORGET), {"said_by": said_by, "job": job_id})
    writing.put("end_said", [{**row, "said_by": said_by} for row in rows], "keep")


def settle_ends(writing: "Writing", entities: "Entities") -> None:
    """Let each link of the job say where its ends are, by all that is said of them."""
    import sqlalchemy as sa

    connection, job_id = writing.connection, entities.job_id
    said: defaultdict[tuple[int, str], dict[str, End]] = defaultdict(dict)
    for row in asked(connection, _SAID, job_id):
        end = End(place_in(row, "place"), row["label"] or "")
        said[row["link_id"], row["at_end"]][row["said_by"]] = end
    for name in ("near", "far"):
        changed = []
        for row in list(asked(connection, _THERE, job_id)):
            there = Settled(*(row[f"{name}_{field}"] for field in Settled._fields))
            settled = _settled(said.get((row["id"], name), {}), entities)
            if settled != there:
                changed.append({"link_id": row["id"], **settled._asdict()})
        for table in ("place", "termination"):
            writing.put(table, entities.waiting.pop(table, ()))
        if changed:
            connection.execute(sa.text(_CHANGE.format(end=name)), changed)


def _settled(said: Mapping[str, End], entities: "Entities") -> Settled:
    end, givers = together(said)
    if not givers:
        return Settled()
    *others, last = givers
    words = f"{', '.join(others)} and {last}" if others else last
    return Settled(*entities.end(end), words)
