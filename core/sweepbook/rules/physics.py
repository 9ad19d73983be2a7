"""Rules about figures that no link can have, or hardly."""

from collections.abc import Iterator

import numpy as np

from sweepbook.judging.curves import OWN_LOSSES
from sweepbook.judging.phrases import name
from sweepbook.judging.twins import flat
from sweepbook.judging.working import DoubtKind
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.words import where

MEASURED = ("insertion_loss", *OWN_LOSSES)


def figures_are_possible(case: Case) -> Iterator[Hit]:
    """Yield every figure that is against physics, by itself or beside another."""
    yield from _doubts(case, DoubtKind.IMPOSSIBLE)


def figures_agree(case: Case) -> Iterator[Hit]:
    """Yield every two figures of which no cable has both, and every one that no tester reads."""
    yield from _doubts(case, DoubtKind.CONTRADICTION)


def curves_are_each_their_own(case: Case) -> Iterator[Hit]:
    """Yield every set of curves that are one measurement under several names."""
    yield from _doubts(case, DoubtKind.COPY)


def pairs_are_in_order(case: Case) -> Iterator[Hit]:
    """Yield ACR-F of both ends that goes with the other order of its pairs."""
    yield from _doubts(case, DoubtKind.ORDER)


def figures_are_plausible(case: Case) -> Iterator[Hit]:
    """Yield every figure outside what is usual, and an NVP that is."""
    yield from _doubts(case, DoubtKind.IMPLAUSIBLE)
    nvp = case.document["link"].get("cable", {}).get("nvp")
    least, most = (case.practice.value(one) for one in ("nvp_lowest", "nvp_highest"))
    if nvp is not None and not least <= nvp <= most:
        text = f"an NVP of {nvp:g} is outside the usual {least:g} to {most:g}"
        yield Hit("$.link.cable.nvp", {"problem": text})


def temperature_is_of_a_building(case: Case) -> Iterator[Hit]:
    """Yield an ambient temperature outside what people and instruments work in."""
    ambient = case.document["test"].get("ambient_c")
    least, most = (case.practice.value(f"ambient_{side}_c") for side in ("lowest", "highest"))
    if ambient is not None and not least <= ambient <= most:
        yield Hit("$.test.ambient_c", {"ambient_c": ambient, "least_c": least, "most_c": most})


def curves_are_not_flat(case: Case, least_points: int) -> Iterator[Hit]:
    """Yield, once a parameter, the measured curves with one and the same value at every point.

    Args:
        case: the record, judged.
        least_points: points that a curve must have to be looked at.
    """
    for parameter in MEASURED:
        curves = case.needed_working.measured_curves.get(parameter)
        rows = [] if curves is None else flat(curves, least_points)
        if curves is None or not rows:
            continue
        key, values = curves.keys[rows[0]], curves.value[rows[0]]
        yield Hit(
            f"$.results.sweeps[{curves.sweeps[rows[0]][0]}]",
            {
                "parameter": name(parameter),
                "curves": f"{len(rows)} curve{'s' if len(rows) > 1 else ''}",
                "where": where(key.end, key.pairs),
                "value_db": float(values[~np.isnan(values)][0]),
                "points": int(np.count_nonzero(~np.isnan(values))),
            },
        )


def _doubts(case: Case, kind: DoubtKind) -> Iterator[Hit]:
    for doubt in case.needed_working.doubts:
        if doubt.kind is kind:
            yield Hit(doubt.path, {"problem": doubt.text})
