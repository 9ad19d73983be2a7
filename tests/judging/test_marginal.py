"""The asterisk by the accuracy that a record declares; without one, nothing is claimed."""

from typing import Any

import pytest

from sweepbook.judging.assessment import Judgement
from sweepbook.judging.working import Asterisk

from .links import Change, judged, put, stating

CURVES = ("insertion_loss", "return_loss", "next", "psnext", "acr_f", "psacr_f")
NEAR = put("insertion_loss", None, ("1-2",), 100.0, 17.5)
"""Margin 0.4715 dB at 100 MHz."""
FAIL = put("insertion_loss", None, ("1-2",), 100.0, 18.5)
"""Margin -0.5285 dB at 100 MHz."""


def accuracy(*items: dict[str, Any]) -> Change:
    def change(body: dict[str, Any]) -> None:
        body["test"]["accuracy"] = list(items)

    return change


def constant(db: float, *parameters: str) -> Change:
    return accuracy(*({"parameter": name, "constant_db": db} for name in parameters))


def told(*changes: Change, **options: Any) -> Asterisk:
    _, working = judged(*changes, options=options)
    assert working.asterisk is not None
    return working.asterisk


def test_without_a_declared_accuracy_nothing_is_evaluated() -> None:
    fact = told(NEAR)
    assert fact.expected is None
    assert fact.reason == "marginality not evaluated: the record declares no accuracy"


def test_nearer_than_the_accuracy() -> None:
    fact = told(NEAR, constant(0.5, "insertion_loss"))
    assert fact.expected is True
    assert "insertion loss 1-2: margin 0.47 dB, declared accuracy 0.50 dB" in fact.reason


def test_farther_than_the_accuracy_everywhere() -> None:
    fact = told(NEAR, constant(0.4, *CURVES))
    assert fact.expected is False


def test_farther_where_declared_says_nothing_about_the_rest() -> None:
    fact = told(NEAR, constant(0.4, "insertion_loss"))
    assert fact.expected is None
    assert "PSACR-F" in fact.reason


def test_a_wrong_asterisk_does_not_touch_the_judgement() -> None:
    for verdict in ("pass", "pass*"):
        found, working = judged(NEAR, constant(0.5, *CURVES), stating(verdict))
        assert found.judgement is Judgement.UPHELD
        assert working.asterisk is not None
        assert working.asterisk.expected is True
        assert working.asterisk.stated is verdict.endswith("*")


@pytest.mark.parametrize(("db", "expected"), [(0.6, True), (0.5, False)])
def test_a_fail_has_one_where_every_failing_curve_is_near(db: float, expected: bool) -> None:
    assert told(FAIL, constant(db, *CURVES)).expected is expected


def test_a_clear_fail_beside_a_near_one_is_clear() -> None:
    clear = put("insertion_loss", None, ("4-5",), 100.0, 25.0)
    assert told(FAIL, clear, constant(0.6, *CURVES)).expected is False


def test_at_any_frequency_or_at_the_worst_margin() -> None:
    """Accuracy 0.1 dB up to 150 MHz and 1 dB above: the worst margin, 0.4715, is not within it.

    At 200 MHz the limit is 0.9 (1.82 * 14.1421 + 1.82 + 0.01768) + 0.84853 + 0.42426 = 26.09 dB;
    25.3 dB there is 0.79 dB better, within 1 dB.
    """
    curve = {"frequency_mhz": [1.0, 150.0, 150.5, 500.0], "value_db": [0.1, 0.1, 1.0, 1.0]}
    declared: list[dict[str, Any]] = [{"parameter": "insertion_loss", "curve": curve}]
    declared += [{"parameter": name, "constant_db": 0.01} for name in CURVES[1:]]
    above = put("insertion_loss", None, ("1-2",), 200.0, 25.3)
    changes = (NEAR, above, accuracy(*declared))
    assert told(*changes).expected is False
    assert told(*changes, asterisk="any-frequency").expected is True


def test_a_curve_of_accuracy_is_the_greater_of_its_neighbours() -> None:
    curve = {"frequency_mhz": [90.0, 110.0], "value_db": [0.2, 0.5]}
    assert told(NEAR, accuracy({"parameter": "insertion_loss", "curve": curve})).expected is True


def test_an_accuracy_for_the_other_end_is_none_for_this() -> None:
    near = put("return_loss", "near", ("4-5",), 100.0, 14.2)
    item = {"parameter": "return_loss", "end": "far", "constant_db": 1.0}
    assert told(near, accuracy(item)).expected is None
    # 34 - 10 lg 100 = 14 dB: margin 0.2 dB.
    assert told(near, accuracy({**item, "end": "near"})).expected is True
