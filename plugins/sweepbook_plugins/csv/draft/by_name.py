"""A draft for a file of curves each test, called as a column of the tables beside them has it."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, UNTOLD, Note
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.fields import guess
from sweepbook.draft.joins import SHARED, Pair, label_by_name, left_out, paired, rivals
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import called, join, keys, layouts
from sweepbook_plugins.csv.draft.called import Called
from sweepbook_plugins.csv.draft.further import A_TEST, all_joined, rows_of, taken
from sweepbook_plugins.csv.draft.join import Joined, Part
from sweepbook_plugins.csv.draft.joined import LEFT, Drafted, a_table_each, one_of_a_kind
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.table_words import take_words
from sweepbook_plugins.csv.draft.text import Text

if TYPE_CHECKING:
    from sweepbook.limits.library import Library


def draft(sources: Sequence[Source], looked: Sequence[Looked], limits: "Library") -> Drafted | None:
    """The draft where names of files tell the tests, and a table beside them does; else None.

    Args:
        sources: the files.
        looked: the same, looked at.
        limits: where names of limits are looked up.
    """
    if len(looked) < 2:
        return None
    curves = [at for at, one in enumerate(looked) if called.hold_curves(one)]
    parts = {at: of for at, of in a_table_each(sources, looked).items() if at not in curves}
    found = called.find(sources, curves, parts) if curves and parts else None
    if found is None or _is_of_many_tests(found, parts, looked):
        return None
    mine = sorted((looked[at] for at in found.told), key=lambda one: -_columns(one))
    made = _drafted(found, mine, parts, limits)
    if made is None:
        return None
    drafted, joined = made
    used = {*found.told, *(at for at, part in parts.items() if part in joined)}
    left = [source.name for at, source in enumerate(sources) if at not in used]
    return drafted._replace(notes=[Note(UNTOLD, left_out(LEFT, left))] if left else [])


def _is_of_many_tests(found: Called, parts: Mapping[int, Part], looked: Sequence[Looked]) -> bool:
    """Whether the only file with curves shares a column with the tests, so that it may hold all."""
    if len(found.told) > 1:
        return False
    (at,) = found.told
    tables = [Part("", *looked[at], seen) for seen in looked[at][1].tables]
    return any(join.shared(parts[found.at], table) for table in tables)


def _columns(looked: Looked) -> int:
    return max(len(seen.titles) for seen in looked[1].tables)


def _drafted(
    found: Called, mine: Sequence[Looked], parts: Mapping[int, Part], limits: "Library"
) -> tuple[Drafted, list[Part]] | None:
    """The draft, and the tables that are joined; None where there are none.

    Args:
        found: the files with curves.
        mine: the same, looked at, that with most columns first.
        parts: the tables beside them.
        limits: where names of limits are looked up.
    """
    texts = list(found.told.values())
    heads = parts[found.at] if found.heads else None
    tests_of, column = (heads, found.column) if heads else (_of_names(texts, *mine[0]), SHARED)
    evidence = Evidence(tests=len(mine), legend=mine[0][1].legend, delimiter=mine[0][0].delimiter)
    take_words([*mine, *((part.text, part.shape) for part in parts.values())], evidence)
    own = layouts.of_curves(mine, evidence)
    keys.hand_over([shape for _, shape in mine], evidence)
    for _, key, text in (line for part in parts.values() for line in part.shape.keys):
        evidence.put_line(key, text)
    joined: list[Joined] = []
    if heads:
        join.into(heads, evidence, besides=_untold(heads, column))
        by = _rivals(heads, column, texts)
        joined = [Joined(heads, SHARED, column, A_TEST, rows_of(heads, column), rivals=by)]
    others = one_of_a_kind(tests_of, list(parts.values()))
    some = [of for part in others if (of := taken(tests_of, part, column, evidence, alone=True))]
    understood = understand(evidence)
    lines = own.later(understood)
    joined += all_joined(some, tests_of, understood, {column: SHARED})
    if not joined:
        return None
    core = core_tables(evidence, understood, limits)
    label_by_name(core, texts)
    how = Note(FOUND, "names tell the tests, and other tables hold the same", texts)
    lines += [*join.lines(found.form, joined, how), *core]
    return Drafted(mine, own.name, lines), [of.part for of in joined]


def _of_names(texts: Sequence[str], text: Text, shape: Shape) -> Part:
    """What the names of files tell, as a table with a row a test."""
    table = text._replace(lines=[*texts], rows=[[one] for one in texts])
    return Part("", table, shape, Seen((SHARED,), 0, len(texts)))


def _untold(heads: Part, column: str) -> list[str]:
    """The column that tells the tests, where it fills no field besides."""
    filled = {key for one in guess(heads.texts, None) for key in one.keys}
    return [] if column in filled else [column]


def _rivals(heads: Part, column: str, texts: Sequence[str]) -> list[Pair]:
    """Other columns of the heads that hold what the names of files tell."""
    pairs = [paired(SHARED, texts, of, heads.column(of), alike=False) for of in heads.titles]
    chosen = next(of for of in pairs if of.other_key == column)
    return rivals(chosen, [of for of in pairs if of is not chosen])
