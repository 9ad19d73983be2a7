"""What to say of a text that is no number where one was expected."""

from collections.abc import Sequence

from sweepbook.numerals import Notation

_LONGEST = 40


def mixed(before: Sequence[str], notation: Notation) -> str:
    """What else to say of a number with the other mark, where one before it has the declared."""
    seen = next((text for text in before if notation.decimal in text), None)
    if seen is None:
        return ""
    return f"; {seen!r} before it has that mark, so the export mixes both: make it again with one"


def expected(text: str, notation: Notation, quantity: str, unit: str) -> str:
    """What was read, what was expected, and which keys to change."""
    shown = text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."
    if not text.strip():
        return (
            "the cell is empty where a number was expected; "
            'if that means no value, add "" to numbers.missing'
        )
    return (
        f"{shown!r} is no number{f' in {unit}' if unit else ''} with the decimal mark "
        f"{notation.decimal!r}; see numbers.decimal, numbers.thousands, numbers.missing, "
        f"numbers.at_least, numbers.at_most{f' and units.{quantity}' if unit else ''}"
    )
