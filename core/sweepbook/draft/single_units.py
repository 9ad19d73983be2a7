"""Units of single figures: named beside them, or by what a link of copper can be."""

from collections.abc import Callable, Mapping, Sequence

from sweepbook.dialect.units import UNITS, spellings_of, unit_of
from sweepbook.draft.curve_facts import Measured
from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table
from sweepbook.draft.field_times import Filled
from sweepbook.draft.legend_units import Units
from sweepbook.draft.parsed import CAPITALS
from sweepbook.judging.physics import LIGHT_M_PER_NS, Bounds
from sweepbook.limits.practice import Practice

_DB_A_METRE = (0.13, 0.5)
"""Insertion loss of a metre at 100 MHz, of cables with 22 to 28 AWG: common practice, no source."""
_AT_MHZ = 100.0
_OHM_A_METRE = (0.05, 0.6)
"""Loop resistance of a metre, of the same cables: common practice, no source."""

_DELAYS = (*UNITS["delay"], "0.1 ns", "0.01 ns")
_RESISTANCES = (*UNITS["resistance"], "0.01 ohm")
"""Units that physics tells apart."""

Figures = Mapping[str, Sequence[float]]


def unit_lines(
    table: Table,
    told: Units,
    named: Mapping[str, Sequence[str]],
    figures: Figures,
    curves: Sequence[Measured],
    mhz: float,
) -> None:
    """Add length, delay and resistance, as far as there are such figures.

    Args:
        table: `units`.
        told: units that the export explains.
        named: spellings that stand beside figures, by quantity.
        figures: numbers of single figures by parameter.
        curves: as numbers.
        mhz: the export's unit of frequency in MHz.
    """
    units: dict[str, str] = {}
    for quantity in ("loss", "length", "delay", "resistance"):
        if unit := told.only(quantity):
            units[quantity] = unit
            if quantity != "loss":
                table.add(quantity, unit, Note(FOUND, "the file says so", told.texts[quantity]))
        elif several := told.names.get(quantity):
            said = f"which unit of {quantity} is meant, since the file says {' and '.join(several)}"
            table.notes.append(Note(UNTOLD, said, told.texts[quantity]))
        elif quantity != "loss" and (spellings := named.get(quantity)):
            units[quantity] = _unit_of(quantity, spellings[0])
            table.add(quantity, units[quantity], Note(FOUND, "named beside figures", spellings))
    loss = _loss(curves, mhz)
    length = _first(figures.get("length"))
    if length and "length" not in units:
        fitting = {unit: f"{loss / metres:.2g}" for unit in UNITS["length"] if loss
                   for metres in (_metres(length, unit),)
                   if _DB_A_METRE[0] <= loss / metres <= _DB_A_METRE[1]}  # fmt: skip
        units["length"] = _only(table, "length", "m", length, fitting, "dB a metre at 100 MHz")
    metres = _metres(length, units["length"]) if length else None
    delay = _first(figures.get("propagation_delay"))
    if "delay" not in units and (delay or figures.get("delay_skew")):
        fits = _delays(delay, metres) if delay and metres else {}
        shown = delay or _first(figures.get("delay_skew"))
        units["delay"] = _only(table, "delay", "ns", shown, fits, "of the speed of light")
    ohm = _first(figures.get("dc_loop_resistance"))
    if ohm and "resistance" not in units:
        scaled = {unit: ohm * unit_of("resistance", unit).times for unit in _RESISTANCES}
        fits = {unit: f"{value / metres:.2g}" for unit, value in scaled.items() if metres
                if _OHM_A_METRE[0] <= value / metres <= _OHM_A_METRE[1]}  # fmt: skip
        _only(table, "resistance", "ohm", ohm, fits, "ohm a metre of loop")


def nvp_line(table: Table, filled: Sequence[Filled], value: Callable[[str], float | None]) -> None:
    """Add that an NVP is in percent, where it is above 1.

    Args:
        table: `units`.
        filled: the members that keys fill.
        value: the number of a text; None where it is none.
    """
    for one in filled:
        if one.path == "link.cable.nvp":
            numbers = [value(text.removesuffix("%").rstrip()) for text in one.texts]
            if any(number is not None and 1.0 < number <= 100.0 for number in numbers):
                note = "no cable is faster than light, so this NVP is in percent of its speed"
                table.add("nvp", "%", Note(FOUND, note, (*one.keys, *one.texts)))


def _only(
    table: Table,
    quantity: str,
    usual: str,
    shown: float | None,
    fitting: Mapping[str, str],
    what: str,
) -> str:
    """The only unit that fits physics, else the usual one, as an assumption."""
    if len(fitting) == 1:
        unit, ratio = next(iter(fitting.items()))
        note = Note(FOUND, f"no unit is named; {shown:g} in {unit} makes {ratio} {what}, as usual")
    elif fitting and usual in fitting:
        unit, note = usual, Note(ASSUMED, "no unit is named, and several fit")
    else:
        unit, note = usual, Note(UNTOLD, f"no unit is named; {shown:g} was taken for {usual}")
    table.add(quantity, unit, note)
    return unit


def _delays(delay: float, metres: float) -> dict[str, str]:
    bounds = Bounds.of(Practice.shipped())
    found = {}
    for unit in _DELAYS:
        speed = metres / (delay * unit_of("delay", unit).times) / LIGHT_M_PER_NS
        if bounds.nvp_lowest <= speed <= bounds.nvp_highest:
            found[unit] = f"{speed:.2g}"
    return found


def _loss(curves: Sequence[Measured], mhz: float) -> float | None:
    """Insertion loss in dB at 100 MHz, by the root of frequency from the nearest point."""
    for curve in curves:
        if curve.name.parameter != "insertion_loss" or not curve.frequency:
            continue
        axis = [frequency * mhz for frequency in curve.frequency]
        at = min(range(len(axis)), key=lambda place: abs(axis[place] - _AT_MHZ))
        value = curve.value[at]
        if value is not None and axis[at] > 0.0:
            return abs(value) * float((_AT_MHZ / axis[at]) ** 0.5)
    return None


def _metres(length: float, unit: str) -> float:
    return length * unit_of("length", unit).times


def _first(values: Sequence[float] | None) -> float | None:
    """A figure of the first test, whose curves are at hand; those of others fit them by chance."""
    return next((value for value in values or () if value > 0.0), None)


def _unit_of(quantity: str, spelling: str) -> str:
    return spellings_of(quantity)[CAPITALS.get(spelling, spelling)]


def spellings_line(table: Table, named: Mapping[str, Sequence[str]]) -> None:
    """Add the spellings in names that no dialect knows by itself, by their units."""
    known = {text for quantity in UNITS for text in spellings_of(quantity)}
    spelt = {
        CAPITALS[text]: text
        for some in named.values()
        for text in some
        if text in CAPITALS and text not in known
    }
    if spelt:
        table.add("spellings", spelt, Note(FOUND, "named so in capitals", [*spelt.values()]))
