"""The lines about the job: what it is, its one names, what becomes of its marginal passes."""

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.cli import table
from sweepbook.cli.wording import counted

if TYPE_CHECKING:
    from sweepbook.audit.run import Run
    from sweepbook.project.job import Job
    from sweepbook.record.model import Record

MOST_SPELLINGS = 5
"""Spellings that are told one by one."""


def of_job(job: "Job") -> Iterator[str]:
    """What the job is, in a line or two; nothing where no project file says."""
    named = (("job", job.number), ("contract", job.contract), ("for", job.owner))
    told = [job.site, *(f"{word} {text}" for word, text in named if text)]
    said = ", ".join(filter(None, told))
    if said:
        yield from table.paragraph(f"{said[:1].upper()}{said[1:]}.", _columns())


def of_marginal(run: "Run") -> Iterator[str]:
    """How many passes are marginal, and what becomes of them; nothing without a project file."""
    count = run.counters.of_tests().marginal
    if count and run.context.project:
        text = f"Marginal passes: {count}. {run.context.job.on_marginal}"
        yield from table.paragraph(text, _columns())


def of_names(run: "Run") -> Iterator[str]:
    """Which spellings the project file brought together, and how often they stand somewhere.

    Of more than a few it is told how many there are of each kind, and where they are listed.
    """
    project = run.context.project
    if project is None or not run.names:
        return
    tests = Counter({(one.of, one.said, one.name): 0 for one in run.names})
    for one, count in run.names.items():
        tests[one.of, one.said, one.name] += count
    if len(tests) > MOST_SPELLINGS:
        kinds = Counter(of for of, _, _ in tests)
        each = ", ".join(f"{of} {count}" for of, count in kinds.items())
        told = (
            f"{len(tests)} spellings ({each}). `sweepbook export --to xlsx` lists them in the "
            "sheet Spellings, `sweepbook show` those of one test"
        )
    else:
        told = "; ".join(
            f'{of} "{said}" is "{name}" ({counted(count, "time")})'
            for (of, said, name), count in tests.items()
        )
    yield from table.paragraph(f"Brought together by {project.name}: {told}.", _columns())


def of_record(record: "Record") -> Iterator[str]:
    """Each spelling of a record that was brought to another name."""
    for one in record.spelled.names if record.spelled else ():
        yield f'{one.field} is "{one.name}", which the record spells "{one.said}"'


def _columns() -> int:
    return table.terminal_columns()
