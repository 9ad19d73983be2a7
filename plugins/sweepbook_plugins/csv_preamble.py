"""The lines before the rows: key,value lines, headings, and the line of titles."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault
from sweepbook_plugins.csv_layout import Layout
from sweepbook_plugins.csv_lines import Block

MOST_LINES = 5_000
COMMENTS = "comments"
"""Key under which comment lines go to `extra`."""


@dataclass
class Preamble:
    """What stands before the rows; it counts for every test of the file.

    Attributes:
        properties: texts by key.
        titles: titles of the columns, blanks around them taken off.
        line: number of the line of titles; 0 where the dialect names the columns itself.
        first: number of the first line of the file that is no blank.
        faults: faults that lose every test of the file.
        notes: faults that do not.
    """

    properties: dict[str, Cell] = field(default_factory=dict)
    titles: tuple[str, ...] = ()
    line: int = 0
    first: int = 0
    faults: list[Fault] = field(default_factory=list)
    notes: list[Fault] = field(default_factory=list)

    @property
    def found(self) -> bool:
        """Whether the line of titles was found."""
        return bool(self.titles)


class _Builder:
    """Takes the lines of a preamble one by one."""

    def __init__(self, layout: Layout, meaning: Meaning) -> None:
        self.result = Preamble()
        self._layout = layout
        self._known = meaning.field_keys | meaning.figure_keys.keys()
        self._heading = ""
        self._comments: list[str] = []

    def take(self, line: str, row: list[str], number: int) -> bool:
        """Take one line; True once the titles are there."""
        cells = [cell.strip() for cell in row]
        layout = self._layout
        if layout.is_titles(cells):
            self.result.titles, self.result.line = tuple(cells), number
            return True
        if layout.columns and len(cells) == len(layout.columns):
            self.result.titles = layout.columns
            return True
        text = line.strip()
        if text in layout.headings:
            self._heading = f"{text}/"
        elif text not in layout.signature:
            self._key_and_values(line, cells, number)
        return False

    def bad(self, number: int, reason: str) -> None:
        """A line that could not be split: what it says may count for every test."""
        self.result.faults.append(Fault(f"line {number}", reason))

    def comment(self, text: str) -> None:
        """A comment line; an empty text is a line to skip."""
        if text:
            self._comments.append(text)
            self.result.properties[COMMENTS] = Cell("\n".join(self._comments), "")

    def _key_and_values(self, line: str, cells: list[str], number: int) -> None:
        if self._layout.separator is not None:
            key, _, value = line.partition(self._layout.separator)
            cells = [key.strip(), value.strip()]
        key, values = f"{self._heading}{cells[0]}", cells[1:] or [""]
        for position, value in enumerate(values, 1):
            if position == 1 or value:
                self._put(key if position == 1 else f"{key}/{position}", value, number)

    def _put(self, key: str, value: str, number: int) -> None:
        place = f"line {number}"
        known = self.result.properties.get(key)
        if known is None:
            self.result.properties[key] = Cell(value, place)
        elif known.text != value:
            message = f"the key {key!r} comes a second time ({known.text!r}, then {value!r})"
            if key in self._known:
                self.result.faults.append(Fault(place, message))
            else:
                self.result.properties[f"{key} ({place})"] = Cell(value, place)
                self.result.notes.append(Fault(place, f"{message}; both are kept in extra"))


def read(lines: Iterator[Block], layout: Layout, meaning: Meaning) -> tuple[Preamble, Block | None]:
    """Read up to the line of titles.

    Returns:
        the preamble, and the rest of the block in which it ended; None where there is none.
    """
    builder = _Builder(layout, meaning)
    for block in lines:
        for position, row in enumerate(block.rows):
            number = block.first + position
            if position in block.bad:
                builder.bad(number, block.bad[position])
            elif position in block.comments:
                builder.comment(block.comments[position])
            elif any(map(str.strip, row)):
                builder.result.first = builder.result.first or number
                if builder.take(block.lines[position], row, number):
                    skipped = position + (1 if builder.result.line else 0)
                    return builder.result, _rest(block, skipped)
            if number >= MOST_LINES:
                return builder.result, None
    return builder.result, None


def _rest(block: Block, skipped: int) -> Block:
    """The block without its first lines."""
    return Block(
        block.first + skipped,
        block.lines[skipped:],
        block.open_end,
        block.rows[skipped:],
        {at - skipped: text for at, text in block.bad.items() if at >= skipped},
        {at - skipped: text for at, text in block.comments.items() if at >= skipped},
    )


def not_found(layout: Layout) -> str:
    """What to say where no line of titles was found."""
    where = f"in the first {MOST_LINES:,} lines"
    if layout.columns:
        return f"no line {where} has {len(layout.columns)} cells; see csv.columns, csv.delimiter"
    if layout.rows:
        titles = ", ".join(map(repr, sorted(layout.rows.titles)))
        return (
            f"no line {where} holds all the titles {titles}; see csv.rows, csv.delimiter and "
            "csv.encoding"
        )
    title = layout.curves.frequency if layout.curves else ""
    return (
        f"no line {where} holds the title {title!r}; see csv.curves.frequency, csv.delimiter and "
        "csv.encoding"
    )
