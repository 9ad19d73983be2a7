"""The unit of frequencies: the one that is named, unless no sweep could end at such a number.

Where the numbers speak for another one, nobody but a person can say which of both is wrong.
"""

from sweepbook.dialect.units import unit_of
from sweepbook.draft import numbers
from sweepbook.draft.document import ASSUMED, FOUND, UNSETTLED, UNTOLD, Note
from sweepbook.draft.evidence import Evidence

_LEAST_MHZ = 1.0
"""No sweep of balanced cabling ends below."""


def frequency_unit(evidence: Evidence, highest: float | None) -> tuple[str, Note | None]:
    """The unit, and what it rests on; None where nothing says it.

    Args:
        evidence: what the export says of units, and the names of its axes.
        highest: the highest number of the axes; None for none.
    """
    told = evidence.legend.units.only("frequency")
    beside = evidence.axis_names
    if not any(map(numbers.unit_named, beside)):
        beside = evidence.figure_axes
    stated = list(dict.fromkeys(filter(None, map(numbers.unit_named, beside))))
    if highest is None:
        named = stated[0] if len(stated) == 1 else None
        return named or "MHz", Note(FOUND, "named beside frequencies") if named else None
    sweep = f"the highest frequency is {highest:.12g}"
    named_ones = list(dict.fromkeys([*filter(None, [told]), *stated]))
    fitting = [name for name in named_ones if numbers.is_highest(_mhz(highest, name))]
    if told in fitting:
        said = evidence.legend.units.texts["frequency"]
        return told, Note(FOUND, f"the file says so; {sweep}", said)
    if fitting:
        said = [text for text in beside if numbers.unit_named(text) == fitting[0]]
        note = Note(FOUND, f"{sweep}, and the axis is called so", said)
        return fitting[0], note
    return _unfitting(highest, named_ones, sweep, [of for of in beside if numbers.unit_named(of)])


def _unfitting(highest: float, named: list[str], sweep: str, said: list[str]) -> tuple[str, Note]:
    """The unit where no sweep would end at such a number of one that is named, if any is."""
    called = ", ".join(f"'{name}'" for name in named)
    guess = next(iter(numbers.units_possible(highest)), None)
    if guess is None and named and _mhz(highest, named[0]) >= _LEAST_MHZ:
        return named[0], Note(ASSUMED, f"{called} is named beside it, though {sweep}")
    usual = guess is not None and numbers.is_end_of_class(_mhz(highest, guess))
    if guess and usual and named:
        doubt = f"{called} is named beside frequencies, while {sweep}, where sweeps in {guess} end"
        return UNSETTLED, Note(UNTOLD, f"{doubt}; one of both is wrong", said)
    if guess and not named:
        how = f"{sweep}; in no other unit would cabling be swept to that"
        return guess, Note(FOUND if usual else ASSUMED, how)
    fits = f"at which no sweep ends in {called}" if named else "which fits no unit"
    doubt = "look at numbers.decimal, and whether these are the frequencies"
    return named[0] if named else "MHz", Note(UNTOLD, f"{sweep}, {fits}; {doubt}")


def _mhz(number: float, unit: str) -> float:
    return number * unit_of("frequency", unit).times
