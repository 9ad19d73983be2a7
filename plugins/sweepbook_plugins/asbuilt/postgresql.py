"""A PostgreSQL database in one transaction, reached through psycopg."""

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from typing import TYPE_CHECKING

from sweepbook.database_url import DatabaseUrl
from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    import sqlalchemy as sa

SCHEME = "postgresql"
DRIVER = "psycopg"
WAIT_SECONDS = 30
_LOCK = 0x5357_4545  # one export at a time into one schema; any fixed number does

_TODO = {
    "28": "Check user and password; a password is best kept in ~/.pgpass or in PGPASSWORD.",
    "3D": "Make the database first, with createdb, or name another one.",
    "3F": "Make the schema first (CREATE SCHEMA name), or take it out of the URL.",
    "42501": "Ask whoever looks after the database for the right to create tables in its schema.",
    "55P03": "Another export is writing to it; try again once that is done.",
    "53": "The server has no room, no memory or no free connection; try again once it has.",
    "57": "The server was stopped or stopped this; nothing of this delivery was kept. Try again.",
    "2BP01": "Something of your own, such as a view, rests on a view of this database. Take it "
    "away, run the command again, and make it anew.",
    "22021": "Make the database with the encoding UTF8, which holds every label.",
    "22P05": "Make the database with the encoding UTF8, which holds every label.",
    "23505": "Two rows came to one number by chance (odds below one in ten thousand for a million "
    "links): give the job another name.",
}
"""What to do by SQLSTATE or its first two characters, its class (PostgreSQL's manual, app. A)."""
_NOT_REACHED = (
    "Check host, port, name and user in the URL, and the password in ~/.pgpass or PGPASSWORD."
)
_ANY = "Nothing of this delivery was kept; tell the authors what the message says."


@contextmanager
def transaction(url: DatabaseUrl, *, keep: bool = True) -> "Iterator[sa.Connection]":
    """A connection in one transaction; on an error, or a kill, the database is as it was.

    Args:
        url: of the database.
        keep: whether what is done in it is to stay.

    Raises:
        SweepbookError: the driver is not installed, or the database cannot be reached or written.
    """
    with (
        _told(url),
        _engine(url) as engine,
        engine.connect() as connection,
        connection.begin() as begun,
    ):
        connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{WAIT_SECONDS}s'")
        own = f"SELECT pg_advisory_xact_lock({_LOCK}, hashtext(current_schema()))"
        connection.exec_driver_sql(own)
        yield connection
        if not keep:
            begun.rollback()


@contextmanager
def reading(url: DatabaseUrl) -> "Iterator[sa.Connection]":
    """A connection that reads what is there, whatever another one is writing.

    Raises:
        SweepbookError: the driver is not installed, or the database cannot be reached.
    """
    with _told(url), _engine(url) as engine, engine.connect() as connection:
        yield connection


@contextmanager
def _engine(url: DatabaseUrl) -> "Iterator[sa.Engine]":
    import sqlalchemy as sa

    engine = sa.create_engine(
        _for_driver(url),
        poolclass=sa.pool.NullPool,
        paramstyle="format",  # rows go to the driver as plain tuples
        hide_parameters=True,
    )
    try:
        yield engine
    finally:
        engine.dispose()


def _for_driver(url: DatabaseUrl) -> "sa.URL":
    import sqlalchemy as sa
    from sqlalchemy.exc import ArgumentError

    try:
        return sa.make_url(url.text).set(drivername=f"{SCHEME}+{DRIVER}")
    except (ArgumentError, ValueError):
        raise SweepbookError(
            f"{url} cannot be used as the URL of a database.",
            "Write it as postgresql://user@host:port/name.",
        ) from None  # what is wrong with it may tell the password


@contextmanager
def _told(url: DatabaseUrl) -> Iterator[None]:
    """Say what went wrong with the database in words, and never the password."""
    if find_spec(DRIVER) is None:
        raise SweepbookError(
            "PostgreSQL is reached through psycopg, which is not installed.",
            "Install it where sweepbook is: pip install 'psycopg[binary]'.",
        )
    import psycopg
    from sqlalchemy.exc import DBAPIError

    try:
        yield
    except (DBAPIError, psycopg.Error) as error:
        orig = error.orig if isinstance(error, DBAPIError) else error
        state = getattr(orig, "sqlstate", None) or ""
        said = " ".join(str(orig).split()).rstrip(".")
        what = "written" if state else "reached"
        todo = _TODO.get(state) or _TODO.get(state[:2]) or (_ANY if state else _NOT_REACHED)
        raise SweepbookError(
            url.without_secrets(f"{url} cannot be {what}: {said}."), todo
        ) from None
