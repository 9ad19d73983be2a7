"""Elements that explain how an export calls pairs and ends, and in which units it counts."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.legend import Legend, Row, legend
from sweepbook_plugins.xml.draft.tree import (
    Tree,
    attributes,
    elements_in,
    local,
    local_name,
    text_of,
)

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST, _MOST = 2, 16
_LOOKED_AT = 2_000
"""Elements of a file: what explains stands before what is explained, or around it."""


def legend_of(trees: Sequence[Tree]) -> Legend:
    """What the elements of some files explain."""
    groups: dict[tuple[tuple[str, ...], ...], None] = {}
    remarks: dict[str, None] = {}
    for tree in trees:
        for number, element in enumerate(tree.elements()):
            if number >= _LOOKED_AT:
                break
            for group in _groups(element):
                groups[tuple(map(tuple, group))] = None
            remarks |= dict.fromkeys(_texts(element))
    return legend(list(groups), list(remarks))


def _groups(element: "_Element") -> "Iterator[list[Row]]":
    """Rows that stand together: the children of an element, or its attributes."""
    told = attributes(element)
    if _LEAST <= len(told) <= _MOST:
        yield [(local(name), text) for name, text in told.items()]
    children = elements_in(element)
    if 0 < len(children) <= _MOST:
        yield [_texts(child) for child in children]
        named = [(local_name(one), text_of(one)) for one in children]
        yield [row for row, one in zip(named, children, strict=True) if not len(one) and row[1]]


def _texts(element: "_Element") -> list[str]:
    """What attributes of an element say, its text, and that of elements in it."""
    inner = [text_of(one) for one in (element, *element)]
    return [*attributes(element).values(), *filter(None, inner)]
