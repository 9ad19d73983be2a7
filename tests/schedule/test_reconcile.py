"""Where a scheduled link stands, case by case; what counts as settled is common practice."""

from dataclasses import replace
from datetime import datetime

import pytest

from sweepbook.findings import OfTests
from sweepbook.limits.library import Library
from sweepbook.schedule.asked import not_known
from sweepbook.schedule.attempt import Attempt, with_the_rest
from sweepbook.schedule.cable import Cable
from sweepbook.schedule.model import End, Schedule, ScheduledLink
from sweepbook.schedule.reconcile import Item, reconcile
from sweepbook.schedule.standing import State

LIBRARY = Library.load()
CHANNEL = "tia-568.2-d/cat6a/channel"
PASS = Attempt(
    record_id="sb0-1", label="A-1", purpose="initial", started=datetime(2024, 5, 1, 9),
    stated="pass", recomputed="pass", judgement="upheld", reason="All pass.",
    limit_path=CHANNEL,
)  # fmt: skip
FAIL = replace(PASS, record_id="sb0-2", stated="fail", recomputed="fail", reason="NEXT fails.")
UNDECIDED = replace(PASS, record_id="sb0-3", recomputed="undecided", judgement="unproven")
MARGINAL = replace(PASS, record_id="sb0-5", stated="pass*", again="A marginal pass.")
LATER = datetime(2024, 5, 2, 9)


def _item(*tests: Attempt, limit: str = CHANNEL, configuration: str = "") -> Item:
    link = ScheduledLink(2, "A-1", limit=limit, configuration=configuration)
    result = reconcile(Schedule("s.csv", "", (link,)), tests, LIBRARY)
    return result.items[0]


def test_a_pass_of_another_label_in_its_record_is_named() -> None:
    passed = replace(PASS, started=LATER, own_label="A-01")
    remarks = _item(FAIL, passed).remarks
    assert len(remarks) == 1
    assert (
        'The pass is of "A-01" in its record, and what it settles is of "A-1"' in remarks[0].message
    )
    assert _item(replace(FAIL, own_label="A-01"), passed).remarks == ()
    assert _item(PASS, passed).remarks == ()


@pytest.mark.parametrize(
    ("tests", "state"),
    [
        ((), State.UNTESTED),
        ((PASS,), State.PASSED),
        ((FAIL,), State.FAILED),
        ((UNDECIDED,), State.UNPROVEN),
        ((replace(FAIL, stated="pass", judgement="overturned"),), State.FAILED),
        ((replace(PASS, stated="fail", judgement="overturned"),), State.CONTRADICTED),
        ((replace(PASS, stated="", judgement="unstated"),), State.PASSED),
        ((FAIL, replace(PASS, started=LATER)), State.RETESTED),
        ((replace(PASS, started=LATER), FAIL), State.RETESTED),
        ((UNDECIDED, replace(PASS, started=LATER)), State.RETESTED),
        ((PASS, replace(FAIL, started=LATER)), State.FAILED),
        ((MARGINAL,), State.MARGINAL),
        ((FAIL, replace(MARGINAL, started=LATER)), State.MARGINAL),
        ((MARGINAL, replace(PASS, started=LATER)), State.RETESTED),
        ((replace(MARGINAL, judgement="overturned"),), State.CONTRADICTED),
        ((replace(MARGINAL, started=None), replace(PASS, started=None)), State.MARGINAL),
        ((replace(MARGINAL, started=None), replace(UNDECIDED, started=None)), State.UNPROVEN),
        ((PASS, replace(PASS, record_id="sb0-4", started=LATER)), State.PASSED),
        ((replace(FAIL, started=None), replace(PASS, started=None, purpose="retest")),
         State.RETESTED),
        ((replace(FAIL, started=None), replace(PASS, started=None)), State.FAILED),
        ((replace(UNDECIDED, started=None), PASS), State.UNPROVEN),
        ((replace(UNDECIDED, record_id="sb0-1", started=None), replace(FAIL, started=None)),
         State.FAILED),
    ],
)  # fmt: skip
def test_a_link_stands_where_its_last_test_puts_it(
    tests: tuple[Attempt, ...], state: State
) -> None:
    assert _item(*tests).state is state


@pytest.mark.parametrize("digits", ["01", "98"])
def test_of_two_tests_at_one_moment_the_worse_counts_whatever_their_names(digits: str) -> None:
    item = _item(PASS, replace(FAIL, record_id=f"sb0-{digits}"))
    assert item.state is State.FAILED
    assert "order is not known" in " ".join(one.message for one in item.remarks)


