"""Zones of times that an export names in a text of its own."""

import re
from collections.abc import Sequence
from typing import NamedTuple

_OFFSET = re.compile(r"(?:\b(?:UTC|GMT)\s?|^)([+\-\u2212])([0-9]{1,2})(?::?([0-9]{2}))?(?![0-9])")
_LETTERS = re.compile("YYYY|YY|MON|MM|DD|hh|mm|ss|ap|zone")
"""What stands for parts of a time in the form of one."""
_MOST_WORDS = 3
"""More are a remark that names a zone, and no part of a time."""


class ZoneForms(NamedTuple):
    """How a dialect reads the texts.

    Attributes:
        behind: what stands behind a time in its form, one for each way to write it.
        offsets: by the text that stands where the form says zone, where that is no offset itself.
    """

    behind: tuple[str, ...]
    offsets: dict[str, str]


def offset_in(text: str) -> str | None:
    """The offset from UTC that a text names as +hh:mm; None where it names none.

    A bare number is one only with hours and minutes: a temperature is +01 too.
    """
    found = _OFFSET.search(text.strip())
    if found is None or (not found[3] and not found[0][0].isalpha()):
        return None
    if any(char.isdigit() for char in text.strip().replace(found[0], "", 1)):
        return None  # a time of something else, with its zone
    sign = "+" if found[1] == "+" else "-"
    return f"{sign}{int(found[2]):02}:{found[3] or '00'}"


def forms(texts: Sequence[str]) -> ZoneForms | None:
    """What reads texts that all name an offset; None where a form cannot hold their words."""
    behind: dict[str, None] = {}
    offsets: dict[str, str] = {}
    for text in texts:
        text = text.strip()
        found, offset = _OFFSET.search(text), offset_in(text)
        if found is None or offset is None:
            return None
        before, after = text[: found.start(1)], text[found.end() :]
        if _LETTERS.search(before) or _LETTERS.search(after) or len(text.split()) > _MOST_WORDS:
            return None
        behind[f"{before}zone{after}"] = None
        if not (found[3] and len(found[2]) == len("01") and found[1] != "\u2212"):
            offsets[text[found.start(1) : found.end()]] = offset
    return ZoneForms(tuple(behind), offsets)
