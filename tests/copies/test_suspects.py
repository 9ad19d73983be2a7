"""What becomes of tests with like fingerprints: read again, told once, or said to be unread."""

import weakref
from collections.abc import Iterable, Iterator, Sequence

import pytest

from sweepbook.audit.context import installed
from sweepbook.audit.run import Run
from sweepbook.copies.figures import Figures
from sweepbook.copies.reading_again import MOST_HELD, Recalled
from sweepbook.findings import Finding, NotRun
from sweepbook.record.model import Record
from sweepbook.rules import copied
from tests.rules.changes import ORIGIN, record

RIPPLE = {"ripple_db": 1.0, "seed": 3}
RULES = ("SET010", "SET011", "SET012")


def copies(count: int, *, one_place: bool = False) -> list[Record]:
    """A test under several labels, each with another offset."""
    made = []
    for number in range(count):
        moved = [
            {"add_db": 0.3 * number, "curve": {"parameter": one}, "from_mhz": 1, "to_mhz": 500}
            for one in ("return_loss", "next")
        ]
        one = record([RIPPLE, {"set": "link/label", "to": f"L-{number}"}, *moved])
        place = "line 1" if one_place else f"line {number}"
        made.append(one.with_origin([{**ORIGIN[0], "locator": place}]))
    return made


def checked(records: Sequence[Record], at_hand: Iterable[Record] | None) -> Run:
    """A finished run; the records at hand can be read again, where there is a way at all."""
    held = {one.record_id: one for one in at_hand or ()}
    run = Run(
        installed(),
        recall=None if at_hand is None else lambda ids: [held[one] for one in ids if one in held],
    )
    list(run.walk(records))
    run.close()
    return run


def told(run: Run) -> list[Finding]:
    """What the rules about copies found; the tests are alike in other ways, too."""
    return [found for found in run.findings if found.rule in RULES]


def test_of_many_copies_each_is_told_once() -> None:
    run = checked(records := copies(4), records)
    assert [found.rule for found in told(run)] == ["SET010"] * 3
    labels = {found.arguments[end] for found in told(run) for end in ("first", "second")}
    assert labels == {"L-0", "L-1", "L-2", "L-3"}


def test_two_readings_of_one_place_are_one_test() -> None:
    run = checked(records := copies(2, one_place=True), records)
    assert told(run) == [] and run.rules_not_run == ()


def test_where_sweeps_cannot_be_read_again_the_rules_say_that_they_could_not_look() -> None:
    records = copies(2)
    for at_hand in (None, records[:1]):
        run = checked(records, at_hand)
        assert told(run) == []
        said = {one.rule: one for one in run.rules_not_run}
        assert tuple(said) == RULES
        assert all(one.how is NotRun.SKIPPED for one in said.values())
        assert all("1 pair of tests look" in one.reason for one in said.values())


def test_a_fault_in_reading_again_is_told_by_the_rules_and_ends_no_run() -> None:
    def broken(_: Sequence[str]) -> Iterator[Record]:
        raise OSError("the disk is gone")

    run = Run(installed(), recall=broken)
    list(run.walk(copies(2)))
    run.close()
    crashed = {one.rule for one in run.rules_not_run if one.how is NotRun.CRASHED}
    assert set(RULES) <= crashed
    assert run.exported == {} and run.counters.of_tests().records == 2


def same(count: int, label: str = "") -> list[Record]:
    """A test under so many labels, or one, with another rounding of its own each time."""
    made = []
    for number in range(count):
        noise = {"add_db": 0.01 * (1 + number % 4), "curve": {"parameter": "next"}}
        changes = [{**noise, "from_mhz": 1, "to_mhz": 40 + number}]
        one = record([RIPPLE, {"set": "link/label", "to": label or f"L-{number:03d}"}, *changes])
        origin = {**ORIGIN[0], "locator": f"line {number}"}
        made.append(one.with_origin([origin]))
    return made


@pytest.mark.parametrize("label", ["", "ALL"])
def test_many_copies_are_read_about_once_and_few_are_held(
    monkeypatch: pytest.MonkeyPatch, label: str
) -> None:
    """However many there are; counted are readings, and what is still alive of them."""
    monkeypatch.setattr(copied, "MOST_TOLD", 30)
    records = same(60, label)
    held = {one.record_id: one for one in records}
    alive: weakref.WeakSet[Recalled] = weakref.WeakSet()
    most = [0]

    class Counted(Recalled):
        __slots__ = ("__weakref__",)

    def of(one: Record, figures: Figures) -> Recalled:
        whole = plain(one, figures)
        again = Counted(whole.curves, whole.origins, whole.source)
        alive.add(again)
        most[0] = max(most[0], len(alive))
        return again

    plain = Recalled.of
    monkeypatch.setattr(Recalled, "of", of)
    read: list[str] = []

    def recall(ids: Sequence[str]) -> Iterator[Record]:
        for one in ids:
            read.append(one)
            yield held[one]

    run = Run(installed(), recall=recall)
    list(run.walk(records))
    run.close()
    assert run.rules_not_run == ()
    assert len(read) <= 2 * len(records)
    assert most[0] <= MOST_HELD + 2
    if not label:
        assert most[0] <= 4
        listed = [one for one in run.findings if one.rule == "SET010"]
        assert len(listed) == 30
        assert listed[-1].message.endswith("29 more pairs of tests are alike and not listed")
        assert "not listed" not in listed[-2].message