def test_a_pass_is_later_than_a_fail_only_where_offsets_cannot_turn_that_round() -> None:
    early = replace(FAIL, started=datetime(2024, 5, 1, 8))
    east = replace(PASS, started=datetime(2024, 5, 1, 10), utc=datetime(2024, 5, 1, 5))
    assert _item(early, east).state is State.FAILED
    assert "order is not known" in _item(early, east).remarks[0].message
    assert _item(early, replace(east, purpose="retest")).state is State.RETESTED
    assert _item(early, replace(east, utc=None)).state is State.RETESTED
    assert _item(replace(early, utc=datetime(2024, 5, 1, 8)), east).state is State.FAILED
    assert _item(replace(early, utc=datetime(2024, 5, 1, 4)), east).state is State.RETESTED


def test_one_test_without_a_time_has_an_order() -> None:
    assert _item(replace(FAIL, started=None)).remarks == ()


@pytest.mark.parametrize("test", [FAIL, UNDECIDED])
def test_a_test_that_proves_no_pass_is_told_of_its_other_limit_too(test: Attempt) -> None:
    item = _item(replace(test, limit_path="tia-568.2-d/cat6/channel"))
    assert item.state in (State.FAILED, State.UNPROVEN)
    said = f"It was tested to tia-568.2-d/cat6/channel; asked for is {CHANNEL}."
    assert [one.message for one in item.remarks] == [said]


def test_tests_in_no_known_order_are_told_of() -> None:
    item = _item(replace(FAIL, started=None), replace(PASS, started=None))
    assert "order is not known" in " ".join(one.message for one in item.remarks)


@pytest.mark.parametrize(
    ("asked", "configuration", "tested", "state"),
    [
        ("Cat 6A channel", "", CHANNEL, State.PASSED),
        ("TIA-568.2-D Category 6A", "Channel", CHANNEL, State.PASSED),
        ("", "channel", CHANNEL, State.UNASKED),
        ("", "", CHANNEL, State.UNASKED),
        (CHANNEL, "", "tia-568.2-d/cat6/channel", State.LESSER),
        (CHANNEL, "", "tia-568.2-d/cat5e/channel", State.LESSER),
        ("tia-568.2-d/cat6/channel", "", CHANNEL, State.PASSED),
        (CHANNEL, "", "tia-568.2-d/cat6a/permanent-link", State.OTHER_CONFIGURATION),
        ("", "permanent link", CHANNEL, State.OTHER_CONFIGURATION),
        ("", "PL", CHANNEL, State.OTHER_CONFIGURATION),
        ("Cat 6A", "Ch.", CHANNEL, State.PASSED),
        (CHANNEL, "", "iso-11801-1-2017/class-ea/channel", State.OTHER_LIMIT),
        ("iso-11801-1-2017/class-ea/channel", "", "iso-11801-1-2017/class-f/channel",
         State.PASSED),
        ("Cat 12", "", CHANNEL, State.UNPROVEN),
        (CHANNEL, "permanent link", CHANNEL, State.UNPROVEN),
        (CHANNEL, "spaghetti", CHANNEL, State.UNPROVEN),
    ],
)  # fmt: skip
def test_a_pass_counts_for_what_was_asked(
    asked: str, configuration: str, tested: str, state: State
) -> None:
    item = _item(replace(PASS, limit_path=tested), limit=asked, configuration=configuration)
    assert item.state is state
    assert bool(item.reason) is (item.state is not State.PASSED)


def test_a_link_of_which_no_limit_is_asked_is_closed_and_told_apart() -> None:
    retested = _item(FAIL, replace(PASS, started=LATER), limit="")
    assert retested.state is State.UNASKED
    assert not retested.state.open
    plain = f"It passes {CHANNEL}; the schedule asks for no limit."
    assert retested.reason == f"{plain} Before: {FAIL.why}"
    assert _item(FAIL, limit="").state is State.FAILED


def test_a_limit_that_is_not_known_is_told_before_any_test() -> None:
    named = ("Class Zeta", "Class Zeta", CHANNEL, "")
    links = tuple(ScheduledLink(n, f"A-{n}", limit) for n, limit in enumerate(named, start=2))
    schedule = Schedule("s.csv", "", links)
    (fault,) = not_known(schedule, LIBRARY)
    assert fault.line == 2
    assert "No limit table goes by 'Class Zeta'." in fault.message
    assert "and so does that of 1 more line" in fault.message
    result = reconcile(schedule, [], LIBRARY)
    assert "'Class Zeta'" in result.items[0].remarks[0].message
    assert result.items[2].remarks == ()


