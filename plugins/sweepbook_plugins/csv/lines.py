"""Lines of a CSV file as rows of cells, in blocks, with every line on its own.

A quote that is not closed on its line is a fault of this line and swallows no other. Lines and
rows are bounded. Nothing here knows what a cell means.
"""

import codecs
import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from sweepbook.source import Source
from sweepbook_plugins.csv.cut import BlockRows
from sweepbook_plugins.csv.forms import Layout
from sweepbook_plugins.csv.quotes import taken_off
from sweepbook_plugins.csv.rows import Row, Rows, without_blank_cells

BLOCK_CHARACTERS = 1 << 18
MOST_LINE_CHARACTERS = 1_000_000
MOST_WITHOUT_END = 64 << 20
"""Characters of a line that is too long, of which the end is looked for."""
MOST_CELLS = 10_000
LEAST_CHARACTERS = 2_000
"""Characters of a block that is worth arrays."""
MOST_APART = 200
"""Lines of such a block that are no plain rows of cells: bad ones, comments, and some quotes."""


@dataclass
class Block:
    """Some consecutive lines.

    Attributes:
        first: number of the first line, counted from 1.
        text: the lines with line ends between them.
        start: position of the first that still counts.
        open_end: whether the file ends within the last of these lines, without a line end.
        rows: cells of each line; [] for blank lines, comments and bad lines.
        bad: what is wrong, by position in the block.
        comments: text of comment lines, by position in the block.
        torn: rows of bad lines of which only a cell cannot be read, by position in the block.
        without_quotes: whether the rows are kept without the quotes of the lines.
    """

    first: int
    text: str
    start: int = 0
    open_end: bool = False
    rows: Rows = field(default_factory=lambda: Rows([]))
    bad: dict[int, str] = field(default_factory=dict)
    comments: dict[int, str] = field(default_factory=dict)
    torn: dict[int, Row] = field(default_factory=dict)
    without_quotes: bool = False

    def line(self, position: int) -> str:
        """One line without its end."""
        rows = self.rows
        if isinstance(rows, BlockRows) and not self.without_quotes:
            return rows.line(position)
        return self.lines[position]

    @cached_property
    def lines(self) -> list[str]:
        """The lines without their ends."""
        return self.text.split("\n")


CUT = "the file ends within this number; export it again"


_UTF_16_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


class EncodingFault(ValueError):
    """The rest of a file cannot be decoded at all."""


def blocks(source: Source, layout: Layout) -> Iterator[Block]:
    """Yield the whole file block by block; blocks of empty lines only are left out.

    Raises:
        EncodingFault: bytes that the declared encoding does not have, and no way to go on.
        UnreadableSource: the file cannot be opened or its compression is damaged.
    """
    encoding = "utf-8-sig" if layout.encoding == "utf-8" else layout.encoding
    if source.head.startswith(_UTF_16_MARKS) and not encoding.startswith("utf-16"):
        raise EncodingFault('it begins as UTF-16 does; write csv.encoding = "utf-16"')
    first = 1
    with source.open() as stream:
        text = io.TextIOWrapper(stream, encoding, errors="surrogateescape", newline=None)
        for lines, is_cut, open_end in _texts(text, layout):
            if lines.strip("\n"):
                block = _block(Block(first, lines, open_end=open_end), layout, is_cut=is_cut)
                yield block
                first += len(block.rows)
            else:
                first += len(lines) + 1


def _texts(stream: io.TextIOWrapper, layout: Layout) -> Iterator[tuple[str, bool, bool]]:
    """Whole lines, whether the first of them has lost its end, and whether the file ends within.

    A line that is very much too long loses its end before it fills the memory.

    Raises:
        EncodingFault: it has no end.
    """
    rest, is_cut, lost = "", False, 0
    while True:
        try:
            chunk = stream.read(BLOCK_CHARACTERS)
        except UnicodeError as error:
            raise EncodingFault(
                f"bytes that are not {layout.encoding} ({error.__class__.__name__}); "
                "see csv.encoding"
            ) from error
        if not chunk:
            if rest:
                yield rest, is_cut, True
            return
        lines, end, rest = (rest + chunk).rpartition("\n")
        if end:
            yield lines, is_cut, False
            is_cut, lost = False, 0
        if len(rest) > MOST_LINE_CHARACTERS:
            rest, is_cut, lost = rest[:100], True, lost + len(rest)
        if lost > MOST_WITHOUT_END:
            raise EncodingFault(
                f"a line does not end within {MOST_WITHOUT_END:,} characters; see csv.encoding"
            )


def seems_cut(texts: Sequence[str], decimal: str) -> bool:
    """Whether the last of n numbers has lost digits that all others have.

    That is asked of the last cell of a file without a line end at its end: an export that was cut
    off in the middle of a number.
    """
    digits = [len(text.strip().partition(decimal)[2]) for text in texts]
    return len(digits) > 2 and len(set(digits[:-1])) == 1 and digits[-1] < digits[0]


