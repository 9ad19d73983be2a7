"""One element a point: all points of a curve taken at once, or one by one where they differ.

An object for every point would cost more than all the rest of it. So a curve is written out again
by the library, which is quick, and its text is cut at every mark of markup. Points that are alike
but for their numbers then lie in that list at equal distances. Where one differs in anything else,
the short way says no, and every point is looked at by itself.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from sweepbook_plugins.xml.layout import PointForm
from sweepbook_plugins.xml.paths import Path
from sweepbook_plugins.xml.slots import Last, Slots, slots_of
from sweepbook_plugins.xml.tree import every, text_at

if TYPE_CHECKING:
    from lxml.etree import _Element


class Points(NamedTuple):
    """The points of a curve.

    Attributes:
        frequency: n texts; none where the form names no frequency.
        value: n texts.
        line_of: line of the point at a position.
        alone: whether the curve element holds nothing but these points.
        tag: name of the points if nothing in them is left to be looked at, else "".
    """

    frequency: Sequence[str]
    value: Sequence[str]
    line_of: Callable[[int], int]
    alone: bool = False
    tag: str = ""


def read(curve: "_Element", form: PointForm) -> Points:
    """The points in a curve element; there may be none."""
    points = quick(curve, form)
    if points is not None:
        return points
    found = every(curve, form.path)
    frequency = _texts(found, form.frequency) if form.frequency else []
    lines = [point.sourceline or 0 for point in found]
    return Points(frequency, _texts(found, form.value), lines.__getitem__)


def quick(curve: "_Element", form: PointForm, last: Last | None = None) -> Points | None:
    """The points taken at once; None where they are not alike.

    Args:
        curve: the element of the curve.
        form: how its points are written.
        last: what was kept of the curve before this one; it is brought up to date.
    """
    from lxml import etree

    step = form.path.steps[0]
    if len(form.path.steps) != 1 or step.conditions:
        return None
    first = next(curve.iterchildren(step.tag), None)
    if first is None:
        return None
    slots = slots_of(first, form)
    if slots is None:
        return None
    text = etree.tostring(curve, encoding="unicode", with_tail=False)
    pieces = text[text.index(">") + 1 : text.rindex("<")].replace("<", ">").split(">")
    begin = _begin(pieces, slots)
    count = int(_counter(step.tag)(curve))
    columns = slots.columns(pieces, begin, count, {} if last is None else last)
    if columns is None:
        return None
    end = begin + count * slots.period
    alone = not "".join(pieces[:begin]).strip() and not "".join(pieces[end:]).strip()
    return Points(
        columns.get("frequency", ()),
        columns["value"],
        _lines(curve, step.tag, count),
        alone,
        step.tag,
    )


def _begin(pieces: Sequence[str], slots: Slots) -> int:
    """Where the first point begins; the tags are at the odd places of the list."""
    depth = 0
    for position in range(1, len(pieces), 2):
        tag = pieces[position]
        if depth == 0 and slots.begins(tag):
            return position
        depth += -1 if tag.startswith("/") else 0 if tag.endswith("/") else 1
    return len(pieces)


def _lines(curve: "_Element", tag: str, count: int) -> Callable[[int], int]:
    """The lines of points: as a rule, where one has a line, each has one."""
    first = next(curve.iterchildren(tag)).sourceline or 0
    last = next(curve.iterchildren(tag, reversed=True)).sourceline or 0
    if last - first in (0, count - 1):
        step = 1 if last > first else 0
        return lambda position: first + position * step
    lines = [point.sourceline or 0 for point in curve.iterchildren(tag)]
    return lines.__getitem__


def _texts(points: Sequence["_Element"], path: Path) -> list[str]:
    return [(text_at(point, path) or "").strip() for point in points]


@lru_cache(maxsize=64)
def _counter(tag: str) -> "Callable[[_Element], float]":
    """Counts the children of a name."""
    from lxml import etree

    uri, _, local = tag.removeprefix("{").rpartition("}")
    counter: Callable[[_Element], float]
    if uri:
        counter = etree.XPath(f"count(n:{local})", namespaces={"n": uri})
    else:
        counter = etree.XPath(f"count({local})")
    return counter
