"""Tables, headings and key lines of an export nobody has described yet."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.trade_words import MARGIN
from sweepbook_plugins.csv.draft import tagged, wide
from sweepbook_plugins.csv.draft.bodies import Bodies, is_units
from sweepbook_plugins.csv.draft.keys import SEPARATORS, find_tests, sort_loose, states_verdict
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Cells, Text, split
from sweepbook_plugins.csv.names import of_two_lines

_LEAST_ROWS = {2: 3}
"""Two columns may be key and value, and take more rows to be a table; else one is enough."""
_PAIR = re.compile(r"\D*[1-4]|\D*[1-8]\D?[1-8]")
_LEAST_PAIRS = 2
_AGAIN = 2
_MOST_KEYS = 4
_MOST_LOOSE = 5_000
"""Lines in no table, behind which no more of a file is looked at."""


def shape_of(text: Text) -> Shape:
    """Sort the lines of a file."""
    shape = Shape()
    loose: list[int] = []
    at, rows = 0, text.rows
    bodies = Bodies(rows)
    while at < len(rows) and len(loose) < _MOST_LOOSE:
        if rows[at] and (found := wide.find(rows, at, split(text.lines[at], text.delimiter))):
            shape.upper += [""] if found.wide.upper and "" not in shape.upper else []
            headings = _headings(rows, loose, at)
            inner, around = (text.lines[of].strip() if of is not None else "" for of in headings)
            table = Seen(found.titles, found.first, found.stop, inner, around, wide=found.wide)
            shape.tables.append(table)
            at = found.stop
            continue
        if marked := tagged.find(rows, at):
            names = text.lines[at].strip()
            shape.tables.append(Seen(marked.columns, at + 1, marked.stop, names, named=True))
            at = marked.stop
            continue
        stop = _table_end(bodies, rows, at) if rows[at] else at
        if stop > at:
            titles, first, at = _titles(rows[:stop], at)
            if first != at:
                shape.upper = list(dict.fromkeys([*shape.upper, rows[first][0]]))
                loose = [one for one in loose if one != first]
            heading, outer = _headings(rows, loose, first)
            units = stop > at + 2 and is_units(rows[at + 1])
            seen = Seen(
                titles,
                at + (2 if units else 1),
                stop,
                text.lines[heading].strip() if heading is not None else "",
                text.lines[outer].strip() if outer is not None and _lone(rows[outer]) else "",
                tuple(rows[at + 1]) if units else (),
            )
            shape.tables.append(_told_apart(seen, text.lines[at].strip()))
            at = stop
            continue
        if rows[at]:
            loose.append(at)
        at += 1
    _sort(text, shape, loose)
    return shape


def _sort(text: Text, shape: Shape, loose: Sequence[int]) -> None:
    """Sort the lines that are in no table: rules and remarks, tests, keys."""
    remarks = [at for at in loose if at and _is_remark(text, at)]
    shape.noise = list(dict.fromkeys(
        text.lines[at].strip()
        for at in loose
        if at in remarks or not any(map(str.isalnum, text.lines[at]))
    ))  # fmt: skip
    noise = set(shape.noise)
    loose = [at for at in loose if text.lines[at].strip() not in noise]
    shape.noise += _closing(text, shape, loose)
    above = {seen.heading for seen in shape.tables} | {seen.outer for seen in shape.tables}
    loose = [at for at in loose if text.lines[at].strip() not in above - {""}]
    find_tests(text, shape, loose)
    noise = set(shape.noise)
    sort_loose(text, shape, [at for at in loose if text.lines[at].strip() not in noise])


def _is_remark(text: Text, at: int) -> bool:
    """Whether a line is a remark, by the mark that it begins with, and no heading of anything."""
    line = text.lines[at].strip()
    alone = len(text.rows[at]) == 1 and line.startswith(("# ", "// ", "; "))
    return alone and phrases.parameter_in(line) is None and any(map(str.isalnum, line))


def _told_apart(seen: Seen, line: str) -> Seen:
    """A table of worst cases; where titles of it come again, its line of titles is the heading.

    Margin, frequency, value and again frequency can only be told apart by where they stand.
    """
    if len(set(seen.titles)) == len(seen.titles) or not has_margins(seen.titles):
        return seen
    count: Counter[str] = Counter()
    names = []
    for title in seen.titles:
        count[title] += 1
        names.append(title if count[title] < _AGAIN else f"{title} {count[title]}")
    return replace(seen, titles=tuple(names), heading=line, outer="", named=True)


def _headings(
    rows: Sequence[Cells], loose: Sequence[int], first: int
) -> tuple[int | None, int | None]:
    """The lines that are the headings right above a table: the inner and the outer one."""
    heading = loose[-1] if loose and _above(rows, loose[-1], first) else None
    if heading is None and (over := _over_keys(rows, loose, first)) is not None:
        return over, None
    outer = loose[-2] if heading and loose[-2:-1] == [heading - 1] else None
    return heading, outer if outer is not None and _above(rows, outer, heading or 0) else None


def _over_keys(rows: Sequence[Cells], loose: Sequence[int], first: int) -> int | None:
    """A heading that names what is measured, with key lines between it and its table."""
    at = first - 1
    while at >= 0 and len(rows[at]) == 2 and all(rows[at]) and first - at <= _MOST_KEYS:
        at -= 1
    if at < 0 or at == first - 1 or at not in loose[-_MOST_KEYS - 1 :] or len(rows[at]) != 1:
        return None
    return at if phrases.parameter_in(rows[at][0]) and _above(rows, at, at + 1) else None


def _titles(rows: Sequence[Cells], at: int) -> tuple[tuple[str, ...], int, int]:
    """The titles of the table that begins here, and the positions of their first and last lines.

    They take two lines where some come again in one of them, and none in both together, and where
    a row is left below.

    Args:
        rows: the rows up to the table's last one.
        at: position of the titles, or of one line of them.
    """
    for upper in (at - 1, at):
        lines = rows[max(0, upper) : upper + 2]
        if (
            len(lines) < 2
            or upper + 2 == len(rows)
            or not lines[0]
            or len(lines[0]) > len(lines[1])
        ):
            continue
        again = len(set(rows[at])) < len(rows[at]) and sum(map(bool, lines[0])) > 1
        joined = of_two_lines(*lines)
        wordy = not any(
            is_numeric(c) and not phrases.PAIR_LIKE.fullmatch(c) for line in lines for c in line
        )
        if again and wordy and len(set(joined)) == len(joined):
            return joined, upper, upper + 1
    return tuple(rows[at]), at, at


def _closing(text: Text, shape: Shape, loose: Sequence[int]) -> list[str]:
    """Words alone on their lines behind the last table, such as "end of file"."""
    last = max((seen.stop for seen in shape.tables), default=0)
    behind = [at for at in loose if at >= last and _lone(text.rows[at])]
    lines = [text.lines[at].strip() for at in behind if not states_verdict(text.rows[at])]
    return [line for line in lines if not any(map(str.isdigit, line))]


def _table_end(bodies: Bodies, rows: Sequence[Cells], at: int) -> int:
    """Position behind the last row of the table whose titles stand here; here if none does."""
    titles = rows[at]
    width = len(titles)
    named = all(titles[_has_pairs(titles) :]) and not any(
        is_numeric(t) and not phrases.PAIR_LIKE.fullmatch(t) for t in titles
    )
    if width < 2 or not named or not any(map(_has_letters, titles)):
        return at
    stop, numeric = bodies.below(at)
    count = stop - at - 1
    enough = count >= _LEAST_ROWS.get(width, 1) and numeric * 2 >= count
    return stop if enough and not _is_key_line(titles, count) else at


def _has_pairs(titles: Cells) -> bool:
    """Whether titles are those of pairs, with none above what the rows begin with."""
    return not titles[0] and len(titles) > _LEAST_PAIRS and all(map(_PAIR.fullmatch, titles[1:]))


def _is_key_line(titles: Cells, count: int) -> bool:
    """Whether the first of some lines is rather a key with two values, like those below it."""
    return not any(map(is_frequency, titles)) and len(titles) <= 3 and count < 2


def _above(rows: Sequence[Cells], line: int, at: int) -> bool:
    """Whether nothing but blank lines stands between, and the line is a heading by its words."""
    if any(rows[line + 1 : at]) or states_verdict(rows[line]):
        return False
    whole = " ".join(rows[line])
    names = phrases.parameter_in(whole) is not None
    if _lone(rows[line]):
        return names or not any(mark in whole for mark in SEPARATORS)
    return len(rows[line]) == 2 and names and not any(map(is_numeric, rows[line]))


def _lone(row: Cells) -> bool:
    return sum(map(bool, row)) == 1


def has_margins(titles: Sequence[str]) -> bool:
    """Whether a title is of a margin."""
    return any(phrases.find(title, {"": MARGIN}) for title in titles)


def _has_letters(text: str) -> bool:
    return any(char.isalpha() for char in text)
