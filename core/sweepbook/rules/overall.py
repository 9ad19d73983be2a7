"""Rules about the verdict on the whole record beside those that the source states on its parts."""

from collections.abc import Iterator

from sweepbook.judging.assessment import Outcome, Recomputed
from sweepbook.judging.phrases import name, subject
from sweepbook.rules.asterisk import asterisk_fits
from sweepbook.rules.case import Case
from sweepbook.rules.items import Item, margins_of, part_outcome
from sweepbook.rules.model import Hit
from sweepbook.rules.words import listed

OVERALL = "$.stated.overall"


def pass_has_no_failed_part(case: Case) -> Iterator[Hit]:
    """Yield every required part stated to fail under a stated pass, where the sweeps allow it."""
    for path, item in _failed_under_a_pass(case, "fail"):
        yield Hit(f"{path}.verdict", {"stated": _overall(case), "what": _called(item)})


def fail_with_asterisk_counts_as_fail(case: Case) -> Iterator[Hit]:
    """Yield every required part stated as fail with an asterisk under a stated pass."""
    for path, item in _failed_under_a_pass(case, "fail*"):
        yield Hit(f"{path}.verdict", {"stated": _overall(case), "what": _called(item)})


def required_part_decides(case: Case) -> Iterator[Hit]:
    """Yield a stated fail whose failing parts are all for information, in the source's words."""
    if not _overall(case).startswith("fail") or case.assessment.recomputed is Recomputed.FAIL:
        return
    failed = [item for _, item in case.stated_items if _verdict(item).startswith("fail")]
    if failed and not any(_is_required(case, item) for item in failed):
        words = listed(list(dict.fromkeys(name(item["parameter"]) for item in failed)))
        yield Hit(
            OVERALL,
            {"stated": _overall(case), "parameters": words, "limit": case.needed_table.path},
        )


def fail_has_a_failed_part(case: Case) -> Iterator[Hit]:
    """Yield a stated fail of which every required parameter is stated to pass."""
    if not _overall(case).startswith("fail") or case.assessment.recomputed is Recomputed.FAIL:
        return
    verdicts: dict[str, set[str]] = {}
    for _, item in case.stated_items:
        if _verdict(item):
            verdicts.setdefault(item["parameter"], set()).add(_verdict(item).rstrip("*"))
    asked = [one for one in case.needed_table.parameters if one in case.required]
    if all(verdicts.get(parameter) == {"pass"} for parameter in asked) and not any(
        "fail" in said for said in verdicts.values()
    ):
        yield Hit(OVERALL, {"stated": _overall(case), "parts": len(asked)})


def some_point_was_judged(case: Case) -> Iterator[Hit]:
    """Yield every part stated to pass of which all points are for information only."""
    none = Outcome.NOT_EVALUATED
    silent = {margin.parameter for margin in case.assessment.margins if margin.outcome is none}
    if not silent:
        return
    for path, item in case.stated_items:
        if item["parameter"] not in silent:
            continue
        outcomes = {margin.outcome for margin in margins_of(case, item)}
        if _verdict(item).startswith("pass") and outcomes == {Outcome.NOT_EVALUATED}:
            yield Hit(f"{path}.verdict", {"what": _called(item), "stated": _verdict(item)})


def verdict_is_understood(case: Case) -> Iterator[Hit]:
    """Yield a verdict on the whole test in words that mean none of the four verdicts."""
    overall = case.document.get("stated", {}).get("overall", {})
    if "as_stated" in overall and "verdict" not in overall:
        yield Hit(OVERALL, {"words": overall["as_stated"]})


def asterisk_is_carried_over(case: Case) -> Iterator[Hit]:
    """Yield a verdict without an asterisk on a record of which a deciding part has one.

    One that the figures of its part refute is not carried over.
    """
    overall = _overall(case)
    if overall not in ("pass", "fail"):
        return
    deciding = {
        f"{path}.verdict": item
        for path, item in case.stated_items
        if _verdict(item).rstrip("*") == overall
    }
    marked = [path for path, item in deciding.items() if _is_marked(case, item)]
    refuted = {hit.path for hit in asterisk_fits(case)} if marked else set()
    marked = [path for path in marked if path not in refuted]
    if marked and (overall == "pass" or len(marked) == len(deciding)):
        first = _called(deciding[marked[0]])
        yield Hit(OVERALL, {"stated": overall, "what": first, "parts": len(marked)})


def _is_marked(case: Case, item: Item) -> bool:
    return _verdict(item).endswith("*") and _is_required(case, item)


def _failed_under_a_pass(case: Case, verdict: str) -> Iterator[tuple[str, Item]]:
    """Required items of a verdict under a stated pass, without those that the sweeps refute."""
    for path, item in case.stated_items if _overall(case).startswith("pass") else ():
        counts = item.get("verdict") == verdict and _is_required(case, item)
        if counts and part_outcome(case, item) is not Outcome.PASS:
            yield path, item


def _is_required(case: Case, item: Item) -> bool:
    return item["parameter"] in case.required


def _overall(case: Case) -> str:
    return case.assessment.stated or ""


def _verdict(item: Item) -> str:
    verdict: str = item.get("verdict", "")
    return verdict


def _called(item: Item) -> str:
    return subject(item["parameter"], item.get("end"), item.get("pairs", ()))
