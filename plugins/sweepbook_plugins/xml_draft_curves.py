"""Curves in XML nobody has described yet: where their numbers stand, and what shares an axis."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook_plugins.xml_draft_tree import Tree, attributes, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST = 8
"""So many numbers make a curve or an axis."""
_AXIS = ("axis", "grid", "frequencies", "frequency list", "sweep points")
_NO_VALUE = ("limit", "limits", "margin", "margins", "headroom", "reserve", "status", "verdict")
_LONGEST_NAME = 40
_RUN = {
    "start": ("start", "first", "from", "begin"),
    "step": ("step", "increment", "spacing", "delta"),
    "count": ("count", "points", "number", "samples"),
    "stop": ("stop", "end", "last", "to"),
}


@dataclass
class Axis:
    """An element with frequencies that several curves may share.

    Attributes:
        element: of the axis.
        run: path of the elements with runs from there, and attribute by role; {} for a list.
        separator: text between the numbers of a list, or "".
        texts: the frequencies, as far as they are written out.
    """

    element: "_Element"
    run: Mapping[str, str] = field(default_factory=dict)
    separator: str = ""
    texts: Sequence[str] = ()


@dataclass
class Curve:
    """A curve.

    Attributes:
        element: that holds it and names it.
        values: path of the text with all values, or "" where it has an element a point.
        frequency: path of the text with its own frequencies, or "".
        separator: text between the numbers, or "" for blanks.
        point: path of the points; path of frequency and value from there.
        axis_texts, value_texts: its numbers, as far as they are written out.
    """

    element: "_Element"
    values: str = ""
    frequency: str = ""
    separator: str = ""
    point: tuple[str, str, str] | None = None
    axis_texts: Sequence[str] = ()
    value_texts: Sequence[str] = ()


def numbers_in(text: str) -> tuple[list[str], str]:
    """The numbers of a list and the text between them ("" for blanks); ([], "") for no list."""
    for separator in (";", ",", ""):
        if separator and separator not in text:
            continue
        parts = [part.strip() for part in (text.split(separator) if separator else text.split())]
        parts = parts[:-1] if parts and not parts[-1] else parts
        if len(parts) >= _LEAST and sum(map(is_numeric, parts)) * 2 >= len(parts):
            return parts, separator
    return [], ""


def find(tree: Tree) -> tuple[list[Curve], list[Axis]]:
    """All curves and shared axes of a tree."""
    axes: list[Axis] = []
    curves: list[Curve] = []
    own: list[tuple[_Element, list[str]]] = []
    for element in tree.elements():
        if run := _runs(element, tree):
            axes.append(Axis(element, run))
            continue
        points = _points(element, tree)
        if points is not None:
            curves.append(points)
            continue
        if phrases.find(_local(element), {"": _NO_VALUE}):
            continue
        texts, separator = numbers_in(text_of(element)) if len(text_of(element)) > 15 else ([], "")
        if texts and _is_axis(element):
            axes.append(Axis(element, {}, separator, texts))
            own.append((element, texts))
        elif texts:
            curves.append(Curve(element, ".", "", separator, None, (), texts))
    held = [_with_frequency(curve, axes, tree) for curve in curves]
    held = [(_named_above(curve, tree), axis) for curve, axis in held]
    used = {curve_axis for _, curve_axis in held if curve_axis is not None}
    return [curve for curve, _ in held], [axis for axis in axes if axis.element not in used]


def _local(element: "_Element") -> str:
    return str(element.tag).rpartition("}")[2]


def _is_axis(element: "_Element") -> bool:
    names = [_local(element)]
    if any(is_frequency(name) or phrases.whole(name, _AXIS) for name in names):
        return True
    return any(is_frequency(text) for text in attributes(element).values())


def _runs(element: "_Element", tree: Tree) -> dict[str, str]:
    """Role and path of what describes equally spaced frequencies, {} where nothing does."""
    for child in (*(c for c in element if isinstance(c.tag, str)), element):
        roles: dict[str, str] = {}
        for name in attributes(child):
            for role, words in _RUN.items():
                if role not in roles and phrases.whole(name, words):
                    roles[role] = f"@{tree.spaces.name(name, attribute=True)}"
        if {"start", "step"} <= roles.keys() and roles.keys() & {"count", "stop"}:
            if "count" in roles:
                roles.pop("stop", None)
            if child is not element:
                return {"path": tree.spaces.name(str(child.tag)), **roles}
            parent = element.getparent()
            return {} if parent is not None and _is_run_holder(parent, element) else roles
    return {}


def _is_run_holder(parent: "_Element", element: "_Element") -> bool:
    return any(child.tag == element.tag for child in parent)


def _points(element: "_Element", tree: Tree) -> Curve | None:
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
    rest = [path for path in rest if not phrases.find(path, {"": _NO_VALUE})] or rest
    value = next((path for path in rest if path in numeric), None)
    if value is None:
        return None
    held = [_cells(point, tree) for point in points]
    return Curve(
        element,
        point=(tree.spaces.name(tag), axis, value),
        axis_texts=[one.get(axis, "") for one in held],
        value_texts=[one.get(value, "") for one in held],
    )


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


def _named_above(curve: Curve, tree: Tree) -> Curve:
    """The curve at the element around it, where that holds nothing but it and what names it."""
    element, parent = curve.element, curve.element.getparent()
    if parent is None or attributes(element) or curve.frequency.startswith("../"):
        return curve
    others = [child for child in parent if isinstance(child.tag, str) and child is not element]
    if not others or any(len(child) or len(text_of(child)) > _LONGEST_NAME for child in others):
        return curve
    step = tree.spaces.name(str(element.tag))
    curve.element = parent
    if curve.point is not None:
        curve.point = (f"{step}/{curve.point[0]}", *curve.point[1:])
    else:
        curve.values = step if curve.values == "." else f"{step}/{curve.values}"
        curve.frequency = f"{step}/{curve.frequency}" if curve.frequency else ""
    return curve


def _with_frequency(
    curve: Curve, axes: Sequence[Axis], tree: Tree
) -> "tuple[Curve, _Element | None]":
    """The curve with the axis that stands in or beside it; and the element of that."""
    if curve.point is not None:
        return curve, None
    parent = curve.element.getparent()
    if parent is None:
        return curve, None
    beside = [axis for axis in axes if axis.element.getparent() is parent and axis.texts]
    lists = [
        child
        for child in parent
        if len(numbers_in(text_of(child))[0]) >= _LEAST
        and not phrases.find(_local(child), {"": _NO_VALUE})
    ]
    if len(beside) != 1:
        return curve, None
    axis = beside[0]
    name = tree.spaces.name(str(axis.element.tag))
    curve.axis_texts = axis.texts
    if len(lists) == 2 and not attributes(curve.element):
        curve.values, curve.frequency = tree.spaces.name(str(curve.element.tag)), name
        curve.element = parent
    elif len(axis.texts) == len(curve.value_texts) and parent.getparent() is not None:
        curve.frequency = f"../{name}"
    else:
        return curve, None
    return curve, axis.element
