"""Figures as people are shown them, the same in text, on a page and in a workbook; long texts."""

_LEAST_WRITTEN_OUT = 1e-6
"""Smaller figures are written with an exponent."""
_LONGEST_WORD = 400
"""Characters without a blank that a message shows; labels, paths and digests are shorter."""
_LEFT_OF_WORD = 200
_LONGEST_TEXT = 8_000
"""Characters that a message shows in all: a hundred lines of a terminal."""


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


def shortened(text: str) -> str:
    """A text for a message: of a word, or a whole, that nobody reads, the beginning and its length.

    A label of an export may have any length; what is shortened stands whole in the record.
    """
    if len(text) <= _LONGEST_WORD:
        return text
    text = " ".join(map(_shortened_word, text.split(" ")))
    if len(text) <= _LONGEST_TEXT:
        return text
    return f"{text[:_LONGEST_TEXT]}... ({len(text):,} characters in all)"


def _shortened_word(word: str) -> str:
    if len(word) <= _LONGEST_WORD:
        return word
    return f"{word[:_LEFT_OF_WORD]}... ({len(word):,} characters)"
