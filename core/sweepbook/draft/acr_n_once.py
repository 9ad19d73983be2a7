"""ACR-N that an export gives once for two pairs, so that nothing depends on which comes first."""

from collections.abc import Collection, Iterator, Sequence
from itertools import combinations
from statistics import fmean

from sweepbook.draft.curve_facts import Measured
from sweepbook.draft.document import ASSUMED, FOUND, Note
from sweepbook.draft.parsed import Named
from sweepbook.draft.trade_words import PIN_PAIRS

_AGREES_DB = 0.06
"""Mean difference from its parts, each rounded to hundredths."""
_PAIRS = frozenset(map(frozenset, combinations(PIN_PAIRS, 2)))
_OF_BOTH = "ACR-N comes once for two pairs: NEXT less the greater of their losses, in either order"
_ALONE = (
    "ACR-N comes once for two pairs, and no other crosstalk of two: its margins are the same in "
    "both orders"
)

Values = dict[Named, list[float | None]]


def told(
    curves: Sequence[Measured], named: Collection[str], turned: Collection[str]
) -> Note | None:
    """What makes the order of pairs none; None where it may be one.

    Args:
        curves: of one test, on shared axes.
        named: parameters of two pairs that the export has words for.
        turned: parameters with a minus sign.
    """
    values: Values = {
        curve.name: [
            -of if of is not None and curve.name.parameter in turned else of for of in curve.value
        ]
        for curve in curves
    }
    if not {*named} <= {"next", "acr_n"} or not _is_once(values):
        return None
    if "next" not in named:
        return Note(ASSUMED, _ALONE)
    misses = list(_misses(values))
    return Note(FOUND, _OF_BOTH) if misses and fmean(misses) <= _AGREES_DB else None


def _is_once(values: Values) -> bool:
    """Whether all six of an end are there, and none the other way round."""
    names = [name for name in values if name.parameter == "acr_n" and len(name.pairs) == 2]
    both = any(name._replace(pairs=name.pairs[::-1]) in values for name in names)
    by_end: dict[str | None, set[frozenset[str]]] = {}
    for name in names:
        by_end.setdefault(name.end, set()).add(frozenset(name.pairs))
    return bool(by_end) and not both and all(some == _PAIRS for some in by_end.values())


def _misses(values: Values) -> Iterator[float]:
    """How far ACR-N is from NEXT less the greater of the losses of both pairs, in dB."""
    for name, ratio in values.items():
        if name.parameter != "acr_n" or len(name.pairs) != 2:
            continue
        one, other = (values.get(Named("insertion_loss", (pair,), None), []) for pair in name.pairs)
        talk = values.get(name._replace(parameter="next")) or values.get(
            name._replace(parameter="next", pairs=name.pairs[::-1]), []
        )
        if len({*map(len, (ratio, one, other, talk))}) > 1:
            continue
        for a, b, c, d in zip(ratio, one, other, talk, strict=True):
            if a is not None and b is not None and c is not None and d is not None:
                yield abs(d - max(b, c) - a)
