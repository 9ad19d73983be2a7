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
from sweepbook.dialect.file_form import SHARED, FileForm, is_form
from sweepbook.dialect.model import Dialect, Join
from sweepbook.dialect.names import Grammar, placeholders
from sweepbook.dialect.words import as_list
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
    whole = _joined(dialect, document["join"]) if "join" in document else dialect
    form = whole.join.form if whole.join else None
    if SHARED in whole.meaning.field_keys and not (form and form.has_shared):
        said = f"{SHARED!r} is what the names of several files share, and join.file has none of it"
        raise BadDialect(where, [f"fields: {said}"])
    return whole


def _joined(dialect: Dialect, table: Mapping[str, Any]) -> Dialect:
    """The dialect with what it says of other files, which are read by the same words.

    Raises:
        BadDialect: the layout of the other file is missing, or the names cannot be told apart.
    """
    reader = table.get("format", dialect.format)
    found = [f"join.{name}: there is no such key" for name in table.keys() - _JOIN - {reader}]
    files, other_name = tuple(as_list(table.get("file", []))), table.get("other", "")
    several = is_form(files)
    alone = several and not other_name
    if reader not in table and not alone:
        found.append(f"join.{reader}: is missing. It says how the other file is laid out")
    if alone:
        found += [
            f"join.{name}: is missing, since there is join.{there}"
            for name, there in (("other", reader), ("other", "other_key"), ("other", "format"))
            if there in table
        ]
    part = table.get("part", "")
    part = (*part, "")[:2] if part else ()
    found += _join_names(table, several=several)
    if "other_key" in table and "key" not in table:
        found.append("join.key: is missing, since there is join.other_key")
    form = _file_form(files, dialect.meaning.grammar, found) if several else None
    if form and form.has_shared and other_name and SHARED not in other_name + table.get("key", ""):
        found.append(
            f"join.key: must be {SHARED!r} where join.other is one file for all of join.file"
        )
    if found:
        raise BadDialect(dialect.where, sorted(set(found)))
    key = table.get("key", "")
    other_key = table.get("other_key", key)
    other = replace(
        dialect,
        name=f"{dialect.name} (join)",
        format=reader,
        meaning=replace(dialect.meaning, join_key=other_key),
        layout=table.get(reader, {}),
        part=part,
    )
    file = files[0] if files else ""
    join = Join(file, other_name, key, other_key, None if alone else other, part, form)
    return replace(dialect, meaning=replace(dialect.meaning, join_key=key), join=join)


def _file_form(files: tuple[str, ...], grammar: Grammar, found: list[str]) -> FileForm | None:
    """The forms of the names of several files; None, and what is wrong, where they are none."""
    try:
        return FileForm(files, grammar)
    except ValueError as error:
        found.append(f"join.file: {error}; and {SHARED}, {{number}} and {{any}} for other texts")
        return None


def _join_names(table: Mapping[str, Any], *, several: bool) -> list[str]:
    """What is wrong with how files are named: several, two by name, or a part and a key."""
    if "part" in table:
        found = [
            f"join.{name}: does not go with join.part, which is of the same file"
            for name in ("file", "other", "format")
            if name in table
        ]
        alone = "join.key: is missing, as join.part needs one"
        return found if "key" in table else [*found, alone]
    needed = ("file",) if several else ("file", "other")
    said = "names the files; where both stand in one, write join.part"
    lacking = [f"join.{name}: is missing. It {said}" for name in needed if name not in table]
    file, other = (table.get(name, "") for name in ("file", "other"))
    if not several and file and (file == other or file.count(SHARED) != other.count(SHARED)):
        lacking.append(f"join.other: must differ from join.file, and have {SHARED} where that has")
    if is_form(other):
        lacking.append(f"join.other: may hold in braces only {SHARED}, and no folder")
    return lacking


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
    form = dialect.join.form if dialect.join else None
    if form and any(map(placeholders, form.templates)) and not entry.reads_parts:
        message = "join.file: only of a text table the name can say what its curves are of"
        raise BadDialect(dialect.where, [message])
    if dialect.join is not None and dialect.join.dialect is not None:
        try:
            _check_reader(dialect.join.dialect, formats)
        except BadDialect as error:
            raise BadDialect(dialect.where, [f"join.{of}" for of in error.problems]) from error
