"""Whether what stands in a row states anything by a form of single figures."""

import pytest

from sweepbook.dialect.stating import states

MARGIN, PAIRS, END = "worst_margin.margin", "worst_margin.pairs", "worst_margin.end"


@pytest.mark.parametrize(
    ("filled", "declared", "stated"),
    [
        ([MARGIN, PAIRS], [MARGIN, PAIRS, END], True),
        ([PAIRS, END], [MARGIN, PAIRS, END], False),
        ([PAIRS], [PAIRS], True),
        ([PAIRS, "verdict"], [MARGIN, PAIRS, "verdict"], True),
        (["frequency"], ["value", "frequency"], False),
        (["value", "frequency"], ["value", "frequency"], True),
        (["worst_value.end"], ["worst_value.value", "worst_value.end"], False),
        (["worst_margin.frequency", PAIRS], [MARGIN, "worst_margin.frequency", PAIRS], True),
        ([], [MARGIN], False),
    ],
)
def test_what_says_which_states_nothing_where_its_case_is_not_there(
    filled: list[str], declared: list[str], stated: bool
) -> None:
    assert states(filled, declared) is stated
