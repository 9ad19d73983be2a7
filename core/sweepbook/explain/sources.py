"""Where the value of a judged curve at one frequency comes from, with the numbers put in.

The formulas are those of `judging.derive`; the values are the nominal ones that were judged.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from sweepbook.judging.curves import PAIRS, Curves, Key, row_of_pair
from sweepbook.judging.directions import reciprocal_fext, reciprocal_next
from sweepbook.judging.phrases import subject
from sweepbook.judging.working import Working
from sweepbook.limits.worked import DIGITS


@dataclass(frozen=True, slots=True)
class Point:
    """A value of a curve: what it is of, in words, and the value in dB (ns of a delay).

    It is the least that it may be where it was clipped.
    """

    what: str
    value: float
    least: bool = False


def way(working: Working, key: Key, at_mhz: float) -> Iterator[str]:
    """The way to a value: one sentence for a curve of the source, formula and numbers otherwise.

    Args:
        working: of the record.
        key: a judged curve with a point at the frequency.
        at_mhz: a frequency of the curve.
    """
    made = working.recomputed_curves.get(key.parameter)
    given = working.measured_curves.get(key.parameter)
    if given and key in given.keys and not (made and _at(made, key, at_mhz)):
        yield _as_in_the_source(given, key)
    else:
        yield from _computed(working, key, at_mhz)


def value(working: Working, key: Key, at_mhz: float) -> float | None:
    """The nominal value of a judged curve, before any reading that rounds; None for none."""
    point = _point_of(working.judged_curves, key, at_mhz)
    return point.value if point else None


def at_least(working: Working, key: Key, at_mhz: float) -> bool:
    """Whether the value is the least that it may be, because it was clipped."""
    point = _point_of(working.judged_curves, key, at_mhz)
    return point is not None and point.least


def _as_in_the_source(curves: Curves, key: Key) -> str:
    """Positions in the record of the sweeps that a curve was read from."""
    row = curves.keys.index(key)
    there = ~np.isnan(curves.value[row])
    axis = curves.frequency_mhz[there]
    paths = " and ".join(f"$.results.sweeps[{n}]" for n in curves.sweeps[row])
    return f"{paths} of the record: {axis.size} points, {axis[0]:.10g} to {axis[-1]:.10g} MHz"


def _computed(working: Working, key: Key, at_mhz: float) -> Iterator[str]:
    judged, end, disturbed = working.judged_curves, key.end, key.pairs[-1]
    loss = _pair(judged, "insertion_loss", end, disturbed, at_mhz)
    match key.parameter:
        case "psnext":
            names = _others(judged, "next", disturbed)
            yield from _power_sum([_near(judged, end, i, disturbed, at_mhz) for i in names])
        case "psfext":
            names = _others(judged, "fext", disturbed)
            yield from _power_sum([_far(judged, end, i, disturbed, at_mhz) for i in names])
        case "psacr_f" if not _point_of(judged, key._replace(parameter="psfext"), at_mhz):
            names = _others(judged, "acr_f", disturbed)
            keys = [Key("acr_f", end, (i, disturbed)) for i in names]
            yield from _power_sum([_point_of(judged, one, at_mhz) for one in keys])
        case "acr_n":
            yield _less(_near(judged, end, key.pairs[0], disturbed, at_mhz), loss)
        case "acr_f":
            yield _less(_far(judged, end, key.pairs[0], disturbed, at_mhz), loss)
        case "delay_skew":
            delays = [_pair(judged, "propagation_delay", None, pair, at_mhz) for pair in PAIRS]
            there = [point for point in delays if point is not None]
            least = min(there, key=lambda point: point.value, default=None)
            yield _less(delays[PAIRS.index(disturbed)], least, "ns")
        case _:
            base = {"psacr_n": "psnext", "psacr_f": "psfext", "eltctl": "tctl"}[key.parameter]
            inner = key._replace(parameter=base)
            if base in working.recomputed_curves:
                yield from way(working, inner, at_mhz)
            yield _less(_point_of(judged, inner, at_mhz), loss)


def _others(judged: Mapping[str, Curves], parameter: str, disturbed: str) -> list[str]:
    """The other pairs of the cable, those without a curve included."""
    curves = judged.get(parameter)
    named = {pair for key in curves.keys for pair in key.pairs} if curves else set()
    return [pair for pair in (*PAIRS, *sorted(named - {*PAIRS})) if pair != disturbed]


def _power_sum(members: list[Point | None]) -> Iterator[str]:
    """-10 lg of the sum of the powers."""
    there = [point for point in members if point is not None]
    power = sum(10.0 ** (-point.value / 10.0) for point in there)
    least = " at least, since a part is clipped" if any(point.least for point in there) else ""
    powers = " + ".join(f"10^(-{point.value:.{DIGITS}f}/10)" for point in there)
    yield f"power sum of {', '.join(point.what for point in there)}"
    yield f"-10 x log10({powers}) = {-10.0 * np.log10(power):.{DIGITS}f} dB{least}"


def _less(whole: Point | None, part: Point | None, unit: str = "dB") -> str:
    if whole is None or part is None:
        return "its parts have no point here"
    difference = whole.value - part.value
    figures = f"{whole.value:.{DIGITS}f} - {part.value:.{DIGITS}f} = {difference:.{DIGITS}f}"
    return f"{whole.what} less {part.what}: {figures} {unit}"


def _point_of(judged: Mapping[str, Curves], key: Key, at_mhz: float) -> Point | None:
    curves = judged.get(key.parameter)
    return _at(curves, key, at_mhz) if curves else None


def _near(
    judged: Mapping[str, Curves], end: str | None, disturbing: str, disturbed: str, at_mhz: float
) -> Point | None:
    """NEXT of a combination, which is the same in both orders of its pairs."""
    curves = judged.get("next")
    rows = reciprocal_next(curves.keys) if curves else {}
    return _point(curves, rows.get((str(end), disturbing, disturbed)), at_mhz)


def _far(
    judged: Mapping[str, Curves], end: str | None, disturbing: str, disturbed: str, at_mhz: float
) -> Point | None:
    """FEXT of a combination, or that of the other end which is the same by reciprocity."""
    curves = judged.get("fext")
    rows = reciprocal_fext(curves.keys) if curves else {}
    return _point(curves, rows.get((str(end), disturbing, disturbed)), at_mhz)


def _pair(
    judged: Mapping[str, Curves], parameter: str, end: str | None, pair: str, at_mhz: float
) -> Point | None:
    """Insertion loss or delay of a pair, as it is used at an end."""
    curves = judged.get(parameter)
    return _point(curves, row_of_pair(curves.keys, end, pair) if curves else None, at_mhz)


def _at(curves: Curves, key: Key, at_mhz: float) -> Point | None:
    return _point(curves, curves.keys.index(key) if key in curves.keys else None, at_mhz)


def _point(curves: Curves | None, row: int | None, at_mhz: float) -> Point | None:
    there = None if curves is None or row is None else _value(curves, row, at_mhz)
    if curves is None or row is None or there is None:
        return None
    return Point(subject(*curves.keys[row]), there, _is_least(curves, row, at_mhz))


def _value(curves: Curves, row: int, at_mhz: float) -> float | None:
    at = int(np.searchsorted(curves.frequency_mhz, at_mhz))
    if at >= curves.frequency_mhz.size or curves.frequency_mhz[at] != at_mhz:
        return None
    there = float(curves.value[row, at])
    return None if np.isnan(there) else there


def _is_least(curves: Curves, row: int, at_mhz: float) -> bool:
    here = curves.frequency_mhz == at_mhz
    return bool((np.isfinite(curves.low[row, here]) & np.isposinf(curves.high[row, here])).any())
