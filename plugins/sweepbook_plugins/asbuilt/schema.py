"""The tables and views of the as-built database, as the schema file describes them."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

_DATA = "sweepbook_schemas"
_NAME = "as-built-0"


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    Attributes:
        column: name.
        type: text, integer, real, flag (0 or 1) or id (a whole number below 2^53).
        meaning: what it says.
        null: whether a row may lack it.
        refers: table and column that it points to, "job.id", or "".
        words: name of the list of words that may stand there, or "" for any.
        unit: of the figures, or "".
        kept: a row that is written again keeps what it has there.
    """

    column: str
    type: str
    meaning: str
    null: bool = False
    refers: str = ""
    words: str = ""
    unit: str = ""
    kept: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """One table.

    Attributes:
        table: name.
        title: what a row is.
        key: columns of the primary key.
        natural: columns that make a row one of a kind.
        there: what happens to a row that is there already: keep, update, or rewrite together
            with the test or job that it belongs to.
        columns: in order.
        indexes: columns of each index.
        compact: stored in the order of its primary key.
        heap: stored in the order in which rows come; the key is a unique index in place of a
            primary key, so that many rows can be there before it is made.
    """

    table: str
    title: str
    key: tuple[str, ...]
    natural: tuple[str, ...]
    there: str
    columns: tuple[Column, ...]
    indexes: tuple[tuple[str, ...], ...] = ()
    compact: bool = False
    heap: bool = False

    @property
    def owner(self) -> str:
        """The column that says which test or job a rewritten row belongs to."""
        return self.key[0]

    @property
    def names(self) -> list[str]:
        """Those of the columns, in order."""
        return [column.column for column in self.columns]


@dataclass(frozen=True, slots=True)
class View:
    """One view.

    Attributes:
        view: name.
        title: what a row is.
        columns: meaning by name, in order.
        sql: the query.
    """

    view: str
    title: str
    columns: Mapping[str, str]
    sql: str


@dataclass(frozen=True, slots=True)
class Question:
    """Something that an owner asks of the database.

    Attributes:
        question: name.
        asks: the question in words.
        sql: the query, which runs as it stands; the names in it are the demo's, see `examples`.
        example: the name in question and query, where they are about one thing; else "".
        examples: query for names that may stand in its place, with how much each would find.
    """

    question: str
    asks: str
    sql: str
    example: str = ""
    examples: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """What brings a database to the next revision; views and dictionary are made anew besides.

    Attributes:
        revision: the one that it leads to.
        brings: what is new, for people.
        tables: new ones, in the order in which they are made.
        columns: new ones of old tables, "job.number", each of which may be NULL.
        words: columns whose list of words has grown, "scheduled.state"; of tables that no other
            refers to.
        parted: old tables, each of which becomes two, of kinds and of values, with a view of its
            name.
        relaid: tables whose rows are stored in another way, which no other refers to.
        statements: SQL that both engines take, after that.
    """

    revision: int
    brings: str
    tables: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    parted: tuple[str, ...] = ()
    relaid: tuple[str, ...] = ()
    statements: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Schema:
    """The whole database.

    Attributes:
        schema: URN.
        revision: the one that is written; see `steps` for earlier ones.
        steps: from the oldest revision that can be brought to the newest, in order.
        words: lists of words by name.
        tables: by name, in the order in which rows go in.
        views: in the order in which they are made.
        questions: to ask of it, for the dictionary.
    """

    schema: str
    revision: int
    words: Mapping[str, tuple[str, ...]]
    tables: Mapping[str, Table]
    views: tuple[View, ...]
    questions: tuple[Question, ...]
    steps: tuple[Step, ...] = ()

    def fields(self) -> dict[str, list[str]]:
        """The columns of each table and view by name."""
        tables = {name: table.names for name, table in self.tables.items()}
        return {**tables, **{view.view: [*view.columns] for view in self.views}}


@cache
def load() -> Schema:
    """Read the schema that comes with the program.

    Raises:
        TypeError: the file has a member that is not described here.
    """
    document = json.loads((files(_DATA) / f"{_NAME}.json").read_text(encoding="utf-8"))
    tables = [_table(dict(entry)) for entry in document["tables"]]
    return Schema(
        schema=document["schema"],
        revision=document["revision"],
        words={name: tuple(words) for name, words in document["words"].items()},
        tables={table.table: table for table in tables},
        views=tuple(View(**entry, sql=_sql(entry["view"])) for entry in document["views"]),
        questions=tuple(
            Question(**entry, sql=_sql("questions", entry["question"]))
            for entry in document["questions"]
        ),
        steps=tuple(_step(dict(entry)) for entry in document["steps"]),
    )


def _table(entry: dict[str, Any]) -> Table:
    """A table; a member that is not one of its attributes is refused."""
    key, natural = tuple(entry.pop("key")), tuple(entry.pop("natural"))
    columns = tuple(Column(**column) for column in entry.pop("columns"))
    indexes = tuple(tuple(index) for index in entry.pop("indexes", ()))
    return Table(key=key, natural=natural, columns=columns, indexes=indexes, **entry)


def _step(entry: dict[str, Any]) -> Step:
    """A step; lists become tuples."""
    for name in ("tables", "columns", "words", "parted", "relaid", "statements"):
        entry[name] = tuple(entry.get(name, ()))
    return Step(**entry)


def _sql(*path: str) -> str:
    """The text of a query by its folders and name."""
    *folders, name = path
    found = (files(_DATA) / _NAME).joinpath(*folders, f"{name}.sql")
    return found.read_text(encoding="utf-8").strip()
