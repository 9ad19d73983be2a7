"""The titles of a table: in how many lines they stand, and whether each of them is clear."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from sweepbook.draft import phrases
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_figure, is_frequency
from sweepbook_plugins.csv.draft.bodies import is_units
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.text import Cells
from sweepbook_plugins.csv.names import of_lines

_MOST_LINES = 5
_WITH_UNITS = 3
_LEAST_CURVES = 2


def titles_of(rows: Sequence[Cells], at: int) -> tuple[tuple[str, ...], int, int]:
    """The titles of the table that begins here, and the positions of their first and last lines.

    They take several lines where some come again in one of them, and none in all together, and
    where a row is left below; and further ones where none of these says what is measured. So do
    titles of pairs or parameters, with words below them and then units that alone name an axis, and
    titles of figures above a line of their units.

    Args:
        rows: the rows up to the table's last one.
        at: position of the titles, or of one line of them.
    """
    if len(set(rows[at])) == len(rows[at]):
        lines = rows[at : at + _WITH_UNITS]
        on = _go_on_to_units(lines) or _have_units_below(lines)
        return (of_lines([rows[at]], rows[at + 1]), at, at + 1) if on else (tuple(rows[at]), at, at)
    for last in (at, at + 1):
        found = None
        for first in range(last - 1, max(-1, last - _MOST_LINES), -1):
            lines = rows[first : last + 1]
            if last + 1 >= len(rows) or not _go_on(lines):
                break
            joined = of_lines(lines[:-1], lines[-1])
            if first <= at and len(set(joined)) == len(joined):
                found = joined, first, last
                if any(map(phrases.parameter_in, joined)):
                    return found
        if found:
            return found
    return tuple(rows[at]), at, at


def _go_on(lines: Sequence[Cells]) -> bool:
    """Whether each of some lines may go on in the next one: words, and none is wider."""
    upper, lower = lines[0], lines[-1]
    wordy = not any(is_figure(cell) for line in lines for cell in line)
    return wordy and len(upper) <= len(lower) and sum(map(bool, upper)) > 1


def _go_on_to_units(lines: Sequence[Cells]) -> bool:
    """Whether titles of curves go on between their first line and that of units.

    Only the last one then says that the first column holds frequencies.
    """
    if len(lines) < _WITH_UNITS or len({*map(len, lines)}) > 1 or not _go_on(lines[:-1]):
        return False
    (first, *curves), lower, units = lines
    axis = is_frequency(units[0]) and is_units(units)
    if len(curves) < _LEAST_CURVES or not axis or not lower[0] or is_units(lower):
        return False
    parts = map(settle(curves).parse, curves)
    named = all(part.pairs or part.parameter for part in parts)
    return named and not any(map(is_frequency, (first, lower[0])))


def _have_units_below(lines: Sequence[Cells]) -> bool:
    """Whether titles of figures stand above their units; the first column, of words, has none."""
    if len(lines) < _WITH_UNITS or len({*map(len, lines)}) > 1:
        return False
    titles, units, _ = lines
    return is_units(units) and not units[0] and not any(map(is_frequency, titles))


def with_clear_titles(seen: Seen, line: str) -> Seen:
    """A table in which a title comes twice is known by its line of titles, as by a heading.

    The dialect then names its columns, and the titles that come again carry a number.
    """
    if seen.units or len(set(seen.titles)) == len(seen.titles):
        return seen
    again = {title for title, times in Counter(seen.titles).items() if times > 1}
    naming = settle(list(seen.titles))
    if any(naming.parse(title).pairs for title in again):
        return seen  # several curves of one name, which a number does not tell apart
    count: Counter[str] = Counter()
    clear = []
    for title in seen.titles:
        count[title] += 1
        clear.append(title if count[title] == 1 else f"{title} ({count[title]})")
    return replace(seen, titles=tuple(clear), heading=line, given=True)
