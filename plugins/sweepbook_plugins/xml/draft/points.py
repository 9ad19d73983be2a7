"""Curves that are written as an element a point, in XML nobody has described yet."""

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.trade_words import NO_VALUE, UNIT
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tree import Tree, attributes, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST = 8
"""So many numbers make a curve or an axis."""


def points_in(element: "_Element", tree: Tree) -> Curve | None:
    """The curve that an element holds as an element a point; None where it holds none."""
    children = [child for child in element if isinstance(child.tag, str)]
    tags = [str(child.tag) for child in children]
    if len(children) < _LEAST:
        return None
    tag = max(dict.fromkeys(tags), key=tags.count)
    points = [child for child in children if child.tag == tag]
    if len(points) < _LEAST:
        return None
    cells = _cells(points[len(points) // 2], tree)
    numeric = {path: text for path, text in cells.items() if is_numeric(text)}
    axis = next((path for path in numeric if is_frequency(_plain(path))), None)
    if axis is None:
        axis = next((path for path in numeric if _rises(points, path, tree)), None)
    if axis is None:
        return None
    rest = [path for path in cells if path != axis and not path.endswith("unit")]
    rest = [path for path in rest if not phrases.find(path, {"": NO_VALUE})] or rest
    value = next((path for path in rest if path in numeric), None)
    if value is None:
        return None
    held = [_cells(point, tree) for point in points]
    return Curve(
        element,
        point=(tree.spaces.name(tag), axis, value),
        axis_texts=[one.get(axis, "") for one in held],
        value_texts=[one.get(value, "") for one in held],
        units=[path for path in cells if _plain(path).casefold() in UNIT],
        rivals={
            path: [one.get(path, "") for one in held]
            for path in rest
            if path != value and path in numeric
        },
    )


def settle_values(curves: Sequence[Curve]) -> None:
    """Of several numbers a point, take the one that differs most from curve to curve.

    A limit line is the same for all curves of a parameter, and a measurement is not.
    """
    kinds: dict[tuple[str, ...], list[Curve]] = {}
    for curve in curves:
        if curve.point is not None and curve.rivals:
            kinds.setdefault((curve.point[0], *sorted([curve.point[2], *curve.rivals])), []).append(
                curve
            )
    for some in kinds.values():
        lines: dict[str, set[tuple[str, ...]]] = {}
        for curve in some:
            assert curve.point is not None
            for path, texts in {curve.point[2]: curve.value_texts, **curve.rivals}.items():
                lines.setdefault(path, set()).add(tuple(texts))
        best = max(lines, key=lambda path: len(lines[path]))
        for curve in some:
            assert curve.point is not None
            held = {curve.point[2]: curve.value_texts, **curve.rivals}
            curve.value_texts = held.pop(best)
            curve.point, curve.rivals = (*curve.point[:2], best), held


def _cells(point: "_Element", tree: Tree) -> dict[str, str]:
    """Texts of a point by their path from it."""
    found = {
        f"@{tree.spaces.name(name, attribute=True)}": text
        for name, text in attributes(point).items()
    }
    tags = [child.tag for child in point]
    for child in point:
        if isinstance(child.tag, str) and tags.count(child.tag) == 1 and not len(child):
            name = tree.spaces.name(str(child.tag))
            found[name] = text_of(child)
            for attribute, text in attributes(child).items():
                found[f"{name}/@{tree.spaces.name(attribute, attribute=True)}"] = text
    if text_of(point):
        found["."] = text_of(point)
    return found


def _plain(path: str) -> str:
    return re.sub(r"^.*[/@:]", "", path)


def _rises(points: "Sequence[_Element]", path: str, tree: Tree) -> bool:
    try:
        values = [float(_cells(point, tree)[path].replace(",", ".")) for point in points[:20]]
    except (KeyError, ValueError):
        return False
    return all(a < b for a, b in pairwise(values)) and values[0] > 0.0
