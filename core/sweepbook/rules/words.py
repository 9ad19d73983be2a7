"""How a place in a record is called in a message."""

import math
from collections.abc import Sequence


def where(end: str | None, pairs: Sequence[str]) -> str:
    """Words for a pair or combination at an end: "1-2 to 3-6, far end"; "all pairs" for none.

    Args:
        end: "near", "far" or None.
        pairs: one pair, [disturbing, disturbed], or none for all of them.
    """
    named = " to ".join(pairs) or "all pairs"
    return f"{named}, {end} end" if end else named


def listed(words: Sequence[str], most: int = 5) -> str:
    """The words with commas; those after the first `most` are only counted."""
    shown = ", ".join(words[:most])
    return shown if len(words) <= most else f"{shown} and {len(words) - most} more"


def interval(low: float, high: float) -> str:
    """Words for what a figure may be: "11.42 to 11.44", "11.4", "at least 11.42".

    Args:
        low: smallest it may be; minus infinity where there is no bound.
        high: largest it may be; infinity where there is no bound.
    """
    shown = [f"{value:.3f}".rstrip("0").rstrip(".") for value in (low, high)]
    if math.isinf(high):
        return f"at least {shown[0]}"
    if math.isinf(low):
        return f"at most {shown[1]}"
    return shown[0] if shown[0] == shown[1] else f"{shown[0]} to {shown[1]}"


def interchanged(other: str) -> str:
    """Words for a figure of one end that belongs to the other.

    Args:
        other: the end whose curve has it.
    """
    return f"; the curve of the {other} end has it, so the two ends seem to be interchanged"
