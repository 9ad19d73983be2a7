"""Frequencies in even steps that XML describes by a start, a step and a count or an end."""

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect import runs
from sweepbook.numerals import Notation
from sweepbook_plugins.xml.draft.shape import Axis
from sweepbook_plugins.xml.draft.tests import telling
from sweepbook_plugins.xml.draft.tree import attributes, elements_in, local, local_name, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_PREFIX = re.compile(r"[^@:]+:")


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
    found = [of for of in elements_in(axis.element) if local_name(of) == tag]
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
    cells = {f"@{local(name)}": text.strip() for name, text in attributes(element).items()}
    cells |= {local_name(child): text_of(child) for child in telling(element)}
    said = {role: cells.get(_PREFIX.sub("", of), "") for role, of in axis.run.items()}
    mark = "," if any("," in text for text in said.values()) else "."
    notation = Notation(mark)
    start, step = (runs.number(said.get(role, ""), role, notation) for role in ("start", "step"))
    runs.rising(step)
    if said.get("stop"):
        count = runs.count_to(start, step, runs.number(said["stop"], "stop", notation))
    elif said.get("count"):
        count = runs.count(said["count"])
    return _Run(start, step, count, mark)
