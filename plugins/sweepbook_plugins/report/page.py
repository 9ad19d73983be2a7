"""The format "report": one HTML page for people."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl
from sweepbook_plugins.report import PLOTS, PLOTS_OF

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "report"."""
    title = "page for people: what is open, each link with its margins; opens in any browser"
    return [
        Format(
            name="report",
            title=title,
            suffixes=(".html", ".htm"),
            write=write,
            takes=(PLOTS, PLOTS_OF),
        )
    ]


def write(delivery: "Delivery", target: Path) -> None:
    """Write the page atomically, one walk over the entries, in flat memory.

    The page holds all that it shows and loads nothing. What it says of each test waits in a
    temporary file until it is known what stands above. The same delivery gives the same bytes where
    SOURCE_DATE_EPOCH is set.

    Raises:
        SweepbookError: the target cannot be written, or the disk is full.
    """
    from sweepbook.files import replaced
    from sweepbook_plugins.report.assemble import assemble
    from sweepbook_plugins.report.drawing import remarks
    from sweepbook_plugins.report.job import walk
    from sweepbook_plugins.report.spool import Spool

    with replaced(target) as part, Spool.open() as spool, part.open("wb") as page:
        job = walk(delivery, spool)
        assemble(delivery, job, spool, page)
        delivery.remarks.extend(remarks(job, page.tell()))
