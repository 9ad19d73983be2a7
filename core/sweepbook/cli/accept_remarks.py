"""What somebody who lets a finding stand should know of the tests that it is about."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.audit.run import assess
from sweepbook.book import corrections, store
from sweepbook.cli.asked import Asked
from sweepbook.cli.desk import Desk
from sweepbook.cli.meant import by_one_form, is_meant
from sweepbook.findings import Finding
from sweepbook.judging.assessment import Assessment, Recomputed
from sweepbook.rules.catalogue import SCHEDULE
from sweepbook.text import text_at

if TYPE_CHECKING:
    from sweepbook.book.layout import Book
    from sweepbook.project.model import Acceptance


def remarks(book: "Book", acceptance: "Acceptance") -> Iterator[str]:
    """Whether the finding is there, and which of the tests meant do not pass all the same.

    A finding about every test takes the check of a whole book, so that is left to the next one.

    Args:
        book: with the tests.
        acceptance: what was entered.
    """
    if acceptance.everywhere:
        yield "the next `sweepbook check` of the book says so if nothing has this finding."
        return
    tests = list(_meant(book, acceptance))
    yield from _not_there(acceptance, tests)
    for one in tests:
        yield from _not_passed(one)


def _meant(book: "Book", acceptance: "Acceptance") -> Iterator[Assessment]:
    """The tests of the links, or the one record, that it is about."""
    contents = store.contents_of(book)
    held = corrections.load(book, contents)
    context = Desk(Asked(), (book.root,)).context
    _, named = by_one_form(context.project, None, corrections.labels(book, contents))
    asked = [*filter(None, (acceptance.record, acceptance.label)), *acceptance.labels]
    for record_id, label in named.items():
        if any(is_meant(one, label, record_id) for one in asked):
            record = store.load(book, record_id, contents.file_sha256[record_id])
            yield assess(held.of(record), context)


def _not_there(acceptance: "Acceptance", tests: list[Assessment]) -> Iterator[str]:
    """What to say where no test that is meant has such a finding now, or only others know."""
    subject = Desk().rules[acceptance.rule].subject
    if subject == SCHEDULE:
        yield (
            "the next `sweepbook reconcile` with the schedule says so if it does not say this of "
            "the link."
        )
        return
    if subject == "set":
        yield (
            "a finding on tests together is there only for a check of the whole book: the next "
            "`sweepbook check` says so if nothing has this finding. One that is about several "
            "links takes the labels of all of them; one about a whole unit, cable or place, which "
            "names links as examples only, takes --everywhere in their place."
        )
        return
    seen = [(one, finding) for one in tests for finding in one.findings]
    if any(_reached(acceptance, one, finding) for one, finding in seen):
        return
    found = ", ".join(dict.fromkeys(f"{finding.rule} {finding.path}" for _, finding in seen))
    yield (
        f"no such finding is there now; found in these tests: {found or 'none'}. The entry stays "
        "in project.toml, and every check names it until it meets a finding."
    )


def _reached(acceptance: "Acceptance", one: Assessment, finding: Finding) -> bool:
    return acceptance.reaches(finding, one.record.label, one.record.record_id)


def _not_passed(one: Assessment) -> Iterator[str]:
    """That no judgement changes by what is accepted, of a test that is no proved pass."""
    begun = text_at(one.record.document, "test", "started", "rfc3339")[: len("2026-03-02")]
    test = f"the test of {one.record.label or one.record.record_id[:16]}{begun and f' on {begun}'}"
    stated = f" ({one.stated} stated: {one.judgement.value})" if one.stated else ""
    if one.recomputed is Recomputed.FAIL:
        yield f"{test} is a fail{stated}, and stays one: what is accepted is the finding alone."
    elif one.recomputed is Recomputed.UNDECIDED:
        yield (
            f"{test} proves neither pass nor fail{stated}, and stays so: what is accepted is the "
            "finding alone."
        )
