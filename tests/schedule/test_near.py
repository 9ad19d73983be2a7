"""Labels near one another; how people misread and mistype labels is common practice, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.schedule import near
from sweepbook.schedule.near import Near, difference

LABELS = st.text(alphabet="aAbO0lI1-. 27", max_size=8)


@pytest.mark.parametrize(
    ("one", "other", "how"),
    [
        ("A-P1-07", "A- P1-07", "spaces"),
        ("A-P1-07", "a- p1-07", "spaces"),
        ("A-P1-07", "A.P1/07", "marks between the parts"),
        ("A-P1-07", "A-P1-7", "zeros before a number"),
        ("A-P1-O7", "A-P1-07", "letters that look like digits"),
        ("A-Pl-07", "A-P1-07", "letters that look like digits"),
        ("READ-07", "REED-07", "one character"),
        ("READ-07", "REA-07", "one character"),
        ("READ-07", "RAED-07", "two characters that changed places"),
        ("A-P1-70", "A-P1-07", "two characters that changed places"),
    ],
)
def test_what_sets_two_labels_apart_is_said(one: str, other: str, how: str) -> None:
    assert difference(one, other) == how
    assert difference(other, one) == how


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("A-P1-07", "A-P1-07"),
        ("A-P1-07", "a-p1-07"),  # one label
        ("A  P1-07", "a P1-07"),
        ("A-P1-07", "A-P1-08"),  # the link beside it
        ("A-P1-07", "A-P2-07"),
        ("A-P1-07", "A-P1-17"),
        ("A1", "B1"),
        ("READ-07", "BOOK-07"),
    ],
)
def test_a_link_beside_another_is_no_misspelling_of_it(one: str, other: str) -> None:
    assert difference(one, other) == ""


def test_the_surest_come_first_and_no_more_than_three() -> None:
    others = ["A-P1-70", "A-P1-O7", "a- p1-07", "A.P1.07", "A-P1-7"]
    found = Near(others).to("A-P1-07")
    assert [label for label, _ in found] == ["a- p1-07", "A.P1.07", "A-P1-7"]


def test_labels_with_other_digits_are_not_looked_through(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a schedule most links are untested while a job begins, and near no stray label."""
    filed = Near(["A-P1-07", "B-P1-70"])

    def refuse(label: str) -> None:
        raise AssertionError(label)

    monkeypatch.setattr(near, "_keys", refuse)
    for label in ("A-P1-08", "A-P2-07", "A-P1-77", "A-P1-0"):
        assert filed.to(label) == ()
    with pytest.raises(AssertionError, match="A-Pl-O7"):
        filed.to("A-Pl-O7")


@given(LABELS, LABELS)
def test_nearness_goes_both_ways_and_never_to_itself(one: str, other: str) -> None:
    assert difference(one, other) == difference(other, one)
    assert difference(one, one) == ""


@given(LABELS, LABELS)
def test_every_near_label_is_found_among_those_filed(one: str, other: str) -> None:
    how = difference(one, other)
    assert Near([other]).to(one) == (((other, how),) if how else ())
