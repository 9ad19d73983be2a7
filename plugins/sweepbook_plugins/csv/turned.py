"""Tables whose columns are what rows are elsewhere: turned before anything looks at their lines."""

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from sweepbook.dialect.raw import Fault, RawCurve, RawTest
from sweepbook_plugins.csv.forms import Layout
from sweepbook_plugins.csv.keys import TooManyLines
from sweepbook_plugins.csv.lines import Block
from sweepbook_plugins.csv.rows import Row, Rows

MOST_CELLS = 2_000_000
"""Cells of a table that is turned, since all of it is held in memory."""

_TURNED = 1_000_000_000
"""Columns are counted from here on, so that no message takes them for lines."""

_PLACE = re.compile(r"\blines? ([0-9]+)(?:-([0-9]{10,}))?(, column(?= '))?")


def blocks(lines: Iterator[Block], layout: Layout) -> Iterator[Block]:
    """The lines of a file, with the table turned that begins where the layout says.

    Args:
        lines: the lines as they stand.
        layout: what the dialect says of them.

    Raises:
        TooManyLines: the table has too many cells.
    """
    mark = layout.transposed[0]
    kept: list[tuple[int, Row]] = []
    cells, bad, comments = 0, dict[int, str](), list[str]()
    for block in lines:
        start = 0
        if not kept:
            start = next((at for at, row in enumerate(block.rows) if _begins(row, mark)), -1)
            if start < 0:
                yield block
                continue
            yield from _before(block, start)
        for at in range(start, len(block.rows)):
            row = block.rows[at]
            cells += len(row)
            if cells > MOST_CELLS:
                what = f"more than {MOST_CELLS:,} cells stand in a table that has to be turned"
                raise TooManyLines(block.first + at, what, "csv.transposed")
            if any(map(str.strip, row)):
                kept.append((block.first + at, row))
            if at in block.bad:
                bad[block.first + at] = block.bad[at]
            comments += filter(None, [block.comments.get(at, "")])
    if kept:
        yield _turned(kept, bad, comments, layout)


def _begins(row: Row, mark: str) -> bool:
    return len(row) > 1 and row[0].strip() == mark


def _before(block: Block, stop: int) -> Iterator[Block]:
    """What stands in a block above the table."""
    if stop:
        bad = {at: of for at, of in block.bad.items() if at < stop}
        comments = {at: of for at, of in block.comments.items() if at < stop}
        text = "\n".join(block.lines[:stop])
        rows = Rows([block.rows[at] for at in range(stop)])
        yield Block(block.first, text, rows=rows, bad=bad, comments=comments)


def _turned(
    kept: list[tuple[int, Row]], bad: dict[int, str], comments: list[str], layout: Layout
) -> Block:
    """The table as a block, its lines numbered by the columns of the file.

    A line that cannot be taken apart is one that every column lacks, and in one that has lost a
    cell nobody can tell which column the others are of: then none can be read.
    """
    for number, why in bad.items():
        lacking = f"{why}; the table is turned, so every column of it lacks this line"
        return Block(number, "", rows=Rows([[]]), bad={0: lacking})
    width = Counter(len(row) for _, row in kept).most_common(1)[0][0]
    kept[0] = kept[0][0], _titles([row for _, row in kept], width)
    for number, row in kept:
        if len(row) != width:
            return Block(number, "", rows=Rows([[]]), bad={0: _other_width(row, width)})
    rows: list[Row] = [list(row) for row in zip(*(row for _, row in kept), strict=True)]
    aside: dict[int, str] = {}
    for at, row in enumerate(rows):
        if row[0].strip() in layout.transposed[1:]:
            aside[at] = layout.delimiter.join(row)
        if not any(map(str.strip, row)) or at in aside:
            rows[at] = []
    text = "\n".join(layout.delimiter.join(row) for row in rows)
    block = Block(_TURNED + 1, text, rows=Rows(rows), comments=aside)
    if comments:
        block.text += "\n" * len(comments)
        block.rows = Rows([*rows, *([] for _ in comments)])
        block.comments |= dict(enumerate(comments, len(rows)))
    return block


def _titles(rows: Sequence[Row], width: int) -> Row:
    """The first line, as wide as the others where it differs in blank cells at the end only."""
    titles, *others = rows
    if any(map(str.strip, titles[width:])):
        return titles
    if any(cell.strip() for row in others for cell in row[len(titles) :]):
        return titles
    return [*titles[:width], *[""] * (width - len(titles))]


def _other_width(row: Row, width: int) -> str:
    cells = "1 cell" if len(row) == 1 else f"{len(row)} cells"
    return (
        f"the line has {cells} where the others have {width}; the table is turned, so nobody can "
        "tell which columns they are of; export it again, or see csv.skip"
    )


def told(test: RawTest | Fault) -> RawTest | Fault:
    """A test or a fault with places in columns of the file where its lines were turned."""
    if isinstance(test, Fault):
        return _fault(test)
    return replace(
        test,
        locator=_told(test.locator),
        properties={key: cell.placed(_told) for key, cell in test.properties.items()},
        curves=[_curve(curve) for curve in test.curves],
        figures=[of._replace(cell=of.cell.placed(_told)) for of in test.figures],
        faults=[_fault(fault) for fault in test.faults],
        notes=[_fault(note) for note in test.notes],
    )


def _told(text: str) -> str:
    return _PLACE.sub(_in_columns, text)


def _in_columns(match: re.Match[str]) -> str:
    first, last, row = match.groups()
    if int(first) < _TURNED:  # a line above the table
        return f"from line {first} to column {int(last) - _TURNED}" if last else match[0]
    numbers = "-".join(str(int(of) - _TURNED) for of in (first, last) if of)
    return f"column{'s' if last else ''} {numbers}{', row' if row else ''}"


def _fault(fault: Fault) -> Fault:
    return Fault(_told(fault.place), _told(fault.message))


def _curve(curve: RawCurve) -> RawCurve:
    def in_columns(place_of: Callable[[int], str]) -> Callable[[int], str]:
        return lambda at: _told(place_of(at))

    return curve._replace(
        place_of=in_columns(curve.place_of),
        axis_place_of=in_columns(curve.axis_place_of),
    )
