"""Tables whose columns are titled by elements or a text of their own, in XML nobody described."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.trade_words import NO_VALUE
from sweepbook_plugins.xml.draft.shape import Curve, Titled
from sweepbook_plugins.xml.draft.tabular import Row, TitlesAt, titles_of, written
from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST_ROWS = 8
_LEAST_COLUMNS = 2
_MOST_COLUMNS = 500
_NUMBERS = 0.5
"""So many cells at least are numbers."""


def titled_in(element: "_Element", tree: Tree) -> list[Curve]:
    """The curves of a table in an element, one for each column whose title names one."""
    children = elements_in(element)
    tags = [str(child.tag) for child in children]
    if len(children) < _LEAST_ROWS:
        return []
    tag = max(dict.fromkeys(tags), key=tags.count)
    rows = [child for child in children if child.tag == tag]
    if len(rows) < _LEAST_ROWS or any(map(attributes, rows)):
        return []
    for cells, separator, texts in written(rows, tree, _are_cells):
        width = len(texts[0])
        found = titles_of(element, tag, width, separator, tree, _are_titles)
        if found is not None:
            at, holder, titles = found
            return _curves(element, tree.spaces.name(tag), texts, titles, cells, separator,
                           at, holder)  # fmt: skip
    return []


def _are_cells(rows: Sequence[Row]) -> bool:
    """Whether rows have as many cells each, most of them numbers."""
    width = len(rows[0])
    if not _LEAST_COLUMNS <= width <= _MOST_COLUMNS or any(len(row) != width for row in rows):
        return False
    cells = [cell for row in rows for cell in row]
    return sum(map(is_numeric, cells)) >= _NUMBERS * len(cells)


def _are_titles(texts: Sequence[str]) -> bool:
    """Whether texts are titles: one of frequencies, and others that name pairs."""
    if len(set(texts)) < len(texts) or not any(map(is_frequency, texts)):
        return False
    rest = [text for text in texts if not is_frequency(text)]
    naming = settle(rest)
    return any(naming.parse(text).pairs for text in rest)


def _curves(
    element: "_Element", row: str, texts: Sequence[Row], titles: Sequence[str], cells: str,
    separator: str, where: TitlesAt, holder: "_Element",
) -> list[Curve]:  # fmt: skip
    """A curve for each column but that of frequencies and those that hold something else."""
    axis = next(at for at, title in enumerate(titles) if is_frequency(title))
    naming = settle([title for at, title in enumerate(titles) if at != axis])
    named = [
        at
        for at, title in enumerate(titles)
        if at != axis and naming.parse(title).pairs and not phrases.has(title, NO_VALUE)
    ]
    others = tuple(title for at, title in enumerate(titles) if at != axis and at not in named)
    titled = Titled(holder, where, cells, separator, others)
    return [
        Curve(
            element,
            point=(row, titles[axis], titles[at]),
            axis_texts=[of[axis] for of in texts],
            value_texts=[of[at] for of in texts],
            column=("", titles[at], ""),
            titled=titled,
        )
        for at in named
    ]
