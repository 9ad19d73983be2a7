"""What stands in tables and is no number: words, and those of them that stand for no value."""

from collections.abc import Collection, Iterator, Sequence
from functools import partial
from itertools import takewhile

from sweepbook.draft.contacts_joined import is_contacts
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.parsed import UNIT_WORDS
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Cells, Text

_LONGEST = 24
_UNITS = {*UNIT_WORDS, "dB"}
"""In a row below titles, as a rule."""


def take_words(looked: Sequence[tuple[Text, Shape]], evidence: Evidence) -> None:
    """Hand over what stands in tables and is no number, as far as it is short.

    Args:
        looked: files of a make.
        evidence: takes the different texts; those in the place of values also as gaps.
    """
    tables: dict[tuple[str, ...], list[Cells]] = {}
    for text, shape in looked:
        for seen in shape.tables:
            tables.setdefault(tuple(seen.titles), []).extend(text.rows[seen.start : seen.stop])
    for text, shape in looked:
        taken = {seen.start for seen in shape.tables}
        for titles, start in _known_titles(text, tables.keys()):
            if start not in taken:
                below = takewhile(partial(_is_as_wide, titles), text.rows[start:])
                tables[titles].extend(below)
    titled = {title for titles in tables for title in titles} | _UNITS
    words: set[str] = set()
    gaps: dict[str, None] = {}
    for titles, rows in tables.items():
        short = {cell for row in rows for cell in row if len(cell) <= _LONGEST}
        found = {cell for cell in short if not is_numeric(cell)}
        words |= found
        wordy = {cell for cell in found if cell and not any(map(str.isdigit, cell))} - titled
        gaps |= dict.fromkeys(_gaps(titles, rows, wordy))
    evidence.singles += sorted(words)
    evidence.gaps += gaps


def _known_titles(
    text: Text, known: Collection[tuple[str, ...]]
) -> Iterator[tuple[tuple[str, ...], int]]:
    """The titles of tables of other tests that stand in a file, and the line below each."""
    begins = {titles[0] for titles in known if titles}
    for at, row in enumerate(text.rows):
        if row and row[0] in begins and tuple(row) in known:
            yield tuple(row), at + 1


def _is_as_wide(titles: Sequence[str], row: Cells) -> bool:
    return len(row) == len(titles)


def _gaps(titles: Sequence[str], rows: Sequence[Cells], words: set[str]) -> Iterator[str]:
    """The words in columns of measured numbers: of curves, or with decimals.

    A column of whole numbers, such as floors, may well hold a word that says something.
    """
    axis = next((at for at, title in enumerate(titles) if is_frequency(title)), None)
    rows = [row for row in rows if len(row) >= len(titles)]
    of_curves = axis is not None and all(is_numeric(row[axis]) for row in rows)
    for column in zip(*rows, strict=False) if words else ():
        texts = [cell for cell in column if cell in words]
        others = [cell for cell in column if is_numeric(cell)]
        if len(texts) < len(others) and (of_curves or any(map(_has_decimals, others))):
            yield from texts


def _has_decimals(cell: str) -> bool:
    """Whether a text is a number with decimals, and not the two contacts of a pair."""
    return is_numeric(cell) and not cell.lstrip("+-").isdigit() and not is_contacts(cell)
