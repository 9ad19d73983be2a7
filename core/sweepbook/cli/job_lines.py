"""The lines about the job: what it is, and what becomes of its marginal passes."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.cli import table

if TYPE_CHECKING:
    from sweepbook.audit.run import Run
    from sweepbook.project.job import Job


def of_job(job: "Job") -> Iterator[str]:
    """What the job is, in a line or two; nothing where no project file says."""
    named = (("job", job.number), ("contract", job.contract), ("for", job.owner))
    told = [job.site, *(f"{word} {text}" for word, text in named if text)]
    said = ", ".join(filter(None, told))
    if said:
        yield from table.paragraph(f"{said[:1].upper()}{said[1:]}.", table.terminal_columns())


def of_marginal(run: "Run") -> Iterator[str]:
    """How many passes are marginal, and what becomes of them; nothing without a project file."""
    count = run.counters.marginal
    if count and run.context.project:
        text = f"Marginal passes: {count}. {run.context.job.on_marginal}"
        yield from table.paragraph(text, table.terminal_columns())
