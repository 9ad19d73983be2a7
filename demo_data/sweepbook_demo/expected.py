"""What holding the tests against the schedule should say, label by label."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from sweepbook_demo import schedule
from sweepbook_demo.plan import PlannedLink

ABOUT = (
    "One entry a label, that of the schedule where there is one; `tested_as` where the tests spell "
    "it otherwise. `tests` counts its records. Outcomes: passed; retested (failed first, passed "
    "later); failed (the sweeps fail, whatever is stated); overturned (NOT OK is stated though the "
    "sweeps pass); unproven; near-miss (a test's label is nearly the scheduled one); untested; "
    "lesser-limit and other-configuration (than asked; the test passes what it was held to); "
    "not-on-schedule. All but passed and retested are open."
)
_CLOSED = ("passed", "retested")


def entries(links: Sequence[PlannedLink]) -> list[dict[str, Any]]:
    """Expected outcome of every scheduled label in the schedule's order, then of the others."""
    tests: dict[str, list[PlannedLink]] = {}
    for link in links:
        tests.setdefault(link.facts["label"], []).append(link)
    spelled = {scheduled: tested for tested, scheduled in schedule.NEAR_MISS.items()}
    found = [_entry(row["label"], spelled, tests) for row in schedule.rows(links)]
    return [*found, _entry(schedule.NOT_SCHEDULED, spelled, tests)]


def totals(found: Sequence[dict[str, Any]]) -> dict[str, int]:
    """How many labels have each outcome."""
    return dict(Counter(entry["outcome"] for entry in found))


def _entry(
    label: str, spelled: dict[str, str], tests: dict[str, list[PlannedLink]]
) -> dict[str, Any]:
    tested = spelled.get(label, label)
    own = tests.get(tested, [])
    outcome = _outcome(tested, own)
    entry: dict[str, Any] = {"label": label}
    if tested != label:
        entry["tested_as"] = tested
    return entry | {"outcome": outcome, "open": outcome not in _CLOSED, "tests": len(own)}


def _outcome(tested: str, own: Sequence[PlannedLink]) -> str:
    listed = {
        schedule.UNTESTED: "untested",
        schedule.NOT_SCHEDULED: "not-on-schedule",
        **dict.fromkeys(schedule.NEAR_MISS, "near-miss"),
        **dict.fromkeys(schedule.LESSER_LIMIT, "lesser-limit"),
        **dict.fromkeys(schedule.OTHER_CONFIGURATION, "other-configuration"),
    }
    if tested in listed:
        return listed[tested]
    last = own[-1]
    if last.recomputed == "fail":
        return "failed"
    if last.recomputed == "undecided":
        return "unproven"
    if last.judgement == "overturned":
        return "overturned"
    return "retested" if len(own) > 1 else "passed"
