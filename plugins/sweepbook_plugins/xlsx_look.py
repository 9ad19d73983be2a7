"""How the workbook looks: kinds of cells as data, and one tint for each word of a judgement.

A tint never stands alone: the word is in the cell. The tints differ in hue along blue and orange,
which the common colour deficiencies leave apart, and in lightness, which a grey print leaves apart.
"""

from enum import Enum
from typing import Any


class Kind(Enum):
    """What a column holds, hence how its cells are written and shown."""

    TEXT = "text"
    WORD = "word"
    PROSE = "prose"
    DECIBEL = "decibel"
    MEGAHERTZ = "megahertz"
    FIGURE = "figure"
    COUNT = "count"


FONT = {"font_name": "Calibri", "font_size": 10, "valign": "top"}
HEADER = {
    **FONT,
    "bold": True,
    "text_wrap": True,
    "bottom": 2,
    "bottom_color": "#1B3A4B",
    "bg_color": "#E3EAEE",
}
HEADER_TEXT = {**HEADER, "indent": 1}
HEADER_NUMBER = {**HEADER, "align": "right", "indent": 1}
LINE_HEIGHT = 13.0
"""Points that a line of text takes."""
TITLE = {**FONT, "font_size": 14, "bold": True}
# "_W" leaves a blank as wide as a W, so that a figure does not touch the text beside it.
CELLS: dict[Kind, dict[str, Any]] = {
    Kind.TEXT: {**FONT, "num_format": "@", "indent": 1},
    Kind.WORD: {**FONT, "num_format": "@", "indent": 1},
    Kind.PROSE: {**FONT, "num_format": "@", "indent": 1, "text_wrap": True},
    Kind.DECIBEL: {**FONT, "num_format": "0.00_W"},
    Kind.MEGAHERTZ: {**FONT, "num_format": "0.00_W"},
    Kind.FIGURE: {**FONT, "num_format": "0.00_W"},
    Kind.COUNT: {**FONT, "num_format": "0_W"},
}
NUMBERS = frozenset({Kind.DECIBEL, Kind.MEGAHERTZ, Kind.FIGURE, Kind.COUNT})

TINTS = {
    "upheld": "#DCEBF5",
    "pass": "#DCEBF5",
    "note": "#ECEFF1",
    "unstated": "#ECEFF1",
    "not evaluated": "#ECEFF1",
    "unproven": "#F9E7B3",
    "undecided": "#F9E7B3",
    "warning": "#F9E7B3",
    "overturned": "#E8A06A",
    "fail": "#E8A06A",
    "error": "#E8A06A",
}
STRONG = frozenset({"overturned", "fail", "error"})
"""Words also set in bold."""
