"""Two figures of one record that no cable has together: length, delay, resistance, loss."""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.curves import Curves
from sweepbook.judging.doubt_words import curve_of, path_of, shown, taken_along
from sweepbook.judging.figures import Figure
from sweepbook.judging.lengths import Known
from sweepbook.judging.physics import LIGHT_M_PER_NS, Bounds
from sweepbook.judging.working import Doubt, DoubtKind


def velocity(known: Known, bounds: Bounds) -> Iterator[Doubt]:
    """Length by delay as a part of the speed of light."""
    length = known.stated
    for delay in known.delays if length is not None else ():
        if length is None or not (length.value > 0.0 and delay.value > 0.0):
            continue
        least = length.low / (delay.high * LIGHT_M_PER_NS)
        most = length.high / (delay.low * LIGHT_M_PER_NS) if delay.low > 0.0 else np.inf
        two = f"{known.what}: {shown(length.value)} m and {shown(delay.value)} ns"
        share = length.value / (delay.value * LIGHT_M_PER_NS)
        near = round(share, 2) in (bounds.nvp_lowest, bounds.nvp_highest)
        speed = f"{share:.{3 if near else 2}f} times the speed of light"
        nothing = (("length", ()), *taken_along("propagation_delay"))
        if least > 1.0:
            text = f"{two} contradict each other: that is {speed}"
            yield Doubt(DoubtKind.IMPOSSIBLE, length.path, text, nothing)
        elif most < bounds.slowest:
            text = (
                f"{two} contradict each other: that is {speed}, slower than in any insulation "
                f"({bounds.slowest:.2f})"
            )
            yield Doubt(DoubtKind.CONTRADICTION, length.path, text, nothing)
        elif least > bounds.nvp_highest or most < bounds.nvp_lowest:
            text = (
                f"{two} make {speed}, outside the usual {bounds.nvp_lowest:g} to "
                f"{bounds.nvp_highest:g}"
            )
            yield Doubt(DoubtKind.IMPLAUSIBLE, length.path, text)


def too_short(known: Known, bounds: Bounds) -> Iterator[Doubt]:
    """A length, or a delay as long as light takes for it, that is shorter than any link."""
    least = bounds.link_shortest_m
    if known.stated is not None and known.stated.value > 0.0 and known.stated.high < least:
        text = f"{known.what}: {shown(known.stated.value)} m, and no link is below {least:g} m"
        yield Doubt(DoubtKind.CONTRADICTION, known.stated.path, text, (("length", ()),))
    for delay in known.delays:
        if delay.value > 0.0 and delay.high * LIGHT_M_PER_NS < least:
            metres = delay.value * LIGHT_M_PER_NS
            text = (
                f"pair {known.pair}: {shown(delay.value)} ns, in which light goes "
                f"{phrases.figure(metres)} m, and no link is below {least:g} m"
            )
            nothing = taken_along("propagation_delay")
            yield Doubt(DoubtKind.CONTRADICTION, delay.path, text, nothing)


def resistance(
    figures: Mapping[str, Sequence[Figure]], known: Sequence[Known], bounds: Bounds
) -> Iterator[Doubt]:
    """Loop resistance by length: between that of the thickest and of the thinnest conductor."""
    thick = bounds.loop_ohm_per_m(bounds.conductor_thickest_mm)
    thin = bounds.loop_ohm_per_m(bounds.conductor_thinnest_mm)
    for figure in figures.get("dc_loop_resistance", ()):
        one = next((item for item in known if figure.pairs == (item.pair,)), None)
        if one is None or figure.unit != "ohm" or figure.value <= 0.0:
            continue
        least, most = thick * one.least_m, thin * one.most_m / bounds.copper_share
        what = f"{shown(figure.value)} ohm in the loop and {one.words}"
        if figure.high < bounds.copper_share * least:
            text = f"{what} contradict each other: copper has {phrases.figure(least)} ohm or more"
            yield Doubt(DoubtKind.CONTRADICTION, figure.path, text, one.discredits)
        elif figure.high < least:
            text = (
                f"{what}: even the thickest conductor of that length has "
                f"{phrases.figure(least)} ohm"
            )
            yield Doubt(DoubtKind.IMPLAUSIBLE, figure.path, text)
        elif figure.low > most:
            text = f"{what}: even a thin conductor has no more than {phrases.figure(most)} ohm"
            yield Doubt(DoubtKind.IMPLAUSIBLE, figure.path, text)


def loss(measured: Curves | None, known: Sequence[Known], bounds: Bounds) -> Iterator[Doubt]:
    """Insertion loss by length: not below what the thickest conductor loses."""
    if measured is None or not measured.frequency_mhz.size:
        return
    thick = bounds.conductor_thickest_mm
    per_metre = bounds.least_loss_db_per_m(measured.frequency_mhz, thick)
    by_pair: dict[tuple[str, ...], Known] = {(item.pair,): item for item in reversed(known)}
    metres = [one.least_m if (one := by_pair.get(key.pairs)) else 0.0 for key in measured.keys]
    short = per_metre * np.array(metres)[:, None] - (measured.high + bounds.loss_offset_db)
    for row in np.flatnonzero((short > 0.0).any(axis=1)).tolist():
        key = measured.keys[row]
        one = by_pair.get(key.pairs)
        if one is None or not (measured.high[row] >= 0.0).any():
            continue
        least = per_metre * one.least_m
        most = measured.high[row] + bounds.loss_offset_db
        kind = DoubtKind.CONTRADICTION
        beyond = np.where(np.isnan(most), 0.0, bounds.copper_share * least - most)
        if not (beyond > 0.0).any():
            kind = DoubtKind.IMPLAUSIBLE
            beyond = np.where(np.isnan(most), 0.0, least - most)
        at = int(np.argmax(beyond))
        if beyond[at] > 0.0:
            words = "contradict each other" if kind is DoubtKind.CONTRADICTION else "hardly agree"
            text = (
                f"{curve_of(key)}, {shown(measured.value[row, at])} dB at "
                f"{phrases.frequency(float(measured.frequency_mhz[at]))}, and {one.words} {words}: "
                f"copper alone loses {phrases.figure(float(least[at]))} dB"
            )
            nothing = one.discredits if kind is DoubtKind.CONTRADICTION else ()
            yield Doubt(kind, path_of(measured, row), text, nothing)