def _block(block: Block, layout: Layout, *, is_cut: bool) -> Block:
    if is_cut or len(block.text) > MOST_LINE_CHARACTERS:
        _shorten(block, is_cut=is_cut)
    _find_bad_text(block, layout)
    _set_comments_aside(block, layout)
    block.rows = _rows(block, layout)
    for position, width in block.rows.drop_wide(MOST_CELLS).items():
        block.bad[position] = f"the line has {width:,} cells, more than {MOST_CELLS:,}"
    return block


def _shorten(block: Block, *, is_cut: bool) -> None:
    """Mark lines that are too long, and keep of each what is enough to show it."""
    lines = block.lines
    for position, line in enumerate(lines):
        if len(line) > MOST_LINE_CHARACTERS or (is_cut and not position):
            block.bad[position] = f"the line is longer than {MOST_LINE_CHARACTERS:,} characters"
            lines[position] = line[:100]
    block.text = "\n".join(lines)


def _rows(block: Block, layout: Layout) -> Rows:
    """The rows of a block: kept as bytes, but for lines in which quotes do more than enclose."""
    quoted = bool(layout.quote) and layout.quote in block.text
    if len(block.text) >= LEAST_CHARACTERS and f"{layout.delimiter}{layout.quote}".isascii():
        raw = block.text.encode("utf-8", "surrogatepass") + b"\n"
        others: list[int] = []
        if quoted:
            raw, others = taken_off(raw, layout.quote, layout.delimiter)
        if len(others) + len(block.bad) + len(block.comments) <= MOST_APART:
            apart: dict[int, Row] = {at: [] for at in (*block.bad, *block.comments)}
            for at in others:
                if at not in apart:
                    apart[at] = _one_row(block.lines[at], at, block, layout)
            block.without_quotes = quoted
            return BlockRows(raw, layout.delimiter, apart)
    plain = _emptied(block.lines, block)
    if not quoted:
        return Rows([line.split(layout.delimiter) if line else [] for line in plain])
    rows = _split_quoted(plain, layout)
    return rows or Rows([_one_row(line, at, block, layout) for at, line in enumerate(plain)])


def _split_quoted(plain: list[str], layout: Layout) -> Rows | None:
    """Split lines among which are quotes; None where one of them is not closed on its line."""
    try:
        rows = list(reader(plain, layout))
    except csv.Error:
        return None
    return Rows(rows) if len(rows) == len(plain) else None


def reader(lines: list[str], layout: Layout) -> Iterator[Row]:
    """Split lines into cells, strictly; raises csv.Error."""
    if not layout.quote:
        return csv.reader(lines, delimiter=layout.delimiter, quoting=csv.QUOTE_NONE, strict=True)
    return csv.reader(lines, delimiter=layout.delimiter, quotechar=layout.quote, strict=True)


def _one_row(line: str, position: int, block: Block, layout: Layout) -> Row:
    """Cells of one line on its own, which is what finds the bad one."""
    try:
        rows = list(reader([line], layout))
    except csv.Error as error:
        if "unexpected end" in str(error):
            block.bad[position] = (
                f"a quote ({layout.quote}) is opened and not closed on this line; mend the line, "
                "or see csv.quote"
            )
        else:
            block.bad[position] = f"the line cannot be split into cells ({error}); see csv.quote"
        return []
    return rows[0] if rows else []


def _find_bad_text(block: Block, layout: Layout) -> None:
    """Mark lines with bytes that are not of the encoding, or with zero bytes."""
    if block.text.isascii() and "\0" not in block.text:
        return
    try:
        block.text.encode("utf-8")
        if "\0" not in block.text:
            return
    except UnicodeEncodeError:
        pass  # lone surrogates stand for bytes that could not be decoded
    for position, line in enumerate(block.lines):
        if any("\ud800" <= character <= "\udfff" for character in line):
            block.bad[position] = f"bytes that are not {layout.encoding}; see csv.encoding"
        elif "\0" in line:
            block.bad[position] = "a zero byte, as of UTF-16; see csv.encoding"


def _set_comments_aside(block: Block, layout: Layout) -> None:
    if not any(text in block.text for text in (*layout.comments, *layout.skip)):
        return
    for position, line in enumerate(block.lines):
        plain = without_blank_cells(line, layout.delimiter)
        if line.startswith(layout.comments):
            block.comments[position] = plain
        elif not layout.skip.isdisjoint((line.strip(), plain.strip())):
            block.comments[position] = ""


def _emptied(lines: list[str], block: Block) -> list[str]:
    """The lines with bad ones and comments blank."""
    out = {*block.bad, *block.comments}
    return ["" if at in out else line for at, line in enumerate(lines)] if out else lines
