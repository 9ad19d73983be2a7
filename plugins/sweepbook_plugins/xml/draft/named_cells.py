"""Tables whose cells are called by names that elements beside them explain, in XML nobody knows."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.numbers import is_frequency, is_numeric, rises
from sweepbook_plugins.xml.draft.shape import Curve, Titled
from sweepbook_plugins.xml.draft.tabular import (
    TitlesAt,
    joined_texts,
    telling_texts,
    texts_of_columns,
)
from sweepbook_plugins.xml.draft.titled import LEAST_ROWS, are_named, curves_of
from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST = 3
"""Cells of a row whose names are explained."""
_MOST_AROUND = 3
"""Steps from the rows up to what holds the explanations."""


class _Columns(NamedTuple):
    """What explains names.

    Attributes:
        holder: the element that holds what explains them.
        at: where titles and names stand.
        titles: title by name.
    """

    holder: "_Element"
    at: TitlesAt
    titles: Mapping[str, str]


def named_in(element: "_Element", tree: Tree) -> list[Curve]:
    """The curves of rows in an element, whose cells have names that are explained elsewhere."""
    children = elements_in(element)
    if len(children) < LEAST_ROWS:
        return []
    tags = [child.tag for child in children]
    tag = max(dict.fromkeys(tags), key=tags.count)
    rows = [child for child in children if child.tag == tag]
    for cells, held in _ways(rows, tree) if len(rows) >= LEAST_ROWS else ():
        names = list(dict.fromkeys(name for row in held for name in row))
        found = _explained(element, names, tree) if len(names) >= _LEAST else None
        if found is None:
            continue
        axis = [
            (f"@{name}", [row.get(name, "") for row in held])
            for name in names
            if name not in found.titles and cells.startswith("@") and is_frequency(name)
        ]
        own = next((of for of in axis if rises(of[1])), None)
        called = list(found.titles)
        texts = [[row.get(name, "") for name in called] for row in held]
        titles = [found.titles[name] for name in called]
        if _are_numbers(texts) and (own or any(map(is_frequency, titles))):
            titled = Titled(found.holder, found.at, cells, "")
            at = tree.spaces.name(str(tag))
            return list(curves_of(element, at, texts, titles, titled, own))
    return []


def _ways(
    rows: "Sequence[_Element]", tree: Tree
) -> Iterator[tuple[str, Sequence[Mapping[str, str]]]]:
    """Ways in which rows may hold cells by name: the path of a cell, and those of each row."""
    yield "@{}", [attributes(row) for row in rows]
    inner = [elements_in(row) for row in rows]
    if any(len(child) for some in inner for child in some):
        return
    tags = {str(child.tag) for some in inner for child in some}
    if len(tags) > 1:
        yield "{}", [{tree.spaces.name(str(of.tag)): text_of(of) for of in some} for some in inner]
    elif tags:
        name = tree.spaces.name(tags.pop())
        for of in sorted({of for some in inner for child in some for of in attributes(child)}):
            held = [{attributes(one).get(of, ""): text_of(one) for one in some} for some in inner]
            if all(len(cells) == len(some) for cells, some in zip(held, inner, strict=True)):
                yield f"{name}[{tree.at(of)}={{}}]", held


def _explained(element: "_Element", names: Sequence[str], tree: Tree) -> _Columns | None:
    """What explains the names of cells: elements of one name, in what holds the rows or around it.

    All names are explained but one, which may be that of the frequencies.
    """
    for prefix, holder in _places(element):
        columns = elements_in(holder)
        if len(columns) < _LEAST or len({of.tag for of in columns}) > 1 or holder is element:
            continue
        told = texts_of_columns(columns, tree)
        for key, texts in told.items():
            known = set(texts)
            if "" in known or len(known) < len(texts) or len({*names} - known) > 1:
                continue
            rest = {of: some for of, some in told.items() if of != key}
            parts = telling_texts(rest)
            titles = joined_texts(rest, parts) if parts else []
            if titles and len(known & {*names}) >= _LEAST and are_named(titles):
                step = f"{prefix}{tree.name(holder)}/{tree.name(columns[0])}"
                at = TitlesAt(step, parts, key)
                return _Columns(holder, at, dict(zip(texts, titles, strict=True)))
    return None


def _places(element: "_Element") -> "Iterator[tuple[str, _Element]]":
    """What stands in an element, beside it and beside what is around it, with the way there."""
    yield from (("", of) for of in elements_in(element))
    prefix, inner = "", element
    for outer in [*element.iterancestors()][:_MOST_AROUND]:
        prefix = f"../{prefix}"
        yield from ((prefix, of) for of in elements_in(outer) if of is not inner)
        inner = outer


def _are_numbers(texts: Sequence[Sequence[str]]) -> bool:
    """Whether most cells are numbers, of those that are there."""
    cells = [cell for row in texts for cell in row if cell]
    return 2 * sum(map(is_numeric, cells)) >= len(cells) > 0
