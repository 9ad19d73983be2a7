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
    head, rest = found(name, rows, dict(columns or {}))
    roles, named = head.roles, head.titles
    heading = {_same_cells(row) for row in head.rows if len(_same_cells(row)) > 1}
    links: dict[tuple[str, str], ScheduledLink] = {}
    faults: list[Fault] = []
    again = 0
    for row in rest:
        if row.blank:
            continue
        if _same_cells(row) in heading:
            again += 1
            continue
        if any(row.cells[len(named) :]):
            faults.append(Fault(row.line, _TOO_WIDE.format(len(row.cells), len(named))))
            continue
        link = _link(row, roles)
        if not link.label:
            faults.append(Fault(row.line, "This row has no label, so it was not taken."))
        elif (first := links.setdefault((link.label, link.building), link)) is not link:
            message = f"{link.label} stands in line {first.line} already; this row was not taken."
            faults.append(Fault(row.line, message))
    if not links:
        raise BadSchedule(f"{name}: there is no link below its titles.", "Give a cable schedule.")
    used = set(roles.values())
    unused = (title for place, title in enumerate(named) if title and place not in used)
    return Schedule(name, sha256, tuple(links.values()), tuple(faults), tuple(unused), again)


def _same_cells(row: Row) -> tuple[tuple[int, str], ...]:
    """Its texts with their columns, capital letters and blanks made one."""
    return tuple((column, same_name(cell)) for column, cell in enumerate(row.cells) if cell)


def _link(row: Row, roles: Mapping[str, int]) -> ScheduledLink:
    def cell(role: str) -> str:
        column = roles.get(role, len(row.cells))
        return row.cells[column] if column < len(row.cells) else ""

    def place(prefix: str = "") -> dict[str, str]:
        return {level: text for level in LEVELS if (text := cell(f"{prefix}{level}"))}

    return ScheduledLink(
        line=row.line,
        label=cell("label"),
        limit=cell("limit"),
        configuration=cell("configuration"),
        cable=cell("cable"),
        reel=cell("reel"),
        near=End(place("from "), cell("from termination")),
        far=End(place("to "), cell("to termination")),
        place=place(),
    )