def test_a_limit_nearly_spelled_right_is_suggested() -> None:
    link = ScheduledLink(2, "A-1", limit="tia-568.2-d/cat6a/chanel")
    (fault,) = not_known(Schedule("s.csv", "", (link,)), LIBRARY)
    assert f"Perhaps {CHANNEL}" in fault.message


def test_a_pass_to_a_higher_limit_is_remarked() -> None:
    (remark,) = _item(PASS, limit="tia-568.2-d/cat6/channel").remarks
    assert CHANNEL in remark.message


def test_near_misses_are_suggested_both_ways_and_never_assumed() -> None:
    links = tuple(ScheduledLink(n, label) for n, label in enumerate(("A-01", "A-02"), start=2))
    strays = [replace(PASS, label=label) for label in ("A-O1", "B-9")]
    result = reconcile(Schedule("s.csv", "", links), strays, LIBRARY)
    assert [(item.label, item.state) for item in result.items] == [
        ("A-01", State.UNTESTED),
        ("A-02", State.UNTESTED),
        ("A-O1", State.NOT_SCHEDULED),
        ("B-9", State.NOT_SCHEDULED),
    ]
    assert [[label for label, _ in item.near_misses] for item in result.items] == [
        ["A-O1"],
        [],
        ["A-01"],
        [],
    ]
    assert len(result.open) == 4
    assert sum(result.counts().values()) == 4


@pytest.mark.parametrize(
    ("before", "state", "near"),
    [
        (FAIL, State.FAILED, ["A-O1"]),
        (UNDECIDED, State.UNPROVEN, ["A-O1"]),
        (MARGINAL, State.MARGINAL, ["A-O1"]),
        (replace(PASS, stated="fail", judgement="overturned"), State.CONTRADICTED, ["A-O1"]),
        (replace(PASS, limit_path="tia-568.2-d/cat6/channel"), State.LESSER, ["A-O1"]),
        (PASS, State.PASSED, []),
    ],
)
def test_the_retest_of_an_open_link_under_a_near_label_is_suggested_both_ways(
    before: Attempt, state: State, near: list[str]
) -> None:
    link = ScheduledLink(2, "A-01", limit=CHANNEL)
    retest = replace(PASS, record_id="sb0-9", label="A-O1", started=LATER)
    tests = (replace(before, label="A-01"), retest)
    planned, stray = reconcile(Schedule("s.csv", "", (link,)), tests, LIBRARY).items
    assert (planned.state, stray.state) == (state, State.NOT_SCHEDULED)
    assert [label for label, _ in planned.near_misses] == near
    assert [label for label, _ in stray.near_misses] == (["A-01"] if near else [])


def test_blanks_around_a_label_do_not_count() -> None:
    assert _item(replace(PASS, label="A-1")).state is State.PASSED


def test_one_label_in_two_buildings_is_two_links() -> None:
    hall, barn = End({"building": "Hall"}), End({"building": "The  barn"})
    links = tuple(
        ScheduledLink(line, "A-1", CHANNEL, near=End({"building": building}))
        for line, building in ((2, "hall"), (3, "Mill"))
    )
    tests = [replace(PASS, near=hall), replace(FAIL, near=barn, started=LATER)]
    result = reconcile(Schedule("s.csv", "", links), tests, LIBRARY)
    assert [(item.label, item.state) for item in result.items] == [
        ("A-1", State.PASSED),
        ("A-1", State.UNTESTED),
        ("A-1", State.NOT_SCHEDULED),
    ]
    assert "another building" in result.items[2].reason


OFFICE = End({"building": "Hall", "floor": "2", "space": "Office"}, "O-7")
ROOM = End({"building": "Hall", "floor": "1", "space": "TR-1"}, "K1-07")


def _remarks(link: ScheduledLink, *tests: Attempt) -> list[str]:
    item = reconcile(Schedule("s.csv", "", (link,)), tests, LIBRARY).items[0]
    assert item.state is State.PASSED
    return [one.message for one in item.remarks]


