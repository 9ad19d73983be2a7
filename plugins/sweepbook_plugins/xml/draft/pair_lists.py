"""Figures of all pairs in one text, beside a text that lists the pairs, in XML nobody described.

<item name="Length" pairs="1,2,3,4">50.9,50.6,50.2,51.6</item>
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import permutations
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft.document import ASSUMED, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.reading import Understood
from sweepbook_plugins.xml.draft.tree import (
    Tree,
    all_in,
    attributes,
    chain,
    elements_in,
    local_name,
    text_of,
)

if TYPE_CHECKING:
    from lxml.etree import _Element

_SEPARATORS = (",", ";", "|", "/", " ")
_LEAST, _MOST = 2, 4
_LISTS = 2
_LONGEST = 80


class Listed(NamedTuple):
    """The figures of one element.

    Attributes:
        key: the path of their text.
        separator: what parts them.
        names: what each is called, in order.
        texts: the figures.
        order: the text that lists the pairs.
    """

    key: str
    separator: str
    names: tuple[str, ...]
    texts: tuple[str, ...]
    order: str


def tables(
    files: "Sequence[tuple[Tree, Sequence[_Element]]]", found: Understood, evidence: Evidence
) -> list[Table]:
    """The tables `cells` that part such texts; pairs in another order elsewhere part none.

    Args:
        files: each with its tests.
        found: what names are made of.
        evidence: takes each figure as a key of its own.
    """
    by_key: dict[str, list[Listed]] = {}
    for tree, tests in files:
        for test in tests:
            for element in all_in(test):
                one = _listed(tree, element, test, found.naming)
                if one is not None:
                    by_key.setdefault(one.key, []).append(one)
    made = []
    for key, some in by_key.items():
        first = some[0]
        if len({(one.separator, one.names) for one in some}) > 1:
            continue
        for one in some:
            for name, text in zip(one.names, one.texts, strict=True):
                evidence.put(name, text)
        found.figure_keys.add(key)
        table = Table("[[cells]]")
        said = (
            "a figure of each pair, in the order that stands beside; all files have to keep to it"
        )
        note = Note(ASSUMED, said, [first.order])
        table.add("key", key, note)
        table.add("separator", first.separator)
        table.add("names", list(first.names))
        made.append(table)
    return made


def _listed(
    tree: Tree, element: "_Element", test: "_Element", naming: Naming
) -> Listed | None:  # fmt: skip
    """The figures of an element with a list of them and one of as many pairs; else None."""
    texts = dict(_texts(element, tree))
    lists = [(at, mark, of) for at, text in texts.items() for mark, of in _lists_in(text)]
    if len(lists) < _LISTS:  # most elements are points, and to look for names takes longer
        return None
    named = _parameter(texts, naming) or _parameter({"": local_name(element)}, naming)
    if named is None:
        return None
    at, word = named
    for (order, mark, pairs), (values, other, figures) in permutations(lists, _LISTS):
        if mark == other and order != values and _fit(pairs, figures, naming):
            path = "/".join(tree.name(of) for of in chain(element, test))
            path += f"[{at}={texts[at]}]" if at else ""
            key = path if values == "." else f"{path}/{values}"
            names = tuple(f"{word} {pair}" for pair in pairs)
            return Listed(key, mark, names, tuple(figures), texts[order])
    return None


def _parameter(texts: Mapping[str, str], naming: Naming) -> tuple[str, str] | None:
    """Where a figure is named, and its word; a loss is swept, and none."""
    for at, text in texts.items():
        part = naming.parse(text)
        if part.parameter and part.clean and quantity_of(part.parameter[1]) not in ("", "loss"):
            return at, part.parameter[0]
    return None


def _fit(pairs: Sequence[str], figures: Sequence[str], naming: Naming) -> bool:
    """Whether so many texts are a pair each, no two alike, and as many others numbers."""
    if len(pairs) != len(figures) or not all(map(is_numeric, figures)):
        return False
    told = [[pair for _, pair in part.pairs] for part in map(naming.parse, pairs) if part.clean]
    single = {of[0] for of in told if len(of) == 1}
    return len(single) == len(pairs)


def _lists_in(text: str) -> Iterator[tuple[str, list[str]]]:
    """The marks that part a text into as many pieces as there may be pairs, and the pieces."""
    for mark in _SEPARATORS:
        if _LEAST <= text.count(mark) + 1 <= _MOST:
            yield mark, [of.strip() for of in text.split(mark)]


def _texts(element: "_Element", tree: Tree) -> Iterator[tuple[str, str]]:
    """Short texts of an element by the paths from there: attributes, children and its own."""
    if 0 < len(text_of(element)) <= _LONGEST:
        yield ".", text_of(element)
    for name, text in attributes(element).items():
        if len(text) <= _LONGEST:
            yield tree.at(name), text
    for child in elements_in(element):
        if not len(child) and 0 < len(text_of(child)) <= _LONGEST:
            yield tree.name(child), text_of(child)
