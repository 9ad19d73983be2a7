"""Drafts of dates of which no number is above 12: what further dates and their spans tell."""

import pytest

from sweepbook.draft import dates

DAYS = ["04/07/2026 09:13", "04/08/2026 10:02"]


def test_dates_that_may_be_a_day_apart_are_told_so_and_both_forms_stay() -> None:
    found = dates.forms(DAYS)
    assert found is not None and not found.sure
    assert found.forms == ("MM/DD/YYYY hh:mm", "DD/MM/YYYY hh:mm")
    assert "MM/DD/YYYY within 1 days and by DD/MM/YYYY within 31 days" in found.why


@pytest.mark.parametrize("some", [DAYS[:1], ["04/05/2026 09:13", "05/04/2026 10:02"]])
def test_dates_as_far_apart_in_both_orders_tell_nothing(some: list[str]) -> None:
    found = dates.forms(some)
    assert found is not None
    assert found.forms == ("DD/MM/YYYY hh:mm", "MM/DD/YYYY hh:mm")
    assert "within" not in found.why
    assert "that with MM/DD/YYYY if the export writes the day first, else that with DD" in found.why


@pytest.mark.parametrize(
    ("other", "form"), [("03/28/2026", "MM/DD/YYYY hh:mm"), ("28/03/2026", "DD/MM/YYYY hh:mm")]
)
def test_another_date_of_the_export_shows_the_order(other: str, form: str) -> None:
    found = dates.forms(DAYS, others=["02/03/2026", other])
    assert found is not None and not found.sure
    assert found.forms == (form,)
    assert repr(other) in found.why


@pytest.mark.parametrize(
    "others", [["28-03-2026"], ["2026/03/28"], ["28/03/2026", "03/28/2026"], ["02/03/2026"]]
)
def test_a_date_of_another_form_or_a_contradiction_shows_nothing(others: list[str]) -> None:
    found = dates.forms(DAYS, others=others)
    assert found is not None
    assert len(found.forms) == 2


def test_the_month_comes_first_where_lengths_are_in_feet() -> None:
    """Common practice, no source: lengths in feet and such dates come from the same countries."""
    found = dates.forms(DAYS, feet=True)
    assert found is not None and not found.sure
    assert found.forms == ("MM/DD/YYYY hh:mm",)
    shown = dates.forms(DAYS, feet=True, others=["28/03/2026"])
    assert shown is not None and shown.forms == ("DD/MM/YYYY hh:mm",)
    points = dates.forms(["04.07.2026"], feet=True)
    assert points is not None and points.forms == ("DD.MM.YYYY",)
