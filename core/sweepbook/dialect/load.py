"""Dialect files: read, held against their schemas, and turned into look-ups."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sweepbook import toml
from sweepbook.dialect import joins, schema_check
from sweepbook.dialect.compile import compile_meaning
from sweepbook.dialect.file_form import SHARED
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.names import placeholders
from sweepbook.errors import SweepbookError
from sweepbook.inputs import bytes_of, what_to_do
from sweepbook.schemas import schema

if TYPE_CHECKING:
    from sweepbook.formats import Format

SCHEMA = "dialect-0.schema.json"
MOST_BYTES = 1 << 20
_OWN = frozenset(schema(SCHEMA)["properties"])
"""Tables that are no reader's."""

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
        raw = bytes_of(path, MOST_BYTES)
    except OSError as error:
        why = f"it cannot be opened: {error.strerror or error}"
        todo = what_to_do(error, "Check that you may read it.")
        raise BadDialect(where, [why], todo) from error
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
        pieces_by=document.get("pieces_by", ""),
    )
    whole = joins.joined(dialect, document["join"], found) if "join" in document else dialect
    whole = joins.with_own_keys(whole)
    if found:
        raise BadDialect(where, sorted(set(found)))
    form = whole.join.form if whole.join else None
    if SHARED in whole.meaning.field_keys and not (form and form.has_shared):
        said = f"{SHARED!r} is what the names of several files share, and join.file has none of it"
        raise BadDialect(where, [f"fields: {said}"])
    return whole


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
    if dialect.join and dialect.join.parts and not entry.reads_parts:
        message = f"join.part: is for text tables; {dialect.format} needs join.file and join.other"
        raise BadDialect(dialect.where, [message])
    entry.check_dialect(dialect)
    form = dialect.join.form if dialect.join else None
    if form and any(map(placeholders, form.templates)) and not entry.reads_parts:
        message = "join.file: only of a text table the name can say what its curves are of"
        raise BadDialect(dialect.where, [message])
    for other in dialect.join.others if dialect.join else ():
        of = formats.get(other.dialect.format)
        if of is not None and of.check_dialect is not None and of.texts is None:
            message = f"{other.where}.format: tests of {of.name} cannot be joined to others"
            raise BadDialect(dialect.where, [message])
        try:
            _check_reader(other.dialect, formats)
        except BadDialect as error:
            raise BadDialect(
                dialect.where, [f"{other.where}.{each}" for each in error.problems]
            ) from error
