"""What is kept of a test says of its link what the attempt made of it says."""

from itertools import product
from random import Random
from typing import Any

from sweepbook.judging.assessment import Assessment, Judgement, Recomputed
from sweepbook.record.model import Record
from sweepbook.schedule.attempt import attempt
from sweepbook.schedule.trace import trace_of

LEVELS = ("site", "building", "floor", "panel", "port")


def _assessed(dice: Random, recomputed: Recomputed, judgement: Judgement) -> Assessment:
    def end() -> dict[str, Any]:
        named = {level: f"{level} {dice.randrange(3)}" for level in LEVELS if dice.random() < 0.4}
        return {"place": named, "termination": dice.choice(("", "T-1"))}

    document = {
        "record_id": f"sb0-{dice.random()}",
        "link": {"label": dice.choice(("", "A-1", " A-2 ")), "near": end(), "far": end()},
        "test": {"purpose": "retest", "started": {"rfc3339": "2026-03-02T07:30:00+01:00"}},
    }
    return Assessment(
        record=Record.of(document), limit_path=None, limit_how="", limit_sha256=None,
        stated="pass", recomputed=recomputed, judgement=judgement, reason="So it is.",
        grade=None, again=dice.random() < 0.3, marginal="near",
    )  # fmt: skip


def test_both_say_the_same_of_a_link() -> None:
    dice = Random(11)
    links, places = set(), set()
    for recomputed, judgement in [*product(Recomputed, Judgement)] * 20:
        trace = trace_of(_assessed(dice, recomputed, judgement))
        made = attempt(trace)
        assert trace.link == made.link
        assert trace.place == made.place
        assert (trace.passed, trace.why) == (made.passed, made.why)
        links.add(len(trace.link))
        places.add(len(trace.place))
    assert links == {1, 3}
    assert len(places) > 3


def test_the_closing_test_is_a_proved_pass_that_nobody_stated_otherwise() -> None:
    """Asked of every pair of words; what they mean stands in the README."""
    closing = {
        (recomputed, judgement)
        for recomputed, judgement in product(Recomputed, Judgement)
        for trace in [trace_of(_assessed(Random(1), recomputed, judgement))]
        if trace._replace(again="").passed
    }
    passing = (Judgement.UPHELD, Judgement.UNSTATED)
    assert closing == {(Recomputed.PASS, judgement) for judgement in passing}
