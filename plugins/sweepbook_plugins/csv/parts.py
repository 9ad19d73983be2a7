"""The part of a file between two lines, and the rest, where tests stand in two tables."""

from collections.abc import Iterator
from dataclasses import replace

from sweepbook_plugins.csv.lines import Block
from sweepbook_plugins.csv.rows import Rows


def blocks(lines: Iterator[Block], part: tuple[str, str], *, inside: bool) -> Iterator[Block]:
    """The lines that count, the others blank; blocks without any are left out.

    Args:
        lines: all lines.
        part: the line that a part begins with, and the one behind its last; "" for the file's end.
        inside: whether the lines of the part count, or all others.
    """
    begin, end = part
    within = False
    for block in lines:
        if (within and not _holds(block, end)) or (not within and not _holds(block, begin)):
            if within == inside:
                yield block
            continue
        counts = []
        for line in block.lines:
            text = line.strip()
            within = (within and not (end and text == end)) or text == begin
            counts.append(within == inside and text != begin)
        if any(counts):
            yield _left(block, counts)


def _holds(block: Block, text: str) -> bool:
    return bool(text) and text in block.text


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
