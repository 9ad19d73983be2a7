"""What a word for a parameter may mean that the trade does not know, by the curves it names."""

from collections.abc import Mapping, Sequence
from itertools import combinations
from statistics import fmean

from sweepbook.draft.curve_facts import Measured, rises

_LEAST_NS = 5.0
_SPREAD = 1.25
"""A delay falls by some percent from 1 MHz on, no more: common practice, no source."""
_FAR_FROM_NEAR_DB = 50.0
"""At the lowest frequencies a return loss is below this and a crosstalk loss of any kind above:
common practice, no source."""


def guess(groups: Mapping[str, Sequence[Measured]], taken: Sequence[str]) -> dict[str, str]:
    """The parameter of each word, as far as number of pairs, ends and course of curves show it.

    Args:
        groups: curves by the word that names their parameter.
        taken: parameters that other words stand for.

    Returns:
        word of the record by word of the export; each is an assumption.
    """
    found: dict[str, str] = {}
    for word, curves in groups.items():
        parameter = _kind(curves)
        if parameter and parameter not in taken and parameter not in found.values():
            found[word] = parameter
    return found


def _kind(curves: Sequence[Measured]) -> str | None:
    sizes = {len(curve.name.pairs) for curve in curves}
    starts = [abs(v) for curve in curves for v in curve.value[:3] if v is not None]
    if not starts:
        return None
    if sizes == {1}:
        if all(rises(curve) for curve in curves):
            return "insertion_loss"
        if all(map(_level, curves)):
            return "propagation_delay"
        return "return_loss" if fmean(starts) < _FAR_FROM_NEAR_DB else None
    if sizes == {2}:
        pairs = {curve.name.pairs for curve in curves}
        both = sum((b, a) in pairs and (a, b) in pairs for a, b in _sorted(pairs))
        return "next" if not both else "fext"
    return None


def _level(curve: Measured) -> bool:
    """Whether values hardly change and are as large as the nanoseconds of a few metres."""
    values = [value for value in curve.value if value is not None]
    least, most = min(values, default=0.0), max(values, default=0.0)
    return least > _LEAST_NS and most <= _SPREAD * least and curve.name.end is None


def _sorted(pairs: set[tuple[str, ...]]) -> set[tuple[str, str]]:
    names = sorted({name for two in pairs for name in two})
    return set(combinations(names, 2)) & {(a, b) for two in pairs for a, b in [sorted(two)]}
