"""What the database holds of a job, read back to be held against each other anew."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any

from sweepbook.findings import doubt_words
from sweepbook.schedule.attempt import Attempt, is_ahead
from sweepbook.schedule.cable import Cable
from sweepbook.schedule.model import LEVELS, End, Schedule, ScheduledLink
from sweepbook.schedule.trace import NOTED, noted_words

if TYPE_CHECKING:
    import sqlalchemy as sa

Stored = Mapping[str, Any]


def levels_of(alias: str) -> str:
    """The columns of a joined place, each named by the alias and the level."""
    return ", ".join(f"{alias}.{level} AS {alias}_{level}" for level in LEVELS)


def place_in(row: Stored, alias: str) -> dict[str, str]:
    """The levels of a joined place that are stated."""
    told = {level: row[f"{alias}_{level}"] for level in LEVELS}
    return {level: text for level, text in told.items() if text is not None}


_TESTS = f"""
    SELECT
        test.id AS test_id, test.record_id, test.label, test.purpose,
        test.started_local, test.started_utc,
        test.stated, test.recomputed, test.judgement, test.reason, test.again,
        test.configuration, test.started, test.gathered, limit_table.path,
        cable.maker, cable.part, cable.category, cable.construction, cable.reel,
        near_termination.label AS near_label, far_termination.label AS far_label,
        {levels_of("near")}, {levels_of("far")}, counting.record_id AS export_of
    FROM test
    LEFT JOIN test AS counting ON counting.id = test.export_of
    LEFT JOIN limit_table ON limit_table.id = test.limit_table_id
    LEFT JOIN cable ON cable.id = test.cable_id
    LEFT JOIN test_end AS near_end ON near_end.test_id = test.id AND near_end.at_end = 'near'
    LEFT JOIN place AS near ON near.id = near_end.place_id
    LEFT JOIN termination AS near_termination ON near_termination.id = near_end.termination_id
    LEFT JOIN test_end AS far_end ON far_end.test_id = test.id AND far_end.at_end = 'far'
    LEFT JOIN place AS far ON far.id = far_end.place_id
    LEFT JOIN termination AS far_termination ON far_termination.id = far_end.termination_id
    WHERE test.job_id = :job AND test.replaced_by IS NULL
    ORDER BY test.record_id
"""
_SCHEDULED = f"""
    SELECT
        scheduled.label, scheduled.schedule_line, scheduled.limit_asked,
        scheduled.configuration_asked, scheduled.cable, scheduled.reel,
        scheduled.schedule_name, scheduled.schedule_sha256,
        near_termination.label AS near_label, far_termination.label AS far_label,
        {levels_of("own")}, {levels_of("near")}, {levels_of("far")}
    FROM scheduled
    LEFT JOIN place AS own ON own.id = scheduled.own_place_id
    LEFT JOIN place AS near ON near.id = scheduled.near_place_id
    LEFT JOIN place AS far ON far.id = scheduled.far_place_id
    LEFT JOIN termination AS near_termination
        ON near_termination.id = scheduled.near_termination_id
    LEFT JOIN termination AS far_termination ON far_termination.id = scheduled.far_termination_id
    WHERE scheduled.job_id = :job AND scheduled.schedule_line IS NOT NULL
    ORDER BY scheduled.position
"""
_NOTED = f"""
    SELECT finding.test_id, finding.message FROM finding
    JOIN test ON test.id = finding.test_id
    WHERE test.job_id = :job AND finding.accepted_by IS NULL
        AND finding.rule IN ({", ".join(f"'{rule}'" for rule in NOTED)})
    ORDER BY finding.test_id, finding.position
"""
_DOUBTED = """
    SELECT
        COALESCE(test.export_of, test.id) AS test_id, set_finding.rule, set_finding.message
    FROM set_finding_test
    JOIN test ON test.id = set_finding_test.test_id
    JOIN set_finding ON set_finding.job_id = set_finding_test.job_id
        AND set_finding.position = set_finding_test.position
    WHERE set_finding.job_id = :job AND set_finding.severity = 'error'
        AND set_finding.accepted_by IS NULL
    ORDER BY set_finding.position
