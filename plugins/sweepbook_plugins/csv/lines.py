"""Lines of a CSV file as rows of cells, in blocks, with every line on its own.

A quote that is not closed on its line is a fault of this line and swallows no other. Lines and
rows are bounded. Nothing here knows what a cell means.
"""

import codecs
import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from sweepbook.source import Source
from sweepbook_plugins.csv.forms import Layout
from sweepbook_plugins.csv.rows import Row, Rows, split

BLOCK_CHARACTERS = 1 << 18
MOST_LINE_CHARACTERS = 1_000_000
MOST_CELLS = 10_000


@dataclass(slots=True)
class Block:
    """Some consecutive lines.

    Attributes:
        first: number of the first line, counted from 1.
        lines: the lines without their ends.
        rows: cells of each line; [] for blank lines, comments and bad lines.
        bad: what is wrong, by position in the block.
        comments: text of comment lines, by position in the block.
        open_end: whether the file ends within the last of these lines, without a line end.
    """

    first: int
    lines: list[str]
    open_end: bool = False
    rows: Rows = field(default_factory=lambda: Rows([]))
    bad: dict[int, str] = field(default_factory=dict)
    comments: dict[int, str] = field(default_factory=dict)


def rest_of(block: Block, skipped: int) -> Block:
    """The block without its first lines."""
    return Block(
        block.first + skipped,
        block.lines[skipped:],
        block.open_end,
        block.rows.rest(skipped),
        {at - skipped: text for at, text in block.bad.items() if at >= skipped},
        {at - skipped: text for at, text in block.comments.items() if at >= skipped},
    )


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
        for lines, too_long, open_end in _lines(text, layout):
            if any(lines):
                yield _block(Block(first, lines, open_end), too_long, layout)
            first += len(lines)


def _lines(text: io.TextIOWrapper, layout: Layout) -> Iterator[tuple[list[str], set[int], bool]]:
    """Whole lines, positions of those that are too long, and whether the file ends within one."""
    rest = ""
    cut = False
    while True:
        try:
            chunk = text.read(BLOCK_CHARACTERS)
        except UnicodeError as error:
            raise EncodingFault(
                f"bytes that are not {layout.encoding} ({error.__class__.__name__}); "
                "see csv.encoding"
            ) from error
        lines = (rest + chunk).split("\n")
        rest = lines.pop() if chunk else ""
        open_end = not chunk and lines[-1] != ""
        if not chunk and not open_end:
            lines.pop()
        too_long = {0} if cut and lines else set()
        if max(map(len, lines), default=0) > MOST_LINE_CHARACTERS:
            too_long |= {at for at, line in enumerate(lines) if len(line) > MOST_LINE_CHARACTERS}
        if lines:
            cut = False
            yield lines, too_long, open_end
        if len(rest) > MOST_LINE_CHARACTERS:
            rest, cut = rest[:100], True
        if not chunk:
            return


def seems_cut(texts: Sequence[str], decimal: str) -> bool:
    """Whether the last of n numbers has lost digits that all others have.

    That is asked of the last cell of a file without a line end at its end: an export that was cut
    off in the middle of a number.
    """
    digits = [len(text.strip().partition(decimal)[2]) for text in texts]
    return len(digits) > 2 and len(set(digits[:-1])) == 1 and digits[-1] < digits[0]


def _block(block: Block, too_long: set[int], layout: Layout) -> Block:
    lines = block.lines
    for position in too_long:
        block.bad[position] = f"the line is longer than {MOST_LINE_CHARACTERS:,} characters"
        lines[position] = lines[position][:100]
    _find_bad_text(block, layout)
    _set_comments_aside(block, layout)
    plain = _emptied(lines, block)
    if not layout.quote or layout.quote not in "\n".join(plain):
        block.rows = split(plain, layout.delimiter)
        whole = True
    else:
        whole = _split_quoted(block, plain, layout)
    if not whole:
        block.rows = Rows([_one_row(line, at, block, layout) for at, line in enumerate(plain)])
    if not 0 <= block.rows.width <= MOST_CELLS:
        _drop_wide(block)
    return block


def _drop_wide(block: Block) -> None:
    """Mark rows of too many cells."""
    for position, row in enumerate(block.rows):
        if len(row) > MOST_CELLS:
            block.bad[position] = f"the line has {len(row):,} cells, more than {MOST_CELLS:,}"
    if block.bad:
        block.rows = Rows([[] if len(row) > MOST_CELLS else row for row in block.rows])


def _split_quoted(block: Block, plain: list[str], layout: Layout) -> bool:
    """Split lines among which are quotes; False where one of them is not closed on its line."""
    try:
        block.rows = Rows(list(reader(plain, layout)))
    except csv.Error:
        return False
    return len(block.rows) == len(plain)


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
    joined = "\n".join(block.lines)
    if joined.isascii() and "\0" not in joined:
        return
    try:
        joined.encode("utf-8")
        if "\0" not in joined:
            return
    except UnicodeEncodeError:
        pass  # lone surrogates stand for bytes that could not be decoded
    for position, line in enumerate(block.lines):
        if any("\ud800" <= character <= "\udfff" for character in line):
            block.bad[position] = f"bytes that are not {layout.encoding}; see csv.encoding"
        elif "\0" in line:
            block.bad[position] = "a zero byte, as of UTF-16; see csv.encoding"


def _set_comments_aside(block: Block, layout: Layout) -> None:
    if layout.comment is None and not layout.skip:
        return
    for position, line in enumerate(block.lines):
        if layout.comment is not None and line.startswith(layout.comment):
            block.comments[position] = line
        elif line.strip() in layout.skip:
            block.comments[position] = ""


def _emptied(lines: list[str], block: Block) -> list[str]:
    """The lines with bad ones and comments blank."""
    out = {*block.bad, *block.comments}
    return ["" if at in out else line for at, line in enumerate(lines)] if out else lines
