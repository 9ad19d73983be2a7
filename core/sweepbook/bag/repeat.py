"""The audit of a bag repeated from the bag alone, and held against the one that lies in it."""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from sweepbook.audit import document, kept
from sweepbook.audit.context import Context
from sweepbook.audit.entries import record_entry
from sweepbook.audit.kept import Kept
from sweepbook.audit.run import Run
from sweepbook.bag import differences, layout, reconciled, whole
from sweepbook.bag.differences import Difference, Kind
from sweepbook.bag.judged_by import judged_by
from sweepbook.book import corrections, store
from sweepbook.book.layout import Book, open_book
from sweepbook.book.withdraw import in_words
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.findings import of_tests
from sweepbook.judging.assessment import Assessment
from sweepbook.record.model import Record
from sweepbook.rules.model import Rule, SetRule
from sweepbook.schedule.attempt import Attempt, attempt_of, with_the_rest

Entry = dict[str, Any]
_OF_SEVERAL = ("finding", "problem")
"""Kinds of differences that may rest on another test."""
_LOST = "It was judged when the bag was made, and cannot be read now."


@dataclass(frozen=True, slots=True)
class Repeated:
    """What came of repeating an audit.

    Attributes:
        records: how many tests were judged anew.
        lost: ids of those of the audit document that were not, since they cannot be read now.
        judgements: how many of them came to each judgement.
        differences: between then and now, in the order of the tests.
        remarks: what is not as it was when the bag was made.
        context: what they were judged by.
        tests: what a reconciliation needs of each; empty where the bag has none.
        problems: in reading them, but for the lost.
    """

    records: int
    lost: frozenset[str]
    judgements: dict[str, int]
    differences: tuple[Difference, ...]
    remarks: tuple[str, ...]
    context: Context
    tests: tuple[Attempt, ...] = ()
    problems: tuple[ReadProblem, ...] = ()

    @property
    def same(self) -> bool:
        """Whether nothing but words differs."""
        return not any(one.grave for one in self.differences)


def repeat(
    root: Path,
    contributed: Sequence[Rule | SetRule] = (),
    on_record: Callable[[], None] = lambda: None,
) -> Repeated:
    """Judge the tests of a bag anew by what lies in the bag.

    Args:
        root: the bag's folder.
        contributed: rules that plugins bring.
        on_record: called after each test.

    Raises:
        SweepbookError: what is needed for it is missing or damaged.
    """
    then = kept.load(root / layout.AUDIT)
    by = judged_by(root, then.head, contributed)
    book = open_book(root / layout.BOOK)
    run = Run(by.context, recall=lambda ids: _again(book, ids))
    tests: list[Attempt] = []
    see = tests.append if reconciled.held(root) else None
    judged = _seen(run.walk(corrections.records(book)), see)
    found = list(_of_records(then, judged, by.not_asked, on_record))
    run.close()
    now = document.tail(run)
    lost = {f"{one.record_id}.json" for one in found if one.kind == "record"}
    now["problems"] = [one for one in now["problems"] if one["source"] not in lost]
    found += differences.of_set(then.tail, now, by.not_asked)
    gone = in_words(book)
    figures = by.context.project.figures if by.context.project else ""
    head = document.head(run)
    head["options"] = {**head["options"], "withdrawn": gone, "figures": figures}
    found += _of_head(then.head, head, by.not_asked, lost)
    judgements = {word.value: count for word, count in run.counters.judgements.items()}
    unread = frozenset(one.record_id for one in found if one.message == _LOST)
    if unread:
        found = [replace(one, follows=one.kind in _OF_SEVERAL) for one in found]
    remarks = by.remarks
    if gone:
        remarks += (f"Withdrawn, and not judged: {gone}.",)
    tests = with_the_rest(tests, of_tests(run.findings, run.exported))
    counted = run.counters.records, unread, judgements
    problems = tuple(one for one in run.problems if one.source not in lost)
    return Repeated(*counted, tuple(found), remarks, by.context, tuple(tests), problems)


def _seen(
    judged: Iterable[Assessment], see: Callable[[Attempt], None] | None
) -> Iterator[Assessment]:
    """Pass tests on, and keep of each what a reconciliation needs."""
    for assessment in judged:
        if see is not None:
            see(attempt_of(assessment))
        yield assessment


def _of_records(
    then: Kept,
    now: Iterable[Assessment],
    not_asked: Collection[str],
    on_record: Callable[[], None],
) -> Iterator[Difference]:
    """Pair the records of both audits, which come in one order unless something is missing."""
    waiting_old: dict[str, Entry] = {}
    waiting_new: dict[str, Entry] = {}
    olds = then.records()
    for assessment in now:
        new = record_entry(assessment)
        old = next(olds, None)
        if old is not None:
            waiting_old[str(old.get("record_id"))] = old
        waiting_new[new["record_id"]] = new
        for record_id in {new["record_id"], str(old.get("record_id")) if old else ""}:
            if record_id in waiting_old and record_id in waiting_new:
                pair = waiting_old.pop(record_id), waiting_new.pop(record_id)
                yield from _of_pair(*pair, not_asked)
        on_record()
    for old in olds:
        record_id = str(old.get("record_id"))
        if record_id in waiting_new:
            yield from _of_pair(old, waiting_new.pop(record_id), not_asked)
        else:
            waiting_old[record_id] = old
    yield from _alone(waiting_old, _LOST)
    yield from _alone(waiting_new, "The audit document does not have it.")


def _of_pair(old: Entry, new: Entry, not_asked: Collection[str]) -> Iterator[Difference]:
    """How two entries of one record differ; where in nothing that counts, in any member."""
    found = list(differences.of_record(old, new, not_asked))
    yield from found
    if not any(one.grave for one in found):
        old, new = ({**each, **_asked_again(each, not_asked)} for each in (old, new))
        yield from whole.of_rest(old, new, ("reason",))


def _asked_again(entry: Entry, not_asked: Collection[str]) -> Entry:
    """What rules say, without those that cannot be asked again."""
    return {
        name: [row for row in entry[name] if row["rule"] not in not_asked]
        for name in ("findings", "rules_not_run")
        if name in entry
    }


def _of_head(
    then: Entry, now: Entry, not_asked: Collection[str], lost: Collection[str]
) -> Iterator[Difference]:
    """How what stands before the records differs.

    The version that made it is remarked on. The options are those that the audit was repeated by,
    but for what the book says. Where tests or rules are lost, totals are others.
    """
    old, new = dict(then), dict(now)
    old.pop("tool", None), new.pop("tool")
    old["options"] = {"withdrawn": "", "figures": "", **old["options"]}
    if lost or not_asked:
        old.pop("summary", None), new.pop("summary")
    if not_asked:
        old["digests"] = new["digests"]
    yield from whole.of_members(old, new, _kind)


def _kind(place: str) -> Kind:
    """What a difference in the head is of; rules may be mended, and find other things."""
    of_rules = ("summary.findings", "summary.rules", "summary.accepted")
    return "finding" if place.startswith(of_rules) else "part"


def _alone(waiting: dict[str, Entry], message: str) -> Iterator[Difference]:
    for record_id, entry in waiting.items():
        yield Difference("record", record_id, str(entry.get("label")), message)


def _again(book: Book, record_ids: Sequence[str]) -> Iterator[Record]:
    """Records of a book once more; one that is damaged was told at its first reading."""
    for record_id in record_ids:
        try:
            yield store.load(book, record_id)
        except SweepbookError:
            continue
