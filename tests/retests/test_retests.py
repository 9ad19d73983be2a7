"""What is on the list, and what a suspect says: hints are common practice, no source."""

from dataclasses import replace
from datetime import datetime

import pytest

from sweepbook.judging.assessment import Judgement, Outcome, Recomputed
from sweepbook.limits.library import Library
from sweepbook.retests import collect
from sweepbook.retests.collect import OneTest, Retest, retests
from sweepbook.retests.suspect import nearest, suspects, words
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.model import NO_SCHEDULE, End
from sweepbook.schedule.reconcile import reconcile

from .making import curve, failing, figure

LIBRARY = Library.load()
LINK = "tia-568.2-d/cat6a/permanent-link"
PASS = Attempt(
    record_id="sb0-1", label="A-1", purpose="initial", started=datetime(2024, 5, 1, 9),
    stated="pass", recomputed="pass", judgement="upheld", reason="All pass.",
    limit_path=LINK, near=End({"floor": "1", "panel": "P1"}),
)  # fmt: skip
FAIL = replace(PASS, record_id="sb0-2", stated="fail", recomputed="fail", reason="NEXT fails.")
UNDECIDED = replace(PASS, record_id="sb0-3", recomputed="undecided", judgement="unproven")
MARGINAL = replace(PASS, record_id="sb0-4", stated="pass*", again="A marginal pass.")
LATER = datetime(2024, 5, 2, 9)


def _list(*tests: Attempt) -> tuple[Retest, ...]:
    return retests([OneTest(test, ()) for test in tests], LIBRARY)


@pytest.mark.parametrize(
    ("tests", "state"),
    [
        ((PASS,), None),
        ((FAIL,), "fail"),
        ((UNDECIDED,), "unproven"),
        ((replace(FAIL, stated="pass", judgement="overturned"),), "overturned"),
        ((FAIL, replace(PASS, started=LATER)), None),
        ((replace(PASS, started=LATER), UNDECIDED), None),
        ((PASS, replace(FAIL, started=LATER)), "fail"),
        ((MARGINAL,), "marginal"),
        ((MARGINAL, replace(PASS, started=LATER)), None),
        ((PASS, replace(MARGINAL, started=LATER)), "marginal"),
        ((replace(MARGINAL, judgement="overturned"),), "overturned"),
        ((FAIL, replace(UNDECIDED, started=LATER)), "unproven"),
        ((replace(FAIL, started=None), replace(PASS, started=None)), "fail"),
        ((FAIL, replace(PASS, started=LATER, limit_path="tia-568.2-d/cat6/permanent-link")),
         "fail"),
        ((replace(FAIL, limit_path="tia-568.2-d/cat6/permanent-link"),
          replace(PASS, started=LATER)), None),
        ((FAIL, replace(PASS, started=LATER, label="A-2")), "fail"),
        ((FAIL, replace(PASS, started=LATER, near=End({"building": "B"}))), None),
        ((replace(FAIL, near=End({"building": "A"})),
          replace(PASS, started=LATER, near=End({"building": "B"}))), "fail"),
    ],
)  # fmt: skip
def test_a_link_is_on_the_list_until_a_test_of_it_passes(
    tests: tuple[Attempt, ...], state: str | None
) -> None:
    found = _list(*tests)
    assert [one.state for one in found] == ([state] if state else [])


def test_a_pass_under_a_lesser_limit_is_told_of() -> None:
    lesser = replace(PASS, started=LATER, limit_path="tia-568.2-d/cat6/permanent-link")
    (one,) = _list(FAIL, lesser)
    assert "under tia-568.2-d/cat6/permanent-link" in one.remarks[0]


def test_the_list_goes_by_floor_panel_and_label_as_people_count() -> None:
    places = [("10", "P1", "A-1"), ("2", "P10", "A-1"), ("2", "P9", "A-10"), ("2", "P9", "A-2")]
    tests = [
        replace(FAIL, record_id=f"sb0-{n}", label=f"{label}/{floor}{panel}",
                near=End({"floor": floor, "panel": panel}))
        for n, (floor, panel, label) in enumerate(places)
    ]  # fmt: skip
    assert [(one.floor, one.panel, one.label) for one in _list(*tests)] == [
        ("2", "P9", "A-2/2P9"),
        ("2", "P9", "A-10/2P9"),
        ("2", "P10", "A-1/2P10"),
        ("10", "P1", "A-1/10P1"),
    ]


