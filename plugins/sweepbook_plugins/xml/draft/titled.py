"""Tables whose columns are titled by elements or a text of their own, in XML nobody described."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.trade_words import NO_VALUE
from sweepbook_plugins.xml.draft.shape import Curve, Titled
from sweepbook_plugins.xml.draft.tree import Tree, attributes, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST_ROWS = 8
_LEAST_COLUMNS = 2
_MOST_COLUMNS = 500
_SEPARATORS = (";", "|", "\t", ",", "")
"""What parts cells in a text; "" for blanks, of which titles have some themselves."""
_NUMBERS = 0.5
"""So many cells at least are numbers."""

Row = Sequence[str]


def titled_in(element: "_Element", tree: Tree) -> list[Curve]:
    """The curves of a table in an element, one for each column whose title names one."""
    children = [child for child in element if isinstance(child.tag, str)]
    tags = [str(child.tag) for child in children]
    if len(children) < _LEAST_ROWS:
        return []
    tag = max(dict.fromkeys(tags), key=tags.count)
    rows = [child for child in children if child.tag == tag]
    if len(rows) < _LEAST_ROWS or any(map(attributes, rows)):
        return []
    for cells, separator, texts in _written(rows, tree):
        width = len(texts[0])
        found = _titles(element, tag, width, separator, tree)
        if found is not None:
            path, holder, titles = found
            return _curves(element, tree.spaces.name(tag), texts, titles, cells, separator,
                           path, holder)  # fmt: skip
    return []


def _written(rows: "Sequence[_Element]", tree: Tree) -> Iterator[tuple[str, str, Sequence[Row]]]:
    """Ways to read rows that all have as many cells: path of cells, separator, and the cells."""
    inner = {str(child.tag) for row in rows for child in row}
    if len(inner) == 1 and not any(len(child) for row in rows for child in row):
        name = tree.spaces.name(inner.pop())
        told = {of for row in rows for child in row for of in attributes(child)}
        ways = [(name, [[text_of(child) for child in row] for row in rows])]
        ways += [
            (
                f"{name}/@{tree.spaces.name(of, attribute=True)}",
                [[attributes(child).get(of, "") for child in row] for row in rows],
            )
            for of in sorted(told)
        ]
        yield from ((path, "", cells) for path, cells in ways if _are_cells(cells))
        return
    if inner:
        return
    for separator in _SEPARATORS:
        parted = [_parted(text_of(row), separator) for row in rows]
        if _are_cells(parted):
            yield "", separator, parted


def _parted(text: str, separator: str) -> list[str]:
    cells = [of.strip() for of in text.split(separator)] if separator else text.split()
    return cells[:-1] if cells and not cells[-1] and len(cells) > 1 else cells


def _are_cells(rows: Sequence[Row]) -> bool:
    """Whether rows have as many cells each, most of them numbers."""
    width = len(rows[0])
    if not _LEAST_COLUMNS <= width <= _MOST_COLUMNS or any(len(row) != width for row in rows):
        return False
    cells = [cell for row in rows for cell in row]
    return sum(map(is_numeric, cells)) >= _NUMBERS * len(cells)


def _titles(
    table: "_Element", rows: str, width: int, separator: str, tree: Tree
) -> "tuple[str, _Element, list[str]] | None":
    """The titles of so many columns: their path from the table, what holds them, and the texts."""
    parent = table.getparent()
    around = [] if parent is None else [("../", one) for one in parent if one is not table]
    for prefix, one in [*(("", child) for child in table), *around]:
        if not isinstance(one.tag, str) or one.tag == rows:
            continue
        for path, texts in _held(one, separator, tree):
            if len(texts) == width and _are_titles(texts):
                return f"{prefix}{path}", one, texts
    return None


def _held(one: "_Element", separator: str, tree: Tree) -> Iterator[tuple[str, list[str]]]:
    """Texts that an element may hold as titles, with their path from what is around it."""
    name = tree.spaces.name(str(one.tag))
    inner = [child for child in one if isinstance(child.tag, str)]
    if not inner:
        yield name, _parted(text_of(one), separator)
        for of, text in attributes(one).items():
            yield f"{name}/@{tree.spaces.name(of, attribute=True)}", _parted(text, separator)
    elif len({child.tag for child in inner}) == 1:
        step = f"{name}/{tree.spaces.name(str(inner[0].tag))}"
        yield step, [text_of(child) for child in inner]
        for of in attributes(inner[0]):
            texts = [attributes(child).get(of, "") for child in inner]
            yield f"{step}/@{tree.spaces.name(of, attribute=True)}", texts


def _are_titles(texts: Sequence[str]) -> bool:
    """Whether texts are titles: one of frequencies, and others that name pairs."""
    if len(set(texts)) < len(texts) or not any(map(is_frequency, texts)):
        return False
    rest = [text for text in texts if not is_frequency(text)]
    naming = settle(rest)
    return any(naming.parse(text).pairs for text in rest)


def _curves(
    element: "_Element", row: str, texts: Sequence[Row], titles: Sequence[str], cells: str,
    separator: str, path: str, holder: "_Element",
) -> list[Curve]:  # fmt: skip
    """A curve for each column but that of frequencies and those that hold something else."""
    axis = next(at for at, title in enumerate(titles) if is_frequency(title))
    naming = settle([title for at, title in enumerate(titles) if at != axis])
    named = [
        at
        for at, title in enumerate(titles)
        if at != axis and naming.parse(title).pairs and phrases.find(title, {"": NO_VALUE}) is None
    ]
    others = tuple(title for at, title in enumerate(titles) if at != axis and at not in named)
    titled = Titled(holder, path, cells, separator, others)
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
