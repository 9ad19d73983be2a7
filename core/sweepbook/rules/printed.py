"""The rule about the word that the source printed for a verdict."""

from collections.abc import Iterator

from sweepbook.dialect.verdict_words import plainly
from sweepbook.judging.phrases import subject
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.verdict import OVERALL

Printed = tuple[str, str, str, str]
"""JSON path, the source's word, the record's verdict, and what both are about."""


def verdict_is_what_was_printed(case: Case) -> Iterator[Hit]:
    """Yield, once a word, the verdicts of which the source's own word says the opposite."""
    turned: dict[tuple[str, str], list[Printed]] = {}
    for one in _printed(case):
        _, words, verdict, _ = one
        if plainly(words) not in (None, verdict.rstrip("*")):
            turned.setdefault((words, verdict), []).append(one)
    for (words, verdict), places in turned.items():
        path, _, _, what = places[0]
        arguments = {"words": words, "verdict": verdict, "what": what, "places": len(places)}
        yield Hit(path, arguments)


def _printed(case: Case) -> Iterator[Printed]:
    """Every verdict that has the source's word beside it, that of the whole test first."""
    overall = case.document.get("stated", {}).get("overall", {})
    if "verdict" in overall and "as_stated" in overall:
        yield OVERALL, overall["as_stated"], overall["verdict"], "the whole test"
    for path, item in case.stated_items:
        if "verdict" in item and "verdict_as_stated" in item:
            what = subject(item["parameter"], item.get("end"), item.get("pairs", ()))
            yield f"{path}.verdict", item["verdict_as_stated"], item["verdict"], what
