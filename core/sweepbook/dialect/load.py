"""Dialect files: read, held against their schemas, and turned into look-ups."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sweepbook import toml
from sweepbook.dialect import schema_check
from sweepbook.dialect.compile import compile_meaning
from sweepbook.dialect.model import Dialect, Join
from sweepbook.errors import SweepbookError
from sweepbook.schemas import schema

if TYPE_CHECKING:
    from sweepbook.formats import Format

SCHEMA = "dialect-0.schema.json"
MOST_BYTES = 1 << 20
_OWN = frozenset(schema(SCHEMA)["properties"])
"""Tables that are no reader's."""
_JOIN = frozenset(("file", "other", "part", "key", "other_key", "format"))


_CHANGE = "Change these keys; `sweepbook formats --guide` explains each, with examples."
_TOML = "A dialect is a text file in TOML; `sweepbook formats --guide` shows whole ones."


class BadDialect(SweepbookError):
    """A dialect file cannot be used.

    Args:
        where: the file.
        problems: what is wrong, each with its key path.
        todo: what to do next.
    """

    def __init__(self, where: str, problems: list[str], todo: str = _CHANGE) -> None:
        self.problems = tuple(problems)
        listed = "; ".join(problem.rstrip(".") for problem in problems)
        stop = "" if listed.endswith("?") else "."
        super().__init__(f"the dialect {where} cannot be used: {listed}{stop}", todo)


@dataclass(slots=True)
class Loaded:
    """The dialects of a folder.

    Attributes:
        dialects: by name.
        failures: what is wrong, by file name; such a dialect is not in use.
    """

    dialects: dict[str, Dialect] = field(default_factory=dict)
    failures: dict[str, BadDialect] = field(default_factory=dict)


def load(path: Path | Traversable, formats: "Mapping[str, Format] | None" = None) -> Dialect:
    """Read one dialect file.

    Args:
        path: the TOML file.
        formats: the formats there are; the reader's half is checked by the one it is for.

    Raises:
        BadDialect: the file cannot be opened, is no TOML, or breaks a schema.
    """
    where = str(getattr(path, "name", path))
    try:
        with path.open("rb") as stream:
            raw = stream.read(MOST_BYTES + 1)
    except OSError as error:
        why = f"it cannot be opened: {error.strerror or error}"
        raise BadDialect(where, [why], "Check that you may read it.") from error
    dialect = parse(raw, where)
    if formats is not None:
        _check_reader(dialect, formats)
    return dialect


def load_folder(folder: Path | Traversable, formats: "Mapping[str, Format]") -> Loaded:
    """Read every *.toml of a folder, in the order of their names; a bad one stops nothing."""
    loaded = Loaded()
    found = [entry for entry in folder.iterdir() if entry.name.endswith(".toml")]
    for entry in sorted(found, key=lambda entry: entry.name):
        try:
            dialect = load(entry, formats)
            if dialect.name in loaded.dialects:
                known = loaded.dialects[dialect.name].where
                raise BadDialect(entry.name, [f"name: {dialect.name!r} is taken by {known}"])
        except BadDialect as fault:
            loaded.failures[entry.name] = fault
        else:
            loaded.dialects[dialect.name] = dialect
    return loaded


def parse(raw: bytes, where: str = "") -> Dialect:
    """Turn the bytes of a dialect file into a dialect.

    Raises:
        BadDialect: no TOML, or it breaks the schema of the core half.
    """
    document = _toml(raw, where)
    found = schema_check.problems(document, SCHEMA)
    reader = str(document.get("format", ""))
    known = [*_OWN, reader]
    for name in sorted(document.keys() - set(known)):
        found.append(
            f"{name}: there is no such table; the reader's own is called as format says, here "
            f"{reader!r}, and known besides are {', '.join(sorted(_OWN))}"
        )
    if not found and reader in _OWN:
        found.append(f"format: {reader!r} is no reader")
    if found:
        raise BadDialect(where, found)
    meaning, found = compile_meaning(document)
    if found:
        raise BadDialect(where, found)
    dialect = Dialect(
        name=document["name"],
        title=document["title"],
        format=reader,
        sha256=hashlib.sha256(raw).hexdigest(),
        meaning=meaning,
        layout=document.get(reader, {}),
        where=where,
        raw=raw,
    )
    return _joined(dialect, document["join"]) if "join" in document else dialect


