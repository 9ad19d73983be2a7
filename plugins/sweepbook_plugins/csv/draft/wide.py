"""Tables whose rows hold a whole curve: found by how their numbers run."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import takewhile

from sweepbook.draft import phrases
from sweepbook.draft.numbers import NUMERAL, is_frequency, is_numeric, rises, unit_named, values_of
from sweepbook.draft.trade_words import CONTACTS, RUN
from sweepbook_plugins.csv.draft.text import Cells

LEAST = 5
"""So many rising numbers are an axis; titles of pairs such as 12, 36, 45 and 78 are fewer."""
_NUMBER = re.compile(rf"(.*?)(?<![0-9.,])({NUMERAL})(?![0-9.,])(.*)")
_SEPARATORS = ("|", ";", ",", "/", ":", " ")
_NEEDED = ("start", "step")
_LOOKED_AT = 200


@dataclass(frozen=True)
class Wide:
    """How the curves of such a table are written.

    Attributes:
        head: positions of the columns beside frequencies and values.
        start: position of the first value, or of the list of them.
        axis: frequencies that all rows share, by titles or a line above; () for none.
        mark: text of a row or line of frequencies, or title of a column with lists; "" for none.
        list_at: position of that column, or -1.
        separator: between numbers in one cell, or "".
        run: position of a column by start, step, count, stop.
        values: what a dialect says of where the values stand, or None where titles need not.
        early: whether rows end before the last frequency.
        upper: the first cell of a line of titles that go on in the next one, or None.
        unit: texts that may name the unit of frequencies.
    """

    head: tuple[int, ...]
    start: int
    axis: tuple[str, ...] = ()
    mark: str = ""
    list_at: int = -1
    separator: str = ""
    run: dict[str, int] = field(default_factory=dict)
    values: str | None = None
    early: bool = False
    upper: str | None = None
    unit: tuple[str, ...] = ()

    def points(self, rows: Sequence[Cells]) -> Iterator[tuple[Cells, list[str], list[str]]]:
        """Each row with its frequencies and values; blank values left out."""
        axis: Sequence[str] = self.axis
        waiting: list[Cells] = []
        for row in rows:
            if self.mark and self.list_at < 0 and self.mark in [row[at] for at in self._heads(row)]:
                axis = self._numbers(row)
                yield from (self._point(one, axis) for one in waiting)
                waiting = []
            elif self.mark and self.list_at < 0 and not axis:
                waiting.append(row)
            else:
                yield self._point(row, axis)

    def only(self, row: Cells) -> int | None:
        """Position of the only value that stands in a row; None where there are more, or none."""
        filled = [at for at in range(self.start, len(row)) if row[at]]
        return filled[0] if len(filled) == 1 and is_numeric(row[filled[0]]) else None

    def _heads(self, row: Cells) -> list[int]:
        return [at for at in self.head if at < len(row)]

    def _numbers(self, row: Cells) -> list[str]:
        if self.separator:
            cell = row[self.start] if len(row) > self.start else ""
            return pieces(cell, self.separator)
        return row[self.start :]

    def _point(self, row: Cells, axis: Sequence[str]) -> tuple[Cells, list[str], list[str]]:
        values = self._numbers(row)
        if self.list_at >= 0:
            axis = pieces("".join(row[self.list_at : self.list_at + 1]), self.separator)
        elif self.run:
            axis = self._steps(row, len(values))
        both = [(f, v) for f, v in zip(axis, values, strict=False) if f and v]
        return row, [f for f, _ in both], [v for _, v in both]

    def _steps(self, row: Cells, count: int) -> list[str]:
        said = [row[at] for of in _NEEDED if (at := self.run[of]) < len(row)]
        numbers = values_of(said) or []
        if len(numbers) < len(_NEEDED):
            return []
        start, step = numbers
        return [f"{start + step * at:.6f}".rstrip("0").rstrip(".") for at in range(count)]


@dataclass(frozen=True)
class Found:
    """A table.

    Attributes:
        titles: of all columns; "" for none.
        first: position of its first row.
        stop: position behind its last.
        wide: how its curves are written.
    """

    titles: tuple[str, ...]
    first: int
    stop: int
    wide: Wide


def find(rows: Sequence[Cells], at: int, whole: Cells) -> Found | None:
    """The table that begins in a line; None where none does.

    Args:
        rows: the lines as cells.
        at: the line.
        whole: its cells with units of numbers, if it is one of titles.
    """
    if len(rows[at]) < 2:
        return None
    if not any(map(_has_letters, rows[at])):
        return _below_line(rows, at)
    found = _below_line(rows, at) or by_titles(rows, at, whole)
    return found or _by_rows(rows, at) or _by_lists(rows, at)


def pieces(cell: str, separator: str) -> list[str]:
    """The numbers of a list."""
    return cell.split() if separator == " " else [one.strip() for one in cell.split(separator)]


def rising(texts: Sequence[str]) -> bool:
    """Whether texts are numbers of no sign that rise all along."""
    return len(texts) > 1 and texts[0][:1].isdigit() and rises(texts)


def by_titles(rows: Sequence[Cells], at: int, whole: Cells) -> Found | None:
    """Titles that are frequencies, all with the same text around the number."""
    parts = [match.groups() if (match := _NUMBER.fullmatch(of)) else None for of in whole]
    around = Counter((part[0], part[2]) for part in parts if part)
    if not around:
        return None
    frame, count = around.most_common(1)[0]
    chosen = [n for n, part in enumerate(parts) if part and (part[0], part[2]) == frame]
    axis = tuple(parts[n][1] for n in chosen if parts[n])  # type: ignore[index]
    head = tuple(n for n in range(len(whole)) if n not in chosen)
    if count < LEAST or not rising(axis) or _only_count(axis, frame) or axis == CONTACTS:
        return None
    if chosen[-1] - chosen[0] >= count:  # names between them, as in Pair 1;163;Pair 2;166
        return None
    if not head or any(is_numeric(whole[n]) for n in head) or not any(whole[n] for n in head):
        return None
    stop, early = _body(rows, at + 1, len(whole), chosen[0])
    if stop == at + 1:
        return None
    values = f"{frame[0]}{{frequency}}{frame[1]}"
    wide = Wide(head, chosen[0], axis, values=values, early=early, unit=frame)
    return Found(tuple(whole), at + 1, stop, wide)


def _below_line(rows: Sequence[Cells], at: int) -> Found | None:
    """A line of frequencies above a line of titles."""
    line = _trimmed(rows[at])
    first = next((n for n, cell in enumerate(line) if is_numeric(cell)), len(line))
    axis = line[first:]
    if len(axis) < LEAST or not rising(axis) or at + 2 >= len(rows):
        return None
    if tuple(axis) == CONTACTS and not any(map(is_frequency, line[:first])):
        return None
    titles, body = rows[at + 1], rows[at + 2]
    start = len(_trimmed(body)) - len(axis)
    if first < len(titles) and first < len(body) and is_numeric(body[first]):
        start = first
    head = tuple(range(start))
    if start < 1 or len(titles) < start or not all(titles[n] for n in head):
        return None
    if any(map(is_numeric, titles[:start])) or len(body) < start + LEAST:
        return None
    if sum(map(is_numeric, titles[start:])) * 2 > len(axis) and not _counted(titles[start:]):
        return None
    stop, early = _body(rows, at + 2, start + len(axis), start)
    if stop == at + 2:
        return None
    over = titles[start:]
    mark = line[0] if first and line[0] else ""
    unit = tuple(line[:first])
    if mark:
        values = over[0] if over and over[0] else None
        wide = Wide(head, start, tuple(axis), mark, values=values, early=early, unit=unit)
        return Found(tuple(titles), at + 2, stop, wide)
    lower = set(over)
    if first != start or len(lower) > 1:
        return None
    shown = f"{{frequency}} {over[0] if over else ''}".strip()
    wide = Wide(head, start, tuple(axis), values=shown, early=early, upper="", unit=tuple(over))
    return Found(tuple(titles[:start]), at + 2, stop, wide)


def _by_rows(rows: Sequence[Cells], at: int) -> Found | None:
    """Titles, and rows of frequencies among the others; or columns of start, step and count."""
    titles = rows[at]
    if any(map(is_numeric, titles)) or not titles[0] or at + 1 >= len(rows):
        return None
    run = _run(titles, rows[at + 1])
    for below, row in enumerate(rows[at + 1 : at + _LOOKED_AT], at + 1):
        line = _trimmed(row)
        if len(line) < 2:  # a blank line or a heading: another table begins
            break
        named = next((n for n, cell in enumerate(line) if is_frequency(cell)), None)
        if named is None:
            continue
        first = next((n for n in range(named + 1, len(line)) if is_numeric(line[n])), len(line))
        if len(line) - first >= LEAST and rising(line[first:]):
            return (
                None
                if _are_titles(rows, below, named)
                else _with_axis(rows, at, first, line[named])
            )
    if run and max(run.values()) + 1 < len(rows[at + 1]):
        start = max(run.values()) + 1
        stop, _ = _body(rows, at + 1, len(titles), start, any_width=True)
        if stop > at + 1 and len(_trimmed(rows[at + 1])) - start >= LEAST:
            head = tuple(n for n in range(start) if n not in run.values())
            values = titles[start] if len(titles) > start and titles[start] else None
            unit = tuple(titles[n] for n in run.values())
            wide = Wide(head, start, run=run, values=values, unit=unit)
            return Found(tuple(titles), at + 1, stop, wide)
    return None


def _are_titles(rows: Sequence[Cells], at: int, named: int) -> bool:
    """Whether a line with frequencies is titles: rows of values say before them what theirs do."""
    said, below = rows[at][:named], rows[min(at + 1, len(rows) - 1)][:named]
    return any(said) and said != below and by_titles(rows, at, rows[at]) is not None


def _with_axis(rows: Sequence[Cells], at: int, start: int, mark: str) -> Found | None:
    titles = rows[at]
    stop, early = _body(rows, at + 1, len(rows[at + 1]), start)
    if stop == at + 1 or len(titles) < start:
        return None
    values = titles[start] if len(titles) > start and titles[start] else None
    wide = Wide(tuple(range(start)), start, mark=mark, values=values, early=early, unit=(mark,))
    return Found(tuple(titles), at + 1, stop, wide)


def _by_lists(rows: Sequence[Cells], at: int) -> Found | None:
    """Titles, and a column whose cells are lists of numbers."""
    titles = rows[at]
    width = len(titles)
    some = [*takewhile(lambda row: len(row) == width, rows[at + 1 : at + 1 + _LOOKED_AT])]
    if not some or any(map(is_numeric, titles)) or not all(titles):
        return None
    lists = {}
    for n in range(width):
        told = Counter(_separator(row[n]) for row in some)
        told.pop("", None)
        if told and told.most_common(1)[0][1] * 2 >= len(some):
            lists[n] = told.most_common(1)[0][0]
    if not lists:
        return None
    axes = [n for n, mark in lists.items() if all(
        rising(pieces(row[n], mark)) for row in some if row[n]
    )]  # fmt: skip
    named = [n for n in axes if is_frequency(titles[n])] or axes
    left = [n for n in lists if n not in named[:1]]
    if not left:
        return None
    start, mark = left[-1] if not named else next(n for n in left), lists[left[0]]
    run = {} if named else _run(titles, some[0])
    body = [*takewhile(lambda row: len(row) == width, rows[at + 1 :])]
    stop = at + 1 + len(body)
    head = tuple(n for n in range(width) if n not in (start, *named[:1], *run.values()))
    wide = Wide(head, start, separator=mark, values=titles[start], unit=tuple(titles))
    if named:
        wide = replace(wide, list_at=named[0], mark=titles[named[0]])
    elif run:
        wide = replace(wide, run=run)
    else:
        marks = [cell for row in body for cell in row[:start] if is_frequency(cell)]
        if not marks:
            return None
        wide = replace(wide, mark=marks[0], head=tuple(n for n in range(width) if n != start))
    return Found(tuple(titles), at + 1, stop, wide)


def _separator(cell: str) -> str:
    """What parts a list of numbers in a cell; "" where it is none."""
    for mark in _SEPARATORS:
        if mark not in cell:
            continue
        some = [one for one in pieces(cell, mark) if one]
        if len(some) >= LEAST and sum(map(is_numeric, some)) * 10 >= 8 * len(some):
            return mark
    return ""


def _run(titles: Sequence[str], row: Sequence[str]) -> dict[str, int]:
    """Columns of start, step, and count or stop, which hold numbers."""
    found: dict[str, int] = {}
    for at, (title, cell) in enumerate(zip(titles, row, strict=False)):
        for role, words in RUN.items() if is_numeric(cell) else ():
            if role not in found and phrases.has(title, words):
                found[role] = at
                break
    if "count" in found:
        found.pop("stop", None)
    return found if {"start", "step"} <= found.keys() else {}


def _body(
    rows: Sequence[Cells], first: int, width: int, start: int, *, any_width: bool = False
) -> tuple[int, bool]:
    """Position behind the rows of values, and whether some of them end early."""
    stop, early = first, False
    while stop < len(rows):
        row = rows[stop]
        short = start < len(row) < width
        if not row or (len(row) != width and not short and not any_width):
            break
        filled = [cell for cell in row[start:] if cell]
        if not any(row[:start]) or sum(map(is_numeric, filled)) * 2 < len(filled):
            break
        early = early or (short and not any_width)
        stop += 1
    return stop, early


def _only_count(axis: Sequence[str], frame: tuple[str, str]) -> bool:
    """Whether titles are numbered, as v1 and v2 are, rather than frequencies."""
    named = any(map(unit_named, frame)) or any(map(is_frequency, (frame[0].strip(" =:_("),)))
    return _counted(axis) and any(frame) and not named


def _counted(texts: Sequence[str]) -> bool:
    """Whether texts are the whole numbers from 0 or 1 on."""
    return list(texts) in [[str(first + at) for at in range(len(texts))] for first in (0, 1)]


def _trimmed(row: Cells) -> Cells:
    end = len(row)
    while end and not row[end - 1]:
        end -= 1
    return row[:end]


def _has_letters(text: str) -> bool:
    return any(map(str.isalpha, text))
