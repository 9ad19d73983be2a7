"""Frequencies in even steps that XML describes by a start, a step and a count or an end."""

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect import runs
from sweepbook.numerals import Notation
from sweepbook_plugins.xml.draft.shape import Axis
from sweepbook_plugins.xml.draft.tree import local, local_name

if TYPE_CHECKING:
    from lxml.etree import _Element


class _Run(NamedTuple):
    """One run.

    Attributes:
        start, step: as they stand there.
        points: how many frequencies there are.
        mark: of decimals.
    """

    start: Decimal
    step: Decimal
    points: int
    mark: str


def holders(axis: Axis) -> "list[_Element]":
    """The elements that describe an axis: its own, or those in it where it may hold more."""
    tag = axis.run.get("path", "").rpartition(":")[2]
    found = [of for of in axis.element if local_name(of) == tag]
    return found or [axis.element]


def expanded(axes: Sequence[Axis], count: int) -> list[str]:
    """The frequencies of the first axis whose runs come to so many points; none if none does."""
    for axis in axes:
        try:
            said = [_run(axis, of, count) for of in holders(axis)] if axis.run else []
        except ValueError:
            continue
        if said and sum(of.points for of in said) == count:
            return [text for of in said for text in _texts(of)]
    return []


def _texts(run: _Run) -> list[str]:
    return runs.texts(run.start, run.step, run.points, run.mark)


def _run(axis: Axis, element: "_Element", count: int) -> _Run:
    """What an element says of its frequencies, of which there are `count` unless it says so.

    Raises:
        ValueError: it describes no run.
    """
    cells = {local(str(key)): str(text) for key, text in element.attrib.items()}
    said = {
        role: cells.get(of.strip("@").rpartition(":")[2], "").strip()
        for role, of in axis.run.items()
    }
    mark = "," if any("," in text for text in said.values()) else "."
    notation = Notation(mark)
    start, step = (runs.number(said.get(role, ""), role, notation) for role in ("start", "step"))
    runs.rising(step)
    if said.get("stop"):
        count = runs.count_to(start, step, runs.number(said["stop"], "stop", notation))
    elif said.get("count"):
        count = runs.count(said["count"])
    return _Run(start, step, count, mark)
