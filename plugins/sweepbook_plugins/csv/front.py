"""Rows and lines of frequencies that begin with numbers which are none."""

from collections.abc import Sequence

from sweepbook.dialect import front
from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.raw import Fault
from sweepbook_plugins.csv.axes import Axis

Sized = tuple[Axis, int]
"""Frequencies, and how many values a curve over them has."""


def refused(curves: Sequence[Sized], numbers: Numbers, where: str) -> dict[int, Fault]:
    """What to say of frequencies none of whose curves goes on to the last of them.

    No tester has a use for more frequencies than its longest curve has values: where they stand in
    the test itself and are a few more, what they begin with may be none, and each value would be
    read at another frequency than its own.

    Args:
        curves: those of one test.
        numbers: how numbers are written.
        where: key of the curves in the dialect.

    Returns:
        a fault for each such list of frequencies, by the identity of its texts.
    """
    longest: dict[int, list[int]] = {}
    known = {}
    for axis, values in curves:
        known[id(axis.texts)] = axis
        longest.setdefault(id(axis.texts), []).append(values)
    found = {}
    for key, axis in known.items():
        if none := _in_front(axis, max(longest[key]), numbers):
            said = _told(axis, none, longest[key], where)
            found[key] = Fault(axis.place_of(0).partition(", ")[0], said)
    return found


def _in_front(axis: Axis, longest: int, numbers: Numbers) -> int:
    """How many numbers seem to stand in front; 0 for none."""
    more = len(axis.texts) - longest
    if more <= 0:
        return 0  # every one has a value of some curve: the core looks for a count among them
    if axis.of_test and more <= front.MOST:
        return more
    return front.counting(axis.texts, numbers.axis(axis.texts, axis.place_of).values)


def _told(axis: Axis, none: int, values: Sequence[int], where: str) -> str:
    return (
        f"{len(axis.texts)} numbers stand here for frequencies, and the longest of {len(values)} "
        f"curve{'s' if len(values) > 1 else ''} has {max(values)} values: what they begin with, "
        f"{', '.join(map(repr, axis.texts[:none]))}, seems to be no frequency, if no values are "
        f"lacking; a section with the mark of this line and `frequencies` says where they begin; "
        f"see csv.sections, {where}.frequency and {where}.values"
    )
