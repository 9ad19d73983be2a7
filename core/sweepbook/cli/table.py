"""Text in columns, wrapped to the terminal; all of it printable."""

import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import click

from sweepbook.shown import shortened
from sweepbook.text import printable, width

GAP = "  "
_LEFT = 16
_NARROWEST = 20
_COLOURS = {
    "upheld": "green",
    "pass": "green",
    "overturned": "red",
    "fail": "red",
    "error": "red",
    "unproven": "yellow",
    "undecided": "yellow",
    "warning": "yellow",
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        title: its heading.
        columns: width in characters.
        right: whether figures stand at its right edge.
    """

    title: str
    columns: int
    right: bool = False


def terminal_columns() -> int:
    """Characters in a line: the terminal's, at least 60 and at most 140; 80 where there is none."""
    from shutil import get_terminal_size  # which loads every kind of compression

    return max(60, min(140, get_terminal_size((80, 24)).columns))


def wrap(text: str, columns: int) -> list[str]:
    """Break text into lines of at most so many columns, between words where it can.

    The text is made printable first, and shortened where nobody would read it. An empty text gives
    one empty line.
    """
    lines, line, shown = [], "", shortened(printable(text))
    if width(shown) <= columns and not shown.startswith(" "):
        return [shown]
    for word in shown.split(" "):
        while True:
            joined = f"{line} {word}" if line else word
            if width(joined) <= columns:
                line = joined
                break
            if line and width(word) <= columns:
                lines.append(line)
                line = word
                break
            head, rest = _cut(joined, columns)
            lines.append(head)
            line, word = "", rest.lstrip(" ")
    return [*lines, line]


def paragraph(text: str, columns: int, indent: int = 0) -> Iterator[str]:
    """Give the lines of a wrapped text, each with an indent."""
    for line in wrap(text, columns - indent):
        yield " " * indent + line


def facts(pairs: Iterable[tuple[str, str]], columns: int) -> Iterator[str]:
    """Give "what   text" lines; a pair without text gives none."""
    for what, text in pairs:
        if text:
            first, *more = paragraph(text, columns, _LEFT + len(GAP))
            yield f"{printable(what):<{_LEFT}}{GAP}{first.lstrip(' ')}"
            yield from more


def print_rows(titles: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Print a whole table, as wide as its contents need and the terminal allows."""
    columns = fitted(titles, rows, terminal_columns())
    for line in heading(columns):
        click.echo(line)
    for cells in rows:
        for line in row(cells, columns):
            click.echo(line)


def heading(columns: Sequence[Column]) -> Iterator[str]:
    """Give the line of titles and a rule below it."""
    yield from row([column.title for column in columns], columns)
    yield GAP.join("-" * column.columns for column in columns)


def row(cells: Iterable[str], columns: Sequence[Column]) -> Iterator[str]:
    """Give the lines of one row; a cell that is too long goes on in the lines below."""
    wrapped = [wrap(cell, col.columns) for cell, col in zip(cells, columns, strict=True)]
    for number in range(max(len(lines) for lines in wrapped)):
        parts = [lines[number] if number < len(lines) else "" for lines in wrapped]
        padded = [_padded(part, col) for part, col in zip(parts, columns, strict=True)]
        yield GAP.join(padded).rstrip()


def fitted(titles: Sequence[str], rows: Sequence[Sequence[str]], most: int) -> list[Column]:
    """Columns as wide as their contents; the last and then the widest are narrowed to fit."""
    widths = [
        max([width(title), *(width(printable(cells[place])) for cells in rows)])
        for place, title in enumerate(titles)
    ]
    room = most - len(GAP) * (len(widths) - 1)
    widths[-1] = max(min(widths[-1], room - sum(widths[:-1])), _NARROWEST)
    while sum(widths) > room and max(widths) > _NARROWEST:
        widths[widths.index(max(widths))] -= 1
    return [Column(title, columns) for title, columns in zip(titles, widths, strict=True)]


def coloured(line: str, word: str) -> str:
    """Colour the last occurrence of a word that has a colour; the word itself stays."""
    before, found, after = line.rpartition(word)
    if not found or word not in _COLOURS or os.environ.get("NO_COLOR"):
        return line
    return before + click.style(word, fg=_COLOURS[word]) + after


def _padded(text: str, column: Column) -> str:
    blanks = " " * (column.columns - width(text))
    return blanks + text if column.right else text + blanks


def _cut(text: str, columns: int) -> tuple[str, str]:
    """The part that fits, at least one character, and the rest."""
    taken = 0
    for place, char in enumerate(text):
        taken += width(char)
        if taken > columns and place:
            return text[:place], text[place:]
    return text, ""