def _joined(dialect: Dialect, table: Mapping[str, Any]) -> Dialect:
    """The dialect with what it says of the other file, which is read by the same words.

    Raises:
        BadDialect: the layout of the other file is missing, or the names cannot be told apart.
    """
    reader = table.get("format", dialect.format)
    found = [f"join.{name}: there is no such key" for name in table.keys() - _JOIN - {reader}]
    if reader not in table:
        found.append(f"join.{reader}: is missing. It says how the other file is laid out")
    part, file, other_name = (table.get(name, "") for name in ("part", "file", "other"))
    part = (*part, "")[:2] if part else ()
    found += _join_names(table)
    if file and (file == other_name or file.count("{}") != other_name.count("{}")):
        found.append("join.other: must differ from join.file, and have {} where that has it")
    if "other_key" in table and "key" not in table:
        found.append("join.key: is missing, since there is join.other_key")
    if found:
        raise BadDialect(dialect.where, sorted(found))
    key = table.get("key", "")
    other_key = table.get("other_key", key)
    other = replace(
        dialect,
        name=f"{dialect.name} (join)",
        format=reader,
        meaning=replace(dialect.meaning, join_key=other_key),
        layout=table[reader],
        part=part,
    )
    join = Join(file, other_name, key, other_key, other, part)
    return replace(dialect, meaning=replace(dialect.meaning, join_key=key), join=join)


def _join_names(table: Mapping[str, Any]) -> list[str]:
    """What is wrong with how the other half is named: two files by name, or a part and a key."""
    if "part" not in table:
        lacking = [name for name in ("file", "other") if name not in table]
        said = "names the files; where both stand in one, write join.part"
        return [f"join.{name}: is missing. It {said}" for name in lacking]
    found = [
        f"join.{name}: does not go with join.part, which is of the same file"
        for name in ("file", "other", "format")
        if name in table
    ]
    return found if "key" in table else [*found, "join.key: is missing, as join.part needs one"]


def _toml(raw: bytes, where: str) -> dict[str, Any]:
    if len(raw) > MOST_BYTES:
        raise BadDialect(where, [f"it is larger than {MOST_BYTES >> 20} MiB"], _TOML)
    try:
        return toml.parsed(raw)
    except toml.NoToml as error:
        what = "it is JSON, and no TOML" if raw.lstrip()[:1] == b"{" else str(error)
        raise BadDialect(where, [what], _TOML) from error


def _check_reader(dialect: Dialect, formats: "Mapping[str, Format]") -> None:
    """Have the reader look at its half.

    Raises:
        BadDialect: there is no such reader, or it says no.
    """
    able = {name: entry for name, entry in formats.items() if entry.check_dialect is not None}
    entry = able.get(dialect.format)
    if entry is None or entry.check_dialect is None:
        listed = ", ".join(sorted(able)) or "none"
        message = f"format: no reader {dialect.format!r} reads by dialects; those that do: {listed}"
        raise BadDialect(dialect.where, [message])
    if dialect.join and dialect.join.part and not entry.reads_parts:
        message = f"join.part: is for text tables; {dialect.format} needs join.file and join.other"
        raise BadDialect(dialect.where, [message])
    entry.check_dialect(dialect)
    if dialect.join is not None:
        try:
            _check_reader(dialect.join.dialect, formats)
        except BadDialect as error:
            raise BadDialect(dialect.where, [f"join.{of}" for of in error.problems]) from error
