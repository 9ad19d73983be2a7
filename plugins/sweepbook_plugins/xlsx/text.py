"""Text from outside as a cell can hold it: always text, never markup, never too long."""

import re
from collections.abc import Iterable
from html import escape

from sweepbook.text import printable

MOST_CHARACTERS = 32_767
"""UTF-16 units that a cell takes (the limit of the office programs)."""
_NOTE = "... (cut: {} characters, whole in the record)"
_ROOM = 100
"""Units kept free for the note."""
_ORDINARY = "!-%'-;=?-^`-~"
"""Printable ASCII without the blank, the marks of XML, and the underscore, which may escape."""
_PLAIN = re.compile(f"[{_ORDINARY}](?:[ {_ORDINARY}]*[{_ORDINARY}])?")
_LOOKS_ESCAPED = re.compile(r"_(x[0-9A-Fa-f]{4}_)")


def fitting(text: str) -> str:
    """The text with control characters made visible, cut with a note where it is too long."""
    return _whole_or_cut(printable(text))


def _whole_or_cut(shown: str) -> str:
    return shown if _units(shown) <= MOST_CHARACTERS else _cut(shown)


def inline(text: str) -> str:
    """The inner XML of a cell that holds this text and nothing else, whatever it looks like.

    Source: ECMA-376 part 1, 18.3.1.53 (is), 18.4.12 (t) and, for the escape of what looks like an
    escaped character, 22.9.2.19 (ST_Xstring). XML 1.0, 2.10 for blanks at the ends.
    """
    if _PLAIN.fullmatch(text) and len(text) <= MOST_CHARACTERS:
        return f"<is><t>{text}</t></is>"
    return _inner(printable(text))


def inline_lines(texts: Iterable[str]) -> str:
    """The inner XML of a cell that holds these texts, each on a line of its own."""
    return _inner("\n".join(map(printable, texts)))


def _inner(shown: str) -> str:
    plain = _LOOKS_ESCAPED.sub(r"_x005F_\1", _whole_or_cut(shown))
    keep = "" if plain == plain.strip() else ' xml:space="preserve"'
    return f"<is><t{keep}>{escape(plain, quote=False)}</t></is>"


def _units(text: str) -> int:
    """Length in UTF-16 units; exact where it matters, cheap where the text is short."""
    if len(text) <= MOST_CHARACTERS // 2:
        return len(text)
    return len(text.encode("utf-16-le")) // 2


def _cut(text: str) -> str:
    units = text.encode("utf-16-le")[: (MOST_CHARACTERS - _ROOM) * 2]
    return units.decode("utf-16-le", "ignore") + _NOTE.format(len(text))
