"""Text to number, strictly: a token is a finite decimal number as declared, or it is an error.

Python's own `float` takes "1_000", "nan", "infinity" and digits of any script, which a
measurement file never means. Units are shifted by moving the decimal mark in the text, so that
31250 kHz and 31.25 MHz become the same double.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.errors import SweepbookError
from sweepbook.tokens import Tokens

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_PLAIN = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER = re.compile(_PLAIN)
_FEW_DIGITS = re.compile("-?[0-9]{1,15}(?:([.,])([0-9]{1,15}))?")
_COLUMN = re.compile(f"(?:{_PLAIN}\n)*")
_FRACTION = re.compile(r"\.([0-9]*)")
_BARE = b"0123456789+-"
_POINTS = bytes.maketrans(b",", b".")


class NotANumber(SweepbookError):
    """A token is not a finite decimal number in the declared notation."""


class Number(NamedTuple):
    """A number read from text.

    Attributes:
        value: the double nearest to the decimal in the text, after the unit shift.
        decimals: digits after the decimal mark, after the unit shift; never negative.
    """

    value: float
    decimals: int


@dataclass(frozen=True, slots=True)
class Notation:
    """How a source writes numbers.

    Attributes:
        decimal: the decimal mark, "." or ",".
        thousands: the mark between groups of three digits, or "" for none.
    """

    decimal: str = "."
    thousands: str = ""


POINT = Notation()


def parse(text: str, notation: Notation = POINT, shift: int = 0) -> Number:
    """Read one number.

    Args:
        text: the token; blanks around it are ignored.
        notation: decimal and thousands marks.
        shift: power of ten the value is multiplied by, e.g. -3 for kHz to MHz.

    Raises:
        NotANumber: the token is no finite number in this notation.
    """
    plain = _to_plain(text, notation)
    if plain is None or not _NUMBER.fullmatch(plain):
        raise _not_a_number(text, notation)
    value = float(_shifted(plain, shift))
    if not math.isfinite(value):
        raise _not_a_number(text, notation)
    return Number(value + 0.0, max(0, _decimals(plain) - shift))


def plainly(text: str, notation: Notation, shift: int = 0) -> Number | None:
    """The same of digits that need no look: with a mark and a minus sign at most, and not many.

    Args and returns as for `parse`; None for any other text.
    """
    found = _FEW_DIGITS.fullmatch(text)
    if found is None or (found[1] is not None and found[1] != notation.decimal):
        return None
    plain = text if notation.decimal == "." else text.replace(notation.decimal, ".")
    value = float(f"{plain}e{shift}" if shift else plain)
    return Number(value + 0.0, max(0, len(found[2] or "") - shift))


def parse_column(
    texts: Sequence[str], notation: Notation = POINT, shift: int = 0
) -> "tuple[NDArray[np.float64], int]":
    """Read many numbers of one curve at once.

    Args:
        texts: n tokens.
        notation: decimal and thousands marks.
        shift: power of ten every value is multiplied by.

    Returns:
        float64[n], and the largest number of decimals among the tokens after the shift.

    Raises:
        NotANumber: a token is no finite number; find it with `first_fault`.
    """
    import numpy as np

    if (bare := parse_bare(texts, notation, shift)) is not None:
        return bare
    plain = [_to_plain(text, notation) or "?" for text in texts]
    joined = "".join(f"{token}\n" for token in plain)
    if joined.count("\n") != len(plain) or not _COLUMN.fullmatch(joined):
        raise _not_a_number(texts[first_fault(texts, notation)], notation)
    values = np.array([float(_shifted(token, shift)) for token in plain], dtype=np.float64)
    if not np.isfinite(values).all():
        raise _not_a_number(texts[int(np.argmin(np.isfinite(values)))], notation)
    decimals = max((_decimals(token) for token in plain), default=0)
    return values + 0.0, max(0, decimals - shift)


def parse_bare(
    texts: Sequence[str], notation: Notation = POINT, shift: int = 0
) -> "tuple[NDArray[np.float64], int] | None":
    """Read many numbers of one curve if they are digits, signs and decimal marks only.

    Args and returns as for `parse_column`; None where the tokens must be looked at one by one.
    """
    import numpy as np

    if not texts:
        return np.empty(0), 0
    if notation.thousands:
        return None
    from sweepbook import bulk_numbers

    lines = Tokens.of(texts).lines
    read = bulk_numbers.read([lines], notation.decimal, b"\n")
    if read is not None and not read[0].odd:
        digits = read[0].digits
        shifted = bulk_numbers.shifted(read[0].values, digits, shift)
        if shifted is not None:
            return shifted, max(0, digits - shift)
    if lines.translate(None, bare_marks(notation) + b"\n"):
        return None
    bare = lines if notation.decimal == "." else lines.translate(_POINTS)
    plain = bare.decode("ascii")
    tokens = (plain.replace("\n", f"e{shift}\n") + f"e{shift}" if shift else plain).split("\n")
    try:
        values = np.array(list(map(float, tokens)), dtype=np.float64)
    except ValueError:  # such as "1.2.3" or an empty token
        return None
    if not np.isfinite(values).all():
        return None
    decimals = max(map(len, _FRACTION.findall(plain)), default=0)
    return values + 0.0, max(0, decimals - shift)


def bare_marks(notation: Notation) -> bytes:
    """What the texts of plain numbers are made of."""
    return _BARE + notation.decimal.encode()


def first_fault(texts: Sequence[str], notation: Notation = POINT) -> int:
    """Position of the first token that is no number, counted from 0; len(texts) if all are."""
    for position, text in enumerate(texts):
        plain = _to_plain(text, notation)
        if plain is None or not _NUMBER.fullmatch(plain) or not math.isfinite(float(plain)):
            return position
    return len(texts)


def _to_plain(text: str, notation: Notation) -> str | None:
    """Rewrite a token to decimal point and no grouping; None where the grouping is wrong."""
    token = text.strip(" \t")
    if notation.thousands and notation.thousands in token:
        group = re.escape(notation.thousands)
        grouped = rf"[+-]?[0-9]{{1,3}}(?:{group}[0-9]{{3}})+(?:{re.escape(notation.decimal)}.*)?"
        if not re.fullmatch(grouped, token):
            return None
        token = token.replace(notation.thousands, "")
    if notation.decimal == ".":
        return token
    return None if "." in token else token.replace(notation.decimal, ".")


def _shifted(plain: str, shift: int) -> str:
    """Append the shift to the exponent, so that float() rounds once."""
    if shift == 0:
        return plain
    mantissa, _, exponent = plain.lower().partition("e")
    return f"{mantissa}e{int(exponent or 0) + shift}"


def _decimals(plain: str) -> int:
    """Digits after the mark, less the exponent; may be negative before the shift."""
    mantissa, _, exponent = plain.lower().partition("e")
    point = mantissa.find(".")
    return (len(mantissa) - point - 1 if point >= 0 else 0) - int(exponent or 0)


def _not_a_number(text: str, notation: Notation) -> NotANumber:
    shown = text if len(text) <= 40 else text[:37] + "..."
    return NotANumber(
        f"{shown!r} is not a number with the decimal mark {notation.decimal!r}.",
        "Mend the file, or name the decimal mark, the thousands mark "
        "or the word for a missing value in the dialect.",
    )
