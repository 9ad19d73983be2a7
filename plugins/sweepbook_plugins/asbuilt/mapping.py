"""A mapping: which fields go into which columns of an owner's own tables, as its file says."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from sweepbook.errors import SweepbookError
from sweepbook.inputs import bytes_of, what_to_do
from sweepbook.text import utf8_safe
from sweepbook_plugins.asbuilt.schema import Schema

SCHEMA = "mapping-0.schema.json"
MOST_BYTES = 1 << 20
MOST_NAMED = 12
_CHANGE = "Change these keys; `sweepbook formats --guide` has a mapping as an example."


class BadMapping(SweepbookError):
    """A mapping cannot be used.

    Args:
        name: of the file.
        problems: what is wrong, each with its place.
        todo: what to do next.
    """

    def __init__(self, name: str, problems: list[str], todo: str = _CHANGE) -> None:
        listed = "; ".join(problem.rstrip(".") for problem in problems)
        super().__init__(f"The mapping {utf8_safe(name)} cannot be used: {listed}.", todo)


@dataclass(frozen=True, slots=True)
class Into:
    """One table of the owner's.

    Attributes:
        into: its name, with its schema before a dot where it has one.
        source: table or view of the as-built database.
        key: the owner's columns that tell rows apart.
        columns: field by column of the owner's.
        words: the owner's words by ours, by column of the owner's.
    """

    into: str
    source: str
    key: tuple[str, ...]
    columns: Mapping[str, str]
    words: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class OwnTables:
    """A mapping.

    Attributes:
        name: of its file.
        tables: of the owner's, in order.
    """

    name: str
    tables: tuple[Into, ...]


def load(path: Path, schema: Schema) -> OwnTables:
    """Read a mapping and hold it against the as-built database.

    Raises:
        BadMapping: it cannot be read, is no TOML or no mapping, or names what is not there.
    """
    from sweepbook.dialect import schema_check

    try:
        raw = bytes_of(path, MOST_BYTES)
    except OSError as error:
        why = f"it cannot be opened: {error.strerror or error}"
        todo = what_to_do(error, "Check the path.")
        raise BadMapping(str(path), [why], todo) from error
    if len(raw) > MOST_BYTES:
        raise BadMapping(path.name, [f"it is larger than {MOST_BYTES >> 20} MiB"])
    try:
        document = tomllib.loads(raw.decode())
    except (ValueError, RecursionError) as error:  # of UTF-8 or of TOML
        raise BadMapping(path.name, [f"it is no TOML: {error}"], "Mend the file.") from error
    problems = list(schema_check.problems(document, SCHEMA))
    if not problems:
        problems = list(_problems(document["tables"], schema))
    if problems:
        raise BadMapping(path.name, problems)
    return OwnTables(path.name, tuple(map(_into, document["tables"])))


def nearest(name: str, known: list[str]) -> str:
    """What may have been meant, in words."""
    spelled = {one.casefold(): one for one in known}
    for near in get_close_matches(name.casefold(), list(spelled), n=1):
        return f"perhaps {spelled[near]} is meant"
    rest = len(known) - MOST_NAMED
    return f"there are {', '.join(known[:MOST_NAMED])}{f' and {rest} more' if rest > 0 else ''}"


def _into(entry: Mapping[str, Any]) -> Into:
    return Into(
        entry["into"],
        entry["from"],
        tuple(entry["key"]),
        dict(entry["columns"]),
        {column: dict(words) for column, words in entry.get("words", {}).items()},
    )


def _problems(entries: list[Mapping[str, Any]], schema: Schema) -> Iterator[str]:
    """What a mapping names that it does not have, or the as-built database has not."""
    fields = schema.fields()
    for number, entry in enumerate(entries):
        place, source, columns = f"tables.{number}", entry["from"], entry["columns"]
        if source not in fields:
            yield f"{place}.from: there is no {source}; {nearest(source, list(fields))}"
            continue
        for column, name in columns.items():
            if name not in fields[source]:
                meant = nearest(name, fields[source])
                yield f"{place}.columns.{column}: {source} has no {name}; {meant}"
        for column in entry["key"]:
            if column not in columns:
                yield f"{place}.key: {column} is not among the columns that are filled"
        for column in entry.get("words", {}):
            if column not in columns:
                yield f"{place}.words: {column} is not among the columns that are filled"
