"""What may name a figure in XML nobody has described yet: texts in its element and around it."""

import re
from collections.abc import Container, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.parsed import PLACEHOLDER
from sweepbook_plugins.xml.draft.referring import reference
from sweepbook_plugins.xml.draft.tests import LONGEST_WORD, named_by
from sweepbook_plugins.xml.draft.tree import Tree, all_in, attributes, chain, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_MARKED = re.compile(r"[+-]?[0-9]+[.,][0-9]+")

Place = tuple[str, ...]
"""Names of elements from below a test, then @ and the name of an attribute, or a dot."""


def places_of_numbers(tests: "Iterable[_Element]", naming: Naming) -> set[Place]:
    """The places in tests where numbers stand which are no names of pairs, or not all of them."""
    found: set[Place] = set()
    for test in tests:
        for element in all_in(test):
            for place, text in _texts(element, place_of(element, test)):
                if place not in found and is_numeric(text) and not _is_pair(text, naming):
                    found.add(place)
    return found


def words_by_place(tests: "Iterable[_Element]") -> list[set[str]]:
    """The texts of each place in tests, as far as they are words."""
    found: dict[Place, set[str]] = {}
    for test in tests:
        for element in all_in(test):
            for place, text in _texts(element, place_of(element, test)):
                if len(text) <= LONGEST_WORD and not is_numeric(text):
                    found.setdefault(place, set()).add(text)
    return list(found.values())


def loose_numbers(tests: "Iterable[_Element]", curves: "Container[_Element]") -> list[str]:
    """Numbers with a mark in tests that are of no curve, for how they are written."""
    found: list[str] = []
    for test in tests:
        inside: set[_Element] = set()
        for element in all_in(test):
            if element in curves or element.getparent() in inside:
                inside.add(element)
            else:
                texts = (text for _, text in _texts(element, ()))
                found += [text for text in texts if _MARKED.fullmatch(text)]
    return found


def said_of(
    tree: Tree, element: "_Element", test: "_Element", numbers: set[Place]
) -> dict[str, str]:
    """What may name an element within a test, by the path from it.

    Args:
        tree: the file.
        element: what may be named.
        test: the element of its test.
        numbers: places where numbers stand.
    """
    found: dict[str, str] = {}
    line = chain(element, test)
    for up, one in enumerate(reversed(line)):
        here = place_of(one, test)
        for name, text in attributes(one).items():
            if (*here, f"@{name}") not in numbers:
                found[f"{'../' * up}{tree.at(name)}"] = text
        for child, which in named_by(one):
            if child not in line and (*here, str(child.tag), ".") not in numbers:
                found[f"{'../' * up}{tree.name(child)}{which}"] = text_of(child)
    if told := reference(tree, element, test):
        found.pop(told.slot, None)
        found |= told.said
    return found


def place_of(element: "_Element", test: "_Element") -> Place:
    """The names of elements from below a test down to one."""
    return tuple(str(one.tag) for one in chain(element, test))


def _texts(element: "_Element", here: Sequence[str]) -> Iterator[tuple[Place, str]]:
    for name, text in attributes(element).items():
        yield (*here, f"@{name}"), text
    if not len(element):
        yield (*here, "."), text_of(element)


def _is_pair(text: str, naming: Naming) -> bool:
    """Whether a text is one or two pairs, or an end, and nothing besides."""
    if text.casefold() in (naming.ends or ()):
        return True
    part = naming.parse(text)
    left = PLACEHOLDER.sub("", part.template)
    return bool(part.pairs) and not any(map(str.isalnum, left))
