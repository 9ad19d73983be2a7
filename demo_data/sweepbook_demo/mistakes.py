"""Mistakes on paper: what people and settings do to an export after a good measurement.

Each takes a sheet and gives the spoiled one. README.md lists where they were planted.
"""

from dataclasses import replace

import numpy as np

from sweepbook_demo.curves import PAIRS, Curve, derive, fext_of, power_sum
from sweepbook_demo.sheet import Sheet, printed
from sweepbook_demo.tester import Item, Statement, Worst


def state_verdict(sheet: Sheet, verdict: str) -> Sheet:
    """State another verdict, overall and for every parameter that says otherwise."""
    items = {
        name: Item(verdict if verdict == "pass" else item.verdict, item.worst)
        for name, item in sheet.stated.items.items()
    }
    return replace(sheet, stated=Statement(verdict, items))


def lose_far_next(sheet: Sheet) -> Sheet:
    """Leave out near-end crosstalk at the far end; what the tester stated of it stays."""
    kept = {c: v for c, v in sheet.curves.items() if (c.parameter, c.end) != ("next", "far")}
    return replace(sheet, curves=kept)


def lose_return_loss(sheet: Sheet, pair: str) -> Sheet:
    """Leave out one pair's return loss at both ends."""
    kept = {
        c: v for c, v in sheet.curves.items() if (c.parameter, c.pairs) != ("return_loss", (pair,))
    }
    return replace(sheet, curves=kept)


def lose_far_talk(sheet: Sheet, driving: str, receiving: str) -> Sheet:
    """Leave out far-end crosstalk of one ordered combination."""
    lost = Curve("fext", "far", (driving, receiving))
    return replace(sheet, curves={c: v for c, v in sheet.curves.items() if c != lost})


def lose_points(sheet: Sheet, curve: Curve, first_khz: int, last_khz: int) -> Sheet:
    """Lose the readings of one curve between two frequencies, both included."""
    within = (sheet.frequency_khz >= first_khz) & (sheet.frequency_khz <= last_khz)
    holed = np.where(within, np.nan, sheet.curves[curve])
    return replace(sheet, curves={**sheet.curves, curve: holed})


def restate_nvp(sheet: Sheet, nvp: str) -> Sheet:
    """Change the velocity of propagation in the report, not the lengths that were made with it."""
    return replace(sheet, facts={**sheet.facts, "cable_nvp": nvp})


def mislabel(sheet: Sheet, name: str, label: str) -> Sheet:
    """Type another label into the test sheet, such as that of an outlet (`far_end`)."""
    return replace(sheet, facts={**sheet.facts, name: label})


def delay_as_scalar(sheet: Sheet) -> Sheet:
    """Export delay at 10 MHz only, not over frequency (no mistake; the Heron does it)."""
    kept = {c: v for c, v in sheet.curves.items() if c.parameter != "propagation_delay"}
    return replace(sheet, curves=kept)


def round_to_tenth(sheet: Sheet) -> Sheet:
    """Export losses with one decimal."""
    return replace(sheet, curves=printed(sheet.curves, 1), decimals=1)


def thin_out(sheet: Sheet, keep_every: int) -> Sheet:
    """Export every n-th frequency only, from the first; the last frequency is kept."""
    chosen = list(range(0, sheet.frequency_khz.size, keep_every))
    if chosen[-1] != sheet.frequency_khz.size - 1:
        chosen.append(sheet.frequency_khz.size - 1)
    return replace(
        sheet,
        frequency_khz=sheet.frequency_khz[chosen],
        curves={curve: values[chosen] for curve, values in sheet.curves.items()},
    )


def restate(sheet: Sheet, parameter: str, margin: float) -> Sheet:
    """State a worst margin that does not follow from the sweeps."""
    item = sheet.stated.items[parameter]
    worst = Worst(item.worst.curve, margin, item.worst.frequency_khz)
    items = sheet.stated.items | {parameter: Item(item.verdict, worst)}
    return replace(sheet, stated=Statement(sheet.stated.verdict, items))


def star(sheet: Sheet, parameter: str) -> Sheet:
    """Put an asterisk on a pass that is farther from the limit than the declared accuracy."""
    item = sheet.stated.items[parameter]
    items = sheet.stated.items | {parameter: Item("pass*", item.worst)}
    return replace(sheet, stated=Statement("pass*", items))


def add_power_sums(sheet: Sheet) -> Sheet:
    """Export the near-end power sums too (no mistake; some settings do it)."""
    more = {
        c: v for c, v in derive(sheet.curves, with_acr_n=False).items() if c.parameter == "psnext"
    }
    return replace(sheet, curves={**sheet.curves, **printed(more, sheet.decimals)})


def add_acr_f(sheet: Sheet, *, by_driving_pair: bool) -> Sheet:
    """Export ACR-F and its power sum at the far end.

    Args:
        sheet: the sheet to add to.
        by_driving_pair: subtract the insertion loss of the driving (disturbing) pair, which is
            the mistake; else that of the receiving one.
    """
    more = {}
    for receiving in PAIRS:
        ratios = []
        for driving in PAIRS:
            crosstalk = fext_of(sheet.curves, "far", driving, receiving)
            if driving == receiving or crosstalk is None:
                continue
            wire = driving if by_driving_pair else receiving
            ratio = crosstalk - sheet.curves[Curve("insertion_loss", "", (wire,))]
            more[Curve("acr_f", "far", (driving, receiving))] = ratio
            ratios.append(ratio)
        more[Curve("psacr_f", "far", (receiving,))] = power_sum(ratios)
    order = sorted(more, key=lambda curve: curve.parameter)
    return replace(
        sheet,
        curves={**sheet.curves, **printed({curve: more[curve] for curve in order}, 2)},
    )
