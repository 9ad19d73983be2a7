"""Where the records of a run lie, so that a few of them can be read again."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.inputs import is_book
from sweepbook.record.model import Record

Item = Record | ReadProblem


class Whereabouts:
    """Remembers the book or file of each record: a few dozen bytes a record.

    Args:
        read: reads an export file.
    """

    def __init__(self, read: Callable[[Path], Iterable[Item]]) -> None:
        self._read = read
        self._paths: list[Path] = []
        self._of: dict[str, int] = {}

    def noted(self, path: Path, items: Iterable[Item]) -> Iterator[Item]:
        """Pass on what comes of a book or file, and remember its records."""
        number = len(self._paths)
        self._paths.append(path)
        for item in items:
            if isinstance(item, Record):
                self._of.setdefault(item.record_id, number)
            yield item

    def recall(self, record_ids: Sequence[str]) -> Iterator[Record]:
        """Read records again, as evidence; those that are no longer there are left out.

        Args:
            record_ids: of records that came through `noted`; others are passed over.
        """
        wanted: dict[int, set[str]] = defaultdict(set)
        for record_id in record_ids:
            if record_id in self._of:
                wanted[self._of[record_id]].add(record_id)
        for number in sorted(wanted):
            path = self._paths[number]
            yield from (self._of_book if is_book(path) else self._of_file)(path, wanted[number])

    def _of_book(self, folder: Path, record_ids: set[str]) -> Iterator[Record]:
        from sweepbook.book import store
        from sweepbook.book.layout import open_book

        book = open_book(folder)
        for record_id in sorted(record_ids):
            try:
                record = store.load(book, record_id)
            except SweepbookError:
                continue  # it was told as a problem, or will be at the next reading
            yield record

    def _of_file(self, path: Path, record_ids: set[str]) -> Iterator[Record]:
        left = set(record_ids)
        for item in self._read(path):
            if isinstance(item, Record) and item.record_id in left:
                left.remove(item.record_id)
                yield item
            if not left:
                return
