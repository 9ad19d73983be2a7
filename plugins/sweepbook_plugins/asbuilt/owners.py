"""Writing chosen fields of a delivery into an owner's own tables."""

from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe
from sweepbook_plugins.asbuilt import owner_tables
from sweepbook_plugins.asbuilt.aside import Aside, laid_out
from sweepbook_plugins.asbuilt.changes import GONE
from sweepbook_plugins.asbuilt.fitting import Value
from sweepbook_plugins.asbuilt.mapping import OwnTables
from sweepbook_plugins.asbuilt.opening import Place, transaction
from sweepbook_plugins.asbuilt.owner_rows import (
    CHUNK,
    MOST_NAMED,
    link_column,
    refuse_doubles,
    rows_of,
)
from sweepbook_plugins.asbuilt.owner_tables import Bound
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.since import Since
from sweepbook_plugins.asbuilt.withdrawn import since_then

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook.delivery import Delivery


def write(
    delivery: "Delivery", place: Place, schema: Schema, mapping: OwnTables, since: Since | None
) -> None:
    """Write into the owner's tables, in one transaction of their database.

    Raises:
        SweepbookError: a table is not there or does not take what it would get; nothing of the
            delivery is kept then.
    """
    _refuse_without_links(mapping, schema, since)
    if isinstance(place, Path) and not place.is_file():
        raise SweepbookError(
            f"There is no database {utf8_safe(str(place))}, and a mapping fills tables that are "
            "there.",
            "Name the database of the owner, or leave --mapping out.",
        )
    with transaction(place) as connection:
        tables = owner_tables.bound(connection, mapping, schema)
        with laid_out(delivery, schema, since) as whole:
            for table in tables:
                delivery.remarks.append(_put(connection, whole, table, schema))
            delivery.remarks.extend((*_gone(whole), *since_then(delivery, since)))


def _refuse_without_links(mapping: OwnTables, schema: Schema, since: Since | None) -> None:
    """With --since, rows have to tell which link they are of."""
    for into in mapping.tables if since is not None else ():
        if link_column(into, schema) is None:
            raise SweepbookError(
                f"With --since only rows of links can be written, and {into.source} has no "
                "link_id.",
                "Leave --since out, or take the rows from a table or view that has it.",
            )


def _put(connection: "sa.Connection", whole: Aside, bound: Bound, schema: Schema) -> str:
    """Put rows in or bring them up to date; what was done, in words."""
    from sqlalchemy.exc import IntegrityError

    into, statement = bound.into, _upsert(connection, bound)
    before, put, left = _count(connection, bound), 0, 0
    seen: set[tuple[Value, ...]] = set()
    every = rows_of(whole, bound, schema)
    try:
        while rows := list(islice(every, CHUNK)):
            keyed = [row for row in rows if all(row[key] is not None for key in into.key)]
            left += len(rows) - len(keyed)
            refuse_doubles(into, keyed, seen)
            if keyed:
                connection.execute(statement, [_for_engine(connection, row) for row in keyed])
            put += len(keyed)
    except IntegrityError as error:
        raise SweepbookError(
            f"{into.into} refuses a row: {error.orig}.",
            "Change the mapping or the condition of the table, which is yours; nothing was kept.",
        ) from error
    new = _count(connection, bound) - before
    said = f"{into.into}: {new:,} rows put in, {put - new:,} brought up to date"
    return f"{said}; {left:,} without a key were left out." if left else f"{said}."


def _upsert(connection: "sa.Connection", bound: Bound) -> Any:  # noqa: ANN401
    from sqlalchemy.dialects import postgresql, sqlite

    engine = postgresql if connection.dialect.name == "postgresql" else sqlite
    statement: Any = engine.insert(bound.table)
    news = {name: statement.excluded[name] for name in bound.into.columns}
    changed = {name: new for name, new in news.items() if name not in bound.into.key}
    if not changed:
        return statement.on_conflict_do_nothing(index_elements=list(bound.into.key))
    return statement.on_conflict_do_update(index_elements=list(bound.into.key), set_=changed)


def _for_engine(connection: "sa.Connection", row: dict[str, Value]) -> dict[str, Value]:
    """SQLite has no days and times: they are text there (its manual, Datatypes, section 2.2)."""
    if connection.dialect.name == "postgresql":
        return row
    return {
        name: value.isoformat() if hasattr(value, "isoformat") else value
        for name, value in row.items()
    }


def _count(connection: "sa.Connection", bound: Bound) -> int:
    import sqlalchemy as sa

    counted = sa.select(sa.func.count()).select_from(bound.table)
    return int(connection.execute(counted).scalar_one())


def _gone(whole: Aside) -> Iterator[str]:
    labels = [one.label or "" for one in whole.changes or () if one.change == GONE or one.former]
    if labels:
        rest = len(labels) - MOST_NAMED
        more = f" and {rest} more" if rest > 0 else ""
        yield (
            f"Gone since then, with the owner's rows left as they are: "
            f"{', '.join(labels[:MOST_NAMED])}{more}."
        )
