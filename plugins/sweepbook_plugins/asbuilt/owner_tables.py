"""The tables of an owner, held against a mapping before anything is written."""

import warnings
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.asbuilt.fitting import Misfit, Value, fitted
from sweepbook_plugins.asbuilt.mapping import BadMapping, Into, OwnTables, nearest
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.tables import create, metadata

if TYPE_CHECKING:
    import sqlalchemy as sa

_SAMPLES: Mapping[str, Value] = {"TEXT": "text", "REAL": 0.5, "INTEGER": 1}
_HOLDS = {"TEXT": "text", "REAL": "numbers", "INTEGER": "whole numbers"}
_TODO = "Change the mapping, or the table, which is yours."


@dataclass(frozen=True, slots=True)
class Bound:
    """A table of the owner's that is there and takes what the mapping gives it.

    Attributes:
        into: what the mapping says of it.
        table: the same for SQLAlchemy.
        fits: what makes each value into one that its column takes, by column.
    """

    into: Into
    table: "sa.TableClause"
    fits: Mapping[str, Callable[[Value], Value]]


def bound(connection: "sa.Connection", mapping: OwnTables, schema: Schema) -> list[Bound]:
    """The owner's tables of a mapping.

    Args:
        connection: to the owner's database.
        mapping: what goes into which.
        schema: of the as-built database.

    Raises:
        BadMapping: a table or a column is not there, a column that must be filled is not, the
            key does not tell rows apart, or a type takes nothing of ours.
    """
    problems: list[str] = []
    found, kinds = [], kinds_of(schema)
    for number, into in enumerate(mapping.tables):
        place = f"tables.{number}"
        columns = _columns(connection, into, place, problems)
        if columns is None:
            continue
        problems.extend(_not_keyed(connection, into, place))
        problems.extend(_not_filled(columns, into, place))
        fits = dict(_fits(columns, into, place, problems))
        problems.extend(_of_another_kind(columns, fits, into, place, kinds))
        found.append(Bound(into, _table(into), fits))
    if problems:
        raise BadMapping(mapping.name, problems, _TODO)
    return found


def _named(into: Into) -> tuple[str, str | None]:
    """Table and schema."""
    schema, _, table = into.into.rpartition(".")
    return table, schema or None


def _table(into: Into) -> "sa.TableClause":
    import sqlalchemy as sa

    name, schema = _named(into)
    return sa.table(name, *map(sa.column, into.columns), schema=schema)


def _columns(
    connection: "sa.Connection", into: Into, place: str, problems: list[str]
) -> "Mapping[str, Any] | None":
    """What the database tells of each column of a table; None where the table is not there."""
    import sqlalchemy as sa

    known, (name, schema) = sa.inspect(connection), _named(into)
    if not known.has_table(name, schema=schema):
        there = sorted(known.get_table_names(schema=schema))
        meant = nearest(name, there) if there else "there is no table at all"
        problems.append(f"{place}.into: there is no table {into.into}; {meant}")
        return None
    with warnings.catch_warnings():  # of types that it does not know, which take anything
        warnings.simplefilter("ignore")
        columns = {column["name"]: column for column in known.get_columns(name, schema=schema)}
    for column in into.columns:
        if column not in columns:
            meant = nearest(column, list(columns))
            problems.append(f"{place}.columns: {into.into} has no column {column}; {meant}")
    return columns


def _not_keyed(connection: "sa.Connection", into: Into, place: str) -> Iterator[str]:
    """That the columns of the key do not tell rows apart, where they do not."""
    import sqlalchemy as sa

    known, (name, schema) = sa.inspect(connection), _named(into)
    keys = [known.get_pk_constraint(name, schema=schema)["constrained_columns"]]
    keys += [one["column_names"] for one in known.get_unique_constraints(name, schema=schema)]
    automatic = {"include_auto_indexes": True} if connection.dialect.name == "sqlite" else {}
    keys += [
        [str(column) for column in one["column_names"]]
        for one in known.get_indexes(name, schema=schema, **automatic)
        if one["unique"] and not any("where" in key for key in one.get("dialect_options", {}))
    ]
    if set(into.key) not in [set(key) for key in keys if key]:
        listed = " or ".join(f"({', '.join(key)})" for key in keys if key) or "nothing"
        yield (
            f"{place}.key: ({', '.join(into.key)}) is no primary key of {into.into} and not "
            f"declared unique, so that a row cannot be found again; {listed} is"
        )


def _not_filled(columns: Mapping[str, Any], into: Into, place: str) -> Iterator[str]:
    """Columns that must have a value and get none."""
    keys = [name for name, column in columns.items() if column.get("primary_key")]
    for name, column in columns.items():
        made = column.get("autoincrement") is True or column.get("identity") is not None
        own_number = keys == [name] and "INT" in str(column["type"]).upper()  # SQLite's own
        given = column.get("default") is not None or column.get("computed") is not None
        if not (column["nullable"] or name in into.columns or made or own_number or given):
            yield f"{place}.columns: {into.into}.{name} must have a value, and nothing fills it"


def _fits(
    columns: Mapping[str, Any], into: Into, place: str, problems: list[str]
) -> Iterator[tuple[str, Callable[[Value], Value]]]:
    for name in into.columns:
        if name not in columns:
            continue
        words = into.words.get(name, {})
        try:
            fit = fitted(columns[name]["type"], words)
            for word in words:
                fit(word)
            yield name, fit
        except Misfit as why:
            problems.append(f"{place}.columns.{name}: {why}")


def _of_another_kind(
    columns: Mapping[str, Any],
    fits: Mapping[str, Callable[[Value], Value]],
    into: Into,
    place: str,
    kinds: Mapping[str, Mapping[str, str]],
) -> Iterator[str]:
    """Columns that can take no value of their field; whether they take each is seen later."""
    for name, fit in fits.items():
        field = into.columns[name]
        kind = kinds[into.source].get(field, "")
        if name in into.words or kind not in _SAMPLES:
            continue
        told_later = isinstance(columns[name]["type"], _by_text()) and kind == "TEXT"
        try:
            if not told_later:
                fit(_SAMPLES[kind])
        except Misfit:
            kept = f"{into.into}.{name} is of the type {columns[name]['type']}"
            yield f"{place}.columns.{name}: {kept}, and {field} holds {_HOLDS[kind]}"


def _by_text() -> "tuple[type[Any], ...]":
    """Types that take some texts and not others."""
    import sqlalchemy as sa

    return sa.String, sa.Date, sa.DateTime


def kinds_of(schema: Schema) -> Mapping[str, Mapping[str, str]]:
    """What each field of each table and view holds, as SQLite tells; "" where it cannot."""
    import sqlalchemy as sa

    engine = sa.create_engine("sqlite://")
    with engine.begin() as connection:
        create(connection, schema, metadata(schema))
        rows = {
            name: connection.exec_driver_sql(f"PRAGMA table_info({name})").all()
            for name in schema.fields()
        }
    engine.dispose()
    return {name: {row[1]: row[2] for row in found} for name, found in rows.items()}
