"""The cable schedule, and the label scheme, that a command line names."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.schedule.label_scheme import LabelScheme
    from sweepbook.schedule.model import Fault, Schedule


@dataclass(frozen=True, slots=True)
class Planned:
    """What the command line says of the links that there should be.

    Attributes:
        file: of the schedule, None where none was named.
        columns: "ROLE=TITLE", each.
        scheme_file: of the label scheme, None where none was named.
    """

    file: Path | None = None
    columns: tuple[str, ...] = ()
    scheme_file: Path | None = None

    def files(self) -> tuple[Path, ...]:
        """The files, as far as they were named."""
        return tuple(file for file in (self.file, self.scheme_file) if file is not None)

    def scheme(self) -> "LabelScheme | None":
        """Read the label scheme; None where none was named.

        Raises:
            SweepbookError: it cannot be read, or is no label scheme.
        """
        from sweepbook.schedule import label_scheme

        return None if self.scheme_file is None else label_scheme.load(self.scheme_file)

    def read(self, desk: "Desk") -> "Schedule | None":
        """Read the schedule through the format that its ending names; None where none was named.

        Raises:
            SweepbookError: it cannot be read, or is no schedule; or a column is not well named.
        """
        from sweepbook.schedule import reading
        from sweepbook.source import Source

        chosen = dict(_column(text) for text in self.columns)
        if self.file is None:
            if chosen:
                raise SweepbookError(
                    "--column says what a column of a schedule is, and none is named.",
                    "Name the schedule with --schedule FILE.",
                )
            return None
        formats, project = desk.registry.formats, desk.context.project
        return reading.read(Source(self.file), formats, chosen, project)


def not_known(schedule: "Schedule | None", desk: "Desk") -> Sequence["Fault"]:
    """What a schedule asks for that leads to no one limit table."""
    from sweepbook.schedule import asked

    return asked.not_known(schedule, desk.library) if schedule else ()


NOT_PLANNED = Planned()


def _column(text: str) -> tuple[str, str]:
    from sweepbook.schedule.titles import ROLES

    role, mark, title = text.partition("=")
    role = " ".join(role.casefold().split())
    if not mark or not title.strip():
        raise SweepbookError(
            f"--column {text!r} is not of the form ROLE=TITLE.",
            'Write --column label="the title as it stands in the schedule".',
        )
    if role not in ROLES:
        raise SweepbookError(
            f"--column {text!r}: {role!r} is no role.", f"The roles are {', '.join(ROLES)}."
        )
    return role, title.strip()
