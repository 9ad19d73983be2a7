"""Questions to a database of either engine, by SQLAlchemy and plain SQL."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from sweepbook.database_url import DatabaseUrl
from sweepbook.delivery import Delivery
from sweepbook.judging.assessment import Assessment
from sweepbook_plugins.asbuilt import database as asbuilt

from .made_up import delivery

Place = Path | DatabaseUrl
Content = dict[str, list[tuple[Any, ...]]]


def write(place: Place, *entries: Assessment, **more: Any) -> list[str]:
    """Write a delivery of these tests; what the writer had to say."""
    whole = delivery(entries, **more)
    put(whole, place)
    return whole.remarks


def put(whole: Delivery, place: Place) -> None:
    """Write a delivery."""
    if isinstance(place, Path):
        asbuilt.write(whole, place)
    else:
        asbuilt.write_url(whole, place)


@contextmanager
def connected(place: Place) -> Iterator[sa.Connection]:
    """A connection; what is changed is kept."""
    url = sa.URL.create("sqlite", database=str(place))
    if isinstance(place, DatabaseUrl):
        url = sa.make_url(place.text).set(drivername="postgresql+psycopg")
    engine = sa.create_engine(url, poolclass=sa.pool.NullPool)
    try:
        with engine.begin() as connection:
            yield connection
    finally:
        engine.dispose()


def ask(place: Place, question: str) -> list[tuple[Any, ...]]:
    """The rows that answer a question."""
    with connected(place) as connection:
        return [tuple(row) for row in connection.exec_driver_sql(question)]


def content(place: Place) -> Content:
    """Every row of every table and view, sorted."""
    with connected(place) as connection:
        known = sa.inspect(connection)
        names = [*known.get_table_names(), *known.get_view_names()]
        return {
            name: sorted(
                (tuple(row) for row in connection.exec_driver_sql(f"SELECT * FROM {name}")),
                key=repr,
            )
            for name in sorted(names)
        }
