"""Which results the tests of a job have in the database: all, or of each parameter the worst."""

from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe
from sweepbook_plugins.asbuilt.stored import asked

if TYPE_CHECKING:
    import sqlalchemy as sa

MARGINS = "margins"
"""The option of the command line, as a delivery has it, and the column of a job."""
_THERE = "SELECT name, margins FROM job WHERE id = :job"


def refuse_other(connection: "sa.Connection", job_id: int, wanted: str) -> None:
    """Refuse to put tests of a job beside others that have other results.

    Raises:
        SweepbookError: the job is there, and what it has is not what is wanted.
    """
    for job in asked(connection, _THERE, job_id):
        there = job[MARGINS]
        if there is not None and there != wanted:
            raise SweepbookError(
                f"The database has the job {utf8_safe(repr(job['name']))} with --margins {there}, "
                f"and this is to be --margins {wanted}: what is missing of a test would be taken "
                "for what it lacks.",
                f"Write --margins {there}, or export to a new database.",
            )
