"""The worst margin and the worst value of every curve of a record, in one matrix.

The margins of all parameters stand below one another, and their values below those, so that what
is least is looked for once. The ends of intervals are worked out only where they can be least.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import accumulate
from typing import NamedTuple

import numpy as np

from sweepbook.judging.bands import LEAST_ABOVE, LEAST_BELOW, MOST_ABOVE, MOST_BELOW, turned
from sweepbook.judging.curves import F64, Curves, Flags
from sweepbook.judging.derive import Ends, Places
from sweepbook.judging.evaluate import Counts, Evaluation, Information, evaluate
from sweepbook.judging.limit_line import Limit, Sense

ROUNDING = 1e-9
"""Room for binary rounding, as a share of a value and in its unit; far below any printed digit."""


class Question(NamedTuple):
    """Curves, and what they are to be held against.

    Attributes:
        curves: m x n.
        limit: on the same n frequencies.
        sense: which side of it is good.
        left_out: points for information only; None for none.
    """

    curves: Curves
    limit: Limit
    sense: Sense
    left_out: Information | None


class Figures(NamedTuple):
    """The worst of one curve, as plain numbers; they mean nothing without an evaluated point.

    Attributes:
        margin, margin_mhz, margin_limit: the smallest margin, where it is, and the limit there.
        value, value_mhz, value_limit: the worst value, likewise: the smallest loss, the largest
            insertion loss.
        margin_low, margin_high, value_low, value_high: intervals of both.
    """

    margin: float
    margin_mhz: float
    margin_limit: float
    value: float
    value_mhz: float
    value_limit: float
    margin_low: float
    margin_high: float
    value_low: float
    value_high: float


_made: Callable[[Iterable[float]], Figures] = partial(tuple.__new__, Figures)


class Worst(NamedTuple):
    """The worst of each curve; rows without an evaluated point hold column 0 and mean nothing.

    Attributes:
        margin_at: int[m], column of the smallest margin, the lowest frequency of equals.
        margin, margin_mhz: float64[m], the smallest margin, and where it is.
        margin_low, margin_high: float64[m], interval of the smallest margin.
        points: int[m], points evaluated.
        figures: of each curve; none for an axis without any point.
        finite: of each curve, whether all of its figures are.
    """

    margin_at: Counts
    margin: F64
    margin_mhz: F64
    margin_low: F64
    margin_high: F64
    points: Counts
    figures: Sequence[Figures]
    finite: Sequence[bool]


def evaluate_all(questions: Sequence[Question]) -> list[tuple[Evaluation, Worst]]:
    """Hold every set of curves against its limit, and find the worst of each curve."""
    found: dict[int, tuple[Evaluation, Worst]] = {}
    by_axis: dict[int, list[int]] = {}
    for place, one in enumerate(questions):
        by_axis.setdefault(id(one.curves.frequency_mhz), []).append(place)
    for places in by_axis.values():
        stack = _Stack.of([questions[place] for place in places])
        found.update(zip(places, stack.worst(), strict=True))
    return [found[place] for place in range(len(questions))]


class _Stack(NamedTuple):
    """The margins of r curves, and below them their values with the sign that makes less worse.

    Attributes:
        matrix: float64[2 r, n], infinite where a point is not evaluated.
        axis: float64[n], of all of them.
        parts: the evaluations, one below the other.
        starts: the first row of each part, and r.
    """

    matrix: F64
    axis: F64
    parts: Sequence[Evaluation]
    starts: Sequence[int]

    @staticmethod
    def of(questions: Sequence[Question]) -> "_Stack":
        """Evaluate curves of one axis."""
        axis = questions[0].curves.frequency_mhz
        starts = [0, *accumulate(len(one.curves.keys) for one in questions)]
        count = starts[-1]
        matrix = np.empty((2 * count, axis.size))
        parts: list[Evaluation] = []
        for one, start, after in zip(questions, starts, starts[1:], strict=False):
            parts.append(evaluate(*one, margin=matrix[start:after]))
            _write_values(parts[-1], matrix[count + start : count + after])
        return _Stack(matrix, axis, parts, starts)

    def worst(self) -> Iterator[tuple[Evaluation, Worst]]:
        """The worst of each part."""
        count, width = self.starts[-1], self.axis.size
        at = self.matrix.argmin(axis=1) if self.matrix.size else np.zeros(2 * count, dtype=np.intp)
        low, high = self._least_ends(at)
        table = self._figures(at, low, high) if width else np.empty((len(Figures._fields), 0))
        plain = list(map(_made, table.T.tolist()))
        finite: list[bool] = np.all(np.isfinite(table), axis=0, keepdims=True)[0].tolist()
        for part, start, after in zip(self.parts, self.starts, self.starts[1:], strict=False):
            own = slice(start, after)
            yield (
                part,
                Worst(
                    at[own],
                    table[0, own],
                    table[1, own],
                    low[own],
                    high[own],
                    part.points,
                    plain[own],
                    finite[own],
                ),
            )

    def _figures(self, at: Places, low: F64, high: F64) -> F64:
        """The figures of all curves, float64[10, r], a row each of the fields of `Figures`."""
        count = self.starts[-1]
        one, two = at[:count], at[count:]
        table = np.empty((len(Figures._fields), count))
        table[0], table[1], table[4] = (
            self.matrix[np.arange(count), one],
            self.axis[one],
            self.axis[two],
        )
        table[6], table[7], table[8], table[9] = (
            low[:count],
            high[:count],
            low[count:],
            high[count:],
        )
        for part, start, after in zip(self.parts, self.starts, self.starts[1:], strict=False):
            own, rows, limit = slice(start, after), np.arange(after - start), part.limit
            table[2, own] = limit.at(limit.value, rows, one[own])
            table[3, own] = part.curves.value[rows, two[own]]
            table[5, own] = limit.at(limit.value, rows, two[own])
            if part.sense == "max":  # their values stand in the matrix with the other sign
                table[8:, own] = -table[:-3:-1, own]
        return table

    def _least_ends(self, at: Places) -> Ends:
        """The least lower and the least upper end of each row; infinite without any point.

        A point further above the least of its row than lower ends may differ from one point to
        another has not the least one. One of those that may have it has an upper end, above which
        no other need be looked at.
        """
        rows = np.arange(at.size)
        none = np.full(at.size, np.inf)
        if not self.matrix.size:
            return Ends(none, none)
        reach = self._reach()
        least = self.matrix[rows, at]
        rounding = ROUNDING * (1.0 + np.abs(least))
        bound = least + (reach[MOST_BELOW] - reach[LEAST_BELOW]) + rounding
        low, high = self._among(self._near(rows, bound), rows)
        beyond = high - reach[LEAST_ABOVE]
        again = np.flatnonzero(np.isfinite(bound) & ~(beyond <= bound))
        if again.size:
            near = self._near(again, (beyond + rounding)[again])
            near &= ~(self.matrix[again] <= bound[again, None])
            if near.any():
                high[again] = np.minimum(high[again], self._among(near, again).high)
        return Ends(low, high)

    def _reach(self) -> F64:
        """How far the ends are from the values of the matrix, float64[4, 2 r].

        A margin is as far from its ends as the value is; without bound where the limit has ends.
        """
        values = [
            turned(part.curves.reach) if part.sense == "max" else part.curves.reach
            for part in self.parts
        ]
        found = np.concatenate(values * 2, axis=1)
        for part, start, after in zip(self.parts, self.starts, self.starts[1:], strict=False):
            if not part.limit.exact:
                found[MOST_BELOW, start:after] = found[MOST_ABOVE, start:after] = np.inf
        return found

    def _near(self, rows: Places, bound: F64) -> Flags:
        """bool[k, n]: points of some rows up to a bound; all that count where it is infinite."""
        every = rows.size == len(self.matrix)
        near: Flags = (self.matrix if every else self.matrix[rows]) <= bound[:, None]
        for place in np.flatnonzero(~np.isfinite(bound)).tolist():
            near[place] = self._counted(int(rows[place]))
        return near

    def _counted(self, row: int) -> Flags:
        row %= self.starts[-1]
        part = int(np.searchsorted(self.starts, row, side="right")) - 1
        counted: Flags = self.parts[part].evaluated[row - self.starts[part]]
        return counted

    def _among(self, near: Flags, rows: Places) -> Ends:
        """The least ends of some rows among some points, bool[k, n] of them; in rising order."""
        place, column = np.divmod(np.flatnonzero(near), near.shape[1])
        low, high = (np.full(rows.size, np.inf) for _ in range(2))
        ends = self._ends_at(rows[place], column)
        np.minimum.at(low, place, ends.low)
        np.minimum.at(high, place, ends.high)
        return Ends(low, high)

    def _ends_at(self, rows: Places, columns: Places) -> Ends:
        """The ends at points of the matrix, float64[k] each, whose rows rise."""
        count = self.starts[-1]
        cuts = np.searchsorted(rows, [*self.starts, *(count + start for start in self.starts[1:])])
        low, high = np.empty(rows.size), np.empty(rows.size)
        size = len(self.parts)
        for number, part in enumerate(self.parts):
            one = slice(cuts[number], cuts[number + 1])
            two = slice(cuts[size + number], cuts[size + number + 1])
            start = self.starts[number]
            many = one.stop - one.start
            if not many and two.stop == two.start:
                continue
            own = np.concatenate((rows[one] - start, rows[two] - count - start))
            ends = part.curves.ends_at(own, np.concatenate((columns[one], columns[two])))
            first = Ends(ends.low[:many], ends.high[:many])
            low[one], high[one] = part.ends_from(first, own[:many], columns[one])
            low[two], high[two] = ends.low[many:], ends.high[many:]
            if part.sense == "max":
                low[two], high[two] = -ends.high[many:], -ends.low[many:]
        return Ends(low, high)


def _write_values(part: Evaluation, target: F64) -> None:
    """Write the values of a part to float64[m, n], greater for better, infinite where none is."""
    value, columns = part.curves.value, part.limit.columns
    if part.left_out is not None or not part.curves.whole or columns is None:
        target[...] = np.where(part.evaluated, value if part.sense == "min" else -value, np.inf)
        return
    target[:, : columns.start] = np.inf
    target[:, columns.stop :] = np.inf
    if part.sense == "min":
        target[:, columns] = value[:, columns]
    else:
        np.negative(value[:, columns], out=target[:, columns])
