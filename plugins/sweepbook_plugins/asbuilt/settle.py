"""What is known once all tests are in: which speaks for a link, and what tests say of its ends.

The statements are plain SQL that SQLite and PostgreSQL both take.
"""

from collections.abc import Iterable, Mapping
from itertools import islice
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import sqlalchemy as sa

CHUNK = 10_000

SEEN = "CREATE TEMPORARY TABLE seen (test_id BIGINT PRIMARY KEY)"
"""The tests of this delivery."""
DESERTED = "CREATE TEMPORARY TABLE deserted (link_id BIGINT PRIMARY KEY)"
"""The links that tests of this delivery were of before."""

REPLACE = (
    "UPDATE test SET replaced_by = NULL "
    "WHERE replaced_by IS NOT NULL AND id IN (SELECT test_id FROM seen)",
    """
    CREATE TEMPORARY TABLE replaced AS
    SELECT earlier.test_id AS test_id, MIN(later.test_id) AS by_test_id
    FROM seen
    JOIN test_source AS later ON later.test_id = seen.test_id AND later.locator <> ''
    JOIN source AS later_file ON later_file.id = later.source_id
    JOIN source AS earlier_file ON earlier_file.sha256 = later_file.sha256
    JOIN test_source AS earlier
        ON earlier.source_id = earlier_file.id AND earlier.locator = later.locator
    JOIN test AS earlier_test ON earlier_test.id = earlier.test_id
    JOIN test AS later_test ON later_test.id = later.test_id
    WHERE earlier_test.job_id = later_test.job_id
        AND NOT EXISTS (SELECT 1 FROM seen AS here WHERE here.test_id = earlier.test_id)
    GROUP BY earlier.test_id
    """,
    """
    UPDATE test SET replaced_by = (
        SELECT by_test_id FROM replaced WHERE replaced.test_id = test.id
    )
    WHERE id IN (SELECT test_id FROM replaced)
    """,
)
"""A test that this delivery no longer has gives way to one read from the same place of the same
file. A place that the reader does not name tells nothing."""

NO_EXPORTS = (
    "UPDATE test SET export_of = NULL "
    "WHERE export_of IS NOT NULL AND id IN (SELECT test_id FROM seen)"
)
AN_EXPORT = "UPDATE test SET export_of = :test WHERE id = :number"

TOUCHED = (
    """
    CREATE TEMPORARY TABLE touched AS
    SELECT link_id FROM test
    WHERE id IN (SELECT test_id FROM seen) OR id IN (SELECT test_id FROM replaced)
    UNION
    SELECT link_id FROM deserted
    """,
    """
    CREATE TEMPORARY TABLE ranked AS
    SELECT link_id, test_id, sequence FROM test_order
    WHERE link_id IN (SELECT link_id FROM touched)
    """,
    "CREATE INDEX ranked_by_link ON ranked (link_id, sequence)",
    """
    CREATE TEMPORARY TABLE chosen AS
    SELECT ranked.test_id AS test_id FROM ranked
    JOIN (SELECT link_id, MAX(sequence) AS latest FROM ranked GROUP BY link_id) AS last_one
        ON last_one.link_id = ranked.link_id AND last_one.latest = ranked.sequence
    """,
    "CREATE INDEX chosen_by_test ON chosen (test_id)",
)
"""The links that this delivery touches, and their tests in order."""

CURRENT = (
    """
    UPDATE test SET is_current = 0
    WHERE is_current = 1 AND link_id IN (SELECT link_id FROM touched)
        AND NOT EXISTS (SELECT 1 FROM chosen WHERE chosen.test_id = test.id)
    """,
    "UPDATE test SET is_current = 1 WHERE is_current = 0 AND id IN (SELECT test_id FROM chosen)",
    """
    UPDATE link SET label = (
        SELECT test.label FROM test WHERE test.link_id = link.id AND test.is_current = 1
    )
    WHERE id IN (SELECT link_id FROM touched)
        AND id IN (SELECT link_id FROM test WHERE is_current = 1)
    """,
)

