"""The parts of a file between two lines, and the rest, where tests stand in several tables."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sweepbook_plugins.csv.lines import Block
from sweepbook_plugins.csv.rows import Rows, without_blank_cells


def blocks(
    lines: Iterator[Block], parts: Sequence[Sequence[str]], delimiter: str, wanted: str = ""
) -> Iterator[Block]:
    """The lines that count, the others blank; blocks without any are left out.

    Args:
        lines: all lines.
        parts: of each the line that it begins with, and those that end it; "" for the file's end.
        delimiter: what stands between two cells of a line.
        wanted: the first line of the part whose lines count; "" where those in no part do.
    """
    plain = [[_plain(text, delimiter) for text in part] for part in parts]
    ends = {begin: {*behind} - {""} for begin, *behind in plain}
    wanted = _plain(wanted, delimiter)
    marks = {*ends}.union(*ends.values())
    within = ""
    for block in lines:
        if not any(mark in block.text for mark in marks):
            if within == wanted:
                yield block
            continue
        counts = []
        for line in block.lines:
            text = _plain(line, delimiter)
            if text in ends:
                within = text
            elif within and text in ends[within]:
                within = ""
            counts.append(within == wanted and text not in ends)
        if any(counts):
            yield _left(block, counts)


def _plain(line: str, delimiter: str) -> str:
    return without_blank_cells(line, delimiter).strip()


def _left(block: Block, counts: list[bool]) -> Block:
    """A block with the lines blank that do not count."""
    kept = [line if count else "" for line, count in zip(block.lines, counts, strict=True)]
    return replace(
        block,
        text="\n".join(kept),
        rows=Rows([row if counts[at] else [] for at, row in enumerate(block.rows)]),
        bad={at: why for at, why in block.bad.items() if counts[at]},
        comments={at: text for at, text in block.comments.items() if counts[at]},
        open_end=block.open_end and counts[-1],
    )
