"""The sheet of history: each test of the links that were tested more than once, in order."""

from collections.abc import Iterator, Sequence

from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.order import counting
from sweepbook_plugins.xlsx.layout import Column, Layout, Row
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

YES, NO, NOT_KNOWN, EXPORT = "yes", "no", "order not known", "other export"
"""Whether a test is the last of its link, and so speaks for it, or it is another one exported
again."""
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
    Column("Limit", 30, Kind.TEXT),
    Column("Why", 44, Kind.PROSE),
    Column("Record", 64, Kind.TEXT),
)

HISTORY = Layout("History", _COLUMNS, printed=11, lines=3)


def history(ordered: Sequence[Attempt], *, known: bool) -> Iterator[Row]:
    """The rows of a link, from its first test to its last; exports of one test share its number.

    Args:
        ordered: its tests.
        known: whether that is their order.
    """
    count = counting(ordered)
    number, of = 1, len(count)
    for test in ordered:
        yield (
            test.label or NO_LABEL,
            number,
            of,
            current(test, count, known=known),
            test.started.isoformat(" ") if test.started else None,
            test.purpose or None,
            test.stated or "none",
            test.recomputed,
            test.judgement,
            test.limit_path or "no limit table",
            test.why,
            test.record_id,
        )
        number += test in count


def current(test: Attempt, count: Sequence[Attempt], *, known: bool) -> str:
    """Whether a test speaks for its link.

    Args:
        test: of the link.
        count: its tests that count, in order.
        known: whether that is their order.
    """
    if test not in count:
        return EXPORT
    return (YES if test is count[-1] else NO) if known else NOT_KNOWN
