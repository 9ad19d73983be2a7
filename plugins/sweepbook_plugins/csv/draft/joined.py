"""A draft for tests that are spread over several tables, each with a column that tells the test."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.document import UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import left_out, shared_start
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import headed, join, tests
from sweepbook_plugins.csv.draft.called import hold_curves
from sweepbook_plugins.csv.draft.further import A_TEST, all_joined, curves_of, rows_of, taken, told
from sweepbook_plugins.csv.draft.join import Joined, Part
from sweepbook_plugins.csv.draft.keys import hand_over
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.table_words import take_words

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

LEFT = (
    "no column of these files holds the texts by which the tests of the others are told apart, or "
    "they hold tables like one that is looked at; nothing here is of them"
)


class Drafted(NamedTuple):
    """Such a draft.

    Attributes:
        files: with the table that the layout is of.
        layout: of that table.
        tables: behind `csv`.
        skip: the line above it, where the file has other tables too.
        notes: on all of it.
    """

    files: Sequence[Looked]
    layout: str
    tables: list[Table]
    skip: Sequence[str] = ()
    notes: Sequence[Note] = ()


def draft(sources: Sequence[Source], looked: Sequence[Looked], limits: "Library") -> Drafted | None:
    """The draft where the curves of all tests are in one table, the rest in others; else None.

    Args:
        sources: the files.
        looked: the same, looked at.
        limits: where names of limits are looked up.
    """
    made = _of_parts([*a_table_each(sources, looked).values()], looked, limits)
    if made is None:
        parts, at = headed.parts(sources, looked)
        made = _of_parts(parts, [looked[one] for one in at], limits)
        used = {sources[one].file_name for one in at}
    else:
        used = {part.name for part in made[1]}
    if made is None:
        return None
    names = [source.name for source in sources if source.file_name not in used]
    return made[0]._replace(notes=[Note(UNTOLD, left_out(LEFT, names))] if names else [])


def a_table_each(sources: Sequence[Source], looked: Sequence[Looked]) -> dict[int, Part]:
    """The tables of files that hold one, by the position of the file."""
    return {
        at: Part(source.file_name, *one, one[1].tables[0])
        for at, (source, one) in enumerate(zip(sources, looked, strict=True))
        if len(one[1].tables) == 1
    }


def _of_parts(
    parts: Sequence[Part], looked: Sequence[Looked], limits: "Library"
) -> tuple[Drafted, list[Part]] | None:
    """The draft for some tables, and which of them it is of; None where there is none.

    Args:
        parts: the tables.
        looked: their files, that with the tables first where it holds all.
        limits: where names of limits are looked up.
    """
    for heads in parts:
        if heads.wide or not tests.are_tests(heads.titles, heads.rows):
            continue
        others = one_of_a_kind(heads, parts)
        if heads.heading and len(others) + 1 < len(parts):
            continue
        known = [part for part in others if hold_curves((part.text, part.shape))]
        for points in sorted(known or others, key=lambda part: -len(part.rows)):
            further = [part for part in others if part is not points]
            if (made := _drafted(heads, points, further, looked, limits)) is not None:
                return made
    return None


def one_of_a_kind(heads: Part, parts: Sequence[Part]) -> list[Part]:
    """The tables besides the heads; of those with one line of titles the one named most alike."""
    kinds: dict[tuple[str, ...], list[Part]] = {}
    for part in parts:
        kinds.setdefault(tuple(part.texts), []).append(part)
    kinds.pop(tuple(heads.texts), None)
    return [
        max(some, key=lambda part: len(shared_start([part.name, heads.name])))
        for some in kinds.values()
    ]


def _drafted(
    heads: Part, points: Part, further: Sequence[Part], looked: Sequence[Looked],
    limits: "Library",
) -> tuple[Drafted, list[Part]] | None:  # fmt: skip
    """The draft and the tables it is of; None where heads and curves do not join."""
    keys = join.shared(heads, points)
    if keys is None:
        return None
    mine, others, rivals = keys
    evidence = Evidence(legend=looked[0][1].legend, delimiter=looked[0][0].delimiter)
    take_words(looked, evidence)
    own = curves_of(points, others, evidence, "csv")
    if own is None:
        return None
    hand_over([shape for _, shape in looked], evidence)
    join.into(heads, evidence, besides=[mine] if mine == others else [])
    some = [of for part in further if (of := taken(heads, part, mine, evidence))]
    if points.heading and len(some) < len(further):
        return None
    found = understand(evidence)
    tables = own.later(found)
    joined = [Joined(heads, others, mine, A_TEST, rows_of(heads, mine), rivals=rivals)]
    some = [told(of) for of in some] if points.heading else some
    joined += all_joined(some, heads, found, {mine: others})
    tables += [*join.lines(points.name, joined), *core_tables(evidence, found, limits)]
    files = looked if points.heading else [(points.text, points.shape)]
    skip = [points.heading] if points.heading else []
    return Drafted(files, own.name, tables, skip), [points, *(of.part for of in joined)]
