"""A text whose first cells tell its rows, put in order: in each test those of one kind together.

So the rest of a draft sees tables. Their rows lose the mark, and the text that tells the test.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from sweepbook_plugins.csv.draft import marks
from sweepbook_plugins.csv.draft.marks import Kind
from sweepbook_plugins.csv.draft.text import Cells, Text

MOST_BEFORE = 3
"""Columns of which one may tell the test."""

Span = tuple[int, int]


class Marked(NamedTuple):
    """The kinds of a file whose rows are put together.

    Attributes:
        kinds: in the order in which they come.
        spans: where the rows of each begin and end in each test: [tests][kinds].
        comments: what lines begin with that are no data.
        first_line: what every test begins with; "" where nothing shows it.
        starts: positions where tests begin.
        loose: positions of the lines of no kind, and of the first line of the file.
        test: position of the column that holds one text all through a test, or None; it is left
            out of the rows, as the mark is.
        tests: that text of each test.
    """

    kinds: Sequence[Kind]
    spans: Sequence[Sequence[Span]]
    comments: Sequence[str]
    first_line: str
    starts: Sequence[int]
    loose: Sequence[int]
    test: int | None
    tests: Sequence[str]

    def titles(self, kind: Kind) -> tuple[str, ...]:
        """The titles of what is left of the rows of a kind."""
        return tuple(of for at, of in enumerate(kind.columns) if at not in (0, self.test))


def regrouped(text: Text) -> Text:
    """The text with the rows of one kind together in each test; as it is where marks tell none."""
    found = marks.find(text)
    if found is None:
        return text
    starts = _numbered(text.rows, found.kinds) or _starts(found.kinds, found.points)
    return _put_together(text, found.remarks, found.kinds, starts)


def _numbered(rows: Sequence[Cells], kinds: Sequence[Kind]) -> list[int]:
    """Positions of the rows that each begin a test by a text that all rows behind them have, too.

    So a test without curves is one as well.
    """
    every = sorted(at for kind in kinds for at in kind.places)
    for kind in kinds:
        for at in range(1, MOST_BEFORE) if len(kind.places) > 1 else ():
            mine = [rows[one][at] if len(rows[one]) > at else "" for one in kind.places]
            if "" in mine or len({*mine}) < len(mine):
                continue
            behind = [one for one in every if one >= kind.places[0]]
            if len(behind) > len(mine) and all(
                len(rows[one]) > at and rows[one][at] == mine[bisect_right(kind.places, one) - 1]
                for one in behind
            ):
                return kind.places
    return []


def _starts(kinds: Sequence[Kind], points: Sequence[Kind]) -> list[int]:
    """Positions of the rows that each begin a test: of a kind of which points follow each."""
    of_points = sorted(at for of in points for at in of.places)
    best: list[int] = []
    for kind in kinds:
        ends = [*kind.places[1:], of_points[-1] + 1]
        follow = all(
            bisect_right(of_points, end) > bisect_right(of_points, at)
            for at, end in zip(kind.places, ends, strict=True)
        )
        first = kind.places[0] < of_points[0] and kind not in points
        if first and follow and len(kind.places) > len(best):
            best = kind.places
    return best


def _put_together(
    text: Text, remarks: Mapping[int, str], kinds: Sequence[Kind], starts: Sequence[int]
) -> Text:
    """The text in a new order: in each test the lines of no kind, then those of each kind."""
    told = dict.fromkeys(kind.told for kind in kinds if kind.told)
    kind_of = {at: number for number, kind in enumerate(kinds) for at in kind.places}
    order: list[int] = []
    spans: list[list[Span]] = []
    begun: list[int] = []
    loose: list[int] = []
    bounds = [*([] if starts[:1] == [0] else [0]), *starts, len(text.rows)]
    for start, stop in pairwise(bounds):
        begun += [len(order)] if start in starts else []
        mine: list[list[int]] = [[] for _ in kinds]
        for at in range(start, stop):
            if at in kind_of:
                mine[kind_of[at]].append(at)
                continue
            data = at not in remarks and text.rows[at] and text.lines[at] not in told
            loose += [len(order)] if data or not at else []
            order.append(at)
        if any(mine) and start not in starts and starts:
            order += [at for some in mine for at in some]  # of no test: told of all
            continue
        if not any(mine):
            continue
        spans.append([])
        for some in mine:
            spans[-1].append((len(order), len(order) + len(some)))
            order += some
    rows = [[] if at in remarks else text.rows[at] for at in order]
    test = _of_tests(rows, spans)
    for start, stop in (span for some in spans for span in some):
        for at in range(start, stop):
            rows[at] = [cell for place, cell in enumerate(rows[at]) if place not in (0, test)]
    mark = next((kind.mark for kind in kinds if kind.places[:1] == [*starts][:1]), "")
    comments = [*dict.fromkeys(remarks.values())]
    comments += [of for of in told if not of.startswith(tuple(comments))]
    marked = Marked(
        kinds,
        spans,
        comments,
        f"{mark}{text.delimiter}" if mark else "",
        begun,
        loose,
        test,
        [text.rows[order[some[0][0]]][test] for some in spans] if test is not None else [],
    )
    lines = [text.lines[at] for at in order]
    return text._replace(lines=lines, rows=rows, marked=marked)


def _of_tests(rows: Sequence[Cells], spans: Sequence[Sequence[Span]]) -> int | None:
    """Position of a column that says in rows of all kinds which test they are of."""
    body = [[row for start, stop in test for row in rows[start:stop]] for test in spans]
    for at in range(1, MOST_BEFORE):
        texts = [{row[at] if len(row) > at else "" for row in test} for test in body]
        alone = all(len(some) == 1 and "" not in some for some in texts)
        if alone and len({text for some in texts for text in some}) == len(texts):
            return at
    return None
