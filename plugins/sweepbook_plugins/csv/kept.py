"""Columns that no role uses: constant ones become properties, others are kept row by row."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault
from sweepbook_plugins.csv.keys import Findings, Keys
from sweepbook_plugins.csv.place import Place
from sweepbook_plugins.csv.roles import Texts, getter
from sweepbook_plugins.csv.rows import Row, Rows


@dataclass(slots=True)
class _Run:
    """Rows one after another that hold the same texts."""

    texts: Texts
    line: int
    count: int = 1


class KeptColumn(NamedTuple):
    """What one column holds in the rows of a test.

    Attributes:
        at: position of the column.
        texts: the distinct texts that are no blanks, in order.
        line: line of the second of them, or of the only one.
        rows: the text of every row, a line each.
    """

    at: int
    texts: tuple[str, ...]
    line: int
    rows: str


class Kept:
    """The texts of some columns over the rows of one test, runs of equal rows kept once."""

    def __init__(self, positions: Sequence[int]) -> None:
        self._positions = tuple(positions)
        self._take = getter(positions)
        self._runs: list[_Run] = []
        self._run: _Run | None = None

    def take(self, row: Row, line: int) -> None:
        """Take one row."""
        texts = self._take(row)
        if self._run is not None and texts == self._run.texts:
            self._run.count += 1
        else:
            self._run = _Run(texts, line)
            self._runs.append(self._run)

    def take_run(self, rows: Rows, line: int) -> None:
        """Take rows one after another."""
        for start, end in rows.runs(self._positions):
            self.take(rows[start], line + start)
            self._runs[-1].count += end - start - 1

    def columns(self) -> Iterator[KeptColumn]:
        """The columns that hold more than blanks."""
        for index, at in enumerate(self._positions):
            texts = [run.texts[index] for run in self._runs]
            distinct = tuple(dict.fromkeys(text.strip() for text in texts if text.strip()))
            if distinct:
                told = distinct[min(1, len(distinct) - 1)]
                line = next(run.line for run in self._runs if run.texts[index].strip() == told)
                rows = [text for run in self._runs for text in [run.texts[index]] * run.count]
                yield KeptColumn(at, distinct, line, "\n".join(rows))


class Columns(Protocol):
    """Where things stand in the rows of a table.

    Attributes:
        meaning: what the dialect says.
        place: where the table stands.
        test: columns that tell tests apart.
        free: columns without any role.
        beside: columns with a role, but none in rows of points.
        others: titles of columns that fill no field.
    """

    meaning: Meaning
    place: Place
    test: list[int]
    free: list[int]
    beside: list[int]
    others: frozenset[str]


class RowsKept:
    """Columns beside the roles of a table whose rows say what they hold.

    Attributes:
        free: columns without any role.
        beside: columns with a role, but none in rows of points.
    """

    def __init__(self, columns: Columns) -> None:
        self._columns = columns
        self.free = Kept(columns.free)
        self.beside = Kept(columns.beside)

    def into(self, keys: Keys, findings: Findings, key: Texts, span: tuple[int, int]) -> str:
        """Make properties of constant columns and keep the others.

        Args:
            keys: where the properties go.
            findings: where a field that changes within the test goes.
            key: the cells that tell the test apart.
            span: numbers of the first and the last line.

        Returns:
            the locator, with the cells of the key that fill no field.
        """
        columns = self._columns
        fields, place = columns.meaning.field_keys, columns.place
        locator = f"lines {span[0]}-{span[1]}"
        for position, text in zip(columns.test, key, strict=True):
            title = place.titles[position]
            if title in fields:
                keys.put(title, Cell(text.strip(), place.cell(span[0], position)))
            else:
                locator = f"{title} {text.strip()}, {locator}"
        for kept in (*self.free.columns(), *self.beside.columns()):
            title, where = place.titles[kept.at], place.cell(kept.line, kept.at)
            if len(kept.texts) == 1 and title not in columns.others:
                keys.put(title, Cell(kept.texts[0], where))
                continue
            keys.keep(title, kept.rows)
            if title in fields.difference(columns.others):
                findings.fault(Fault(where, becomes(kept.texts, title, place)))
        return locator


def becomes(texts: Sequence[str], title: str, place: Place, form: str = "rows") -> str:
    """What to say of a column that fills a field and holds several texts in the rows of one test.

    Args:
        texts: two of them, or more.
        title: of the column.
        place: of the table.
        form: what it is declared under.
    """
    section, said = place.section, f"{texts[0]!r} becomes {texts[1]!r} within one test"
    where = f"{section.where}.{form}.test"
    if not section.where.startswith("csv.sections"):
        return f"{said}, and the column fills a field; see {where}"
    return (
        f"{said}, and [fields] has a key {title!r}, so that this column fills it too; if it is "
        f"another thing, name it in {section.where}.{form}.other_columns; if each text is of "
        f"another test, see {where}"
    )