ENDS = (
    """
    DELETE FROM end_said WHERE said_by = 'record' AND link_id IN (SELECT link_id FROM touched)
    """,
    """
    INSERT INTO end_said (link_id, at_end, said_by, place_id, termination_id)
    SELECT ranked.link_id, test_end.at_end, 'record', test_end.place_id, test_end.termination_id
    FROM (
        SELECT ranked.link_id AS link_id, test_end.at_end AS at_end, MAX(ranked.sequence) AS latest
        FROM ranked
        JOIN test_end ON test_end.test_id = ranked.test_id
        WHERE test_end.place_id IS NOT NULL OR test_end.termination_id IS NOT NULL
        GROUP BY ranked.link_id, test_end.at_end
    ) AS telling
    JOIN ranked ON ranked.link_id = telling.link_id AND ranked.sequence = telling.latest
    JOIN test_end ON test_end.test_id = ranked.test_id AND test_end.at_end = telling.at_end
    """,
)
"""What tests say of ends: the latest one that says anything of that end; two are never mixed."""


def let_go(connection: "sa.Connection", link_of: Mapping[int, int]) -> set[int]:
    """Let tests go that come back as of another link, such as one whose label was corrected.

    Such a test speaks for no link until all are in; what it spoke for may have another one that
    does.

    Args:
        connection: within the transaction that is to write the tests.
        link_of: the link of each test as it is to be, by their numbers.

    Returns:
        The links that they are of in the database.
    """
    import sqlalchemy as sa

    asked = sa.text("SELECT id, link_id FROM test WHERE id IN :numbers").bindparams(
        sa.bindparam("numbers", expanding=True)
    )
    there = connection.execute(asked, {"numbers": list(link_of)}).all()
    moved = {number: link_id for number, link_id in there if link_of[number] != link_id}
    if moved:
        silenced = sa.text("UPDATE test SET is_current = 0 WHERE id = :number")
        connection.execute(silenced, [{"number": number} for number in moved])
    return set(moved.values())


def settle(
    connection: "sa.Connection",
    seen: Iterable[int],
    deserted: Iterable[int],
    basis_id: int,
    exported: Mapping[int, int],
) -> None:
    """Settle the links that a delivery touches.

    Args:
        connection: within the transaction that wrote the tests.
        seen: numbers of the delivery's tests.
        deserted: links that some of them were of before.
        basis_id: what they were judged by.
        exported: the tests of which some of them are other exports, by the numbers of these.
    """
    connection.exec_driver_sql(SEEN)
    connection.exec_driver_sql(DESERTED)
    _fill(connection, "seen", seen)
    _fill(connection, "deserted", deserted)
    connection.exec_driver_sql(
        f"UPDATE test SET basis_id = {basis_id} WHERE id IN (SELECT test_id FROM seen)"
    )
    _tell_exports(connection, exported)
    for statement in (*REPLACE, *TOUCHED, *CURRENT, *ENDS):
        connection.exec_driver_sql(statement)
    for name in ("chosen", "ranked", "touched", "replaced", "deserted", "seen"):
        connection.exec_driver_sql(f"DROP TABLE {name}")


def _tell_exports(connection: "sa.Connection", exported: Mapping[int, int]) -> None:
    """Say which tests are other exports of others now, and which are none any longer."""
    import sqlalchemy as sa

    connection.exec_driver_sql(NO_EXPORTS)
    if exported:
        rows = [{"number": number, "test": test} for number, test in exported.items()]
        connection.execute(sa.text(AN_EXPORT), rows)


def _fill(connection: "sa.Connection", table: str, numbers: Iterable[int]) -> None:
    """Put numbers into a temporary table, a part at a time."""
    mark = "?" if connection.dialect.name == "sqlite" else "%s"
    left = iter(numbers)
    while rows := [(number,) for number in islice(left, CHUNK)]:
        connection.exec_driver_sql(f"INSERT INTO {table} VALUES ({mark})", rows)
