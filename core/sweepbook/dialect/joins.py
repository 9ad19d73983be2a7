"""What a dialect says of the other files of its tests, out of plain data."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sweepbook.dialect import names
from sweepbook.dialect.file_form import SHARED, FileForm, is_form
from sweepbook.dialect.model import Dialect, Join, OtherFile
from sweepbook.dialect.names import Grammar
from sweepbook.dialect.paired_names import unpacked
from sweepbook.dialect.words import as_list

ANOTHER_PART = "and [join] where this is another part of tests that are in more than one file"
"""What a message goes on with that says that a file does not fit the layout at all."""
_KEYS = frozenset(
    ("file", "other", "part", "key", "other_key", "format", "may_lack", "shared", "pieces_by")
)


@dataclass(frozen=True)
class _Table:
    """One table `join`, and what the first of them says for all.

    Attributes:
        where: its key path.
        table: as it stands.
        files: names or forms of the file with the curves.
        reader: format of its file.
        first: whether it is the first, or the only one.
        several: whether the curves are spread over several files.
    """

    where: str
    table: Mapping[str, Any]
    files: tuple[str, ...]
    reader: str
    first: bool
    several: bool

    @property
    def alone(self) -> bool:
        """Whether there is no other file than those with the curves."""
        return self.first and self.several and "other" not in self.table

    def get(self, key: str) -> str:
        """A text of the table; "" where it has none."""
        return str(self.table.get(key, ""))


def joined(
    dialect: Dialect, said: Mapping[str, Any] | Sequence[Mapping[str, Any]], found: list[str]
) -> Dialect:
    """The dialect with what it says of other files, which are read by the same words.

    Args:
        dialect: without that.
        said: the table `join`, or several.
        found: takes what is wrong, each with its key path; only without any is the dialect of use.
    """
    listed = listed_of(said)
    files, several = files_of(said), are_several(said)
    tables = [
        _Table(
            "join" if isinstance(said, Mapping) else f"join.{at}",
            table,
            files,
            table.get("format", dialect.format),
            at == 0,
            several,
        )
        for at, table in enumerate(listed)
    ]
    form = _file_form(tables[0], dialect.meaning.grammar, found) if several else None
    for table in tables:
        found += _wrong(table, form)
    found += _alike(tables)
    if found or not tables:
        return dialect
    marks = [mark for table in tables for mark in table.table.get("part", ())]
    others = tuple(_other(dialect, table, marks) for table in tables if not table.alone)
    keys = frozenset(key for table in tables if (key := table.get("key")))
    return replace(
        dialect,
        meaning=replace(dialect.meaning, join_keys=keys),
        join=Join(files[0] if files else "", tables[0].get("key"), others, form),
    )


def with_own_keys(dialect: Dialect) -> Dialect:
    """The dialect with the keys of pieces and of wiring among those that a reader has to find."""
    meaning = dialect.meaning
    own = {dialect.pieces_by, meaning.wiring.key} - {""}
    if not own:
        return dialect
    return replace(dialect, meaning=replace(meaning, join_keys=meaning.join_keys | own))


def listed_of(said: Mapping[str, Any] | Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """The tables `join`: one, or several."""
    return [said] if isinstance(said, Mapping) else [*said]


def files_of(said: Mapping[str, Any] | Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """Names or forms of the files with curves, which the first of the tables says.

    How a file is packed does not count, here and in `other`.
    """
    return tuple(map(unpacked, as_list(listed_of(said)[0].get("file", []))))


def are_several(said: Mapping[str, Any] | Sequence[Mapping[str, Any]]) -> bool:
    """Whether the files with curves are several: by their forms, or by a key that is their name."""
    keyed = any(table.get("key") == SHARED for table in listed_of(said))
    files = files_of(said)
    return is_form(files) or (keyed and any(SHARED in file for file in files))


def _other(dialect: Dialect, table: _Table, marks: Sequence[str]) -> OtherFile:
    part = table.table.get("part", ())
    others = [mark for mark in dict.fromkeys(marks) if mark not in part]
    part = (*(*part, "")[:2], *others) if part else ()
    key = table.get("key")
    other_key = table.get("other_key") or key
    read_by = replace(
        dialect,
        name=f"{dialect.name} ({table.where})",
        format=table.reader,
        meaning=replace(
            dialect.meaning, join_keys=frozenset((other_key,)) if other_key else frozenset()
        ),
        layout=table.table.get(table.reader, {}),
        part=part,
        pieces_by=table.get("pieces_by"),
    )
    may_lack, shared = (bool(table.table.get(of, False)) for of in ("may_lack", "shared"))
    name = unpacked(table.get("other"))
    return OtherFile(
        name, key, other_key, with_own_keys(read_by), part, may_lack, table.where, shared
    )


def _wrong(of: _Table, form: FileForm | None) -> Iterator[str]:
    """What is wrong with one table."""
    where, table = of.where, of.table
    for name in sorted(table.keys() - _KEYS - {of.reader}):
        yield f"{where}.{name}: there is no such key"
    if of.alone:
        for name, there in (("other", of.reader), *(("other", key) for key in _OF_OTHER)):
            if there in table:
                yield f"{where}.{name}: is missing, since there is {where}.{there}"
    elif of.reader not in table:
        yield f"{where}.{of.reader}: is missing. It says how the other file is laid out"
    yield from _names(of, form)
    if "other_key" in table and "key" not in table:
        yield f"{where}.key: is missing, since there is {where}.other_key"
    other = of.get("other")
    if form and form.has_shared and other and SHARED not in other + of.get("key"):
        yield f"{where}.key: must be {SHARED!r} where join.other is one file for all of join.file"


_OF_OTHER = ("other_key", "format", "may_lack", "shared")


def _names(of: _Table, form: FileForm | None) -> Iterator[str]:
    """What is wrong with how files are named: several, two by name, or a part and a key."""
    if "part" in of.table:
        yield from _part(of)
        return
    said = "names the files; where both stand in one, write join.part"
    if not of.files:
        yield f"{of.where if of.first else 'join.0'}.file: is missing. It {said}"
    other = of.get("other")
    if not other and not of.alone:
        yield f"{of.where}.other: is missing. It {said}"
    file = of.files[0] if of.files and other and not of.several else ""
    if file and (file == other or file.count(SHARED) != other.count(SHARED)):
        yield f"{of.where}.other: must differ from join.file, and have {SHARED} where that has"
    if names.placeholders(other):
        yield f"{of.where}.other: may hold in braces only {SHARED}"
    if other.count("/") > (form.depth if form else 0):
        yield f"{of.where}.other: may name no more folders than join.file does"


def _part(of: _Table) -> Iterator[str]:
    """What is wrong where a part of a file takes the place of another one."""
    for name in ("file", "other", "format"):
        for_others = name == "file" and of.first and of.where != "join"
        if name in of.table and not for_others:
            yield f"{of.where}.{name}: does not go with {of.where}.part, which is of the same file"
    if "key" not in of.table:
        yield f"{of.where}.key: is missing, as join.part needs one"


def _alike(tables: Sequence[_Table]) -> Iterator[str]:
    """What several tables say of one thing."""
    for at, of in enumerate(tables):
        before = tables[:at]
        if at and "file" in of.table and tuple(as_list(of.table["file"])) != of.files:
            yield f"{of.where}.file: must be that of join.0, or left out"
        for name in ("other", "part"):
            if name in of.table and any(name in o.table and _same(o, of, name) for o in before):
                yield f"{of.where}.{name}: is that of another join; put both into one layout"


def _same(one: _Table, other: _Table, name: str) -> bool:
    said, again = as_list(one.table[name]), as_list(other.table[name])
    return said[0] == again[0]


def _file_form(of: _Table, grammar: Grammar, found: list[str]) -> FileForm | None:
    """The forms of the names of several files; None, and what is wrong, where they are none."""
    try:
        return FileForm(of.files, grammar)
    except ValueError as error:
        found.append(
            f"{of.where}.file: {error}; and {SHARED}, {{number}} and {{any}} for other texts"
        )
        return None