def test_crosstalk_from_one_end_points_to_the_termination_there() -> None:
    deeper = curve(end="far", pairs=("3-6", "4-5"), worst_margin_db=-7.0, worst_margin_mhz=207.0)
    (one,) = suspects(failing(curve(outcome=Outcome.PASS), curve(end="far"), deeper))
    assert (one.end, one.termination, one.pairs) == ("far", "RR-03", ("3-6/4-5", "1-2/3-6"))
    assert (one.frequency_mhz, one.margin) == (207.0, -7.0)
    assert "this end only" in one.hint
    assert "termination at the far end" in one.hint
    assert "7.00 dB worse than the limit at 207 MHz" in words(one)


def test_return_loss_from_both_ends_points_to_no_one_end() -> None:
    found = suspects(
        failing(*(curve(parameter="return_loss", pairs=("1-2",), end=e) for e in ("near", "far")))
    )
    assert {one.end for one in found} == {"near", "far"}
    assert all("both ends" in one.hint for one in found)


@pytest.mark.parametrize(("count", "hint"), [(4, "too long"), (1, "poor contact")])
def test_insertion_loss_of_all_pairs_speaks_for_length(count: int, hint: str) -> None:
    pairs = ("1-2", "3-6", "4-5", "7-8")[:count]
    (one,) = suspects(
        failing(*(curve(parameter="insertion_loss", pairs=(pair,), end="near") for pair in pairs))
    )
    assert hint in one.hint
    assert one.end == ""


def test_a_wire_map_names_its_pins_and_no_margin() -> None:
    pins = figure(reason="pin 3 goes to 6, not to 3")
    (one,) = suspects(failing(pins))
    assert "pin 3 goes to 6" in words(one)
    assert "worse than" not in words(one)


def test_what_is_only_informative_is_no_suspect() -> None:
    assert suspects(failing(curve(obligation="informative"))) == ()


def test_a_marginal_pass_names_the_curve_that_comes_nearest_to_its_limit() -> None:
    """A source that says pass* and no accuracy names no curve; the margins do."""
    near = curve(parameter="return_loss", end="far", pairs=("4-5",), worst_margin_db=0.31)
    parts = [near._replace(outcome=Outcome.PASS), curve(outcome=Outcome.PASS, worst_margin_db=2.0)]
    parts += [curve(obligation="informative", outcome=Outcome.PASS, worst_margin_db=0.01)]
    marginal = replace(
        failing(*parts),
        recomputed=Recomputed.PASS,
        judgement=Judgement.UPHELD,
        stated="pass*",
        marginal="stated as pass*",
        again=True,
    )
    one = collect.tested(marginal)
    assert one is not None
    (suspect,) = one.suspects
    assert words(suspect) == (
        "return loss, far end (RR-03), pair 4-5; 0.31 dB better than the limit at 31.25 MHz; "
        "nearest to its limit of all that is required"
    )
    plain = collect.tested(replace(marginal, again=False))
    assert plain is not None
    assert plain.suspects == ()
    bare = collect.tested(replace(marginal, margins=()))
    assert bare is not None
    assert bare.suspects == ()


def test_the_curve_that_the_tester_gave_an_asterisk_comes_first() -> None:
    starred = curve(parameter="next", end="near", outcome=Outcome.PASS, worst_margin_db=0.9)
    near = curve(parameter="return_loss", end="far", pairs=("4-5",), worst_margin_db=0.31)
    marginal = replace(
        failing(starred, near._replace(outcome=Outcome.PASS)), recomputed=Recomputed.PASS
    )
    items = [{"parameter": "next", "end": "near", "verdict": "pass*"}]
    items.append({"parameter": "return_loss", "verdict": "pass"})
    record = marginal.record
    record.document.setdefault("stated", {})["items"] = items
    first, second = nearest(marginal)
    assert (first.what, first.hint) == (
        "near-end crosstalk",
        "the tester put its asterisk on it",
    )
    assert (second.what, second.pairs) == ("return loss", ("4-5",))
    items[1]["verdict"] = "pass*"
    (only,) = nearest(marginal)
    assert only.what == "return loss"
    assert only.hint.endswith("and it is nearest to its limit of all that is required")


def test_a_pass_settles_a_fail_of_its_own_link_only_whoever_names_the_place() -> None:
    later = replace(PASS, started=LATER)
    fail = replace(FAIL, near=End({"site": "Quay"}))

    def listed(second: Attempt, *, held: bool) -> list[str]:
        tests = [OneTest(fail, ()), OneTest(second, ())]
        both = reconcile(NO_SCHEDULE, (fail, second), LIBRARY, site="Quay") if held else None
        return [one.record_id for one in retests(tests, LIBRARY, both, "Quay")]

    for held in (True, False):
        for place in ({}, {"building": "quay"}, {"site": "QUAY", "building": "Mill"}):
            assert listed(replace(later, near=End(place)), held=held) == []
        depot = End({"site": "Depot"})
        assert listed(replace(later, near=depot), held=held) == [FAIL.record_id]
