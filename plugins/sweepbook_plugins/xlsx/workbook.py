"""The format "xlsx": a workbook of a summary, links, retests, margins, findings and notes."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl

OPTION = "sweeps"
"""Of which tests the sweeps are written besides: labels or record ids, a line each."""

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "xlsx"."""
    title = "workbook: summary, links, retests, margins, findings, instruments, about"
    return [
        Format(
            name="xlsx", title=title, suffixes=(".xlsx",), write=write, takes=(OPTION, "margins")
        )
    ]


def write(delivery: "Delivery", target: Path) -> None:
    """Write the workbook atomically, one walk over the entries, in flat memory.

    Labels and all other text from outside are written as text, never as formulas, links or
    numbers. The same delivery gives the same bytes where SOURCE_DATE_EPOCH is set.

    Raises:
        SweepbookError: the target cannot be written, or the disk is full.
    """
    from sweepbook.clock import now
    from sweepbook.files import replaced
    from sweepbook_plugins.xlsx.book import fill
    from sweepbook_plugins.xlsx.file import opened
    from sweepbook_plugins.xlsx.text import fitting

    with replaced(target) as part, opened(part) as workbook:
        created = datetime.fromisoformat(now()).replace(tzinfo=None)
        workbook.set_properties({"title": fitting(delivery.about.title), "created": created})
        fill(workbook, delivery)
