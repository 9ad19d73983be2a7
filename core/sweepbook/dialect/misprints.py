"""One number out of many that does not fit the others: it is named, with its place."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.marks import Mark, outside_gaps
from sweepbook.dialect.raw import Fault, RawCurve

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_MANY = 8
"""Beside so many others one number may be a misprint; among fewer it may be as right as they."""


def out_of_line(axis: "NDArray[np.float64]") -> int | None:
    """The position of the one frequency without which all others rise; None if there is none.

    Of two neighbours that are interchanged either may be it, and of few frequencies nothing can be
    said.
    """
    falls = (axis[1:] < axis[:-1]).nonzero()[0]
    if falls.size != 1 or not (axis[1:] != axis[:-1]).all() or axis.size < _MANY:
        return None
    at = int(falls[0]) + 1
    without = [
        one for one in (at - 1, at) if one in (0, axis.size - 1) or axis[one - 1] < axis[one + 1]
    ]
    return without[0] if len(without) == 1 else None


def lone_frequency(frequencies: Sequence[str], at: int, falls_at: int) -> str:
    """What to say of the one frequency that is out of line.

    Args:
        frequencies: all of them, as texts.
        at: its position.
        falls_at: the position at which the frequencies fall.
    """
    texts = [text.strip() for text in frequencies]
    beside = " and ".join(texts[one] for one in (at - 1, at + 1) if 0 <= one < len(texts))
    return (
        f"the frequency falls at {texts[falls_at]}: of {len(texts)} frequencies {texts[at]}, "
        f"beside {beside}, is the only one out of line; the points are kept as they are. Mend it "
        "in the export, or export again"
    )


def beyond(
    curve: RawCurve,
    values: "NDArray[np.float64]",
    marks: Sequence[Mark],
    furthest: float,
    largest: float,
) -> Fault:
    """What to say of values that nothing measures: of a few of many they are named themselves.

    Args:
        curve: of which.
        values: in dB, float64[n], those outside gaps.
        marks: of the curve; where the gaps are.
        furthest: what they reach, or what one of them is at least.
        largest: what can be measured.
    """
    there = (abs(values) > largest).nonzero()[0]
    if 0 < there.size * _MANY <= values.size:
        worst = int(there[abs(values[there]).argmax()])
        at = outside_gaps(marks, range(len(curve.value)))[worst]
        more = f", as would {there.size - 1} more" if there.size > 1 else ""
        return Fault(
            curve.place_of(at),
            f"{curve.value[at].strip()!r} of '{curve.name}' would be {furthest:g} dB, which "
            f"nothing measures{more}, of {values.size} values: mend it in the export, or export "
            "again; if it is meant so, see numbers.decimal and numbers.thousands",
        )
    return Fault(
        curve.place_of(0),
        f"'{curve.name}' would reach {furthest:g} dB, which nothing measures; "
        "see units.loss, numbers.decimal and numbers.thousands",
    )
