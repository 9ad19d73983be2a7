"""Texts that a form takes for the list of a curve, and that other paths of a dialect lead to.

Where curves and other facts are elements of one kind, a form of curves fits all of them by its
path, and some by their names. Of a text that a field or a figure wants as well, a list of numbers
is a curve, and anything else is not.
"""

from collections.abc import Mapping, Set
from typing import TYPE_CHECKING

from sweepbook.dialect.parameters import can_be_swept
from sweepbook.dialect.raw import Name
from sweepbook.tokens import split
from sweepbook_plugins.xml.layout import CurveForm
from sweepbook_plugins.xml.paths import Path
from sweepbook_plugins.xml.shared import Shared
from sweepbook_plugins.xml.tree import Node, find, keys_of, match, text_at

if TYPE_CHECKING:
    from lxml.etree import _Element

_SIGNS = "+-\u2212\u2013<>\u2264\u2265~= "
"""What may stand before the first digit of a value."""


def is_claimed(element: "_Element", path: Path, nodes: tuple[Node, ...]) -> bool:
    """Whether fields or figures of a dialect lead to a text.

    Args:
        element: what the path begins at.
        path: of the text.
        nodes: what the dialect knows of the element.
    """
    if path.up or not nodes:
        return False
    for depth, step in enumerate(path.steps, 1):
        inner = find(element, path._replace(steps=path.steps[:depth], attribute=None))
        if inner is None:
            return False
        beside = inner.itersiblings(step.tag, preceding=True)
        nodes = match(nodes, inner, 1 + sum(1 for _ in beside)).nodes
    return bool(keys_of(nodes, frozenset()).get(path.attribute or ""))


def is_list(text: str, separator: str | None) -> bool:
    """Whether a text is numbers with a separator between them, or one gap after another."""
    pieces = split(text, separator)
    numbers = sum(piece.lstrip(_SIGNS)[:1].isdigit() for piece in pieces)
    return len(pieces) > 1 and (numbers * 2 >= len(pieces) or len({*pieces}) == 1)


def is_told(nodes: tuple[Node, ...]) -> bool:
    """Whether the dialect knows by a path of its own what stands in elements at these nodes."""
    return any(node.children and not node.forms for node in nodes)


def holds_figures(
    element: "_Element", nodes: tuple[Node, ...], figures: Set[str]
) -> bool:  # fmt: skip
    """Whether an element has nothing in it, and figures in its attributes, as a curve has not.

    Args:
        element: the element.
        nodes: what the dialect knows of it.
        figures: keys of single figures.
    """
    return not len(element) and any(
        name in element.attrib and not figures.isdisjoint(keys)
        for node in nodes
        for name, keys in node.keys.items()
    )


def may_hold(element: "_Element", forms: Shared, nodes: tuple[Node, ...]) -> bool:
    """Whether an element may hold a curve, or a text where one of its forms has a figure.

    A text that fills a field is none.
    """
    texts = (
        (text_at(element, path) or "").strip()
        for _, form in forms.figures
        for path in form.roles.values()
        if not is_claimed(element, path, nodes)
    )
    lists = (_may_hold_curve(element, form, nodes) for _, form in forms.curves)
    return bool(forms.tables) or any(texts) or any(lists)


def may_be_curve(
    element: "_Element", forms: Shared, names: Mapping[int, Name], nodes: tuple[Node, ...]
) -> bool:
    """Whether an element is named as a curve is, and no field or figure has what it holds."""
    return any(
        can_be_swept(names[number].parameter) and not _has_another(element, form, nodes)
        for number, form in forms.curves
        if number in names
    )


def _may_hold_curve(element: "_Element", form: CurveForm, nodes: tuple[Node, ...]) -> bool:
    """Whether it may by this form: by other than one text, or by a list that no other path has."""
    values = form.values
    if values is None or values.text is None or form.point is not None:
        return True
    text = text_at(element, values.text)
    listed = text is None or is_list(text, values.separator)
    return listed and not _has_another(element, form, nodes)


def _has_another(element: "_Element", form: CurveForm, nodes: tuple[Node, ...]) -> bool:
    """Whether a field or a figure has what stands where a form of curves looks for a list."""
    at = form.values.text if form.values else None
    return at is not None and is_claimed(element, at, nodes)
