"""Rows without a frequency that name a curve: points that lost theirs, unless there is no curve."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.raw import Fault, Name, RawFigure
from sweepbook_plugins.csv.keys import Findings, Keys
from sweepbook_plugins.csv.roles import Role


class Pointless(NamedTuple):
    """A row without a frequency that was taken for single figures in dB.

    Attributes:
        role: what such a row can be.
        line: its number.
        frequency: what stands for its frequency.
        first: position of its first figure among all.
        figures: how many it has.
    """

    role: Role
    line: int
    frequency: str
    first: int
    figures: int


def is_loss_alone(role: Role, frequency: int) -> bool:
    """Whether all that a row gives as figures are values in dB, without any word of their kind.

    Args:
        role: what the row can be.
        frequency: position of its frequency.
    """
    entries = [entry for form in role.figures for entry in form]
    return bool(entries) and all(
        entry.role == "value"
        and quantity_of(entry.name.parameter) == "loss"
        and entry.position != frequency
        for entry in entries
    )


def take_back(
    rows: Sequence[Pointless],
    figures: list[RawFigure],
    has_points: Callable[[Name], bool],
    keys: Keys,
    findings: Findings,
    where: str,
) -> None:
    """Take back the figures of rows whose curves the test has, keep them, and tell of them once.

    Args:
        rows: as they came.
        figures: all of the test; those of these rows are taken out.
        has_points: whether a curve has points.
        keys: keeps what is taken out.
        findings: what is told.
        where: key of the section, for messages.
    """
    lost = [of for of in rows if any(has_points(name) for _, name in of.role.points)]
    for row in reversed(lost):
        span = slice(row.first, row.first + row.figures)
        keys.keep(row.role.key, " ".join(figure.cell.text for figure in figures[span]))
        del figures[span]
    if lost:
        first, others = lost[0], len(lost) - 1
        said = f" but {first.frequency!r}" if first.frequency else ""
        more = f" (and {others} row{'s' if others > 1 else ''} more)" if others else ""
        name = next(name for _, name in first.role.points if has_points(name))
        message = (
            f"the row has no frequency{said}, so that it is no point of '{name}', and its value in "
            f"dB is kept in extra{more}; mend the export, or give single figures a name of their "
            f"own in {where}.rows.figures"
        )
        findings.note(Fault(f"line {first.line}", message))
