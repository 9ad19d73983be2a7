"""Disputed readings: which are on, how one is decided, and what each hands to the judge."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.errors import SweepbookError
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.shapes import line

TIA, ISO = "tia-568.2-d/cat6a/channel", "iso-11801-1-2017/class-ea/channel"
READINGS = Interpretations.load()


def test_the_3_db_rule_alone_is_on(readings: Interpretations) -> None:
    assert [id_ for id_ in readings.ids() if readings.on(id_)] == ["return-loss-below-3-db"]
    assert readings.fixed == frozenset()


def test_the_3_db_rule_looks_at_the_same_pair_in_both_families(
    library: Library, readings: Interpretations
) -> None:
    for path in (TIA, ISO):
        (rule,) = readings.exclusions(library.table(path), "return_loss")
        assert (rule.companion, rule.pairs, rule.when) == ("insertion_loss", "own", "below")
        assert rule.threshold_db == 3.0


def test_nothing_else_leaves_a_point_out(library: Library, readings: Interpretations) -> None:
    table = library.table(ISO)
    left_out = {word for word in table.parameters if readings.exclusions(table, word)}
    assert left_out == {"return_loss"}
    assert not any(readings.relaxations(table, word) for word in table.parameters)


def test_of_one_dispute_at_most_one_reading_is_on(
    library: Library, readings: Interpretations
) -> None:
    once = readings.with_("next-below-4-db-either")
    twice = once.with_("next-below-4-db-both")
    assert not twice.on("next-below-4-db-either")
    (rule,) = twice.exclusions(library.table(ISO), "next")
    assert (rule.id, rule.pairs, rule.threshold_db) == ("next-below-4-db-both", "both", 4.0)
    assert readings.on("next-below-4-db-both") is False  # the first set is as it was


def test_a_reading_of_one_family_does_nothing_in_the_other(
    library: Library, readings: Interpretations
) -> None:
    rounded = readings.with_("limits-rounded-to-one-decimal")
    assert rounded.limit_decimals(library.table(ISO)) == 1
    assert rounded.limit_decimals(library.table(TIA)) is None


def test_rounded_values_are_the_judges_to_round(
    library: Library, readings: Interpretations
) -> None:
    assert readings.measured_decimals(library.table(TIA)) is None
    assert (
        readings.with_("values-rounded-to-one-decimal").measured_decimals(library.table(TIA)) == 1
    )


def test_rounding_touches_limits_in_db_and_rounds_a_difference_once(
    library: Library, readings: Interpretations
) -> None:
    """ACR-N at 500 MHz, -21.4 dB: memory, among the checkpoints; the roundings worked by hand."""
    table = library.table(ISO)
    rounded = readings.with_("limits-rounded-to-one-decimal")
    at = np.array([500.0])
    assert line(table, "next", at, rounded).value[0] == 27.9  # 27.89
    assert line(table, "insertion_loss", at, rounded).value[0] == 49.3  # 49.31
    assert line(table, "acr_n", at, rounded).value[0] == -21.4  # -21.42
    assert line(table, "propagation_delay", np.array([100.0]), rounded).value[0] == 548.0
    assert line(table, "next", at, readings).value[0] != 27.9


def test_the_relaxation_grows_from_450_to_500_mhz(
    library: Library, readings: Interpretations
) -> None:
    """1.4 * (f - 450) / 50 dB where insertion loss at 450 MHz is below 12 dB: memory."""
    table = library.table(ISO)
    (found,) = readings.with_("class-ea-short-link-both").relaxations(table, "next")
    assert (found.at_mhz, found.below_db, found.pairs) == (450.0, 12.0, "both")
    amount = found.amount_db(np.array([100.0, 449.0, 450.0, 475.0, 500.0, 501.0]))
    assert amount.tolist() == pytest.approx([0.0, 0.0, 0.0, 0.7, 1.4, 0.0])
    assert readings.with_("class-ea-short-link-both").relaxations(table, "psnext") == ()


def test_every_undecided_reading_that_can_matter_is_tried_the_other_way(
    library: Library, readings: Interpretations
) -> None:
    tried = dict(readings.alternatives(library.table(ISO)))
    assert set(tried) == set(readings.ids())
    for id_, switched in tried.items():
        assert switched.on(id_) != readings.on(id_)
    without_iso = {id_ for id_, _ in readings.alternatives(library.table(TIA))}
    assert set(readings.ids()) - without_iso == {
        "class-ea-short-link-disturbed",
        "class-ea-short-link-either",
        "class-ea-short-link-both",
        "limits-rounded-to-one-decimal",
    }


def test_a_decided_reading_is_not_tried_again(library: Library, readings: Interpretations) -> None:
    decided = readings.fix("return-loss-below-3-db", on=False)
    assert not decided.on("return-loss-below-3-db")
    assert "return-loss-below-3-db" not in dict(decided.alternatives(library.table(ISO)))


def test_deciding_one_reading_on_decides_its_rivals(
    library: Library, readings: Interpretations
) -> None:
    decided = readings.fix("next-below-4-db-disturbed", on=True)
    assert decided.fixed == {
        "next-below-4-db-disturbed",
        "next-below-4-db-either",
        "next-below-4-db-both",
    }
    assert not any("next" in id_ for id_, _ in decided.alternatives(library.table(ISO)))


def test_a_dispute_can_be_decided_off_as_a_whole_and_not_on(readings: Interpretations) -> None:
    decided = readings.with_("next-below-4-db-both").fix("next-below-4-db", on=False)
    assert not any(decided.on(id_) for id_ in decided.fixed)
    assert len(decided.fixed) == 3
    with pytest.raises(SweepbookError, match="can be read in several ways") as caught:
        readings.fix("next-below-4-db", on=True)
    assert "next-below-4-db-either" in caught.value.todo


@pytest.mark.parametrize("call", ["on", "with_", "without", "entry"])
def test_an_unknown_id_is_refused_with_those_that_are_known(
    call: str, readings: Interpretations
) -> None:
    with pytest.raises(SweepbookError, match="no interpretation 'x'") as caught:
        getattr(readings, call)("x")
    assert "return-loss-below-3-db" in caught.value.todo


SWITCHES = st.lists(st.tuples(st.sampled_from(READINGS.ids()), st.booleans()), max_size=12)


@given(SWITCHES)
def test_whatever_is_switched_no_dispute_has_two_readings_on(
    switches: list[tuple[str, bool]],
) -> None:
    current = READINGS
    for id_, on in switches:
        current = current.with_(id_) if on else current.without(id_)
        assert current.on(id_) == on
    topics = [current.entry(id_).topic for id_ in current.switched_on]
    assert len(topics) == len(set(topics))
    assert current.sha256 == READINGS.sha256
