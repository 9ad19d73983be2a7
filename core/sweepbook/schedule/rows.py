"""Rows of a table to a schedule."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice

from sweepbook.schedule import titles
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

_SEARCHED = 30
"""Lines in which the line of titles must come."""
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
    chosen = dict(columns or {})
    roles, head, rest = _titles(name, rows, chosen)
    named = head[-1].cells
    heading = {_same_cells(row) for row in head if len(_same_cells(row)) > 1}
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


def _titles(
    name: str, rows: Iterator[Row], chosen: dict[str, str]
) -> tuple[dict[str, int], Sequence[Row], Iterator[Row]]:
    """The columns by role, the rows down to that of the titles, and those below it.

    Raises:
        BadSchedule: there are none in the first lines.
    """
    above: tuple[str, ...] = ()
    seen: list[Row] = []
    for row in islice(rows, _SEARCHED):
        seen.append(row)
        named = titles.joined(above, row.cells)
        said = _chosen(chosen, named, row.cells)
        if len(said) == len(chosen):
            told = titles.roles(named, said)
            alone = len([cell for cell in row.cells if cell]) == 1
            if "label" in said or ("label" in told and (alone or len(told) > 1)):
                return told, seen, rows
        above = row.cells
    if not any(any(row.cells) for row in seen):
        raise BadSchedule(f"{name}: there is nothing in it.", "Save the cable schedule again.")
    first = next((row for row in seen if len([c for c in row.cells if c]) > 1), None)
    shown = ", ".join(repr(cell) for cell in first.cells if cell) if first else "nothing"
    wanted = ", ".join(repr(title) for title in chosen.values())
    raise BadSchedule(
        f"{name}: no line of titles "
        + (f"with {wanted} " if chosen else "with a label for each link ")
        + f"among the first {_SEARCHED} lines; the first that holds several texts is {shown}.",
        "Say which column is what: --column label=TITLE; "
        "the roles are listed by `sweepbook reconcile --help`.",
    )


def _chosen(chosen: dict[str, str], named: Sequence[str], plain: Sequence[str]) -> dict[str, int]:
    """Columns by role as somebody said, by the whole title or the one in the line alone.

    Capital letters and blanks do not count; a role whose title is not there is left out.
    """
    columns: dict[str, int] = {}
    for line in (plain, named):  # the whole title is the surer one
        columns |= {same_name(title): column for column, title in reversed([*enumerate(line)])}
    wanted = {role: same_name(title) for role, title in chosen.items()}
    return {role: columns[title] for role, title in wanted.items() if title in columns}


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
