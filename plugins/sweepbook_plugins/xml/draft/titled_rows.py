"""Rows below titles that may state single figures, in XML nobody has described yet."""

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.trade_words import NO_VALUE, PAIR_WORDS, VALUES, VERDICT_KEYS
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tabular import Row, TitlesAt, titles_of, written
from sweepbook_plugins.xml.draft.tree import Tree, all_in, elements_in

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST_COLUMNS = 2
_LEAST_KNOWN = 2
_MOST_COLUMNS = 60
_MOST_ROWS = 2_000


class How(NamedTuple):
    """How rows are written.

    Attributes:
        row: name of their elements.
        titles: where the titles stand from what is around the rows.
        cells: path of the cells from a row, or "".
        separator: what parts them in one text, or "".
        called: the titles.
    """

    row: str
    titles: TitlesAt
    cells: str
    separator: str
    called: tuple[str, ...]


@dataclass
class Titled:
    """Rows of one element.

    Attributes:
        element: that holds them.
        test: the element of their test.
        how: how they are written.
        rows: their cells.
        held: the elements with rows and titles, and all in these.
    """

    element: "_Element"
    test: "_Element"
    how: How
    rows: Sequence[Row]
    held: "set[_Element]" = field(default_factory=set)


def find(tree: Tree, tests: "Sequence[_Element]", curves: Sequence[Curve]) -> list[Titled]:
    """Every element of tests with rows below titles that are of no curve."""
    passed = {one.element for one in curves if one.titled}
    points: dict[_Element | None, set[str]] = {}
    for of in curves:
        if of.point:
            points.setdefault(of.element, set()).add(of.point[0].partition("/")[0])
    found: list[Titled] = []
    others: list[tuple[_Element, _Element]] = []
    for test in tests:
        for element in all_in(test):
            if element in passed:
                continue
            parent = element.getparent()
            name = tree.name(element)
            if parent in passed or name in points.get(parent, ()):
                passed.add(element)
            elif len(element):
                made = _titled(element, test, tree, points.get(element, ()), _are_cells)
                found += [made] if made else []
                others += [] if made else [(element, test)]
    known = {one.how for one in found}
    for element, test in others if known else ():
        made = _titled(element, test, tree, points.get(element, ()), _are_alike)
        found += [made] if made and made.how in known else []
    return found


def _titled(
    element: "_Element", test: "_Element", tree: Tree, points: Collection[str],
    fit: Callable[[Sequence[Row]], bool],
) -> Titled | None:  # fmt: skip
    """The rows in an element, but its points, and their titles; the cells of rows have to fit."""
    children: dict[str, list[_Element]] = {}
    for child in elements_in(element):
        children.setdefault(str(child.tag), []).append(child)
    for tag, rows in children.items():
        if len(rows) > _MOST_ROWS or tree.spaces.name(tag) in points:
            continue
        for cells, separator, texts in written(rows, tree, fit):
            width = len(texts[0])
            titles = titles_of(element, tag, width, separator, tree, _are_titles)
            if titles is None:
                continue
            at, holder, called = titles
            how = How(tree.spaces.name(tag), at, cells, separator, tuple(called))
            inner = [*rows, *([holder] if holder is not element else [])]
            return Titled(element, test, how, texts, {of for one in inner for of in one.iter()})
    return None


def _are_cells(rows: Sequence[Row]) -> bool:
    """Whether rows have as many cells each, and a number in each."""
    return _are_alike(rows) and all(any(map(is_numeric, row)) for row in rows)


def _are_alike(rows: Sequence[Row]) -> bool:
    """Whether rows have as many cells each: of a test that failed they may hold no number."""
    width = len(rows[0])
    return _LEAST_COLUMNS <= width <= _MOST_COLUMNS and all(len(row) == width for row in rows)


def _are_titles(texts: Row) -> bool:
    """Whether texts are titles, no two alike, and two of them of the trade at least."""
    if len(set(texts)) < len(texts) or not any(map(str.isalpha, texts[0])):
        return False
    naming = settle(texts)
    pairs = [bool(naming.parse(text).pairs) for text in texts]
    if any(is_numeric(text) and not pair for text, pair in zip(texts, pairs, strict=True)):
        return False
    known = (of or _is_known(text) for text, of in zip(texts, pairs, strict=True))
    return sum(known) >= _LEAST_KNOWN


def _is_known(title: str) -> bool:
    """Whether a title is one of the trade."""
    words = (*NO_VALUE, *VERDICT_KEYS, *VALUES, *PAIR_WORDS)
    named = phrases.has(title, words) or phrases.parameter_in(title) is not None
    return named or is_frequency(title)


def cells_in(tree: Tree, tests: "Sequence[_Element]", curves: Sequence[Curve]) -> Iterator[str]:
    """The cells of all such rows."""
    return (cell for one in find(tree, tests, curves) for row in one.rows for cell in row)
