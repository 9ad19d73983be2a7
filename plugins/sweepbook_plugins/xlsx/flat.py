"""The format "tables": the tables of a workbook as CSV files in a folder, and what they hold.

    links.csv  to_retest.csv  schedule.csv  margins.csv  findings.csv  instruments.csv
    corrections.csv  spellings.csv  about.csv  columns.csv

UTF-8, commas, a line of names at the top; numbers without looks. A text that a spreadsheet would
take for a formula has an apostrophe before it.
"""

import csv
from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from itertools import repeat
from operator import getitem
from pathlib import Path
from typing import IO, TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl
from sweepbook.text import utf8_safe

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook_plugins.xlsx.layout import Layout, Row

COLUMNS = "columns"
UNFINISHED = "UNFINISHED.txt"
_NOTE = """\
The tables in this folder may not be of one delivery: a program was stopped while it put new ones
in the place of those that were here. Run the same export again; it takes this note away.
"""
_OF_FILES = (".csv", ".tsv", ".txt", ".xlsx", ".zip")
"""Endings of a name that somebody means for one file."""


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "tables"."""
    title = "flat tables as CSV files in a folder, with a dictionary of their columns"
    return [Format(name="tables", title=title, write=write, takes=("margins",))]


def write(delivery: "Delivery", target: Path) -> None:
    """Write the tables into a folder; each file takes its place once all of them are whole.

    While they do, and until the next export where a program is stopped in that moment, a note in
    the folder says that its tables may not be of one delivery.

    Raises:
        SweepbookError: the target is a file or has the name of one, it cannot be written to, or
            the disk is full.
    """
    from sweepbook import files
    from sweepbook_plugins.xlsx.about import ABOUT, about_rows
    from sweepbook_plugins.xlsx.columns import dictionary, flat_name
    from sweepbook_plugins.xlsx.filling import LAYOUTS, fill

    shown = utf8_safe(str(target))
    if target.is_file() or (target.suffix.casefold() in _OF_FILES and not target.is_dir()):
        kind = "is" if target.is_file() else "is a name for"
        raise SweepbookError(
            f"{shown} {kind} a file, and the tables are several files, which go into a folder.",
            f"Name a folder after -o, such as {utf8_safe(str(target.with_suffix('')))}.",
        )
    with ExitStack() as moves:
        with ExitStack() as streams:
            begun: list[Layout] = []

            def begin(layout: "Layout") -> _Table:
                begun.append(layout)
                return _Table(
                    _opened(moves, streams, target / f"{flat_name(layout.name)}.csv"), layout
                )

            fill(delivery, begin)
            for layout in LAYOUTS:  # a table of a delivery before may not stay
                if layout not in begun:
                    begin(layout)
            begin(ABOUT).add(about_rows(delivery))
            out = csv.writer(
                _opened(moves, streams, target / f"{COLUMNS}.csv"), lineterminator="\n"
            )
            out.writerow(("table", "column", "title", "holds", "meaning"))
            for one in dictionary((*LAYOUTS, ABOUT)):
                table = flat_name(one.table)
                out.writerow((table, one.flat_name, one.column, one.holds, one.meaning))
        files.write_bytes(target / UNFINISHED, _NOTE.encode())
    try:
        (target / UNFINISHED).unlink(missing_ok=True)
    except OSError as error:
        raise files.cannot_write(target / UNFINISHED, error) from error


class _Table:
    """One file, row by row."""

    def __init__(self, stream: IO[str], layout: "Layout") -> None:
        from sweepbook_plugins.xlsx.columns import flat_name
        from sweepbook_plugins.xlsx.flat_text import Texts

        self._out, self._texts = csv.writer(stream, lineterminator="\n"), Texts()
        self._out.writerow([flat_name(column.title) for column in layout.columns])

    def add(self, rows: "Iterable[Row]") -> None:
        """Write rows below those that are there."""
        texts = repeat(self._texts)
        self._out.writerows(map(getitem, texts, row) for row in rows)

    def close(self) -> None:
        """There is nothing to finish."""


def _opened(moves: ExitStack, streams: ExitStack, target: Path) -> IO[str]:
    """A file that takes its place when the first stack is left without an error.

    It is closed when the second is left: what a full disk does not take is known by then.
    """
    from sweepbook import files

    part = moves.enter_context(files.replaced(target))
    return streams.enter_context(
        part.open("w", encoding="utf-8", errors="backslashreplace", newline="")
    )
