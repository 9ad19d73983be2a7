"""Which of two pairs comes first, by ACR-F of both ends, on the links of the demo's model.

FEXT is reciprocal (circuit theory; the model's S-parameters are held to it by tests/demo), so that
ACR-F from 1-2 to 3-6 at one end and that from 3-6 to 1-2 at the other differ by the two insertion
losses. By definition ACR-F is FEXT less the insertion loss of the disturbed pair (ISO/IEC 11801-1).
"""

from collections.abc import Sequence
from functools import cache

import numpy as np
import pytest

from sweepbook.draft.curve_facts import Measured, orders
from sweepbook.draft.parsed import Named
from sweepbook_demo.parts import JACK_6A, WEFT_6A
from sweepbook_demo.plant import CablePiece, solve

PAIRS = ("1-2", "3-6", "4-5", "7-8")
MHZ = np.linspace(1.0, 500.0, 60)
Real = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@cache
def losses(metres: float) -> tuple[Real, Real]:
    """Insertion loss and FEXT to either end, dB: float64[end, disturbed, disturbing, n]."""
    pieces = (JACK_6A, CablePiece(WEFT_6A, metres), JACK_6A)
    found = solve(pieces, MHZ, seed=11)
    db = [-20.0 * np.log10(np.abs(of)) for of in (found.s12, found.s21)]
    both = np.moveaxis(np.array(db), 1, -1)
    return np.array([both[1, at, at] for at in range(4)]), both


def measured(
    metres: float, *, first: str, less: str = "disturbed", noise: float = 0.02
) -> list[Measured]:
    """Insertion loss, and ACR-F of both ends with the pairs in an order, to hundredths of a dB."""
    loss, talk = losses(metres)
    random = np.random.default_rng(3)

    def curve(parameter: str, pairs: Sequence[str], end: str | None, db: Real) -> Measured:
        value = np.round(db + noise * random.standard_normal(db.size), 2)
        return Measured(Named(parameter, tuple(pairs), end), list(MHZ), value.tolist())

    made = [curve("insertion_loss", [pair], None, loss[at]) for at, pair in enumerate(PAIRS)]
    for end, side in enumerate(("near", "far")):
        for at, disturbed in enumerate(PAIRS):
            for other, disturbing in enumerate(PAIRS):
                if at == other:
                    continue
                taken = loss[at if less == "disturbed" else other]
                pairs = (
                    [disturbing, disturbed] if first == "disturbing" else [disturbed, disturbing]
                )
                made.append(curve("acr_f", pairs, side, talk[end, at, other] - taken))
    return made


@pytest.mark.parametrize("first", ["disturbing", "disturbed"])
@pytest.mark.parametrize("metres", [30.0, 85.0])
def test_acr_f_of_both_ends_tells_the_order_of_pairs(first: str, metres: float) -> None:
    (found,) = orders(measured(metres, first=first), [])
    assert found.first == first
    assert not found.sure  # a tester may subtract the disturbing pair's loss


def test_one_that_takes_off_the_other_loss_looks_the_other_way_round() -> None:
    """So it is an assumption and no proof."""
    (found,) = orders(measured(85.0, first="disturbing", less="disturbing"), [])
    assert found.first == "disturbed"


def test_noise_tells_nothing() -> None:
    assert not list(orders(measured(30.0, first="disturbing", noise=0.5), []))
    swapped = [
        one._replace(name=one.name._replace(end="near"))
        for one in measured(85.0, first="disturbing")
        if one.name.end != "near"
    ]
    assert not list(orders(swapped, []))
