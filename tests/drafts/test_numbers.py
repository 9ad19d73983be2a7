"""Drafts read the numbers of files nobody has described yet as strictly as readers do.

What Python's own `float` takes beside decimal numbers is of its documentation (docs.python.org,
Built-in Functions, float): digits of any script, underscores between digits, "nan" and "infinity".
"""

import pytest

from sweepbook.draft.numbers import Notes, either, look_at, rises


@pytest.mark.parametrize(
    ("text", "number"),
    [("1.5", 1.5), ("1,5", 1.5), (" -3 ", -3.0), ("\n2.5\n", 2.5), ("+1e3", 1000.0), (".5", 0.5)],
)
def test_either_mark_parts_decimals(text: str, number: float) -> None:
    assert either(text) == float(text.replace(",", ".")) == number


@pytest.mark.parametrize("text", ["1_000", "nan", "inf", "-Infinity", "१२", "1e999"])
def test_what_float_takes_besides_is_no_number(text: str) -> None:
    assert either(text) is None
    assert isinstance(float(text), float)


@pytest.mark.parametrize("text", ["", "1.000,5", "1 000", "<1.5", "0x10", "1,5 dB"])
def test_what_has_other_marks_is_none_either(text: str) -> None:
    assert either(text) is None


def test_numbers_rise_if_each_is_larger_than_the_one_before() -> None:
    assert rises(["1", "1,5", "2.5", "10"])
    assert rises([])
    for texts in (["1", "1.0"], ["2", "1"], ["1", "x", "2"], ["1", "inf"], ["nan"], ["1", "1_0"]):
        assert not rises(texts)


@pytest.mark.parametrize("several", ["10,8\n10,9", "10,8 ; 10,9", "7,1 7,2 7,3", "<3 | >4"])
def test_several_numbers_are_no_word_for_a_missing_one(several: str) -> None:
    assert look_at(["1,5", several, "n/a", "2,5"], [], []).missing == ["n/a"]
    notes = Notes()
    notes.lack([several, "-- --", "none", "none"])
    assert notes.missing == ["-- --", "none"]
