"""Columns that no role uses: constant ones become properties, others are kept row by row."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from sweepbook_plugins.csv_roles import Texts, getter


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
        self._positions = positions
        self._take = getter(positions)
        self._runs: list[_Run] = []
        self._run: _Run | None = None

    def take(self, row: list[str], line: int) -> None:
        """Take one row."""
        texts = self._take(row)
        if self._run is not None and texts == self._run.texts:
            self._run.count += 1
        else:
            self._run = _Run(texts, line)
            self._runs.append(self._run)

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
