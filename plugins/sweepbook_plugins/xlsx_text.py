"""Text from outside as a cell can hold it: always text, never markup, never too long."""

from html import escape
from typing import Any

from sweepbook.text import printable

MOST_CHARACTERS = 32_767
"""UTF-16 units that a cell takes (the limit of the office programs)."""
_NOTE = "... (cut: {} characters, whole in the record)"
_ROOM = 100
"""Units kept free for the note."""
_SHORT = 3_000
"""Where to cut what needs an escape a character and would not fit with them."""


def write_text(sheet: Any, row: int, column: int, text: str, style: Any) -> None:  # noqa: ANN401
    """Write a text, whatever it looks like, as text.

    Args:
        sheet: xlsxwriter's worksheet.
        row: counted from 0.
        column: counted from 0.
        text: any text.
        style: xlsxwriter's cell format.
    """
    sheet.write_string(row, column, _unmarked(fitting(text)), style)


def fitting(text: str) -> str:
    """The text with control characters made visible, cut with a note where it is too long."""
    shown = printable(text)
    return shown if _units(shown) <= MOST_CHARACTERS else _cut(shown, MOST_CHARACTERS)


def _unmarked(text: str) -> str:
    """Keep xlsxwriter from taking a text for markup.

    It writes a string that begins with <r> and ends with </r> into the sheet as it is, as its own
    rich text, so that a label could bring cells and formulas of its own. As rich text of one run,
    escaped, the same text stays text.
    """
    if not (text.startswith("<r>") and text.endswith("</r>")):
        return text
    run = f'<r><t xml:space="preserve">{escape(text, quote=False)}</t></r>'
    return run if _units(run) <= MOST_CHARACTERS else _cut(text, _SHORT)


def _units(text: str) -> int:
    """Length in UTF-16 units; exact where it matters, cheap where the text is short."""
    if len(text) <= MOST_CHARACTERS // 2:
        return len(text)
    return len(text.encode("utf-16-le")) // 2


def _cut(text: str, most: int) -> str:
    kept = text.encode("utf-16-le")[: (most - _ROOM) * 2].decode("utf-16-le", "ignore")
    return kept + _NOTE.format(len(text))
