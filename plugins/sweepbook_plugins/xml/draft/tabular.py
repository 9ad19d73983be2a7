"""Rows of cells, and the titles above them, in XML nobody has described yet."""

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_SEPARATORS = (";", "|", "\t", ",", "")
"""What parts cells in a text; "" for blanks, of which titles have some themselves."""

Row = Sequence[str]


def written(
    rows: "Sequence[_Element]", tree: Tree, are_cells: Callable[[Sequence[Row]], bool]
) -> Iterator[tuple[str, str, Sequence[Row]]]:
    """Ways to read rows: path of the cells, separator, and the cells.

    Args:
        rows: elements of one name.
        tree: their file.
        are_cells: whether rows may be such as are looked for.
    """
    inner = {str(child.tag) for row in rows for child in row}
    if len(inner) == 1 and not any(len(child) for row in rows for child in row):
        name = tree.spaces.name(inner.pop())
        told = {of for row in rows for child in row for of in attributes(child)}
        ways = [(name, [[text_of(child) for child in row] for row in rows])]
        ways += [
            (
                f"{name}/{tree.at(of)}",
                [[attributes(child).get(of, "") for child in row] for row in rows],
            )
            for of in sorted(told)
        ]
        yield from ((path, "", cells) for path, cells in ways if are_cells(cells))
        return
    if inner:
        return
    for of in ("", *attributes(rows[0])):
        path = tree.at(of) if of else ""
        texts = [attributes(row).get(of, "") if of else text_of(row) for row in rows]
        for separator in _SEPARATORS:
            parted = [_parted(text, separator) for text in texts]
            if are_cells(parted):
                yield path, separator, parted


def _parted(text: str, separator: str) -> list[str]:
    cells = [of.strip() for of in text.split(separator)] if separator else text.split()
    return cells[:-1] if cells and not cells[-1] and len(cells) > 1 else cells


def titles_of(
    table: "_Element", rows: str, width: int, separator: str, tree: Tree,
    are_titles: Callable[[Row], bool],
) -> "tuple[str, _Element, list[str]] | None":  # fmt: skip
    """The titles of so many columns: their path from the table, what holds them, and the texts.

    Args:
        table: the element with the rows.
        rows: name of the rows.
        width: how many columns they have.
        separator: what parts the cells of a row in one text.
        tree: the file.
        are_titles: whether texts may be such as are looked for.
    """
    for of, text in attributes(table).items():
        texts = _parted(text, separator)
        if len(texts) == width and are_titles(texts):
            return tree.at(of), table, texts
    parent = table.getparent()
    beside = [] if parent is None else [of for of in elements_in(parent) if of is not table]
    places = [*(("", of) for of in elements_in(table)), *(("../", of) for of in beside)]
    for prefix, one in (of for of in places if of[1].tag != rows):
        for path, texts in _held(one, separator, tree):
            if len(texts) == width and are_titles(texts):
                return f"{prefix}{path}", one, texts
    return None


def _held(one: "_Element", separator: str, tree: Tree) -> Iterator[tuple[str, list[str]]]:
    """Texts that an element may hold as titles, with their path from what is around it."""
    name = tree.name(one)
    inner = elements_in(one)
    if not inner:
        yield name, _parted(text_of(one), separator)
        for of, text in attributes(one).items():
            yield f"{name}/{tree.at(of)}", _parted(text, separator)
    elif len({child.tag for child in inner}) == 1:
        step = f"{name}/{tree.name(inner[0])}"
        yield step, [text_of(child) for child in inner]
        for of in attributes(inner[0]):
            texts = [attributes(child).get(of, "") for child in inner]
            yield f"{step}/{tree.at(of)}", texts
