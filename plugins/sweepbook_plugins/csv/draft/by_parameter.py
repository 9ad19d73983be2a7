"""A draft for a file a parameter, told by its name alone, with the curves of all tests in rows.

A column tells the tests; tables beside these files that hold the same texts are joined by it.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, UNTOLD, Note
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import left_out
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.names_of_files import with_folder
from sweepbook.draft.reading import understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import join, keys, tests
from sweepbook_plugins.csv.draft.file_names import form_of
from sweepbook_plugins.csv.draft.further import A_TEST, all_joined, rows_of, taken
from sweepbook_plugins.csv.draft.join import Joined, Part
from sweepbook_plugins.csv.draft.joined import LEFT, Drafted, a_table_each, one_of_a_kind
from sweepbook_plugins.csv.draft.named_files import NamedFiles, find
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.table_words import take_words

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_HOW = "names tell the parameter, and each file holds all tests"


def draft(sources: Sequence[Source], looked: Sequence[Looked], limits: "Library") -> Drafted | None:
    """The draft where files are named so and a table of tests, with a row each, joins them.

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
    for at, heads in others.items():
        if heads.wide or not tests.are_tests(heads.titles, heads.rows):
            continue
        if keys_of := join.shared(heads, files.part):
            further = one_of_a_kind(heads, [*others.values()])
            return _drafted(files, heads, keys_of, further, (sources, looked, at), limits)
    return None


def _drafted(
    files: NamedFiles,
    heads: Part,
    keys_of: join.Shared,
    further: Sequence[Part],
    given: tuple[Sequence[Source], Sequence[Looked], int],
    limits: "Library",
) -> Drafted:
    """The draft.

    Args:
        files: those with the curves.
        heads: the table with a row a test.
        keys_of: how that joins them.
        further: other tables.
        given: the files, the same looked at, and the position of that with the heads.
        limits: where names of limits are looked up.
    """
    sources, looked, at = given
    mine, others, rivals = keys_of
    evidence = Evidence(legend=looked[0][1].legend, delimiter=files.part.text.delimiter)
    take_words(looked, evidence)
    own = files.layout(others, evidence)
    keys.hand_over([shape for _, shape in looked], evidence)
    join.into(heads, evidence, besides=[mine] if mine == others else [])
    some = [of for part in further if (of := taken(heads, part, mine, evidence))]
    found = understand(evidence)
    tables = own.later(found)
    joined = [Joined(heads, others, mine, A_TEST, rows_of(heads, mine), rivals=rivals)]
    joined += all_joined(some, heads, found, {mine: others})
    mates = [sources[one] for one in files.at]
    forms = [with_folder(form_of(told, found), mates, sources[at]) for told in files.told]
    form, *more = dict.fromkeys(forms)
    how = Note(FOUND, _HOW, [of.told for of in files.told])
    tables += join.lines([form, *more] if more else form, joined, how)
    used = {*files.at, *(one for one, of in enumerate(looked) if _is_of(of, joined))}
    left = [source.name for one, source in enumerate(sources) if one not in used]
    notes = [Note(UNTOLD, left_out(LEFT, left))] if left else []
    return Drafted(
        [looked[one] for one in files.at],
        own.name,
        [*tables, *core_tables(evidence, found, limits)],
        notes=notes,
    )


def _is_of(looked: Looked, joined: Sequence[Joined]) -> bool:
    """Whether a file holds one of the tables that are joined."""
    return any(of.part.shape is looked[1] for of in joined)
