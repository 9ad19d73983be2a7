"""Rules about the name of the limit that a record was tested to."""

from collections.abc import Iterator

from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.stated_limit import Lead
from sweepbook.rules.words import listed

LIMIT = "$.test.limit"


def limit_is_known(case: Case) -> Iterator[Hit]:
    """Yield a limit of which no table is at hand."""
    if case.stated_limit.lead is Lead.UNKNOWN:
        yield Hit(LIMIT, {"spelling": case.stated_limit.spelling})


def limit_names_its_edition(case: Case) -> Iterator[Hit]:
    """Yield a limit whose edition was chosen by the date of the test, where it is judged under."""
    found = case.stated_limit
    if found.lead is Lead.BY_DATE and case.table is found.table:
        arguments = {"spelling": found.spelling, "path": found.path or "", "how": found.how}
        yield Hit(LIMIT, arguments)


def limit_means_what_it_says(case: Case) -> Iterator[Hit]:
    """Yield a limit that the dialect leads elsewhere than its name does."""
    found = case.stated_limit
    if found.contradicted and case.table is found.table:
        yield Hit(
            LIMIT,
            {
                "spelling": found.spelling,
                "meant": listed(found.contradicted),
                "path": found.path or "",
                "how": found.how,
            },
        )


def limit_leads_to_one_table(case: Case) -> Iterator[Hit]:
    """Yield a limit that may mean several tables."""
    found = case.stated_limit
    if found.lead is Lead.AMBIGUOUS:
        candidates = listed(found.candidates)
        yield Hit(LIMIT, {"spelling": found.spelling, "candidates": candidates})


def limit_is_stated(case: Case) -> Iterator[Hit]:
    """Yield a record that names no limit."""
    if case.stated_limit.lead is Lead.NOT_STATED:
        yield Hit("$.test", {})
