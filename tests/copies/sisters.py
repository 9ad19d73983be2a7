"""Links of one cable, length and connectors, by the demo's transmission-line model."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from sweepbook.judging.bands import Given
from sweepbook.judging.curves import Curves, Key
from sweepbook_demo.cascade import chain, scattering
from sweepbook_demo.grid import standard_grid_khz
from sweepbook_demo.instrument import RANGE_DB, losses
from sweepbook_demo.parts import JACK_6A, WEFT_6A
from sweepbook_demo.plant import CablePiece, cable_run, connector_run

F64 = NDArray[np.float64]
PARAMETERS = ("return_loss", "next")


@cache
def sister(length_m: float, seed: int, occasion: int = 0) -> dict[str, Curves]:
    """Return loss and NEXT of one; of two seeds only the cable's ripple and the noise differ.

    Args:
        length_m: of the cable; the jacks at both ends are the same for every seed.
        seed: decides ripple and noise.
        occasion: another one is another test of the same link.
    """
    frequency = standard_grid_khz() / 1000.0
    runs = [
        connector_run(JACK_6A, frequency, 77),
        cable_run(CablePiece(WEFT_6A, length_m), frequency, 1000 + seed),
        connector_run(JACK_6A, frequency, 79),
    ]
    noise = np.random.RandomState(5000 + seed + 100_000 * occasion)
    read = losses(scattering(chain(runs, frequency)), frequency, noise)
    return {
        parameter: curves(
            frequency,
            {
                Key(parameter, curve.end, curve.pairs): values
                for curve, values in read.items()
                if curve.parameter == parameter
            },
        )
        for parameter in PARAMETERS
    }


def curves(frequency: F64, values: dict[Key, F64], decimals: int = 2) -> Curves:
    """Curves as a tester prints them."""
    half = 0.5 * 10.0**-decimals
    value = np.round(np.array(list(values.values())), decimals)
    clipped = value >= RANGE_DB
    return Curves(
        next(iter(values)).parameter,
        tuple(values),
        frequency,
        value,
        Given(value - half, np.where(clipped, np.inf, value + half)),
        tuple((row,) for row in range(len(value))),
        np.zeros(len(value), dtype=np.bool_),
    )
