"""Figures as people are shown them, the same in text, on a page and in a workbook."""

_LEAST_WRITTEN_OUT = 1e-6
"""Smaller figures are written with an exponent."""


def figure(value: float, digits: int = 2) -> str:
    """A number for people; one that would show as zero gets the digits to show that it is not.

    Values are judged unrounded, so that a margin of 0.002 dB passes: shown as 0.00 nobody could
    tell it from one that fails.
    """
    if value != 0.0 and abs(value) < 0.5 * 10.0**-digits:
        first = f"{value:.1g}"
        return first if abs(value) < _LEAST_WRITTEN_OUT else f"{float(first):.6f}".rstrip("0")
    return f"{value + 0.0:.{digits}f}"


def signed(value: float) -> str:
    """A margin for people, with its sign."""
    text = figure(value)
    return text if text.startswith("-") else f"+{text}"
