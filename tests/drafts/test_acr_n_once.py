"""ACR-N that is given once for two pairs tells a draft no order of them.

By definition ACR-N is NEXT less the insertion loss of the disturbed pair (ISO/IEC 11801-1,
recalled); that some sources give the worse of both orders alone is common practice, no source.
"""

from itertools import combinations, permutations

import numpy as np

from sweepbook.draft.curve_facts import Measured, orders
from sweepbook.draft.parsed import Named

PAIRS = ("1-2", "3-6", "4-5", "7-8")
MHZ = np.linspace(1.0, 500.0, 60)
LOSS = {pair: (1.0 + 0.02 * row) * 1.2 * np.sqrt(MHZ) for row, pair in enumerate(PAIRS)}
TALK = {two: 95.0 + row - 20.0 * np.log10(MHZ) for row, two in enumerate(combinations(PAIRS, 2))}
Curve = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def curve(parameter: str, pairs: tuple[str, ...], end: str | None, db: Curve) -> Measured:
    return Measured(Named(parameter, pairs, end), list(MHZ), np.round(db, 2).tolist())


def measured() -> list[Measured]:
    """Insertion loss and NEXT; each pair loses more than the one before it at every frequency."""
    found = [curve("insertion_loss", (pair,), None, db) for pair, db in LOSS.items()]
    return found + [curve("next", two, "near", db) for two, db in TALK.items()]


def test_the_worse_of_both_orders_tells_none_whatever_it_is_called() -> None:
    for turned in (False, True):
        once = [
            curve("acr_n", (b, a) if turned else (a, b), "near", db - np.maximum(LOSS[a], LOSS[b]))
            for (a, b), db in TALK.items()
        ]
        assert not list(orders(measured() + once, []))


def test_both_orders_tell_which_pair_comes_first() -> None:
    for first in ("disturbing", "disturbed"):
        both = []
        for i, k in permutations(PAIRS, 2):
            talk = TALK[min(i, k), max(i, k)]
            named = (i, k) if first == "disturbing" else (k, i)
            both.append(curve("acr_n", named, "near", talk - LOSS[k]))
        (found,) = orders(measured() + both, [])
        assert (found.first, found.sure) == (first, False)
