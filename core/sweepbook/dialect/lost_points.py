"""Curves with a point or two fewer than others of their test have at the same frequencies."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Fault, RawCurve

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MOST_LOST = 3
"""Points that a curve may lack; one that lacks more is measured at other frequencies."""
LEAST = 8
"""Points of a curve that is looked at: with fewer the frequencies are alike by chance."""

Axes = Mapping[str, "NDArray[np.float64]"]


def notes(curves: Sequence[tuple[RawCurve, str]], axes: Axes) -> Iterator[Fault]:
    """Yield one note for each axis that lacks frequencies of another one.

    A frequency is lacking between others. Where it is the first or the last, the curve may end
    there, unless another one of the same parameter does not.

    Args:
        curves: each with the id of its axis.
        axes: frequencies in MHz by id.
    """
    if len(axes) < 2:
        return
    by_axis: dict[str, list[RawCurve]] = {}
    for curve, axis in curves:
        by_axis.setdefault(axis, []).append(curve)
    for short, lacking in by_axis.items():
        for whole, others in by_axis.items():
            missing = _missing(axes[short], axes[whole])
            if missing is not None and (found := _alike(lacking, others, axes[short], missing)):
                yield _note(found, lacking, axes[short], missing, axes[whole].size)
                break


def _missing(
    axis: "NDArray[np.float64]", whole: "NDArray[np.float64]"
) -> "NDArray[np.float64] | None":
    """What an axis lacks of another one that has all of it and a few frequencies more."""
    import numpy as np

    more = whole.size - axis.size
    if not (0 < more <= MOST_LOST and axis.size >= LEAST):
        return None
    missing = whole[~np.isin(whole, axis)]
    return missing if missing.size == more else None


def _alike(
    lacking: Sequence[RawCurve],
    others: Sequence[RawCurve],
    axis: "NDArray[np.float64]",
    missing: "NDArray[np.float64]",
) -> tuple[RawCurve, RawCurve] | None:
    """A curve and another one that shows that it lacks points; None where none does."""
    if ((missing > axis.min()) & (missing < axis.max())).any():
        return lacking[0], others[0]
    same = ((one, of) for one in lacking for of in others if _parameter(one) == _parameter(of))
    return next(same, None)


def _parameter(curve: RawCurve) -> str:
    return curve.name.parameter


def _note(
    found: tuple[RawCurve, RawCurve],
    lacking: Sequence[RawCurve],
    axis: "NDArray[np.float64]",
    missing: "NDArray[np.float64]",
    count: int,
) -> Fault:
    curve, other = found
    position = min(int((axis < missing[0]).sum()), axis.size - 1)
    more = f" (the same in {len(lacking)} curves)" if len(lacking) > 1 else ""
    return Fault(
        curve.axis_place_of(position),
        f"the curve '{curve.name}' has {axis.size} points where '{other.name}' has {count}: it "
        f"lacks {', '.join(f'{of:g}' for of in missing)} MHz and has all others{more}; the points "
        "are kept as they are; if one was lost, export the test again",
    )
