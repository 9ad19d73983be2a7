"""Every cell of the truth table, alone and through a whole record."""

from typing import Any

import pytest

from sweepbook.judging.assessment import Judgement, Margin, Origin, Outcome, Recomputed
from sweepbook.judging.judge import judge
from sweepbook.judging.verdict import judgement, whole

from .links import judged, put, record, settings, stating, table, without

FAILING = put("next", "far", ("3-6", "4-5"), 243.5, 20.0)
MISSING = without("fext")
STATES = {Recomputed.PASS: (), Recomputed.FAIL: (FAILING,), Recomputed.UNDECIDED: (MISSING,)}

CELLS = [
    ("pass", Recomputed.FAIL, Judgement.OVERTURNED),
    ("pass*", Recomputed.FAIL, Judgement.OVERTURNED),
    ("pass", Recomputed.UNDECIDED, Judgement.UNPROVEN),
    ("pass*", Recomputed.UNDECIDED, Judgement.UNPROVEN),
    ("pass", Recomputed.PASS, Judgement.UPHELD),
    ("pass*", Recomputed.PASS, Judgement.UPHELD),
    ("fail", Recomputed.FAIL, Judgement.UPHELD),
    ("fail*", Recomputed.FAIL, Judgement.UPHELD),
    ("fail", Recomputed.UNDECIDED, Judgement.UNPROVEN),
    ("fail*", Recomputed.UNDECIDED, Judgement.UNPROVEN),
    ("fail", Recomputed.PASS, Judgement.OVERTURNED),
    ("fail*", Recomputed.PASS, Judgement.OVERTURNED),
    (None, Recomputed.FAIL, Judgement.UNSTATED),
    (None, Recomputed.UNDECIDED, Judgement.UNSTATED),
    (None, Recomputed.PASS, Judgement.UNSTATED),
]


@pytest.mark.parametrize(("stated", "recomputed", "expected"), CELLS)
def test_cell(stated: str | None, recomputed: Recomputed, expected: Judgement) -> None:
    assert judgement(stated, recomputed) is expected


@pytest.mark.parametrize(("stated", "recomputed", "expected"), CELLS)
def test_cell_of_a_whole_record(
    stated: str | None, recomputed: Recomputed, expected: Judgement
) -> None:
    found, _ = judged(*STATES[recomputed], stating(stated))
    assert (found.stated, found.recomputed, found.judgement) == (stated, recomputed, expected)


def test_no_other_word_is_a_verdict() -> None:
    with pytest.raises(KeyError):
        judgement("PASS", Recomputed.PASS)


def part(outcome: Outcome, grade: str | None = "B", obligation: str = "required") -> Margin:
    return Margin(
        parameter="next",
        obligation=obligation,
        end="near",
        pairs=("1-2", "3-6"),
        outcome=outcome,
        worst_margin_db=None,
        worst_margin_mhz=None,
        limit_at_worst_margin_db=None,
        worst_value_db=None,
        worst_value_mhz=None,
        limit_at_worst_value_db=None,
        points_evaluated=1,
        points_for_information=0,
        origin=Origin.RECOMPUTED,
        grade=grade,
    )


@pytest.mark.parametrize(
    ("parts", "lacking", "recomputed", "grade"),
    [
        ([part(Outcome.PASS, "A"), part(Outcome.PASS, "C")], False, Recomputed.PASS, "C"),
        ([part(Outcome.FAIL, "C"), part(Outcome.FAIL, "B")], False, Recomputed.FAIL, "B"),
        ([part(Outcome.PASS, "A"), part(Outcome.FAIL, "B")], True, Recomputed.FAIL, "B"),
        ([part(Outcome.PASS), part(Outcome.UNDECIDED)], False, Recomputed.UNDECIDED, None),
        ([part(Outcome.PASS)], True, Recomputed.UNDECIDED, None),
        ([part(Outcome.PASS), part(Outcome.NOT_EVALUATED)], False, Recomputed.PASS, "B"),
        ([part(Outcome.NOT_EVALUATED, None)], False, Recomputed.UNDECIDED, None),
        ([part(Outcome.FAIL, obligation="informative")], False, Recomputed.UNDECIDED, None),
        (
            [part(Outcome.PASS, "B"), part(Outcome.FAIL, "A", "informative")],
            False,
            Recomputed.PASS,
            "B",
        ),
        ([], False, Recomputed.UNDECIDED, None),
    ],
)
def test_parts_join(
    parts: list[Margin], lacking: bool, recomputed: Recomputed, grade: str | None
) -> None:
    assert whole(parts, lacking) == (recomputed, grade)


def test_a_fail_names_pair_end_frequency_and_limit() -> None:
    found, _ = judged(FAILING)
    # Limit, permanent link above 300 MHz apart: NEXT of cable and one connection in voltage sum at
    # 243.5 MHz: 44.3 - 15 lg 2.435 = 38.503 dB, 54 - 20 lg 2.435 = 46.270 dB;
    # 10^(-38.503/20) = 0.011883, 10^(-46.270/20) = 0.004860; sum 0.016743; -20 lg = 35.523 dB.
    # 20.00 - 35.52 = -15.52 dB.
    assert "15.52 dB worse than the limit of 35.52 dB at 243.5 MHz" in found.reason
    assert "NEXT 3-6 to 4-5 at the far end" in found.reason
    assert "TIA-568.2" in found.reason


def test_without_a_table_nothing_is_proved() -> None:
    how = "No limit table of the name 'Category 6B' is known."
    found = judge(record(), None, settings(limit_how=how))
    assert found.judgement is Judgement.UNPROVEN
    assert found.recomputed is Recomputed.UNDECIDED
    assert found.reason == how
    assert found.limit_path is None


def test_an_unknown_kind_is_kept_and_not_judged() -> None:
    def change(body: dict[str, Any]) -> None:
        body["kind"] = "org.example.fibre"

    found = judge(record(change), table(), settings())
    assert found.judgement is Judgement.UNPROVEN
    assert "kept, not judged" in found.reason
    assert found.margins == ()
