"""A SQLite file in one transaction: an old one as it is, a new one beside its place."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from sweepbook.errors import SweepbookError
from sweepbook.files import cannot_write, replaced
from sweepbook.inputs import check_regular
from sweepbook.text import utf8_safe
from sweepbook_plugins.asbuilt.loose_ends import refuse_in_tables

if TYPE_CHECKING:
    import sqlalchemy as sa

OLDEST_SQLITE = (3, 37, 0)
"""The first with STRICT tables (SQLite's release history, 2021-11-27)."""
WAIT_SECONDS = 30.0
_CACHE = 65536
"""KiB of the file that are kept in memory."""
_LONGEST = 64 << 20
"""Bytes of a cell: what stands in a file of somebody else's may make long ones."""
_SORTED_AT_ONCE = 8192
"""KiB that are kept of it, and sorted, while indexes are made."""

_TODO = {
    "SQLITE_NOTADB": "Choose another file: this one is no SQLite database, and was left alone.",
    "SQLITE_BUSY": "Another program is writing to it; close it there, or try again later.",
    "SQLITE_LOCKED": "Another program is writing to it; close it there, or try again later.",
    "SQLITE_READONLY": "Make the file writable, or choose another one.",
    "SQLITE_CANTOPEN": "Check that it is a file and that you may write to its folder.",
    "SQLITE_FULL": "Make room on the disk.",
    "SQLITE_IOERR": "Make room where it is to stand, or choose another disk: this one is full, "
    "or fails.",
    "SQLITE_CORRUPT": "The database is damaged; take it from a copy, or write a new one.",
    "SQLITE_CONSTRAINT_PRIMARYKEY": "Two rows came to one number by chance (odds below one in "
    "ten thousand for a million links): give the job another name.",
}
_ANY = "Nothing of this delivery was kept; tell the authors what the message says."


@contextmanager
def transaction(target: Path) -> "Iterator[sa.Connection]":
    """A connection in one transaction; on an error the file is as it was.

    A file that is there is written to as it is. A new one is made beside its place and moved there
    when it is whole.

    Raises:
        SweepbookError: it cannot be opened or written to.
    """
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise SweepbookError(
            f"Python's SQLite is {sqlite3.sqlite_version}, and an as-built database needs 3.37.",
            "Use a newer Python, or one that is linked to a newer SQLite.",
        )
    try:
        if target.is_dir():
            raise IsADirectoryError
        check_regular(target)
    except OSError as error:
        raise cannot_write(target, error) from error
    with _told(target):
        if target.exists():
            with _begun(target, _on_old) as connection:
                yield connection
            return
        with replaced(target) as part:
            with _begun(part, _on_new) as connection:
                yield connection
                refuse_in_tables(connection)
            _refuse_if_there(target)


@contextmanager
def reading(path: Path) -> "Iterator[sa.Connection]":
    """A connection that reads a file and cannot write to it.

    Raises:
        SweepbookError: it cannot be read.
    """
    import sqlalchemy as sa

    url = f"sqlite:///file:{quote(str(path.absolute()))}?mode=ro&uri=true"
    engine = sa.create_engine(url, poolclass=sa.pool.NullPool)
    sa.event.listen(engine, "connect", _on_any)
    with _told(path, "read"):
        try:
            with engine.connect() as connection:
                yield connection
        finally:
            engine.dispose()


@contextmanager
def small_sorts(connection: "sa.Connection") -> Iterator[None]:
    """Let indexes be made in the memory of a small cache: they take no longer for it.

    SQLite sorts as much at once as its cache may hold, and holds that beside its cache.
    """
    if connection.dialect.name != "sqlite":
        yield
        return
    connection.exec_driver_sql(f"PRAGMA cache_size = -{_SORTED_AT_ONCE}")
    yield
    connection.exec_driver_sql(f"PRAGMA cache_size = -{_CACHE}")


def copy(path: Path, target: Path) -> None:
    """Copy a database as it stands, whatever another program is writing to it.

    Raises:
        SweepbookError: it cannot be read, or is no database.
    """
    with reading(path) as source, closing(sqlite3.connect(target)) as copied:
        driver: Any = source.connection.dbapi_connection
        try:
            driver.backup(copied)
        except sqlite3.Error as error:
            raise SweepbookError(
                f"{utf8_safe(str(path))} cannot be read: {error}.",
                _todo(getattr(error, "sqlite_errorname", "")),
            ) from error


@contextmanager
def _begun(path: Path, on_connect: Any) -> "Iterator[sa.Connection]":  # noqa: ANN401
    """A connection in one transaction."""
    import sqlalchemy as sa

    _know_none()
    engine = sa.create_engine(
        sa.URL.create("sqlite", database=str(path)),
        poolclass=sa.pool.NullPool,
        connect_args={"timeout": WAIT_SECONDS},
    )
    sa.event.listen(engine, "connect", on_connect)
    sa.event.listen(engine, "begin", _begin)
    try:
        with engine.begin() as connection:
            yield connection
    finally:
        engine.dispose()


def _know_none() -> None:
    """Tell `sqlite3` what to make of None, which is None.

    Where nobody does it asks each for an attribute that it lacks, which takes longer than a cell.
    """
    none: dict[None, None] = {None: None}
    sqlite3.register_adapter(type(None), none.__getitem__)


def _on_any(connection: Any, _: object) -> None:  # noqa: ANN401 - any driver's connection
    """Bound what a file of somebody else's may do."""
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST)
    connection.execute("PRAGMA trusted_schema = OFF")


def _on_old(connection: Any, record: object) -> None:  # noqa: ANN401
    """Leave transactions to SQLAlchemy, so that tables are made within them too."""
    connection.isolation_level = None
    _on_any(connection, record)
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute(f"PRAGMA cache_size = -{_CACHE}")


def _on_new(connection: Any, record: object) -> None:  # noqa: ANN401
    """A file that nobody sees before it is whole needs no journal.

    References are looked at elsewhere: see `loose_ends`.
    """
    _on_old(connection, record)
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute("PRAGMA journal_mode = OFF")
    connection.execute("PRAGMA synchronous = OFF")


def _begin(connection: "sa.Connection") -> None:
    connection.exec_driver_sql("BEGIN IMMEDIATE")


def _refuse_if_there(target: Path) -> None:
    """Do not put a new database over one that somebody else made in the meantime."""
    if target.exists():
        raise SweepbookError(
            f"{utf8_safe(str(target))} was made by another program in the meantime.",
            "Run the command again: what is there is added to.",
        )


@contextmanager
def _told(target: Path, what: str = "written") -> Iterator[None]:
    """Say what went wrong with the database in words."""
    from sqlalchemy.exc import DBAPIError

    try:
        yield
    except DBAPIError as error:
        todo = _todo(getattr(error.orig, "sqlite_errorname", ""))
        shown = utf8_safe(str(target))
        raise SweepbookError(f"{shown} cannot be {what}: {error.orig}.", todo) from error


def _todo(name: str) -> str:
    return next((text for key, text in _TODO.items() if name.startswith(key)), _ANY)
