"""Elements that explain how an export calls the pairs."""

from typing import TYPE_CHECKING

from sweepbook.draft.pairs_told import explained
from sweepbook.draft.phrases import Pairing
from sweepbook_plugins.xml.draft.tree import Tree, attributes

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST, _MOST = 4, 8


def pairs_told(tree: Tree) -> Pairing | None:
    """The words for pairs by elements side by side that hold a word and the contacts each."""
    for element in tree.elements():
        if _LEAST <= len(element) <= _MOST:
            found = explained([_texts(child) for child in element])
            if found is not None:
                return found
    return None


def _texts(element: "_Element") -> list[str]:
    """What attributes of an element say, its text, and that of elements in it."""
    inner = [str(one.text or "") for one in (element, *element)]
    return [*attributes(element).values(), *inner]
