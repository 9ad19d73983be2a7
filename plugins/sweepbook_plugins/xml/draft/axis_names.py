"""What axes are called in XML nobody has described yet, by which their unit may be told."""

from collections.abc import Sequence

from sweepbook.draft.numbers import is_numeric
from sweepbook_plugins.xml.draft.shape import Axis, Curve
from sweepbook_plugins.xml.draft.tests import LONGEST_WORD
from sweepbook_plugins.xml.draft.tree import attributes, elements_in, local_name, text_of


def ids(axes: Sequence[Axis]) -> set[str]:
    """What axes are called in their attributes."""
    return {text for axis in axes for text in attributes(axis.element).values()}


def axis_names(curves: Sequence[Curve], axes: Sequence[Axis]) -> list[str]:
    """What axes, the elements of frequencies and attributes of runs are called."""
    found = [
        text
        for axis in axes
        for text in attributes(axis.element).values()
        if len(text) <= LONGEST_WORD
    ]
    found += [local_name(axis.element) for axis in axes]
    beside = (text_of(child) for axis in axes if axis.texts for child in elements_in(axis.element))
    found += [text for text in beside if len(text) <= LONGEST_WORD and not is_numeric(text)]
    found += [axis.held.strip("@").rpartition(":")[2] for axis in axes if axis.held != "."]
    found += [path for curve in curves[:1] for path in curve.run.values()]
    for curve in curves[:1]:
        found += [curve.frequency.rpartition("/")[2]] if curve.frequency else []
        found += _said_beside(curve)
        found += [curve.point[1].rpartition("@")[2]] if curve.point else []
    return found


def _said_beside(curve: Curve) -> list[str]:
    """What a list of frequencies beside a curve says in attributes, such as their unit."""
    up, _, name = curve.frequency.rpartition("/")
    parent = curve.element.getparent()
    beside = elements_in(parent) if parent is not None and up == ".." else []
    axes = (one for one in beside if local_name(one) == name.rpartition(":")[2])
    return [text for one in axes for text in attributes(one).values() if len(text) <= LONGEST_WORD]
