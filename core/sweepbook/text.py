"""Text that came from outside, made safe to print, to measure and to sort."""

import re
import unicodedata
from functools import lru_cache

_DIGITS = re.compile(r"([0-9]+)")


def printable(text: str) -> str:
    r"""The text with every character that a terminal might act upon written as an escape.

    Control characters, terminal escapes, marks that turn the writing direction, characters
    without a width, unusual blanks and lone surrogates become what Python would write in a
    string: `\x1b`, `\u202e`. Letters of every script stay as they are.
    """
    if text.isprintable():
        return text
    return "".join(
        char if char.isprintable() else char.encode("unicode_escape").decode("ascii")
        for char in text
    )


def utf8_safe(text: str) -> str:
    r"""The text with bytes of a file name that are no UTF-8 written as `\udc..` escapes."""
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def width(text: str) -> int:
    """Columns that printable text takes in a terminal: wide characters 2, accents set apart 0."""
    if text.isascii():
        return len(text)
    return sum(_columns(char) for char in text)


@lru_cache(maxsize=1024)
def natural_key(label: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key by which "A-2" comes before "A-10" and "07" beside "7".

    Runs of digits compare by their value, however long they are; the rest by its letters
    without regard to case. Two different labels may have equal keys: sort by the label or an
    identity next.
    """
    return tuple(_part(part) for part in _DIGITS.split(label.casefold()) if part)


def text_at(document: object, *path: str) -> str:
    """The text at a place in a document; "" where there is none, or something else than text."""
    for name in path:
        document = document.get(name) if isinstance(document, dict) else None
    return document if isinstance(document, str) else ""


def _part(part: str) -> tuple[int, int, str]:
    if not _DIGITS.fullmatch(part):
        return (1, 0, part)
    digits = part.lstrip("0")
    return (0, len(digits), digits)


def _columns(char: str) -> int:
    if unicodedata.combining(char):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1
