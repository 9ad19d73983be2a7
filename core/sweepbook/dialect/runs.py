"""Frequencies in even steps, as texts: expanded exactly in decimal."""

from decimal import Decimal

from sweepbook import numerals

_MOST_DIGITS = 9


def number(text: str, what: str, notation: numerals.Notation) -> Decimal:
    """The start, step or stop of a run.

    Args:
        text: how the export writes it.
        what: what it is, for the message.
        notation: its decimal and thousands marks.

    Raises:
        ValueError: it is no number; the message says so.
    """
    try:
        numerals.parse(text, notation)
    except numerals.NotANumber as error:
        raise ValueError(f"the {what} of a run is a number, read was {text!r:.60}") from error
    plain = text.replace(notation.thousands, "") if notation.thousands else text
    return Decimal(plain.strip().replace(notation.decimal, "."))


def count(text: str) -> int:
    """How many frequencies a run has.

    Raises:
        ValueError: that is no whole number above 0, or beyond all that a grid may have; the
            message says so.
    """
    if text.isascii() and text.isdigit() and len(text) <= _MOST_DIGITS and int(text) > 0:
        return int(text)
    raise ValueError(
        f"the count of a run is a whole number above 0 and at most 1,000,000, read was {text!r:.60}"
    )


def count_to(start: Decimal, step: Decimal, stop: Decimal) -> int:
    """How many frequencies lead from the first to the last.

    Raises:
        ValueError: no whole number of steps does; the message says so.
    """
    steps = (stop - start) / step
    if steps < 0 or steps != steps.to_integral_value():
        raise ValueError(f"no whole number of steps of {step} leads {start} to {stop}")
    return int(steps) + 1


def rising(step: Decimal) -> Decimal:
    """The step of a run.

    Raises:
        ValueError: it is not above 0; the message says so.
    """
    if step <= 0:
        raise ValueError(f"the step of a run is above 0, read was {step}")
    return step


def texts(start: Decimal, step: Decimal, number_of: int, mark: str) -> list[str]:
    """The numbers of a run: counted in whole steps of their last digit.

    Args:
        start: of the run.
        step: of the run.
        number_of: how many they are.
        mark: the decimal mark.
    """
    exponents = [one.as_tuple().exponent for one in (start, step)]
    places = max(0, *[-exponent for exponent in exponents if isinstance(exponent, int)])
    first, each = (int(one.scaleb(places)) for one in (start, step))
    numbers = range(first, first + number_of * each, each)
    if not places:
        return [*map(str, numbers)]
    found = []
    for one in numbers:
        sign, digits = "-" * (one < 0), str(abs(one)).rjust(places + 1, "0")
        found.append(f"{sign}{digits[:-places]}{mark}{digits[-places:]}")
    return found