"""
_LINK_OF_TEST = "SELECT id, link_id FROM test WHERE job_id = :job"


def attempts(connection: "sa.Connection", job_id: int) -> Iterator[Attempt]:
    """The tests of a job, replaced readings left out."""
    noted, doubted = _noted(connection, job_id), _doubted(connection, job_id)
    for row in asked(connection, _TESTS, job_id):
        yield Attempt(
            record_id=row["record_id"],
            label=(row["label"] or "").strip(),
            purpose=row["purpose"] or "",
            started=_time(row["started_local"]),
            stated=row["stated"] or "",
            recomputed=row["recomputed"],
            judgement=row["judgement"],
            reason=row["reason"],
            limit_path=row["path"] or "",
            near=_end(row, "near"),
            far=_end(row, "far"),
            cable=Cable(
                row["maker"] or "",
                row["part"] or "",
                row["category"] or "",
                row["construction"] or "",
                row["reel"] or "",
            ),
            utc=_time(row["started_utc"]),
            configuration=row["configuration"] or "",
            ahead=_is_ahead(row),
            again=row["again"] or "",
            noted=noted.get(row["test_id"], ""),
            doubt=doubted.get(row["test_id"], ""),
            export_of=row["export_of"] or "",
        )


def _noted(connection: "sa.Connection", job_id: int) -> dict[int, str]:
    """What else is to be known of tests, by their numbers."""
    told: defaultdict[int, list[str]] = defaultdict(list)
    for row in asked(connection, _NOTED, job_id):
        told[row["test_id"]].append(row["message"])
    return {number: noted_words(messages) for number, messages in told.items()}


def _doubted(connection: "sa.Connection", job_id: int) -> dict[int, str]:
    """Why tests prove nothing of their links, by their numbers."""
    rows = asked(connection, _DOUBTED, job_id)
    return {row["test_id"]: doubt_words(row["rule"], row["message"]) for row in rows}


def schedule(connection: "sa.Connection", job_id: int) -> Schedule | None:
    """The last schedule of a job as far as it was taken, None where there was none."""
    rows = list(asked(connection, _SCHEDULED, job_id))
    if not rows:
        return None
    links = tuple(
        ScheduledLink(
            line=row["schedule_line"],
            label=row["label"],
            limit=row["limit_asked"] or "",
            configuration=row["configuration_asked"] or "",
            cable=row["cable"] or "",
            reel=row["reel"] or "",
            near=_end(row, "near"),
            far=_end(row, "far"),
            place=place_in(row, "own"),
        )
        for row in rows
    )
    return Schedule(rows[0]["schedule_name"], rows[0]["schedule_sha256"], links)


def link_of_test(connection: "sa.Connection", job_id: int) -> dict[int, int]:
    """The link of each test of a job, by their numbers."""
    return {row["id"]: row["link_id"] for row in asked(connection, _LINK_OF_TEST, job_id)}


def asked(connection: "sa.Connection", question: str, job_id: int) -> Iterator[Stored]:
    """The rows of a question about a job, `:job` in it; each by the names of its columns."""
    import sqlalchemy as sa

    for row in connection.execute(sa.text(question), {"job": job_id}):
        yield row._asdict()


def _end(row: Stored, name: str) -> End:
    return End(place_in(row, name), row[f"{name}_label"] or "")


def _is_ahead(row: Stored) -> bool:
    """Whether a test is dated later than it was read."""
    started, read_at = {"rfc3339": row["started"] or ""}, row["gathered"] or ""
    return is_ahead({"test": {"started": started}, "provenance": {"read_at": read_at}})


def _time(text: str | None) -> datetime | None:
    return None if text is None else datetime.fromisoformat(text)
