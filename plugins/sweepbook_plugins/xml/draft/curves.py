"""Curves in XML nobody has described yet: where their numbers stand, and what shares an axis."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_frequency, is_numeric, rises
from sweepbook.draft.trade_words import NO_VALUE, RUN
from sweepbook_plugins.xml.draft.end_columns import parted
from sweepbook_plugins.xml.draft.item_lists import of_items
from sweepbook_plugins.xml.draft.items import items_in
from sweepbook_plugins.xml.draft.lists import (
    LEAST,
    axis_around,
    is_axis,
    is_axis_tag,
    is_limit_line,
    mark_rows,
    numbers_in,
    samples_in,
)
from sweepbook_plugins.xml.draft.named_cells import named_in
from sweepbook_plugins.xml.draft.points import points_in, settle_values
from sweepbook_plugins.xml.draft.referring import meanings_of, told_by
from sweepbook_plugins.xml.draft.shape import Axis, Curve
from sweepbook_plugins.xml.draft.tests import telling
from sweepbook_plugins.xml.draft.titled import settle_titles, titled_in
from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in, local_name, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LONGEST_NAME = 40
_SHORTEST_LIST = 15
_LEAST_OF_A_RUN = 3
_BOTH = 2
_MANY = 4
"""So many more curves than lists of another name make these their axes, if they rise."""


def find(tree: Tree) -> tuple[list[Curve], list[Axis]]:
    """All curves and shared axes of a tree, which takes its keys with values."""
    tree.items = items_in(tree)
    tree.meanings = meanings_of(tree)
    curves, axes, passed = of_items(tree)
    inside: set[_Element] = set()
    for element in tree.elements():
        if element in inside:
            inside.update(element)
            continue
        pointed = _axis_points(element, tree) or axis_around(element, tree)
        holds = pointed or ([] if element in passed else _held_by(element, tree))
        inner = holds if isinstance(holds, list) else []
        if pointed or any(curve.run or curve.titled for curve in inner):
            passed.update(element)
        points = {curve.point[0] for curve in inner if curve.point and not curve.titled}
        inside.update(child for child in element if tree.name(child) in points)
        if isinstance(holds, Axis):
            axes.append(holds)
        else:
            curves += holds
    curves = parted(curves)
    settle_values(curves)
    settle_titles(curves)
    curves, unnamed = _axes_by_course(curves)
    axes += unnamed
    curves = [curve for curve in curves if not is_limit_line(curve)]
    mark_rows(curves)
    beside = _by_parent(axes)
    held = [_with_frequency(curve, beside, tree) for curve in curves]
    held = [(_named_above(curve, tree), axis) for curve, axis in held]
    for curve, _ in held:
        curve.told = told_by(tree, curve.element)
    used = {curve_axis for _, curve_axis in held if curve_axis is not None}
    return [curve for curve, _ in held], [axis for axis in axes if axis.element not in used]


def gaps(curves: Sequence[Curve]) -> list[str]:
    """Texts that stand where values do and are none, of curves that are numbers for the rest."""
    found: dict[str, None] = {}
    for curve in curves:
        strange = [text for text in curve.value_texts if not is_numeric(text)]
        if len(strange) * 2 < len(curve.value_texts):
            found |= dict.fromkeys(text for text in strange if len(text) <= _LONGEST_NAME)
    return list(found)


def _held_by(element: "_Element", tree: Tree) -> list[Curve] | Axis:
    """The curves or the axis that an element holds."""
    if run := _runs(element, tree):
        return [own] if (own := _with_run(element, run, tree)) else Axis(element, run)
    named = named_in(element, tree)
    if points := named or points_in(element, tree) or titled_in(element, tree):
        return points
    if phrases.has(local_name(element), NO_VALUE):
        return []
    if (listed := _in_attributes(element, tree)) is not None:
        return [listed] if isinstance(listed, Curve) else listed
    text = text_of(element)
    if told := samples_in(text) if len(text) > _SHORTEST_LIST else None:
        own = Curve(element, ".", ".", told.separator, sample=told.form)
        own.axis_texts, own.value_texts = told.frequency, told.value
        return [own]
    texts, separator = numbers_in(text) if len(text) > _SHORTEST_LIST else ([], "")
    if texts and is_axis(element):
        return Axis(element, {}, separator, texts)
    curve = Curve(element, ".", "", separator, None, (), texts, run=_run_in(element, tree))
    return [curve] if texts else []


def _with_run(element: "_Element", run: dict[str, str], tree: Tree) -> Curve | None:
    """The curve of an element in which one list of values stands beside what spaces them."""
    held = [
        (child, *numbers_in(text_of(child)))
        for child in elements_in(element)
        if not phrases.has(local_name(child), NO_VALUE)
    ]
    lists = [(child, texts, mark) for child, texts, mark in held if texts]
    if len(lists) != 1 or "path" not in run:
        return None
    child, texts, mark = lists[0]
    path = tree.name(child)
    return Curve(element, path, "", mark, None, (), texts, run=run)


def _in_attributes(element: "_Element", tree: Tree) -> Curve | Axis | None:
    """The curve whose values, and perhaps frequencies, are lists in attributes; or an axis."""
    lists = {
        name: numbers_in(text)
        for name, text in attributes(element).items()
        if len(text) > _SHORTEST_LIST and not phrases.has(name, NO_VALUE)
    }
    lists = {name: held for name, held in lists.items() if held[0]}
    axis = next((name for name in lists if is_frequency(name)), None)
    value = next((name for name in lists if name != axis), None)
    if axis is not None and (value is None or is_axis_tag(element)):
        texts, separator = lists[axis]
        held = tree.at(axis)
        return Axis(element, separator=separator, texts=texts, held=held)
    if value is None:
        return None
    texts, separator = lists[value]
    path = tree.at(value)
    if axis is None:
        return Curve(element, path, "", separator, None, (), texts)
    own = tree.at(axis)
    return Curve(element, path, own, separator, None, lists[axis][0], texts)


def _axis_points(element: "_Element", tree: Tree) -> Axis | None:
    """An axis with one element a frequency."""
    children = elements_in(element)
    tags = {str(child.tag) for child in children}
    if len(children) < LEAST or len(tags) != 1 or any(map(len, children)):
        return None
    texts = [text_of(child) for child in children]
    local = local_name(children[0])
    named = is_frequency(local) or is_axis(element)
    if not named or any(attributes(child) for child in children) or not all(map(is_numeric, texts)):
        return None
    return Axis(element, texts=texts, point=tree.name(children[0]))


def _axes_by_course(curves: list[Curve]) -> tuple[list[Curve], list[Axis]]:
    """Lists side by side with others, the same for all curves and rising, are their axes."""
    lists = [curve for curve in curves if curve.values == "." and curve.point is None]
    by_tag: dict[str, list[Curve]] = {}
    for curve in lists:
        by_tag.setdefault(str(curve.element.tag), []).append(curve)
    axes = {
        tag
        for tag, some in by_tag.items()
        if len(by_tag) == _BOTH
        and (len(some) > _BOTH or len(lists) > _MANY * len(some))
        and len({tuple(curve.value_texts) for curve in some}) == 1
        and rises(some[0].value_texts)
    }
    taken = [curve for curve in lists if str(curve.element.tag) in axes]
    made = [Axis(c.element, separator=c.separator, texts=c.value_texts) for c in taken]
    gone = {curve.element for curve in taken}
    return [curve for curve in curves if curve.element not in gone], made


def _runs(element: "_Element", tree: Tree) -> dict[str, str]:
    """Role and path of what describes equally spaced frequencies, {} where nothing does.

    One without a count or an end of its own, or with values in it, is of its curve alone.
    """
    for child in (*elements_in(element), element):
        roles = _run_in(child, tree)
        if roles.keys() & {"count", "stop"} and not numbers_in(text_of(child))[0]:
            if child is not element:
                return {"path": tree.name(child), **roles}
            parent = element.getparent()
            return {} if parent is not None and _is_run_holder(parent, element) else roles
    return {}


def _run_in(element: "_Element", tree: Tree) -> dict[str, str]:
    """Role and path of the numbers in an element, or in children, that space frequencies."""
    roles: dict[str, str] = {}
    told = [(name, tree.at(name), text) for name, text in attributes(element).items()]
    inner = telling(element) if len(element) >= _LEAST_OF_A_RUN else ()
    told += [(local_name(of), tree.name(of), text_of(of)) for of in inner]
    for name, path, text in told:
        role = _role(name)
        if role and role not in roles and is_numeric(text):
            roles[role] = path
    if "count" in roles:
        roles.pop("stop", None)
    return roles if {"start", "step"} <= roles.keys() else {}


@lru_cache(maxsize=4096)
def _role(name: str) -> str | None:
    """What a number of this name is of frequencies in even steps."""
    return next((role for role, words in RUN.items() if phrases.whole(name, words)), None)


def _is_run_holder(parent: "_Element", element: "_Element") -> bool:
    return any(child.tag == element.tag for child in parent)


def _named_above(curve: Curve, tree: Tree) -> Curve:
    """The curve at the element around it, where that holds nothing but it and what names it."""
    element, parent = curve.element, curve.element.getparent()
    if (
        parent is None
        or attributes(element)
        or curve.run
        or curve.titled
        or curve.frequency.startswith("../")
    ):
        return curve
    others = [child for child in elements_in(parent) if child is not element]
    if not others or any(len(child) or len(text_of(child)) > _LONGEST_NAME for child in others):
        return curve
    step = tree.name(element)
    curve.element = parent
    if curve.point is not None:
        curve.point = (f"{step}/{curve.point[0]}", *curve.point[1:])
    else:
        curve.values = step if curve.values == "." else f"{step}/{curve.values}"
        curve.frequency = f"{step}/{curve.frequency}" if curve.frequency else ""
    return curve


def _by_parent(axes: Sequence[Axis]) -> "dict[_Element, list[Axis]]":
    """Lists of frequencies by the elements that they stand in."""
    found: dict[_Element, list[Axis]] = {}
    for axis in axes:
        parent = axis.element.getparent()
        bare = axis.texts and not (axis.point or axis.item)
        if parent is not None and bare and axis.held == ".":
            found.setdefault(parent, []).append(axis)
    return found


def _with_frequency(
    curve: Curve, axes: "Mapping[_Element, Sequence[Axis]]", tree: Tree
) -> "tuple[Curve, _Element | None]":
    """The curve with the axis that stands in or beside it; and the element of that.

    Args:
        curve: a curve.
        axes: by the elements that they stand in.
        tree: of both.
    """
    if curve.point is not None or curve.frequency or curve.run:
        return curve, None
    parent = curve.element.getparent()
    beside = axes.get(parent, ()) if parent is not None else ()
    if parent is None or len(beside) != 1:
        return curve, _further_up(curve, axes, tree)
    lists = [
        child
        for child in parent
        if len(numbers_in(text_of(child))[0]) >= LEAST
        and not phrases.has(local_name(child), NO_VALUE)
    ]
    axis = beside[0]
    name = tree.name(axis.element)
    curve.axis_texts = axis.texts
    if len(lists) == 2 and not attributes(curve.element):
        curve.values, curve.frequency = tree.name(curve.element), name
        curve.element = parent
    elif len(axis.texts) == len(curve.value_texts) and parent.getparent() is not None:
        curve.frequency = f"../{name}"
    else:
        return curve, None
    return curve, axis.element


def _further_up(
    curve: Curve, axes: "Mapping[_Element, Sequence[Axis]]", tree: Tree
) -> "_Element | None":
    """The element of the axis that stands beside one around a curve, which then has its path."""
    for up, around in enumerate(curve.element.iterancestors()):
        beside = axes.get(around, ())
        if len(beside) == 1 and up and around.getparent() is not None:
            axis = beside[0]
            if len(axis.texts) == len(curve.value_texts) and _is_along(axis, around):
                curve.axis_texts = axis.texts
                curve.frequency = f"{'../' * (up + 1)}{tree.name(axis.element)}"
                return axis.element
    return None


def _is_along(axis: Axis, around: "_Element") -> bool:
    """Whether curves stand beside an axis as well, so that it is none that tests share."""
    return any(
        child is not axis.element and len(numbers_in(text_of(child))[0]) == len(axis.texts)
        for child in around
    )
