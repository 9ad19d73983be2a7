"""Where the records of a run lie, so that a few of them can be read again."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.reading import Pipeline
from sweepbook.record.model import Record
from sweepbook.source import Source

if TYPE_CHECKING:
    from sweepbook.audit.run import Assessed

Item = Record | ReadProblem
Again = Callable[[Sequence[str]], Iterable[Item]]
"""Reads the records of some ids again, and perhaps others of the same book or file."""


Found = TypeVar("Found", bound="Record | Assessed | ReadProblem")


def record_of(found: "Record | Assessed") -> Record:
    """The record, assessed or not."""
    return found if isinstance(found, Record) else found.assessment.record


class Whereabouts:
    """Remembers the book or file of each record: a few dozen bytes a record."""

    def __init__(self) -> None:
        self._ways: list[Again] = []
        self._of: dict[str, int] = {}

    def noted(self, items: "Iterable[Found]", again: Again) -> "Iterator[Found]":
        """Pass on what comes of a book or file, and remember how its records are read again."""
        number = len(self._ways)
        self._ways.append(again)
        for item in items:
            if not isinstance(item, ReadProblem):
                self._of.setdefault(record_of(item).record_id, number)
            yield item

    def recall(self, record_ids: Sequence[str]) -> Iterator[Record]:
        """Read records again, as evidence; those that are no longer there are left out.

        Args:
            record_ids: of records that came through `noted`; others are passed over.
        """
        wanted: dict[int, list[str]] = defaultdict(list)
        for record_id in record_ids:
            if record_id in self._of:
                wanted[self._of[record_id]].append(record_id)
        for number, ids in sorted(wanted.items()):
            left = set(ids)
            for item in self._ways[number](ids):
                if isinstance(item, Record) and item.record_id in left:
                    left.remove(item.record_id)
                    yield item
                if not left:
                    break


def from_book(folder: Path, record_ids: Sequence[str]) -> Iterator[Record]:
    """Some records of a book, as their ids follow; a damaged one was told at its first reading."""
    from sweepbook.book import store
    from sweepbook.book.layout import open_book

    for record_id in record_ids:
        try:
            record = store.load(open_book(folder), record_id)
        except SweepbookError:
            continue
        yield record


def from_source(
    pipeline: Pipeline, source: Source, given: Sequence[Source], _record_ids: Sequence[str]
) -> Iterator[Item]:
    """Everything of one export file, which cannot be read in part.

    Args:
        pipeline: how to read.
        source: the file.
        given: all files of the run, among which are those that belong to it.
    """
    yield from pipeline.read_source(source, given)
