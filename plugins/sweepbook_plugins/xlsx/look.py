"""How the workbook looks: kinds of cells as data, and one tint for each word of a judgement.

A tint never stands alone: the word is in the cell. The three tints are a light blue, a yellow and
an orange, which the common colour deficiencies leave apart, in three steps of lightness, which a
grey print leaves apart; black text is legible on each.
"""

from enum import Enum
from typing import Any


class Kind(Enum):
    """What a column holds, hence how its cells are written and shown."""

    TEXT = "text"
    WORD = "word"
    PROSE = "prose"
    FIGURE = "figure"
    COUNT = "count"


# A face that every office program has, or has another of the same widths for.
FONT = {"font_name": "Arial", "font_size": 9, "valign": "top"}
LEFT = {"align": "left", "indent": 1}
WRAPPED = {"text_wrap": True}
AS_TEXT = {"num_format": "@"}
UNDERLINED = {"bottom": 1, "bottom_color": "#1B3A4B"}
HEADER = {
    **FONT,
    **WRAPPED,
    "bold": True,
    "bg_color": "#D3DEE5",
    **UNDERLINED,
}
HEADER_TEXT = {**HEADER, **LEFT}
HEADER_NUMBER = {**HEADER, "align": "right", "indent": 1}
HEADING = {**FONT, **LEFT, "bold": True, "valign": "bottom", **UNDERLINED}
TITLE = {**FONT, **LEFT, "font_size": 14, "bold": True}
LINE_HEIGHT = 12.0
"""Points that a line of text takes."""
HEADER_AIR = 5.0
"""Points between the titles and the first row, so that neither looks cut."""
LETTERS, BOLD_LETTERS, RAGGED = 1.4, 1.1, 5
"""Letters of running text, and of bold text, that take the width of a digit of the default face;
letters of a line that stay empty where a word goes to the next one. On the safe side."""
AIR = "_W"
"""Leaves a blank as wide as a W, so that a figure does not touch the text beside it."""
CELLS: dict[Kind, dict[str, Any]] = {
    Kind.TEXT: {**FONT, **LEFT, **AS_TEXT},
    Kind.WORD: {**FONT, **LEFT, **AS_TEXT},
    Kind.PROSE: {**FONT, **LEFT, **AS_TEXT, **WRAPPED},
    Kind.FIGURE: {**FONT, "num_format": f"0.00{AIR}"},
    Kind.COUNT: {**FONT, "num_format": f"0{AIR}"},
}
NUMBERS = frozenset({Kind.FIGURE, Kind.COUNT})
WRAPPING = frozenset(kind for kind, look in CELLS.items() if look.get("text_wrap"))
LEAST_FIGURE = 0.005
"""Smaller figures show as zero with two decimals."""

GOOD, DOUBTFUL, BAD = "#E1F0FA", "#EDCA5E", "#E08E58"
TINTS = {
    "upheld": GOOD,
    "pass": GOOD,
    "unproven": DOUBTFUL,
    "undecided": DOUBTFUL,
    "warning": DOUBTFUL,
    "skipped": DOUBTFUL,
    "overturned": BAD,
    "fail": BAD,
    "error": BAD,
    "crashed": BAD,
    "passed": GOOD,
    "passed on retest": GOOD,
    "passed, no limit asked for": DOUBTFUL,
    "tested to a lesser limit": DOUBTFUL,
    "tested to another limit": DOUBTFUL,
    "other configuration": DOUBTFUL,
    "marginal, to be tested again": DOUBTFUL,
    "marginal": DOUBTFUL,
    "not on the schedule": DOUBTFUL,
    "untested": BAD,
    "failed": BAD,
    "verdict overturned": BAD,
}
STRONG = frozenset(word for word, tint in TINTS.items() if tint == BAD)
"""Words also set in bold."""
