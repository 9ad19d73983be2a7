"""When tests of a book ceased to count or began to count again, and the records that this is of."""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass

from sweepbook.book import corrections, journal, store
from sweepbook.book.corrections import Shelved
from sweepbook.book.events import RETURNED, WITHDRAWN, Listed, withdrawals_of
from sweepbook.book.layout import Book
from sweepbook.book.withdraw import listed
from sweepbook.record.model import Record
from sweepbook.text import natural_key

_MOST_LINKS = 20
_WORDS = {WITHDRAWN: "withdrawn", RETURNED: "taken back in"}


@dataclass(frozen=True, slots=True)
class Told:
    """A line of the journal that withdraws sources, or takes some back in.

    Attributes:
        when: its time, RFC 3339 in UTC.
        words: what it was, with the links as their records label them, in the form of the job.
        records: ids of the records of the sources, whether they count now or not.
    """

    when: str
    words: str
    records: frozenset[str]


def told_by_time(book: Book, shown: Callable[[str], str] = str) -> list[Told]:
    """Each withdrawal and each return of a book, in the order of the journal.

    Args:
        book: the book.
        shown: brings a label to the one form of the job.

    Raises:
        SweepbookError: the journal is damaged.
    """
    if not journal.mentions(book.journal, WITHDRAWN):
        return []
    of_source: defaultdict[str, set[Listed]] = defaultdict(set)
    for of, reading in store.contents_of(book).current.items():
        for sha256 in (of[0], *of[1]):
            of_source[sha256] |= {*reading.records}
    found = []
    for line in journal.read(book.journal):
        if line.event in _WORDS:
            withdrawals = withdrawals_of(line)
            (by, *_) = withdrawals.values()
            names = [str(source.get("name", "")) for source in line.body["sources"]]
            records = {one for sha256 in withdrawals for one in of_source[sha256]}
            labels = sorted({shown(one.label) for one in records if one.label}, key=natural_key)
            words = f"{_WORDS[line.event]} on {by.when[:10]}: {listed(names)}: {by.why}"
            if labels:
                words += f" (with tests of {listed(labels, _MOST_LINKS)})"
            found.append(Told(by.when, words, frozenset(one.record_id for one in records)))
    return found


def records(book: Book, ids: Collection[str]) -> Iterator[Record]:
    """Records of a book, whether they count or not, as corrected; damaged ones are passed over.

    Raises:
        SweepbookError: the journal or the table of corrections cannot be read.
    """
    contents = store.contents_of(book)
    known = corrections.load(book, contents)
    for record_id in sorted(ids):
        its = known.by_record.get(record_id) or [
            one for one in known.at_rest if one.record == record_id
        ]
        shelved = Shelved(record_id, contents.file_sha256[record_id], tuple(its))
        if isinstance(found := corrections.taken(book, shelved), Record):
            yield found
