"""A draft for a file a parameter, told by its name alone, with the curves of all tests in rows.

A column tells the tests; tables beside these files that hold the same texts are joined by it.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.document import FOUND, UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import left_out
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.names_of_files import with_folder
from sweepbook.draft.reading import Understood, understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import join, keys, tests
from sweepbook_plugins.csv.draft.file_names import form_of
from sweepbook_plugins.csv.draft.further import A_TEST, Taken, all_joined, rows_of, taken
from sweepbook_plugins.csv.draft.join import Joined, Part
from sweepbook_plugins.csv.draft.joined import LEFT, Drafted, a_table_each, one_of_a_kind
from sweepbook_plugins.csv.draft.named_files import NamedFiles, find
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.table_words import take_words

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_HOW = "names tell the parameter, and each file holds all tests"


class _Heads(NamedTuple):
    """What joins these files to a table with a row a test.

    Attributes:
        part: the table.
        at: position of its file.
        shared: the columns.
    """

    part: Part
    at: int
    shared: join.Shared


def draft(sources: Sequence[Source], looked: Sequence[Looked], limits: "Library") -> Drafted | None:
    """The draft where files are named so, alone or with a table of tests beside them.

    Args:
        sources: the files.
        looked: the same, looked at.
        limits: where names of limits are looked up.
    """
    parts = a_table_each(sources, looked)
    files = find(sources, parts) if len(parts) > 1 else None
    if files is None:
        return None
    others = {at: part for at, part in parts.items() if at not in files.at}
    for at, part in others.items():
        if part.wide or not tests.are_tests(part.titles, part.rows):
            continue
        if shared := join.shared(part, files.part):
            further = one_of_a_kind(part, [*others.values()])
            return _drafted(
                files, _Heads(part, at, shared), shared.other, further, (sources, looked), limits
            )
    key = files.key()
    return _drafted(files, None, key, (), (sources, looked), limits) if key else None


def _drafted(
    files: NamedFiles,
    heads: _Heads | None,
    key: str,
    further: Sequence[Part],
    given: tuple[Sequence[Source], Sequence[Looked]],
    limits: "Library",
) -> Drafted:
    """The draft.

    Args:
        files: those with the curves.
        heads: the table of tests, if there is one.
        key: the column of the files that tells the tests.
        further: other tables that may be joined to the heads.
        given: all files, and the same looked at.
        limits: where names of limits are looked up.
    """
    sources, looked = given
    evidence = Evidence(legend=looked[0][1].legend, delimiter=files.part.text.delimiter)
    take_words(looked, evidence)
    own = files.layout(key, evidence)
    keys.hand_over([shape for _, shape in looked], evidence)
    some: list[Taken] = []
    if heads:
        mine = heads.shared.heads
        join.into(heads.part, evidence, besides=[mine] if mine == key else [])
        some = [of for part in further if (of := taken(heads.part, part, mine, evidence))]
    found = understand(evidence)
    tables = own.later(found)
    joined = _joined(heads, key, some, found) if heads else []
    mates = [sources[one] for one in files.at]
    beside = sources[heads.at if heads else files.at[0]]
    form, *more = dict.fromkeys(
        with_folder(form_of(told, found), mates, beside) for told in files.told
    )
    file = [form, *more] if more else form
    how = Note(FOUND, _HOW, [of.told for of in files.told])
    tables += join.lines(file, joined, how) if joined else [_alone(file, key, how)]
    used = {*files.at, *(one for one, of in enumerate(looked) if _is_of(of, joined))}
    left = [source.name for one, source in enumerate(sources) if one not in used]
    notes = [Note(UNTOLD, left_out(LEFT, left))] if left else []
    tables += core_tables(evidence, found, limits)
    return Drafted([looked[one] for one in files.at], own.name, tables, notes=notes)


def _joined(heads: _Heads, key: str, some: Sequence[Taken], found: Understood) -> list[Joined]:
    """How the heads are joined to the files, and further tables to these."""
    mine, _, rivals = heads.shared
    first = Joined(heads.part, key, mine, A_TEST, rows_of(heads.part, mine), rivals=rivals)
    return [first, *all_joined(some, heads.part, found, {mine: key})]


def _alone(file: str | list[str], key: str, how: Note) -> Table:
    """The table `join` of files with nothing beside them."""
    table = Table("[join]")
    table.add("file", file, how)
    table.add("key", key, Note(FOUND, "tests are told apart by this column"))
    return table


def _is_of(looked: Looked, joined: Sequence[Joined]) -> bool:
    """Whether a file holds one of the tables that are joined."""
    return any(of.part.shape is looked[1] for of in joined)
