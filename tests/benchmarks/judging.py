"""Checking a book: each record read, proved, judged and put before the rules."""

from collections.abc import Callable, Iterator

import orjson

from sweepbook.audit.run import assess
from sweepbook.book import store
from sweepbook.cli.desk import Desk
from sweepbook.record.model import Record
from tests.benchmarks.material import Material
from tests.benchmarks.measure import Row, beside

FLOOR = "read + orjson.loads"


def rows(material: Material) -> Iterator[Row]:
    """Reading, and reading with all that a check does, over the same files."""
    book = material.as_stated
    context = Desk(paths=(book.root,)).context
    files = material.files_of(book)

    def least() -> None:
        for path in files:
            orjson.loads(path.read_bytes())

    def read(then: Callable[[Record], object]) -> None:
        for item in store.records(book):
            assert isinstance(item, Record)
            then(item)

    name = f"{len(files)} records"
    yield beside(f"read {name}", lambda: read(id), FLOOR, least)
    yield beside(f"check {name}", lambda: read(lambda one: assess(one, context)), FLOOR, least)
