"""One element a point: all points of a curve taken at once, or one by one where they differ.

An object for every point would cost more than all the rest of it. So a curve is written out again
by the library, which is quick, and the markup that all points share is taken out of its text. Where
one differs in anything else, the short way says no, and every point is looked at by itself.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.xml.layout import PointForm
from sweepbook_plugins.xml.paths import Path
from sweepbook_plugins.xml.stencil import Stencil, stencil_of
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


def read(curve: "_Element", form: PointForm, place: Callable[[], str]) -> Points:
    """The points in a curve element; there may be none.

    Args:
        curve: the element.
        form: how its points are written.
        place: where it stands, for messages.

    Raises:
        Fault: a point holds its value or its frequency twice.
    """
    if next(curve.iterchildren(), None) is None:
        return Points((), (), lambda position: 0)
    points = quick(curve, form)
    if points is not None:
        return points
    found = every(curve, form.path)
    refuse_doubles(found, form.value, "the value", place)
    if form.frequency:
        refuse_doubles(found, form.frequency, "the frequency", place)
    frequency = _texts(found, form.frequency) if form.frequency else []
    lines = [point.sourceline or 0 for point in found]
    return Points(frequency, _texts(found, form.value), lines.__getitem__)


def quick(curve: "_Element", form: PointForm) -> Points | None:
    """The points taken at once; None where they are not alike.

    Args:
        curve: the element of the curve.
        form: how its points are written.
    """
    from lxml import etree

    step = form.path.steps[0]
    if len(form.path.steps) != 1 or step.conditions:
        return None
    first = next(curve.iterchildren(step.tag), None)
    if first is None:
        return None
    last, names = _last(form), tuple(curve.nsmap.items())
    known = last.get(names)
    stencil = known or stencil_of(first, form)
    if stencil is None:
        return None
    text = etree.tostring(curve, encoding="unicode", with_tail=False).encode()
    columns = stencil.columns(text)
    if columns is None and known is not None:
        stencil = stencil_of(first, form)
        columns = stencil.columns(text) if stencil else None
    if stencil is None or columns is None:
        return None
    if stencil is not known:
        last.clear()
        last[names] = stencil
    count, alone = len(columns["value"]), not columns[""][0].strip()
    if not alone and count != counter(step.tag)(curve):
        return None
    frequency = columns.get("frequency", ())
    return Points(frequency, columns["value"], lines_of(curve, step.tag, count), alone, step.tag)


@lru_cache(maxsize=64)
def _last(form: PointForm) -> dict[tuple[tuple[str | None, str], ...], Stencil]:
    """The markup of the last points of a form, by the names of its prefixes.

    Most curves of a file have it alike, and to work it out takes as long as to cut one apart.
    """
    del form
    return {}


def refuse_doubles(
    points: "Sequence[_Element]", path: Path, called: str, place: Callable[[], str]
) -> None:
    """Refuse points that hold a text twice: nobody could tell which of them is meant.

    Raises:
        Fault: there is one.
    """
    if not path.steps:
        return
    for at, point in enumerate(points, 1):
        if len(every(point, path)) > 1:
            where = f"line {point.sourceline}, {place().partition(', ')[2]}, point {at}"
            raise Fault(
                where, f"{called} stands there twice; choose one with [@attribute=value] or [1]"
            )


def lines_of(curve: "_Element", tag: str, count: int) -> Callable[[int], int]:
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
def counter(tag: str) -> "Callable[[_Element], float]":
    """Counts the children of a name."""
    from lxml import etree

    uri, _, local = tag.removeprefix("{").rpartition("}")
    counter: Callable[[_Element], float]
    if uri:
        counter = etree.XPath(f"count(n:{local})", namespaces={"n": uri})
    else:
        counter = etree.XPath(f"count({local})")
    return counter
