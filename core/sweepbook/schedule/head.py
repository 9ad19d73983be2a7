"""The head of a schedule: the line or two of its titles, and what stands above them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, islice

from sweepbook.schedule import titles
from sweepbook.schedule.model import BadSchedule, same_name
from sweepbook.tables import Row

_SEARCHED = 30
"""Lines in which the line of titles must come."""
_SHOWN, _LONGEST = 40, 1_000
"""Texts of a line that a message shows, and how long they may be together."""


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a schedule.

    Attributes:
        roles: the columns by role.
        titles: of the columns, as they stand.
        rows: from the first line down to the last one of the titles.
    """

    roles: Mapping[str, int]
    titles: Sequence[str]
    rows: Sequence[Row]


def found(name: str, rows: Iterator[Row], chosen: Mapping[str, str]) -> tuple[Head, Iterator[Row]]:
    """The head of a schedule, and the rows below it.

    Titles may stand in two lines, the label's in the upper one: "Link" beside "From" and "To",
    with "Floor" and "Panel" below these.

    Args:
        name: of the file, for messages.
        rows: of the table, from its first line on.
        chosen: title by role, where somebody said which column is what.

    Raises:
        BadSchedule: there are no titles in the first lines.
    """
    above: tuple[str, ...] = ()
    seen: list[Row] = []
    for row in islice(rows, _SEARCHED):
        seen.append(row)
        roles = _roles(above, row.cells, chosen)
        if roles:
            below = next(rows, None)
            if below is None:
                return Head(roles, row.cells, seen), rows
            lower = _roles(row.cells, below.cells, chosen)
            if len(lower) > len(roles) and _without_label(below, lower, roles):
                return Head(lower, _both(row.cells, below.cells), [*seen, below]), rows
            return Head(roles, row.cells, seen), chain([below], rows)
        above = row.cells
    raise _none(name, seen, chosen)


def _roles(above: Sequence[str], cells: Sequence[str], chosen: Mapping[str, str]) -> dict[str, int]:
    """The columns by role that a line and the one above it tell; empty where they are no titles."""
    named = titles.joined(above, cells)
    said = _chosen(chosen, named, cells)
    if len(said) < len(chosen):
        return {}
    told = titles.roles(named, said)
    alone = len([cell for cell in cells if cell]) == 1
    return told if "label" in said or ("label" in told and (alone or len(told) > 1)) else {}


def _without_label(below: Row, lower: Mapping[str, int], upper: Mapping[str, int]) -> bool:
    """Whether the title of the label stands in the upper of two lines, and nothing below it."""
    column = upper["label"]
    return lower["label"] == column and not any(below.cells[column : column + 1])


def _both(above: Sequence[str], below: Sequence[str]) -> list[str]:
    """The titles of two lines: the lower one where there is one."""
    width = max(len(above), len(below))
    upper, lower = ([*line, *[""] * (width - len(line))] for line in (above, below))
    return [one or other for one, other in zip(lower, upper, strict=True)]


def _none(name: str, seen: Sequence[Row], chosen: Mapping[str, str]) -> BadSchedule:
    """Why there is no head."""
    if not any(any(row.cells) for row in seen):
        return BadSchedule(f"{name}: there is nothing in it.", "Save the cable schedule again.")
    first = next((row for row in seen if len([c for c in row.cells if c]) > 1), None)
    texts = [repr(cell) for cell in first.cells if cell] if first else ["nothing"]
    shown = ", ".join(texts[:_SHOWN])[:_LONGEST] + (", ..." if len(texts) > _SHOWN else "")
    wanted = ", ".join(repr(title) for title in chosen.values())
    return BadSchedule(
        f"{name}: no line of titles "
        + (f"with {wanted} " if chosen else "with a label for each link ")
        + f"among the first {_SEARCHED} lines; the first that holds several texts is {shown}.",
        "Say which column is what: --column label=TITLE; "
        "the roles are listed by `sweepbook reconcile --help`.",
    )


def _chosen(
    chosen: Mapping[str, str], named: Sequence[str], plain: Sequence[str]
) -> dict[str, int]:
    """Columns by role as somebody said, by the whole title or the one in the line alone.

    Capital letters and blanks do not count; a role whose title is not there is left out.
    """
    columns: dict[str, int] = {}
    for line in (plain, named):  # the whole title is the surer one
        columns |= {same_name(title): column for column, title in reversed([*enumerate(line)])}
    wanted = {role: same_name(title) for role, title in chosen.items()}
    return {role: columns[title] for role, title in wanted.items() if title in columns}
