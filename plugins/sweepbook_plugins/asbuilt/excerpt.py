"""Copying some links of a job, with all that they cannot be without, into a new database."""

from collections.abc import Iterable
from itertools import chain
from typing import TYPE_CHECKING

from sweepbook_plugins.asbuilt.schema import Schema, Table

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook_plugins.asbuilt.writing import Writing

_CHUNK = 2_000
_TESTS = "SELECT id FROM test WHERE link_id IN (SELECT id FROM kept_link)"
_WHOLE = ("about", "rule")
_NEVER = ("column_dictionary", "changed_link")
_KEPT = {
    "job": "id = :job",
    "link": "id IN (SELECT id FROM kept_link)",
    "test": "link_id IN (SELECT id FROM kept_link)",
    "end_said": "link_id IN (SELECT id FROM kept_link)",
    "scheduled": "job_id = :job AND position IN (SELECT id FROM kept_scheduled)",
    "scheduled_test": "job_id = :job AND position IN (SELECT id FROM kept_scheduled)",
    "basis_item": "basis_id IN (SELECT id FROM kept_basis)",
}
"""Which rows are kept, where that does not follow from the table's first key."""

_MORE = (
    """
    INSERT INTO kept_link
    SELECT later.link_id FROM test
    JOIN test AS later ON later.id IN (test.replaced_by, test.export_of)
    WHERE test.link_id IN (SELECT id FROM kept_link)
        AND later.link_id NOT IN (SELECT id FROM kept_link)
    GROUP BY later.link_id
    """,
    """
    INSERT INTO kept_link
    SELECT test.link_id FROM test
    JOIN test AS later ON later.id IN (test.replaced_by, test.export_of)
    WHERE later.link_id IN (SELECT id FROM kept_link)
        AND test.link_id NOT IN (SELECT id FROM kept_link)
    GROUP BY test.link_id
    """,
    f"""
    INSERT INTO kept_scheduled
    SELECT position FROM scheduled
    WHERE job_id = :job AND position NOT IN (SELECT id FROM kept_scheduled) AND (
        link_id IN (SELECT id FROM kept_link) OR position IN (
            SELECT position FROM scheduled_test WHERE job_id = :job AND test_id IN ({_TESTS})
        )
    )
    """,
    """
    INSERT INTO kept_link
    SELECT test.link_id FROM scheduled_test
    JOIN test ON test.id = scheduled_test.test_id
    WHERE scheduled_test.job_id = :job
        AND scheduled_test.position IN (SELECT id FROM kept_scheduled)
        AND test.link_id NOT IN (SELECT id FROM kept_link)
    GROUP BY test.link_id
    """,
)
"""What links cannot be without, until nothing more is found."""
_LABELLED = """
    INSERT INTO kept_scheduled
    SELECT position FROM scheduled
    WHERE job_id = :job AND label = :label
"""


def copy(
    source: "sa.Connection",
    target: "Writing",
    schema: Schema,
    job_id: int,
    links: Iterable[int],
    labels: Iterable[str],
) -> None:
    """Copy links, and places of the schedule that have a label, into a fresh database.

    Args:
        source: a database of the newest revision, in a transaction; temporary tables are made.
        target: writes to a database that holds nothing yet.
        schema: the newest.
        job_id: the job that they are of.
        links: numbers; those that are not there are passed over.
        labels: of places of the schedule.
    """
    _keep(source, "link", links)
    _keep(source, "scheduled", ())
    _run(source, _LABELLED, [{"job": job_id, "label": label} for label in labels])
    while sum(_run(source, statement, [{"job": job_id}]) for statement in _MORE):
        pass
    conditions = _conditions(source, schema, job_id)
    for name, table in schema.tables.items():
        if name not in _NEVER:
            _copy(source, target, table, conditions[name], job_id)


def _conditions(source: "sa.Connection", schema: Schema, job_id: int) -> dict[str, str]:
    """Which rows of each table are kept: what a later table refers to, in the end."""
    found: dict[str, str] = {}
    for name, table in reversed([*schema.tables.items()]):
        if name in _WHOLE or name in _NEVER:
            found[name] = "1 = 1"
        elif name in _KEPT:
            found[name] = _KEPT[name]
        elif table.key[0] == "test_id":
            found[name] = f"test_id IN ({_TESTS})"
        elif table.key[0] == "job_id":
            found[name] = "job_id = :job"
        else:
            _keep(source, name, ())
            _refer(source, schema, name, found, job_id)
            found[name] = f"id IN (SELECT id FROM kept_{name})"
    return found


def _refer(
    source: "sa.Connection", schema: Schema, name: str, found: dict[str, str], job_id: int
) -> None:
    """Note the rows of a table to which kept rows refer, those of the table itself included."""
    itself = {**found, name: f"id IN (SELECT id FROM kept_{name})"}
    statements = [
        f"INSERT INTO kept_{name} SELECT {column.column} FROM {other} "
        f"WHERE {condition} AND {column.column} IS NOT NULL "
        f"AND {column.column} NOT IN (SELECT id FROM kept_{name}) GROUP BY {column.column}"
        for other, condition in itself.items()
        for column in schema.tables[other].columns
        if column.refers == f"{name}.id" and other not in _NEVER
    ]
    while sum(_run(source, statement, [{"job": job_id}]) for statement in statements):
        pass


def _copy(
    source: "sa.Connection", target: "Writing", table: Table, condition: str, job_id: int
) -> None:
    """Copy rows; what refers to rows of the same table is filled in once they are all there."""
    import sqlalchemy as sa

    names = [column.column for column in table.columns]
    own = [n for n, c in enumerate(table.columns) if c.refers == f"{table.table}.id"]
    question = sa.text(f"SELECT {', '.join(names)} FROM {table.table} WHERE {condition}")
    rows = source.execute(question, {"job": job_id}, execution_options={"yield_per": _CHUNK})
    later: list[dict[str, object]] = []
    for part in rows.partitions(_CHUNK):
        cells = [list(row) for row in part]
        for row in cells:
            for n in own:
                if row[n] is not None:
                    later.append({"id": row[0], "column": names[n], "value": row[n]})
                    row[n] = None
        target.put_cells(table.table, [*chain.from_iterable(cells)])
    for name in {str(one["column"]) for one in later}:
        filled = sa.text(f"UPDATE {table.table} SET {name} = :value WHERE id = :id")
        target.connection.execute(filled, [one for one in later if one["column"] == name])


def _keep(source: "sa.Connection", name: str, numbers: Iterable[int]) -> None:
    """Make the table of the rows that are kept of a table."""
    source.exec_driver_sql(f"CREATE TEMPORARY TABLE kept_{name} (id BIGINT)")
    _run(source, f"INSERT INTO kept_{name} VALUES (:id)", [{"id": one} for one in numbers])


def _run(source: "sa.Connection", statement: str, rows: list[dict[str, object]]) -> int:
    """Run a statement for each row of parameters; how many rows it changed."""
    import sqlalchemy as sa

    used = sa.text(statement)
    wanted = used._bindparams.keys()
    given = [{name: value for name, value in row.items() if name in wanted} for row in rows]
    if not given:
        return 0
    counted = {"preserve_rowcount": True}
    return source.execute(used, given, execution_options=counted).rowcount