def test_a_test_at_another_place_is_remarked_and_still_counts() -> None:
    link = ScheduledLink(2, "A-1", CHANNEL, near=ROOM, far=OFFICE)
    assert _remarks(link, replace(PASS, near=ROOM, far=OFFICE)) == []
    assert _remarks(link, PASS) == []
    elsewhere = End({"building": "hall", "floor": "3", "space": "office"}, "O-9")
    (remark,) = _remarks(link, replace(PASS, near=ROOM, far=elsewhere))
    assert "floor 3, termination O-9 at the far end" in remark
    assert "the schedule: floor 2, termination O-7" in remark
    assert "near end" not in remark
    assert "See whether the test is of this link" in remark


def test_ends_the_other_way_round_are_told_as_that() -> None:
    link = ScheduledLink(2, "A-1", CHANNEL, near=ROOM, far=OFFICE)
    (remark,) = _remarks(link, replace(PASS, near=OFFICE, far=ROOM))
    assert "other way round" in remark
    half = replace(PASS, near=End({"building": "Hall", "floor": "9"}))
    assert "other way round" not in _remarks(link, half)[0]


def test_a_place_of_no_end_contradicts_only_what_neither_end_fits() -> None:
    link = ScheduledLink(2, "A-1", CHANNEL, place={"floor": "2"})
    assert _remarks(link, replace(PASS, near=ROOM, far=OFFICE)) == []
    (remark,) = _remarks(link, replace(PASS, near=ROOM))
    assert "floor 1 (the schedule: floor 2)" in remark


def test_of_several_tests_the_one_at_another_place_is_named() -> None:
    link = ScheduledLink(2, "A-1", CHANNEL, near=ROOM)
    tests = [replace(PASS, near=OFFICE), replace(PASS, record_id="sb0-9", started=LATER, near=ROOM)]
    (remark,) = _remarks(link, *tests)
    assert remark.startswith("The test of 2024-05-01 09:00 names floor 2")


def test_another_cable_than_scheduled_is_remarked() -> None:
    link = ScheduledLink(2, "A-1", CHANNEL, cable="Cat 6A F/UTP", reel="R-1")
    tested = Cable("Pellumbra", "Weft 6A", "6A", "U/UTP", "R-2")
    (remark,) = _remarks(link, replace(PASS, cable=tested))
    assert "another construction and reel" in remark
    assert "Cat 6A F/UTP, reel R-1" in remark
    assert "Pellumbra Weft 6A 6A U/UTP, reel R-2" in remark


@pytest.mark.parametrize(
    ("link", "test", "place"),
    [
        (ScheduledLink(2, "A-1", place={"floor": "2", "panel": "P1"}), PASS,
         {"floor": "2", "panel": "P1"}),
        (ScheduledLink(2, "A-1"), replace(PASS, near=OFFICE), OFFICE.place),
        (ScheduledLink(2, "A-1", near=End({"floor": "2"})), replace(PASS, near=OFFICE),
         OFFICE.place),
        (ScheduledLink(2, "A-1", near=End({"floor": "9"})), replace(PASS, near=OFFICE),
         {"floor": "9"}),
        (ScheduledLink(2, "A-1", place={"site": "S"}, near=End({"building": "Hall"}), far=OFFICE),
         PASS, {"site": "S", "building": "Hall"}),
        (ScheduledLink(2, "A-1", place={"floor": "2"}, near=ROOM, far=OFFICE), PASS,
         OFFICE.place),
    ],
)  # fmt: skip
def test_a_link_is_where_the_schedule_says_and_the_test_adds_what_fits(
    link: ScheduledLink, test: Attempt, place: dict[str, str]
) -> None:
    assert dict(reconcile(Schedule("s.csv", "", (link,)), [test], LIBRARY).items[0].place) == place


def test_one_test_proves_no_two_links_of_one_label() -> None:
    hall, mill = End({"building": "Hall"}, "H-1"), End({"building": "Mill"}, "M-1")
    links = (
        ScheduledLink(2, "A-1", CHANNEL, near=hall),
        ScheduledLink(3, "A-1", CHANNEL, near=mill),
    )
    result = reconcile(Schedule("s.csv", "", links), [PASS], LIBRARY)
    assert [item.state for item in result.items] == [
        State.UNTESTED, State.UNTESTED, State.NOT_SCHEDULED,
    ]  # fmt: skip
    assert "several buildings" in result.items[2].reason
    told = replace(PASS, near=End({}, "M-1"))
    result = reconcile(Schedule("s.csv", "", links), [told], LIBRARY)
    assert [item.state for item in result.items] == [State.UNTESTED, State.PASSED]


