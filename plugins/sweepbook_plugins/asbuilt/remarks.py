"""What whoever exports should know of the database besides that it was written."""

from collections.abc import Iterator, Sequence

from sweepbook_plugins.asbuilt.opening import Opened
from sweepbook_plugins.asbuilt.schema import Schema

MOST_NAMED = 5
_JOBS = "SELECT id, name FROM job ORDER BY name"


def of_revision(database: Opened, schema: Schema) -> Iterator[str]:
    """That the database was brought to the newest revision."""
    found = database.brought_from
    if found is not None:
        brings = [step.brings for step in schema.steps if step.revision > found]
        yield (
            f"The database was of revision {found} of its schema and is of revision "
            f"{schema.revision} now; it has {'; '.join(brings)}."
        )


def of_jobs(database: Opened, job_id: int) -> Iterator[str]:
    """That the job was added beside others, as which its links are others, too.

    Args:
        database: before its transaction ends.
        job_id: of the delivery.
    """
    if database.fresh or job_id in database.jobs:
        return
    names = {row[0]: row[1] for row in database.writing.connection.exec_driver_sql(_JOBS)}
    others = [name for number, name in names.items() if number != job_id]
    if others:
        yield (
            f'The job "{names[job_id]}" was added to the database, which holds '
            f"{listed_jobs(others)} besides. Links of one label in two jobs are two links."
        )


def listed_jobs(names: Sequence[str]) -> str:
    """Names of jobs for people; of many the first ones, and how many more there are."""
    rest = len(names) - MOST_NAMED
    listed = ", ".join(f'"{name}"' for name in names[:MOST_NAMED])
    return listed + (f" and {rest} more" if rest > 0 else "")
