"""Where the ends of links are: what each source says of them, and what they make together."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.schedule.model import End
from sweepbook.schedule.place import levels_apart
from sweepbook_plugins.asbuilt.stored import Stored, levels_of, place_in

if TYPE_CHECKING:
    from sweepbook_plugins.asbuilt.entities import Entities, Row
    from sweepbook_plugins.asbuilt.writing import Writing

SURENESS = ("schedule", "record", "label scheme")
"""Sources, the surest first: what was ordered, what somebody typed at the link, what its name
implies."""

CHUNK = 5_000
"""Links that are settled at once."""

_FORGET = """
    DELETE FROM end_said
    WHERE said_by = :said_by AND link_id IN (SELECT id FROM link WHERE job_id = :job)
"""
_MIXED = (
    """
    CREATE TEMPORARY TABLE mixed AS
    SELECT end_said.link_id AS link_id FROM end_said
    JOIN link ON link.id = end_said.link_id AND link.job_id = {job}
    LEFT JOIN termination ON termination.id = end_said.termination_id
    GROUP BY end_said.link_id, end_said.at_end
    HAVING COUNT(*) > 1 OR MIN(termination.label) = ''
    """,
    "CREATE INDEX mixed_by_link ON mixed (link_id)",
)
"""The links with an end of which more than one source says something, or one an empty label."""
_ALONE = """
    UPDATE link SET
        {end}_place_id = said.place_id, {end}_termination_id = said.termination_id,
        {end}_said_by = said.said_by
    FROM (SELECT id AS of_id FROM link) AS same
    LEFT JOIN end_said AS said ON said.link_id = same.of_id AND said.at_end = '{end}'
    WHERE same.of_id = link.id AND link.job_id = {job}
        AND link.id NOT IN (SELECT link_id FROM mixed)
        AND (
            COALESCE(link.{end}_place_id, -1) <> COALESCE(said.place_id, -1)
            OR COALESCE(link.{end}_termination_id, -1) <> COALESCE(said.termination_id, -1)
            OR COALESCE(link.{end}_said_by, '') <> COALESCE(said.said_by, '')
        )
"""
"""The others: what the one source says, or nothing where nobody says anything any more."""
_SAID = f"""
    SELECT
        end_said.link_id, end_said.at_end, end_said.said_by, end_said.place_id,
        end_said.termination_id, termination.label, {levels_of("place")}
    FROM end_said
    LEFT JOIN place ON place.id = end_said.place_id
    LEFT JOIN termination ON termination.id = end_said.termination_id
    WHERE end_said.link_id > :after AND end_said.link_id <= :last
"""
_THERE = """
    SELECT
        id, near_place_id, near_termination_id, near_said_by,
        far_place_id, far_termination_id, far_said_by
    FROM link
    WHERE job_id = :job AND id > :after AND id IN (SELECT link_id FROM mixed)
    ORDER BY id LIMIT :count
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
    run = writing.connection.exec_driver_sql
    for statement in (*_MIXED, _ALONE.replace("{end}", "near"), _ALONE.replace("{end}", "far")):
        run(statement.replace("{job}", str(entities.job_id)))
    after = -1
    while links := _asked(writing, _THERE, job=entities.job_id, after=after, count=CHUNK):
        said: defaultdict[tuple[int, str], list[Stored]] = defaultdict(list)
        for row in _asked(writing, _SAID, after=after, last=links[-1]["id"]):
            said[row["link_id"], row["at_end"]].append(row)
        for name in ("near", "far"):
            _settle(writing, entities, name, links, said)
        after = links[-1]["id"]
    run("DROP TABLE mixed")


def _settle(
    writing: "Writing",
    entities: "Entities",
    name: str,
    links: "list[Stored]",
    said: "Mapping[tuple[int, str], list[Stored]]",
) -> None:
    """Settle one end of some links."""
    import sqlalchemy as sa

    changed = []
    for row in links:
        there = Settled(*(row[f"{name}_{field}"] for field in Settled._fields))
        settled = _settled(said.get((row["id"], name), ()), entities)
        if settled != there:
            changed.append({"link_id": row["id"], **settled._asdict()})
    for table in ("place", "termination"):
        writing.put(table, entities.waiting.pop(table, ()))
    if changed:
        writing.connection.execute(sa.text(_CHANGE.format(end=name)), changed)


def _asked(writing: "Writing", question: str, **values: int) -> "list[Stored]":
    import sqlalchemy as sa

    rows: Any = writing.connection.execute(sa.text(question), values).mappings().all()
    return list(rows)


def _settled(said: "Sequence[Stored]", entities: "Entities") -> Settled:
    """What sources make of an end; of one alone the rows that it names."""
    if len(said) == 1 and (only := said[0])["label"] != "":
        return Settled(only["place_id"], only["termination_id"], only["said_by"])
    ends = {row["said_by"]: End(place_in(row, "place"), row["label"] or "") for row in said}
    end, givers = together(ends)
    if not givers:
        return Settled()
    *others, last = givers
    words = f"{', '.join(others)} and {last}" if others else last
    return Settled(*entities.end(end), words)
