"""Margins that no word names: numbers of dB below zero where the verdict beside them is a fail."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.numbers import either
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.xml.draft.around import Place, place_of
from sweepbook_plugins.xml.draft.cells import cells_of
from sweepbook_plugins.xml.draft.tree import Tree, all_in, attributes
from sweepbook_plugins.xml.draft.unit_names import quantity_named

if TYPE_CHECKING:
    from lxml.etree import _Element

Margins = dict[Place, str]
"""The path of the margin, by the place of the element that it stands in."""


def margins_by_sign(files: "Iterable[tuple[Tree, Sequence[_Element]]]") -> Margins:
    """Where the sign of a number says what the verdict beside it does, in passes and in fails.

    Args:
        files: the files, and the elements of tests in each.
    """
    seen: dict[tuple[Place, str], set[tuple[str, bool]]] = defaultdict(set)
    for tree, tests in files:
        for test in tests:
            for element in all_in(test):
                if element is not test and any(map(attributes, element)):
                    _see(tree, test, element, seen)
    found: dict[Place, list[str]] = defaultdict(list)
    for (place, path), signs in seen.items():
        if signs == {("pass", False), ("fail", True)}:
            found[place].append(path)
    return {place: paths[0] for place, paths in found.items() if len(paths) == 1}


def _see(
    tree: Tree, test: "_Element", element: "_Element",
    seen: dict[tuple[Place, str], set[tuple[str, bool]]],
) -> None:  # fmt: skip
    """Keep the verdict of an element, and of each number of dB in it whether it is below zero."""
    cells = cells_of(element, tree)
    verdicts = list(filter(None, (verdict_of(cell.text) for cell in cells.values())))
    if len(verdicts) != 1:
        return
    for path, cell in cells.items():
        value = either(cell.text)
        if value is not None and quantity_named(cell.unit) == "loss":
            verdict = verdicts[0].removesuffix("*")
            seen[place_of(element, test), path].add((verdict, value < 0.0))
