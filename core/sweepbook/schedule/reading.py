"""From a file to a schedule, by the names that the job brings its spellings to."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from sweepbook.schedule.model import Schedule
from sweepbook.schedule.one_name import respelled
from sweepbook.schedule.rows import schedule_of
from sweepbook.source import Source
from sweepbook.table_reader import read_table

if TYPE_CHECKING:
    from sweepbook.formats import Format
    from sweepbook.project.model import Project


def read(
    source: Source,
    formats: "Mapping[str, Format]",
    columns: Mapping[str, str],
    project: "Project | None" = None,
) -> Schedule:
    """Read a schedule through the format that its ending names.

    Args:
        source: the file.
        formats: all formats, by name.
        columns: title by role, where somebody said which column is what.
        project: whose spellings of places and reels are brought to one name; None for none.

    Raises:
        SweepbookError: it cannot be read, or is no schedule.
    """
    schedule = schedule_of(source.name, source.sha256, read_table(source, formats), columns)
    return respelled(schedule, project.spellings) if project else schedule
