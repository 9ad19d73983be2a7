"""Tables whose columns are titled by elements or a text of their own, in XML nobody described."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.crosstalk_told import called
from sweepbook.draft.legend_order import Order
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric, rises
from sweepbook.draft.trade_words import NO_VALUE
from sweepbook_plugins.xml.draft.shape import Curve, Titled
from sweepbook_plugins.xml.draft.tabular import Row, TitlesAt, titles_of, written
from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in

if TYPE_CHECKING:
    from lxml.etree import _Element

LEAST_ROWS = 8
_LEAST_COLUMNS = 2
_MOST_COLUMNS = 500
_NUMBERS = 0.5
"""So many cells at least are numbers."""


def titled_in(element: "_Element", tree: Tree) -> list[Curve]:
    """The curves of a table in an element, one for each column whose title names one."""
    children = elements_in(element)
    tags = [str(child.tag) for child in children]
    if len(children) < LEAST_ROWS:
        return []
    tag = max(dict.fromkeys(tags), key=tags.count)
    rows = [child for child in children if child.tag == tag]
    own = {name for row in rows for name in attributes(row)}
    if len(rows) < LEAST_ROWS or len(own) > 1:
        return []
    axis = [(f"@{name}", [attributes(row).get(name, "") for row in rows]) for name in own]
    if axis and not (all(map(is_frequency, own)) and rises(axis[0][1])):
        return []
    fit = are_named if axis else _are_titles
    for cells, separator, texts in written(rows, tree, _are_cells):
        width = len(texts[0])
        found = titles_of(element, tag, width, separator, tree, fit)
        if found is not None:
            at, holder, titles = found
            titled = Titled(holder, at, cells, separator)
            rows_at = tree.spaces.name(tag)
            return list(
                curves_of(element, rows_at, texts, titles, titled, axis[0] if axis else None)
            )
    return []


def settle_titles(curves: Sequence[Curve]) -> None:
    """Let all tables with titles in elements of one path say so alike, whatever texts each has.

    A title leaves out the texts that its column has not, so that those of all tables serve each.
    """
    tables: dict[tuple[str, ...], dict[TitlesAt, None]] = {}
    titled = [(curve, curve.titled) for curve in curves if curve.titled]
    for _, one in titled:
        tables.setdefault(_way(one), {})[one.at.columns] = None
    made = {way: in_one_order([of.texts for of in some]) for way, some in tables.items()}
    for curve, one in titled:
        texts = made[_way(one)]
        if texts is not None and len(tables[_way(one)]) > 1:
            curve.titled = replace(one, at=one.at.columns._replace(texts=tuple(texts)))


def order_of(curves: Sequence[Curve], told: Mapping[str, str]) -> Order | None:
    """Which of two pairs comes first in titles, where texts of these are called so.

    Args:
        curves: of which some are columns.
        told: what the export says that words, in small letters, stand for.
    """
    for texts in dict.fromkeys(curve.titled.at.texts for curve in curves if curve.titled):
        named = {text: text.strip("@").casefold() for text in reversed(texts)}
        roles = {role: of for of in named if (role := told.get(named[of]) or called(of))}
        if len(roles) > 1:
            first, second = sorted(roles, key=lambda role: texts.index(roles[role]))
            return Order(first, f"{roles[first]} and {roles[second]} of its columns")
    return None


def _way(titled: Titled) -> tuple[str, ...]:
    return titled.at.columns.path, titled.cells, titled.separator


def in_one_order(lists: Sequence[Sequence[str]]) -> list[str] | None:
    """All texts of some lists, each once and in the order of each list; None where that differs."""
    merged: list[str] = []
    for some in lists:
        for at, text in enumerate(some):
            if text not in merged:
                known = (merged.index(of) for of in some[at + 1 :] if of in merged)
                merged.insert(min(known, default=len(merged)), text)
    places = [[merged.index(text) for text in some] for some in lists]
    return merged if all(of == sorted(of) for of in places) else None


def _are_cells(rows: Sequence[Row]) -> bool:
    """Whether rows have as many cells each, most of them numbers."""
    width = len(rows[0])
    if not _LEAST_COLUMNS <= width <= _MOST_COLUMNS or any(len(row) != width for row in rows):
        return False
    cells = [cell for row in rows for cell in row]
    return sum(map(is_numeric, cells)) >= _NUMBERS * len(cells)


def _are_titles(texts: Sequence[str]) -> bool:
    """Whether texts are titles: one of frequencies, and others that name pairs."""
    return any(map(is_frequency, texts)) and are_named(texts)


def are_named(texts: Sequence[str]) -> bool:
    """Whether texts are titles that name pairs, those of frequencies left out."""
    if len(set(texts)) < len(texts):
        return False
    rest = [text for text in texts if not is_frequency(text)]
    naming = settle(rest)
    return any(naming.parse(text).pairs for text in rest)


def curves_of(
    element: "_Element", row: str, texts: Sequence[Row], titles: Sequence[str], titled: Titled,
    own_axis: tuple[str, list[str]] | None,
) -> Iterator[Curve]:  # fmt: skip
    """A curve for each column but that of frequencies and those that hold something else.

    Args:
        element: that holds the rows.
        row: path of these.
        texts: their cells.
        titles: of the columns.
        titled: how they are titled.
        own_axis: attribute of each row with its frequency, and its texts; None where a column has
            them.
    """
    at_axis = next((at for at, title in enumerate(titles) if is_frequency(title)), None)
    rest = [at for at in range(len(titles)) if at != at_axis]
    naming = settle([titles[at] for at in rest])
    named = [at for at in rest if naming.parse(titles[at]).pairs]
    named = [at for at in named if not phrases.has(titles[at], NO_VALUE)]
    named = [at for at in named if any(of[at] for of in texts)]
    titled = replace(titled, others=tuple(titles[at] for at in rest if at not in named))
    if own_axis is None:
        assert at_axis is not None
        own_axis = titles[at_axis], [of[at_axis] for of in texts]
    frequency, axis = own_axis
    for at in named:
        yield Curve(
            element,
            point=(row, frequency, titles[at]),
            axis_texts=axis,
            value_texts=[of[at] for of in texts],
            column=("", titles[at], ""),
            titled=titled,
        )
