"""The cell formats of a workbook, and the numbers by which cells name them."""

from typing import Any

from sweepbook import shown
from sweepbook_plugins.xlsx.look import (
    AIR,
    CELLS,
    HEADER_NUMBER,
    HEADER_TEXT,
    HEADING,
    LEAST_FIGURE,
    STRONG,
    TINTS,
    TITLE,
    Kind,
)
from sweepbook_plugins.xlsx.rows import style_number


class Styles:
    """Each format is made once.

    Attributes:
        header, header_number, heading, title: numbers of the formats of headings.
    """

    def __init__(self, workbook: Any) -> None:  # noqa: ANN401 - xlsxwriter ships no types
        self._workbook = workbook
        self._made: dict[tuple[Kind, str], Any] = {}
        self.header = style_number(workbook.add_format(HEADER_TEXT))
        self.header_number = style_number(workbook.add_format(HEADER_NUMBER))
        self.heading = style_number(workbook.add_format(HEADING))
        self.title = style_number(workbook.add_format(TITLE))

    def format(self, kind: Kind) -> Any:  # noqa: ANN401
        """The format of a whole column, xlsxwriter's."""
        return self._format(kind, "")

    def number(self, kind: Kind, word: str = "") -> int:
        """The number of the format of a cell; `word` gives a tint where it has one."""
        return style_number(self._format(kind, word if word in TINTS else ""))

    def of_number(self, kind: Kind, value: float | int) -> int:
        """The number of the format of a cell with that number in it."""
        small = kind is Kind.FIGURE and is_small(value)
        return style_number(self._format(kind, "", figure_format(value) if small else ""))

    def _format(self, kind: Kind, word: str, number: str = "") -> Any:  # noqa: ANN401
        key = (kind, word or number)
        if key not in self._made:
            properties = dict(CELLS[kind])
            if word:
                properties |= {"bg_color": TINTS[word], "bold": word in STRONG}
            if number:
                properties |= {"num_format": number}
            self._made[key] = self._workbook.add_format(properties)
        return self._made[key]


def is_small(value: float | int) -> bool:
    """Whether a figure is not zero and would show as zero with two decimals."""
    return -LEAST_FIGURE < value < LEAST_FIGURE and value != 0


def figure_format(value: float) -> str:
    """The format of a figure: two decimals, or as many as show that it is not zero."""
    text = shown.figure(value)
    if "e" in text:
        return f"0E+00{AIR}"
    return f"0.{'0' * len(text.partition('.')[2])}{AIR}"
