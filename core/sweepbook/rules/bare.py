"""Rules about records that hold single figures where curves are due, and about figures alike."""

from collections.abc import Iterator

from sweepbook.judging.phrases import name
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

UNITS = {"propagation_delay": "delay_ns", "dc_loop_resistance": "resistance_ohm"}


def sweeps_are_there(case: Case) -> Iterator[Hit]:
    """Yield a record without any sweep."""
    results = case.document["results"]
    if not results.get("sweeps"):
        stated = len(case.document.get("stated", {}).get("items", ()))
        yield Hit("$.results", {"figures": len(results.get("scalars", ())), "stated": stated})


def pairs_have_figures_of_their_own(case: Case, least_digits: int) -> Iterator[Hit]:
    """Yield a delay or resistance that is the same, to the last digit, on all four pairs.

    Args:
        case: the record, judged.
        least_digits: significant digits that the figures must have to tell anything.
    """
    scalars = case.document["results"].get("scalars", ())
    for parameter, member in UNITS.items():
        found = {
            tuple(one["pairs"]): (one[member], one["decimals"])
            for one in scalars
            if one["parameter"] == parameter and len(one["pairs"]) == 1 and "bound" not in one
        }
        if len(found) != 4 or len(set(found.values())) != 1:
            continue
        value, decimals = next(iter(found.values()))
        if abs(value) * 10.0**decimals >= 10.0 ** (least_digits - 1):
            position = next(at for at, one in enumerate(scalars) if one["parameter"] == parameter)
            yield Hit(
                f"$.results.scalars[{position}]",
                {"parameter": name(parameter), "value": value},
            )
