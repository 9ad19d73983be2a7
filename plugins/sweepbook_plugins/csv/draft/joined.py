"""A draft for tests that are spread over several tables, each with a column that tells the test."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.document import UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joined_names import left_out, shared_start
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import join, tests
from sweepbook_plugins.csv.draft.further import A_TEST, all_joined, curves_of, rows_of, taken
from sweepbook_plugins.csv.draft.join import Joined, Part
from sweepbook_plugins.csv.draft.kinds import words_in
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Text

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_LEFT = (
    "no column of these files holds the texts by which the tests of the others are told apart, or "
    "they hold tables like one that is looked at; nothing here is of them"
)

Looked = tuple[Text, Shape]


class Drafted(NamedTuple):
    """Such a draft: the file with the curves, its layout, the tables behind `csv`, and notes."""

    own: Looked
    layout: str
    tables: list[Table]
    notes: list[Note]


def draft(sources: Sequence[Source], looked: Sequence[Looked], limits: "Library") -> Drafted | None:
    """The draft where the curves of all tests are in one table, the rest in others; else None.

    Args:
        sources: the files.
        looked: the same, looked at.
        limits: where names of limits are looked up.
    """
    parts = _parts(sources, looked)
    for heads in parts:
        if heads.wide or not tests.are_tests(heads.titles, heads.rows):
            continue
        others = _one_of_a_kind(heads, parts)
        if heads.heading and len(others) + 1 < len(parts):
            continue
        for points in sorted(others, key=lambda part: -len(part.rows)):
            further = [part for part in others if part is not points]
            if (made := _drafted(heads, points, further, looked, limits)) is not None:
                drafted, used = made
                names = [source.name for source in sources if source.file_name not in used]
                notes = [Note(UNTOLD, left_out(_LEFT, names))] if names else []
                return drafted._replace(notes=notes)
    return None


def _parts(sources: Sequence[Source], looked: Sequence[Looked]) -> list[Part]:
    """Files with a table each, or the tables of one file below a heading each; else none."""
    if len(looked) > 1:
        return [
            Part(source.file_name, *one, one[1].tables[0])
            for source, one in zip(sources, looked, strict=True)
            if len(one[1].tables) == 1
        ]
    text, shape = looked[0]
    headings = [seen.heading for seen in shape.tables]
    if len({*headings} - {""}) < len(headings):
        return []
    return [
        Part(sources[0].file_name, text, shape, seen, seen.heading, behind)
        for seen, behind in zip(shape.tables, [*headings[1:], ""], strict=True)
    ]


def _one_of_a_kind(heads: Part, parts: Sequence[Part]) -> list[Part]:
    """The tables besides the heads; of those with one line of titles the one named most alike."""
    kinds: dict[tuple[str, ...], list[Part]] = {}
    for part in parts:
        kinds.setdefault(tuple(part.texts), []).append(part)
    del kinds[tuple(heads.texts)]
    return [
        max(some, key=lambda part: len(shared_start([part.name, heads.name])))
        for some in kinds.values()
    ]


def _drafted(
    heads: Part, points: Part, further: Sequence[Part], looked: Sequence[Looked],
    limits: "Library",
) -> tuple[Drafted, set[str]] | None:  # fmt: skip
    """The draft and the names of the files it is of; None where heads and curves do not join."""
    keys = join.shared(heads, points)
    if keys is None:
        return None
    mine, others, rivals = keys
    evidence = Evidence(legend=looked[0][1].legend, delimiter=looked[0][0].delimiter)
    evidence.singles += words_in(looked)
    own = curves_of(points, others, evidence, "csv")
    if own is None:
        return None
    for _, key, value in (keyed for _, shape in looked for keyed in shape.keys):
        evidence.put(key, value)
        evidence.lines.add(key)
    join.into(heads, evidence, besides=[mine] if mine == others else [])
    some = [of for part in further if (of := taken(heads, part, mine, evidence))]
    if points.heading and len(some) < len(further):
        return None
    found = understand(evidence)
    tables = own.later(found)
    joined = [Joined(heads, others, mine, A_TEST, rows_of(heads, mine), rivals=rivals)]
    joined += all_joined(some, heads, found, {mine: others})
    if points.heading:
        points.shape.noise.append(points.heading)
    tables += [*join.lines(points, joined), *core_tables(evidence, found, limits)]
    used = {points.name, *(of.part.name for of in joined)}
    return Drafted((points.text, points.shape), own.layout, tables, []), used
