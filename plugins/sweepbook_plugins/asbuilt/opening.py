"""Opening an as-built database, in a file or on a server, in one transaction."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.database_url import DatabaseUrl
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe
from sweepbook_plugins.asbuilt import foreign, migrating, postgresql, sqlite_file
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.tables import create, metadata
from sweepbook_plugins.asbuilt.writing import Writing

if TYPE_CHECKING:
    import sqlalchemy as sa

Place = Path | DatabaseUrl


class NotOurDatabase(SweepbookError):
    """A database that must not be written to."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A database to write to.

    Attributes:
        writing: what writes.
        fresh: whether it was made just now.
        brought_from: the revision that it was of and is of no longer; None where it was not.
        jobs: numbers of the jobs that were in it before.
    """

    writing: Writing
    fresh: bool
    brought_from: int | None = None
    jobs: frozenset[int] = frozenset()


@contextmanager
def opened(
    place: Place, schema: Schema, *, keep: bool = True, called: str = ""
) -> Iterator[Opened]:
    """Give a database to write to; on an error it is as it was.

    One of an earlier revision is brought to the newest first, in the same transaction.

    Args:
        place: where it is.
        schema: the newest.
        keep: whether what is done to a database on a server is to stay.
        called: what a message calls it, where that is not its place.

    Raises:
        NotOurDatabase: it is another kind of database, or of a revision that cannot be used.
        NotAsMade: somebody put something into it that would run along.
        SweepbookError: it cannot be opened or written to.
    """
    with transaction(place, keep=keep) as connection:
        tables = metadata(schema)
        found = _revision(connection, schema, called or utf8_safe(str(place)))
        if found is None:
            create(connection, schema, tables)
        elif found < schema.revision:
            migrating.migrate(connection, schema, tables, found)
        before = found if found is not None and found < schema.revision else None
        jobs = frozenset(row[0] for row in connection.exec_driver_sql("SELECT id FROM job"))
        writing = Writing(connection, schema, tables, indexed=found is not None)
        yield Opened(writing, found is None, before, jobs)
        writing.index()


@contextmanager
def transaction(place: Place, *, keep: bool = True) -> "Iterator[sa.Connection]":
    """A connection in one transaction; see `opened`.

    Raises:
        SweepbookError: the database cannot be opened or written to.
    """
    if isinstance(place, Path):
        with sqlite_file.transaction(place) as connection:
            yield connection
    else:
        with postgresql.transaction(place, keep=keep) as connection:
            yield connection


@contextmanager
def reading(place: Place) -> "Iterator[sa.Connection]":
    """A connection that reads what is there and writes nothing.

    Raises:
        SweepbookError: the database cannot be read.
    """
    if isinstance(place, Path):
        with sqlite_file.reading(place) as connection:
            yield connection
    else:
        with postgresql.reading(place) as connection:
            yield connection


def _revision(connection: "sa.Connection", schema: Schema, shown: str) -> int | None:
    """The revision of the database; None of one that holds nothing at all.

    Raises:
        NotOurDatabase: it is another kind of database, or of a revision that cannot be used.
        NotAsMade: somebody put something into it that would run along.
    """
    import sqlalchemy as sa

    names = set(sa.inspect(connection).get_table_names())
    if not names:
        return None
    said: dict[str, str] = {}
    if {"about", "column_dictionary", "test"} <= names:
        said = {row[0]: row[1] for row in connection.exec_driver_sql("SELECT * FROM about")}
    if said.get("schema") != schema.schema:
        kind = f"of the schema {said['schema']!r}" if "schema" in said else "of another kind"
        raise NotOurDatabase(
            f"{shown} is a database {kind}, and this version of sweepbook writes {schema.schema}.",
            _ELSEWHERE[connection.dialect.name],
        )
    found = _whole(said.get("revision", ""))
    if found is None or not migrating.oldest(schema) <= found <= schema.revision:
        newer = found is not None and found > schema.revision
        raise NotOurDatabase(
            f"{shown} is of revision {said.get('revision')} of its schema, and this version of "
            f"sweepbook writes revision {schema.revision} and brings those from "
            f"{migrating.oldest(schema)} on to it.",
            "Use the version that wrote it, or a newer one."
            if newer
            else "Export the book to a new database.",
        )
    foreign.refuse(connection, schema, found, shown)
    if found == schema.revision and (lost := _lost(connection, schema, names)):
        raise NotOurDatabase(
            f"{shown} lacks {lost}, which this version of sweepbook made and writes to.",
            "Take the database back from a copy, or export the books to a new one; this one was "
            "left alone.",
        )
    return found


def _lost(connection: "sa.Connection", schema: Schema, names: set[str]) -> str:
    """The tables that are gone, or the columns of one that are, in words; "" where all is there."""
    import sqlalchemy as sa

    gone = [name for name in schema.tables if name not in names]
    if gone:
        return _called("table", gone)
    for (_, name), found in sa.inspect(connection).get_multi_columns().items():
        there = {column["name"] for column in found}
        wanted = schema.tables[name].names if name in schema.tables else ()
        if away := [column for column in wanted if column not in there]:
            return f"{_called('column', away)} of the table {name}"
    return ""


def _called(what: str, names: Sequence[str]) -> str:
    """The first of some tables or columns by their names, and how many more there are."""
    more = f" and {len(names) - _NAMED} more" if names[_NAMED:] else ""
    return f"the {what}{'s' if names[1:] else ''} {', '.join(names[:_NAMED])}{more}"


_NAMED = 3
_ELSEWHERE = {
    "sqlite": "Choose another file; this one was left alone.",
    "postgresql": "Choose another database, or a schema of its own in this one: CREATE SCHEMA "
    "as_built, and ?options=-csearch_path%3Das_built at the end of the URL. This one was left "
    "alone.",
}


def _whole(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None
