"""The sheet of history: each test of the links that were tested more than once, in order."""

from collections.abc import Iterator, Sequence

from sweepbook.schedule.attempt import Attempt
from sweepbook_plugins.xlsx.layout import Column, Layout, Row
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

YES, NO, NOT_KNOWN = "yes", "no", "order not known"
"""Whether a test is the last of its link, and so speaks for it."""
_COLUMNS = (
    Column("Link", 15, Kind.TEXT),
    Column("Test number", 8, Kind.COUNT),
    Column("Of", 6, Kind.COUNT),
    Column("Current", 15, Kind.TEXT),
    Column("Began by its clock", 20, Kind.TEXT),
    Column("Purpose", 12, Kind.TEXT),
    Column("Stated verdict", 9, Kind.TEXT),
    Column("Sweeps say", 11, Kind.WORD),
    Column("Judgement", 12, Kind.WORD),
    Column("Limit", 38, Kind.TEXT),
    Column("Why", 70, Kind.PROSE),
    Column("Record", 64, Kind.TEXT),
)

HISTORY = Layout("History", _COLUMNS, printed=11, lines=2)


def history(ordered: Sequence[Attempt], *, known: bool) -> Iterator[Row]:
    """The rows of a link, from its first test to its last.

    Args:
        ordered: its tests.
        known: whether that is their order.
    """
    of = len(ordered)
    for number, test in enumerate(ordered, start=1):
        yield (
            test.label or NO_LABEL,
            number,
            of,
            current(number == of, known=known),
            test.started.isoformat(" ") if test.started else None,
            test.purpose or None,
            test.stated or "none",
            test.recomputed,
            test.judgement,
            test.limit_path or "no limit table",
            test.why,
            test.record_id,
        )


def current(last: bool, *, known: bool) -> str:
    """Whether a test speaks for its link."""
    return (YES if last else NO) if known else NOT_KNOWN
