"""The text of an export nobody has described yet: how it is encoded, and what parts its cells."""

import csv
import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import code_pages
from sweepbook.draft.code_pages import Guess
from sweepbook.draft.numbers import FREQUENCIES, is_numeric, without_unit
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import printed
from sweepbook_plugins.csv.rows import without_blank_cells

if TYPE_CHECKING:
    from sweepbook_plugins.csv.draft.regrouped import Marked

MOST_BYTES = 8 << 20
"""As much of a file is looked at: a few tests of any kind of table."""
_MOST_LINES = 250_000
"""And as many lines: of rows of a point each, about as many as go into these bytes."""
_DELIMITERS = (";", "\t", ",", "|")
_LOOKED_AT = 4_000
_LEAST_TITLES = 3
_UNKNOWN = "unknown"
_BLANKS = " \r\n\f\u00a0"
"""What is left out at the end of a line; a tabulator there ends a blank cell."""
_FRAMED = re.compile(r"([-=*#~+]{2,})\s.*\s\1")
_NOT_TEXT = re.compile(rb"[\x00-\x08\x0e-\x1f]")

Cells = list[str]


class Text(NamedTuple):
    """An export as rows of cells.

    Attributes:
        encoding: as a dialect calls it.
        guessed: what a code page was told by; None where the bytes themselves show the encoding.
        delimiter: mark between two cells; a blank where they are aligned.
        lines: whole lines, without the blanks at their ends.
        rows: their cells without blanks around them, and without units of curves behind numbers;
            [] for a blank line.
        units: those units of frequencies.
        cut: whether the file goes on behind the last of them.
        turned: as `csv.transposed` has it, where rows stand for columns.
        marked: the kinds of its rows, where their first cell tells them.
        aligned: as `csv.aligned` has it, where cells stand below their titles; else "".
    """

    encoding: str
    guessed: Guess | None
    delimiter: str
    lines: list[str]
    rows: list[Cells]
    units: list[str]
    cut: bool
    turned: Sequence[str] = ()
    marked: "Marked | None" = None
    aligned: str = ""

    def cells(self, at: int) -> Cells:
        """The cells of a line as they stand there."""
        return self.rows[at] if self.aligned else split(self.lines[at], self.delimiter)


def read_all(sources: Sequence[Source]) -> Iterator[Text | None]:
    """Take the beginnings of files of one make apart, all in the code page that fits them together.

    The first that is no text is the last.

    Raises:
        UnreadableSource: one cannot be opened, or its compression is damaged.
    """
    texts: list[Text | None] = []
    for source in sources:
        texts.append(read(source))
        if texts[-1] is None:  # which ends the draft
            break
    shared = code_pages.guess_together([one.guessed for one in texts if one and one.guessed])
    for source, text in zip(sources, texts, strict=False):
        other = shared is not None and text is not None and text.guessed is not None
        yield read(source, shared) if other else text


def read(source: Source, shared: Guess | None = None) -> Text | None:
    """Take the beginning of a file apart; None where it is no text.

    Args:
        source: the file.
        shared: the code page of the files of its make, where that was told by all of them.

    Raises:
        UnreadableSource: it cannot be opened, or its compression is damaged.
    """
    with source.open() as stream:
        raw = stream.read(MOST_BYTES + 1)
    cut = len(raw) > MOST_BYTES
    encoding = _encoding(raw)
    if encoding is None:
        return None
    guessed = shared or code_pages.guess(raw) if encoding == _UNKNOWN else None
    encoding = guessed.page if guessed else encoding
    text = raw.decode("utf-8-sig" if encoding == "utf-8" else encoding, "replace")
    lines = [line.rstrip(_BLANKS) for line in text.splitlines()[: _MOST_LINES + 1]]
    cut = cut or len(lines) > _MOST_LINES
    if cut:
        lines.pop()
    some = lines[:_LOOKED_AT]
    scores = {mark: _score(some, mark) for mark in _DELIMITERS}
    delimiter = max(scores, key=lambda mark: scores[mark])
    even, count = scores[delimiter]
    aligned = ""
    if not even and printed.numbers(some) > max(count, 0):
        delimiter = " "
        aligned, rows = printed.cut(lines)
    else:
        rows = [split(line, delimiter) for line in lines]
    found = {without_unit(cell)[1] for row in rows for cell in row if cell.endswith(FREQUENCIES)}
    rows = [[without_unit(cell)[0] for cell in row] for row in rows]
    units = sorted(found - {""})
    return Text(encoding, guessed, delimiter, lines, rows, units, cut, aligned=aligned)


def parted(text: Text) -> tuple[str, str]:
    """The key of a layout that says what parts cells, and its value."""
    return ("aligned", text.aligned) if text.aligned else ("delimiter", text.delimiter)


def split(line: str, delimiter: str) -> Cells:
    """The cells of a line; quotation marks of one with an endless cell count for nothing."""
    if not line.strip(delimiter + _BLANKS):
        return []
    plain = without_blank_cells(line, delimiter)
    if (plain[0] == "[" and plain[-1] == "]" and plain.count("[") == 1) or _FRAMED.fullmatch(plain):
        # a heading in brackets may hold the delimiter
        return [plain, *[""] * line.count(delimiter, len(plain))]
    cells = line.split(delimiter)
    if '"' in line:
        with suppress(csv.Error):
            cells = next(csv.reader([line], delimiter=delimiter), [])
    return [cell.strip() for cell in cells]


def _encoding(raw: bytes) -> str | None:
    """The encoding that bytes show, `_UNKNOWN` for some code page; None where they are no text."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    if _NOT_TEXT.search(raw[:65_536]):
        return None
    for end in range(4):  # the last letter may be cut through
        with suppress(UnicodeDecodeError):
            raw[: len(raw) - end].decode("utf-8")
            return "utf-8"
    return _UNKNOWN


def _score(lines: Sequence[str], mark: str) -> tuple[bool, int]:
    """How well a mark parts the lines: first whether most go with titles, then by their numbers.

    Titles are a line of three words or more, with as many cells as the lines below it; they may
    hold digits where all lines have as many of the mark as they do.
    """
    counts = {line.count(mark) for line in lines if line.strip()}
    alike = len(counts) == 1 and min(counts) + 1 >= _LEAST_TITLES
    width, even, digits = 0, 0, 0
    for line in lines:
        cells = split(line, mark)
        if len(cells) >= _LEAST_TITLES and all(cells) and not any(map(_has_digit, cells)):
            width = len(cells)
        elif _has_digit(line):
            digits += 1
            even += len(cells) == width
    return alike or even * 2 > digits, _numbers(lines, mark)


def _has_digit(text: str) -> bool:
    return any(map(str.isdigit, text))


def _numbers(lines: Sequence[str], mark: str) -> int:
    """How many cells are numbers, less those in which another mark parts something."""
    others = [other for other in _DELIMITERS if other != mark]
    score = 0
    for line in lines:
        if mark not in line:
            continue
        for cell in split(line, mark):
            if is_numeric(without_unit(cell)[0]):
                score += 1
            elif any(other in cell for other in others) and any(c.isdigit() for c in cell):
                score -= 2
    return score
