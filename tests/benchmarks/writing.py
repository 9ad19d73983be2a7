"""Handing a judged book to each writer; the judging is not timed."""

import io
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import openpyxl
import orjson
import xlsxwriter

from sweepbook.cli.desk import Desk
from sweepbook.delivery import About, Delivery
from sweepbook.judging.assessment import Assessment
from tests.benchmarks.material import Material
from tests.benchmarks.measure import Row, beside

ENDINGS = {"json": "jsonl", "xlsx": "xlsx", "as-built": "sqlite"}


def rows(material: Material) -> Iterator[Row]:
    """One row a writer; the floor writes the same values by the bare library."""
    root = material.book.root
    desk = Desk(paths=(root,))
    run = desk.run()
    entries = list(run.walk(desk.items((root,))))
    for name, ending in ENDINGS.items():
        target = material.folder / f"written.{ending}"

        def ours(name: str = name, target: Path = target) -> None:
            context = desk.context
            about = About("", "", "", {}, {}, context.library, context.catalogue)
            write = desk.registry.writer(name).write
            assert write is not None
            write(Delivery(iter(entries), about), target)

        ours()
        what = f"{name}, {len(entries)} records"
        if name == "json":
            yield beside(what, ours, "orjson.dumps", lambda: [*map(_dumped, entries)])
        elif name == "xlsx":
            yield beside(what, ours, "XlsxWriter, the same cells", _sheets(target), rounds=3)
        else:
            yield beside(what, ours, "sqlite3, the same rows", _tables(target), rounds=3)


def _dumped(entry: Assessment) -> bytes:
    return orjson.dumps(entry.record.document, option=orjson.OPT_SERIALIZE_NUMPY)


def _sheets(path: Path) -> Callable[[], None]:
    """Writes the cells of a workbook as they are, without looks, row by row."""
    book = openpyxl.load_workbook(path, read_only=True)
    sheets = [list(sheet.iter_rows(values_only=True)) for sheet in book.worksheets]
    book.close()

    def write() -> None:
        options = {"constant_memory": True, "remove_timezone": True}
        with xlsxwriter.Workbook(io.BytesIO(), options) as book:
            for cells in sheets:
                sheet = book.add_worksheet()
                for number, row in enumerate(cells):
                    sheet.write_row(number, 0, row)

    return write


def _tables(path: Path) -> Callable[[], None]:
    """Writes the rows of a database into tables of the same columns, without keys and indices."""
    with sqlite3.connect(path) as source:
        names = [
            one for (one,) in source.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        ]
        tables = {name: source.execute(f'SELECT * FROM "{name}"').fetchall() for name in names}
    source.close()

    def write() -> None:
        target = sqlite3.connect(":memory:")
        for name, found in tables.items():
            if found:
                columns = ", ".join(f"c{at}" for at in range(len(found[0])))
                target.execute(f'CREATE TABLE "{name}" ({columns})')
                marks = ", ".join("?" * len(found[0]))
                target.executemany(f'INSERT INTO "{name}" VALUES ({marks})', found)
        target.commit()
        target.close()

    return write
