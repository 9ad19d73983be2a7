"""Rows of a table to a schedule."""

from collections.abc import Iterator, Mapping

from sweepbook.schedule.head import found
from sweepbook.schedule.model import (
    LEVELS,
    BadSchedule,
    End,
    Fault,
    Schedule,
    ScheduledLink,
    same_name,
)
from sweepbook.tables import Row

_TOO_WIDE = (
    "This row has {} cells below {} titles, so it was not taken; look for the mark between cells "
    "inside a text that is not in quotation marks."
)

_PLAIN = ("label", "limit", "configuration", "cable", "reel")
_OF_END = (*LEVELS, "termination")
_NO_END = End()


def schedule_of(
    name: str, sha256: str, rows: Iterator[Row], columns: Mapping[str, str] | None = None
) -> Schedule:
    """Read a schedule out of a table.

    Args:
        name: of the file, for messages.
        sha256: of its bytes.
        rows: of the table, from its first line on; lines above the titles are passed over, and
            so are they and the titles where they come again, as on each printed page.
        columns: title by role, where somebody said which column is what; the other columns are
            told by their titles.

    Raises:
        BadSchedule: there is no line of titles, or a title that somebody named is not there.
    """
    chosen = dict(columns or {})
    head, rest = found(name, rows, dict(chosen))
    roles, titles = head.roles, head.titles
    heading = {_same_cells(row) for row in head.rows if len(_same_cells(row)) > 1}
    begins = {cells[0] for cells in heading}
    taken = _Columns(roles)
    links: dict[tuple[str, str], ScheduledLink] = {}
    faults: list[Fault] = []
    again = 0
    for row in rest:
        if row.blank:
            continue
        if next(_each_cell(row)) in begins and _same_cells(row) in heading:
            again += 1
            continue
        if any(row.cells[len(titles) :]):
            faults.append(Fault(row.line, _TOO_WIDE.format(len(row.cells), len(titles))))
            continue
        link = taken.link(row)
        if not link.label:
            faults.append(Fault(row.line, "This row has no label, so it was not taken."))
        elif (first := links.setdefault(link.own, link)) is not link:
            how = "" if first.label == link.label else f" as {first.label}"
            message = (
                f"{link.label} stands in line {first.line} already{how}; this row was not taken."
            )
            faults.append(Fault(row.line, message))
    if not links:
        raise BadSchedule(f"{name}: there is no link below its titles.", "Give a cable schedule.")
    used = set(roles.values())
    unused = tuple(title for place, title in enumerate(titles) if title and place not in used)
    return Schedule(name, sha256, tuple(links.values()), tuple(faults), unused, again, chosen)


def _same_cells(row: Row) -> tuple[tuple[int, str], ...]:
    """Its texts with their columns, capital letters and blanks made one."""
    return tuple(_each_cell(row))


def _each_cell(row: Row) -> Iterator[tuple[int, str]]:
    return ((column, same_name(cell)) for column, cell in enumerate(row.cells) if cell)


class _Columns:
    """Which columns a link is taken from; a text that comes again is kept once."""

    def __init__(self, roles: Mapping[str, int]) -> None:
        self._plain = [(name, roles[name]) for name in _PLAIN if name in roles]
        self._own, self._near, self._far = (
            [(name, roles[prefix + name]) for name in names if prefix + name in roles]
            for prefix, names in (("", LEVELS), ("from ", _OF_END), ("to ", _OF_END))
        )
        self._texts: dict[str, str] = {}

    def link(self, row: Row) -> ScheduledLink:
        """The link of a row."""
        plain = self._cells(row, self._plain)
        label, limit, configuration, cable, reel = [plain.get(name, "") for name in _PLAIN]
        return ScheduledLink(
            row.line,
            label,
            limit,
            configuration,
            cable,
            reel,
            near=self._end(row, self._near),
            far=self._end(row, self._far),
            place=self._cells(row, self._own),
        )

    def _end(self, row: Row, columns: list[tuple[str, int]]) -> End:
        if not columns:
            return _NO_END
        cells = self._cells(row, columns)
        termination = cells.pop("termination", "")
        return End(cells, termination) if cells or termination else _NO_END

    def _cells(self, row: Row, columns: list[tuple[str, int]]) -> dict[str, str]:
        cells, once = row.cells, self._texts.setdefault
        reached = len(cells)
        return {
            name: once(text, text)
            for name, column in columns
            if column < reached and (text := cells[column])
        }
