"""Curves and axes that are facts of a test like any other: a key, and many numbers under it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_frequency, rises
from sweepbook_plugins.xml.draft.lists import numbers_in
from sweepbook_plugins.xml.draft.shape import Axis, Curve
from sweepbook_plugins.xml.draft.tree import Tree

if TYPE_CHECKING:
    from lxml.etree import _Element


def of_items(tree: Tree) -> "tuple[list[Curve], list[Axis], set[_Element]]":
    """The curves and axes among keys with values, and all elements that are such."""
    lists = {of: (item, *numbers_in(item.text)) for of, item in tree.items.items()}
    lists = {of: held for of, held in lists.items() if held[1]}
    keys = _axes([(item.key, texts) for item, texts, _ in lists.values()])
    curves, axes = [], []
    for element, (item, texts, mark) in lists.items():
        if item.key in keys:
            axes.append(Axis(element, {}, mark, texts, held=item.value, item=item))
        else:
            curves.append(Curve(element, item.value, "", mark, None, (), texts))
    return curves, axes, {*tree.items}.union(*tree.items)


def _axes(lists: Sequence[tuple[str, Sequence[str]]]) -> set[str]:
    """The keys of axes: called so, or the only one that names no parameter, if all of it rises."""
    named = {key for key, _ in lists if is_frequency(key)}
    spare = {key for key, _ in lists if not phrases.parameter_in(key)}
    if named or len(spare) > 1:
        return named
    return spare if all(rises(texts) for key, texts in lists if key in spare) else set()
