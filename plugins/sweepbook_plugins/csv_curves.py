"""One column a curve: the rows below the titles become the curves of one test."""

from collections.abc import Iterator, Sequence

from sweepbook.dialect.names import Namer
from sweepbook.dialect.raw import Fault, Name, RawCurve, RawTest
from sweepbook_plugins.csv_lines import CUT, Block, seems_cut
from sweepbook_plugins.csv_preamble import Preamble

MOST_ROWS = 1_000_000
MOST_FAULTS = 100
LISTED = 5


class _Table:
    """Rows of equal width with their line numbers."""

    def __init__(self, preamble: Preamble) -> None:
        self.titles = preamble.titles
        self.rows: list[list[str]] = []
        self.numbers: list[int] = []
        self.faults: list[Fault] = []
        self.last = preamble.line
        self.open_end = False

    def take(self, block: Block) -> None:
        """Add the rows of a block."""
        width = len(self.titles)
        self.open_end = block.open_end
        for position, row in enumerate(block.rows):
            number = block.first + position
            if position in block.bad:
                self._fault(number, block.bad[position])
            elif len(row) == width:
                self.rows.append(row)
                self.numbers.append(number)
            elif row and any(row):
                self._odd(row, number)
            if row:
                self.last = number

    def _odd(self, row: list[str], number: int) -> None:
        """A row of another width: blank cells at its end may be missing from the titles."""
        width = len(self.titles)
        if len(row) > width and not any(map(str.strip, row[width:])):
            self.rows.append(row[:width])
            self.numbers.append(number)
            return
        message = (
            f"the line has {len(row)} cells where the titles have {width}; "
            "see csv.delimiter, csv.quote and numbers.decimal"
        )
        self._fault(number, message)

    def _fault(self, number: int, message: str) -> None:
        """Note a bad line; of very many the first hundred will do."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(f"line {number}", message))

    def place_of(self, title: str, position: int) -> str:
        """Where a point stands, for messages."""
        if not self.numbers:
            return f"column {title!r}"
        return f"line {self.numbers[position]}, column {title!r}"


def read(
    preamble: Preamble, lines: Iterator[Block], frequency: str, namer: Namer, decimal: str
) -> RawTest:
    """Read the only test of a file.

    Args:
        preamble: what stands before the rows.
        lines: the rows, block by block.
        frequency: title of the axis.
        namer: looks up the titles of curves.
        decimal: the decimal mark.
    """
    table = _Table(preamble)
    for block in lines:
        table.take(block)
        if len(table.rows) > MOST_ROWS or block.first > 2 * MOST_ROWS:
            table.faults.append(Fault("", f"there are more than {MOST_ROWS:,} rows"))
            break
    test = RawTest(f"lines {preamble.first}-{table.last}", dict(preamble.properties))
    test.faults += [*preamble.faults, *table.faults]
    if not table.rows:
        test.faults.append(Fault("", "there are titles but no rows below them"))
        return test
    _sort_columns(table, test, namer, frequency, decimal)
    return test


def _sort_columns(table: _Table, test: RawTest, namer: Namer, frequency: str, decimal: str) -> None:
    """Give each column its role: the axis, a curve, or a left-over."""
    columns: list[tuple[str, ...]] = list(zip(*table.rows, strict=True))
    axis = columns[table.titles.index(frequency)]
    if table.open_end and seems_cut(columns[-1], decimal):
        test.faults.append(Fault(table.place_of(table.titles[-1], -1), CUT))
    unknown = []
    for title, texts in zip(table.titles, columns, strict=True):
        if title == frequency and texts is axis:
            continue
        name = namer.name([title])
        if name is not None:
            test.curves.append(_curve(name, title, frequency, axis, texts, table))
        elif title or any(map(str.strip, texts)):
            unknown.append(title)
            key = title if title not in test.extra else f"{title} ({len(unknown)})"
            test.extra[key] = "\n".join(texts)
    if unknown:
        test.notes.append(Fault(f"line {table.numbers[0] - 1}", _left_over(unknown)))


def _curve(
    name: Name,
    title: str,
    frequency: str,
    axis: Sequence[str],
    texts: Sequence[str],
    table: _Table,
) -> RawCurve:
    """A column as a curve over the axis of its table."""
    return RawCurve(
        name,
        axis,
        texts,
        lambda position: table.place_of(title, position),
        lambda position: table.place_of(frequency, position),
    )


def _left_over(titles: Sequence[str]) -> str:
    shown = ", ".join(map(repr, titles[:LISTED]))
    more = f" and {len(titles) - LISTED} more" if len(titles) > LISTED else ""
    return (
        f"no curve is known by the title {shown}{more}; the column is kept in extra; "
        "see csv.curves.name, words.parameters, words.pairs and words.ends"
    )
