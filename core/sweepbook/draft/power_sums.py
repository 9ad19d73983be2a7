"""Words for power sums that the trade does not know: a word for crosstalk with something beside it.

So "NEXT total" is PSNEXT where its curves, of one pair each, are the sums of those of NEXT. The
worst of them for each pair would be called so too, so that the numbers have to show it.
"""

import math
from collections.abc import Mapping, Sequence
from statistics import fmean

from sweepbook.draft.curve_facts import Measured, negative
from sweepbook.draft.trade_words import POWER_SUMS

_AGREES_DB = 0.15
"""Mean difference of a sum from its parts, each rounded to tenths."""
_DISTURBING = 3


def guess(groups: Mapping[str, Sequence[Measured]], curves: Sequence[Measured]) -> dict[str, str]:
    """The power sum that each word stands for, as far as its curves show it.

    Args:
        groups: curves that are named after crosstalk and have one pair each, by the whole word.
        curves: those of crosstalk between two pairs.

    Returns:
        word of the record by word of the export.
    """
    turned = negative(curves)
    found: dict[str, str] = {}
    for word, some in groups.items():
        (parameter, *more) = {one.name.parameter for one in some}
        if more or parameter not in POWER_SUMS or POWER_SUMS[parameter] in found.values():
            continue
        sign = -1.0 if parameter in turned else 1.0
        parts = [one for one in curves if one.name.parameter == parameter]
        if any(_add_up(some, parts, sign, at) for at in ((0, 1), (0,), (1,))):
            found[word] = POWER_SUMS[parameter]
    return found


def _add_up(
    sums: Sequence[Measured], parts: Sequence[Measured], sign: float, at: Sequence[int]
) -> bool:
    """Whether curves are the sums of those whose pair stands at one of these places of two."""
    differences: list[float] = []
    for one in sums:
        (pair,) = one.name.pairs
        some = [
            part
            for part in parts
            if part.name.end == one.name.end and pair in (part.name.pairs[of] for of in at)
        ]
        if len(some) != _DISTURBING or any(part.frequency != one.frequency for part in some):
            return False
        for goal, *row in zip(one.value, *(part.value for part in some), strict=True):
            numbers = [sign * value for value in row if value is not None]
            if goal is not None and len(numbers) == _DISTURBING:
                power = sum(10.0 ** (-value / 10.0) for value in numbers)
                differences.append(abs(-10.0 * math.log10(power) - sign * goal))
    return bool(differences) and fmean(differences) <= _AGREES_DB
