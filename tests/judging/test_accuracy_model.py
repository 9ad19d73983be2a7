"""Accuracy by the model: worked by hand for the made-up link, and bounded by adding phasors."""

import json
from importlib.resources import files
from math import hypot, log10, sqrt
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook import schemas
from sweepbook.judging.accuracy_model import How, Modelled, Terms, combined
from sweepbook.judging.curves import Key
from sweepbook.judging.working import Asterisk
from sweepbook.limits.practice import Practice
from sweepbook_demo.facts import ACCURACY

from .links import judged, put
from .test_marginal import CURVES, NEAR, constant

AT = np.array([100.0])
IL, RL, NEXT = 12.02, 24.0, 60.0
"""The made-up link at 100 MHz: 1.15 x 10 + 0.52, 40 - 40/2.5, 100 - 40 dB."""


def r(loss_db: float) -> float:
    return float(10.0 ** (-loss_db / 20.0))


def by_hand(tolerance: float, ratios: list[float], how: How) -> float:
    if how == "worst-case":
        return tolerance + 20.0 * log10(1.0 + sum(ratios))
    return sqrt(tolerance**2 + (20.0 * log10(1.0 + sqrt(sum(x * x for x in ratios)))) ** 2)


def modelled(how: How) -> Modelled:
    _, working = judged()
    return Modelled(working.judged_curves, "permanent-link", how, Terms.shipped())


def insertion_loss(how: How) -> float:
    """Ports of 20 dB against 24 dB of the link at both ends; against each other; noise 75 dB."""
    return by_hand(0.75, [r(44.0), r(44.0), r(40.0 + 2 * IL), r(75.0 - IL)], how)


@pytest.mark.parametrize("how", ["worst-case", "root-sum-square"])
def test_each_parameter_as_worked_by_hand(how: How) -> None:
    """Residual crosstalk 54 dB at 100 MHz, directivity 27, termination 20, source match 20 dB."""
    model = modelled(how)
    crosstalk = [r(54.0 - NEXT), r(75.0 - NEXT), r(44.0), r(44.0)]
    reflection = [r(27.0 - RL), r(20.0 + 2 * IL - RL), r(75.0 - RL), r(20.0 + RL)]
    fext = 80.0 - 40.0 + IL  # of the made-up link
    far = by_hand(1.0, [r(54.0 - fext), r(75.0 - fext), r(44.0), r(44.0)], how)
    expected = {
        Key("insertion_loss", None, ("1-2",)): insertion_loss(how),
        Key("next", "near", ("1-2", "3-6")): by_hand(0.75, crosstalk, how),
        Key("return_loss", "far", ("4-5",)): by_hand(0.5, reflection, how),
        Key("acr_f", "far", ("1-2", "7-8")): hypot(far, insertion_loss(how)),
    }
    for key, value in expected.items():
        assert model.at(key, AT)[0] == pytest.approx(value, abs=2e-3), key
    assert np.isnan(model.at(Key("tcl", "near", ("1-2",)), AT)).all()


@pytest.mark.parametrize("how", ["worst-case", "root-sum-square"])
def test_a_power_sum_of_like_members_is_as_accurate_as_they_are(how: How) -> None:
    model = modelled(how)
    member = model.at(Key("next", "near", ("1-2", "3-6")), AT)[0]
    assert model.at(Key("psnext", "near", ("3-6",)), AT)[0] == pytest.approx(member, abs=1e-6)


@given(
    st.lists(st.floats(0.0, 2.0), min_size=1, max_size=6),
    st.lists(st.floats(0.0, 6.28), min_size=6, max_size=6),
)
def test_no_phases_make_a_reading_too_good_by_more_than_the_worst_case(
    ratios: list[float], phases: list[float]
) -> None:
    """By adding phasors: |1 + sum r e^(j phase)| is at most 1 + sum r."""
    worst = combined(0.0, [np.array([x]) for x in ratios], "worst-case")[0]
    likely = combined(0.0, [np.array([x]) for x in ratios], "root-sum-square")[0]
    turned = [x * np.exp(1j * phase) for x, phase in zip(ratios, phases, strict=False)]
    assert 20.0 * log10(max(abs(1.0 + sum(turned)), 1e-9)) <= worst + 1e-9
    assert likely <= worst + 1e-9


def told(*changes: Any, **options: Any) -> Asterisk:
    _, working = judged(*changes, options=options)
    assert working.asterisk is not None
    return working.asterisk


def test_it_is_off_unless_asked_for_and_a_declared_accuracy_goes_before_it() -> None:
    assert told(NEAR).expected is None
    asked = told(NEAR, accuracy="root-sum-square")
    assert asked.expected is True
    assert "accuracy by the recalled model (root-sum-square) 0.7" in asked.reason
    assert told(NEAR, constant(0.4, *CURVES), accuracy="root-sum-square").expected is False


def test_a_fail_beyond_the_models_accuracy_is_a_clear_fail() -> None:
    clear = put("insertion_loss", None, ("4-5",), 100.0, 25.0)
    assert told(clear, accuracy="worst-case").expected is False


def test_the_terms_follow_their_schema_and_say_that_they_are_recalled() -> None:
    raw = files("sweepbook_schemas").joinpath("accuracy.json").read_bytes()
    assert list(schemas.problems(json.loads(raw), "accuracy-0.schema.json")) == []
    assert Terms.shipped().grade == "C"
    assert Terms.shipped().source.startswith("Memory")


@pytest.mark.parametrize("how", ["worst-case", "root-sum-square"])
def test_what_the_model_gives_at_100_mhz_is_an_accuracy_that_may_be_declared(how: How) -> None:
    """The range is common practice, no source; the terms of the model are recalled."""
    practice, model = Practice.shipped(), modelled(how)
    least, most = (practice.value(f"accuracy_{side}_db") for side in ("lowest", "highest"))
    for curves in model.curves.values():
        found = np.array([model.at(key, AT)[0] for key in curves.keys])
        known = found[~np.isnan(found)]
        assert ((least < known) & (known < most)).all()
    assert least < min(ACCURACY.values()) <= max(ACCURACY.values()) < most
