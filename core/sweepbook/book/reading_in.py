"""The records of one source, read and put into the book."""

from sweepbook.belonging import Chosen
from sweepbook.book import store
from sweepbook.book.events import Listed
from sweepbook.book.layout import Book
from sweepbook.errors import ReadProblem
from sweepbook.reading import Pipeline, ReaderCrash, problem_of
from sweepbook.record.model import Record
from sweepbook.source import Source


def read(
    book: Book, kept: Source, chosen: Chosen, pipeline: Pipeline
) -> tuple[tuple[Listed, ...], int, tuple[ReadProblem, ...], bool]:
    """Read a source out of the book and put its records beside it.

    Returns:
        The records as listed, how many of them are new, the problems, and whether it crashed.
    """
    listed: list[Listed] = []
    problems: list[ReadProblem] = []
    new, crashed = 0, False
    for item in pipeline.read(kept, chosen):
        if isinstance(item, Record):
            try:
                put = store.keep(book, item)
            except (store.DamagedRecord, store.NotKept) as error:
                problems.append(problem_of(kept, error))
                continue
            listed.append(store.listed(item, _locator(item, kept), put))
            new += put.new
        else:
            crashed = crashed or isinstance(item, ReaderCrash)
            problems.append(ReadProblem(kept.name, item.place, item.message, item.lost_record))
    return tuple(listed), new, tuple(problems), crashed


def _locator(record: Record, source: Source) -> str:
    """Where the record stands in this source, if it says so."""
    for origin in record.document["origin"]:
        if origin["sha256"] == source.sha256:
            return str(origin["locator"])
    return ""