def _at(test: Attempt, site: str = "", building: str = "") -> Attempt:
    levels = {"site": site, "building": building}
    return replace(test, near=End({level: text for level, text in levels.items() if text}))


@pytest.mark.parametrize("place", [{}, {"building": "Quay"}, {"site": "quay"}])
def test_a_pass_at_another_site_closes_no_link_of_the_job(place: dict[str, str]) -> None:
    link = ScheduledLink(2, "A-1", CHANNEL, place=place)
    other = _at(replace(PASS, started=LATER), "Depot")
    for mine in (_at(FAIL, "Quay"), _at(FAIL, "", "Quay")):
        result = reconcile(Schedule("s.csv", "", (link,)), [mine, other], LIBRARY, site="Quay")
        assert [item.state for item in result.items] == [State.FAILED, State.NOT_SCHEDULED]
        assert "at another site than the test names, Depot" in result.items[1].reason
        assert len(set(result.links().values())) == 2
    alone = reconcile(Schedule("s.csv", "", (link,)), [other], LIBRARY, site="Quay")
    if place:
        assert [item.state for item in alone.items] == [State.UNTESTED, State.NOT_SCHEDULED]
        assert "names another place, site Depot" in alone.items[0].remarks[0].message
    else:
        assert alone.items[0].state is State.PASSED  # nobody writes the job's site as it is there


def test_of_tests_at_two_places_none_of_them_the_links_the_worst_counts() -> None:
    later = replace(PASS, started=LATER)
    item = _item(_at(FAIL, "", "Hall"), _at(later, "", "Mill"))
    assert item.state is State.FAILED
    assert (
        "2 tests that name different places (building Hall; building Mill)"
        in item.remarks[0].message
    )
    assert _item(_at(FAIL, "", "Hall"), _at(later, "Hall")).state is State.RETESTED
    assert _item(FAIL, _at(later, "Hall", "Mill")).state is State.RETESTED


def test_a_test_that_proves_nothing_of_its_link_leaves_it_open() -> None:
    doubts = {PASS.record_id: "Two labels share it.", FAIL.record_id: "Two labels share it."}
    passed, failed, marginal = with_the_rest(
        [PASS, FAIL, replace(MARGINAL, record_id="sb0-1")], OfTests(doubts, {})
    )
    assert (_item(passed).state, _item(passed).reason) == (State.UNPROVEN, "Two labels share it.")
    assert (_item(failed).state, _item(failed).reason) == (State.FAILED, "NEXT fails.")
    assert _item(marginal).state is State.MARGINAL
    assert _item(marginal).reason == "A marginal pass. Two labels share it."
    own = replace(PASS, record_id="sb0-9", started=LATER)
    assert _item(passed, own).state is State.RETESTED
    assert _item(own, replace(passed, started=datetime(2024, 5, 3, 9))).state is State.UNPROVEN


def test_a_calibration_that_had_ended_is_remarked() -> None:
    item = _item(replace(PASS, noted="Not in force at the test: near instrument F1."))
    assert item.state is State.PASSED
    (remark,) = item.remarks
    assert remark == ("REC005", "Not in force at the test: near instrument F1.", None)


def test_the_building_of_the_schedule_is_known_by_a_test_that_calls_it_a_site() -> None:
    links = tuple(
        ScheduledLink(line, "A-1", CHANNEL, place={"building": building})
        for line, building in ((2, "Hall"), (3, "Mill"))
    )
    result = reconcile(Schedule("s.csv", "", links), [_at(PASS, "Mill")], LIBRARY)
    assert [item.state for item in result.items] == [State.UNTESTED, State.PASSED]


def test_tests_off_the_schedule_in_no_known_order_are_all_told() -> None:
    stray = [replace(test, label="Z-9", started=None) for test in (PASS, FAIL)]
    result = reconcile(Schedule("s.csv", "", ()), stray, LIBRARY)
    (item,) = result.items
    assert item.reason == "2 tests in no known order, the sweeps say fail and pass."


def test_a_test_set_up_for_another_configuration_is_of_another_whatever_its_limit() -> None:
    item = _item(replace(PASS, configuration="permanent-link"))
    assert item.state is State.OTHER_CONFIGURATION
    assert item.reason == "It was set up as permanent-link; asked for is channel."
    for fits in ("channel", ""):
        assert _item(replace(PASS, configuration=fits)).state is State.PASSED
    assert _item(replace(FAIL, configuration="permanent-link")).state is State.FAILED
