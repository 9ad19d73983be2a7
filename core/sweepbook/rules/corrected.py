"""Rules about corrections of a record."""

from collections.abc import Iterator

from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit


def corrections_fit(case: Case) -> Iterator[Hit]:
    """Yield every correction that starts from something else than the record says."""
    corrected = case.record.corrected
    for unfit in corrected.unfit if corrected else ():
        correction = unfit.correction
        arguments = {
            "field": correction.field,
            "from": correction.old,
            "to": correction.new,
            "found": unfit.found,
            "line": correction.line,
        }
        yield Hit(f"$.{correction.field}", arguments)


def limit_is_the_testers(case: Case) -> Iterator[Hit]:
    """Yield a corrected limit: the tester judged under another one."""
    corrected = case.record.corrected
    if corrected is None or "test.limit" in corrected.taken_back:
        return
    for correction in corrected.applied:
        if correction.field == "test.limit":
            arguments = {"from": correction.old, "to": correction.new, "who": correction.who}
            yield Hit("$.test.limit", arguments)
