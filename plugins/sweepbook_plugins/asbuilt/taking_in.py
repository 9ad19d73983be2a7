"""Taking a delta into another database: the statements that do it, as a script of plain SQL."""

from collections.abc import Iterator

from sweepbook_plugins.asbuilt import TAKE_IN
from sweepbook_plugins.asbuilt.schema import Schema, Table

_NEVER = ("about", "column_dictionary", "changed_link")
_OF_PLACES = ("scheduled", "scheduled_test")
_HEAD = """\
-- Takes a delta into an as-built database of the same revision (`revision` in `about`) that has
-- the job already, so that it says what a whole export of that day would. Make a copy first.
--
-- SQLite, from a folder that holds the three files:
--   sqlite3 owner.sqlite "ATTACH 'DELTA' AS delta" ".read SCRIPT"
-- PostgreSQL: bring the tables of the delta into a schema of the name delta, then run this with
-- your own schema first in search_path.

BEGIN;
"""
_LINKS = """(
    SELECT link_id FROM delta.changed_link WHERE link_id IS NOT NULL
    UNION SELECT id FROM delta.link
)"""
_TESTS = f"""(
    SELECT id FROM test WHERE link_id IN {_LINKS}
    UNION SELECT id FROM delta.test
)"""
_JOB = "(SELECT id FROM delta.job)"
_PLACES = f"""job_id IN {_JOB} AND (
    link_id IN {_LINKS}
    OR label IN (SELECT label FROM delta.scheduled UNION SELECT label FROM delta.changed_link)
)"""


def script(schema: Schema, delta: str) -> str:
    """The statements, for a delta that is attached under the name "delta".

    Args:
        schema: the newest, which the delta is of.
        delta: its file name, for the words above the statements.
    """
    shown = delta.replace("\n", " ").replace("'", "''")
    head = _HEAD.replace("DELTA", shown).replace("SCRIPT", shown + TAKE_IN)
    return head + "".join(f"\n{one}\n" for one in statements(schema)) + "\nCOMMIT;\n"


def statements(schema: Schema) -> Iterator[str]:
    """The statements in order, those that begin and end the transaction left out."""
    tables = [table for name, table in schema.tables.items() if name not in _NEVER]
    yield "-- What was found about the delivery as a whole, in place of what was found before."
    for table in tables:
        if table.owner == "job_id" and table.table not in _OF_PLACES:
            yield f"DELETE FROM {table.table} WHERE job_id IN {_JOB};"
    yield "-- Places of the schedule, which go by label."
    yield (
        f"DELETE FROM scheduled_test WHERE job_id IN {_JOB} AND (test_id IN {_TESTS}\n"
        f"OR position IN (SELECT position FROM scheduled WHERE {_PLACES}));"
    )
    yield f"DELETE FROM scheduled WHERE {_PLACES};"
    yield "-- Others that stand where the delta has one go behind all; the old order stays."
    yield from (_behind(name) for name in reversed(_OF_PLACES))
    yield "-- What there is of the links, and what they were before."
    for table in reversed(tables):
        if (where := _of_links(table)) and table.table not in _OF_PLACES:
            yield f"DELETE FROM {table.table} WHERE {where};"
    yield "-- What the delta holds."
    for table in tables:
        if table.there == "update" and not _of_links(table):
            yield _brought_up(table)
        yield _put_in(table)


def _of_links(table: Table) -> str:
    """Which rows of a table are of the links; "" for one that links share."""
    if table.table == "link":
        return f"id IN {_LINKS}"
    if table.owner == "test_id":
        return f"test_id IN {_TESTS}"
    return f"link_id IN {_LINKS}" if "link_id" in table.names else ""


def _behind(name: str) -> str:
    """Rows of the schedule whose position the delta gives to another one.

    How far they go is the same for both tables, and further than any position there is.
    """
    further = " + ".join(
        f"(SELECT COALESCE(MAX(position), 0) + 1 FROM {table})"
        for table in ("scheduled", "delta.scheduled")
    )
    return (
        f"UPDATE {name} SET position = position + {further}\n"
        f"WHERE job_id IN {_JOB} AND position IN (SELECT position FROM delta.scheduled);"
    )


def _brought_up(table: Table) -> str:
    """Rows that are there already, where a whole export would bring them up to date."""
    changed = [
        column.column
        for column in table.columns
        if column.column not in table.key and not column.kept
    ]
    same = _same_key(table, table.table)
    sets = ", ".join(
        f"{name} = (SELECT new.{name} FROM delta.{table.table} AS new WHERE {same})"
        for name in changed
    )
    return (
        f"UPDATE {table.table} SET {sets}\n"
        f"WHERE EXISTS (SELECT 1 FROM delta.{table.table} AS new WHERE {same});"
    )


def _put_in(table: Table) -> str:
    """Rows that are not there."""
    names = ", ".join(table.names)
    given = ", ".join(f"new.{name}" for name in table.names)
    same = _same_key(table, "there")
    return (
        f"INSERT INTO {table.table} ({names})\nSELECT {given} FROM delta.{table.table} AS new\n"
        f"WHERE NOT EXISTS (SELECT 1 FROM {table.table} AS there WHERE {same});"
    )


def _same_key(table: Table, there: str) -> str:
    return " AND ".join(f"{there}.{name} = new.{name}" for name in table.key)
