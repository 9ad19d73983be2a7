"""Dates and times of exports, with how their zone is known."""

from datetime import date

import pytest

from sweepbook.dialect.dates import Calendar, NotADate, pattern, zone_of

GERMAN = ("DD.MM.YYYY hh:mm:ss", "DD.MM.YYYY")


def test_an_offset_in_the_text_is_stated() -> None:
    stamp = Calendar().stamp("2026-03-04T09:12:40+05:30")
    assert stamp.rfc3339 == "2026-03-04T09:12:40+05:30"
    assert (stamp.zone, stamp.zone_source, stamp.doubt) == ("+05:30", "stated", "")


def test_utc_by_its_letter() -> None:
    assert Calendar().stamp("2026-03-04T09:12:40Z").rfc3339 == "2026-03-04T09:12:40+00:00"


@pytest.mark.parametrize(
    ("named", "offset"),
    [
        ("UTC+1", "+01:00"),
        ("UTC-03:30", "-03:30"),
        ("GMT+0545", "+05:45"),
    ],
)
def test_an_offset_may_name_what_it_is_from(named: str, offset: str) -> None:
    """UTC as in ISO 8601-1 (recalled); GMT for it: common practice, no source."""
    calendar = Calendar(("DD.MM.YYYY hh:mm (zone)",))
    stamp = calendar.stamp(f"28.02.2026 17:05 ({named})")
    assert stamp.rfc3339 == f"2026-02-28T17:05:00{offset}"
    assert stamp.zone_source == "stated"


@pytest.mark.parametrize("named", ["GMT", "UTC+", "UTC+25", "UTC+1:2", "CET+1"])
def test_other_names_of_zones_wait_for_the_dialect(named: str) -> None:
    with pytest.raises(NotADate, match=r"add it to dates\.offsets"):
        Calendar(("DD.MM.YYYY hh:mm (zone)",)).stamp(f"28.02.2026 17:05 ({named})")


def test_without_any_zone_the_offset_is_unknown() -> None:
    # RFC 3339, section 4.3: "-00:00" where the offset to local time is not known.
    stamp = Calendar(GERMAN).stamp("04.03.2026 14:22:05")
    assert stamp.rfc3339 == "2026-03-04T14:22:05-00:00"
    assert (stamp.zone, stamp.zone_source) == ("", "unknown")


def test_a_stated_unknown_offset_stays_unknown() -> None:
    stamp = Calendar().stamp("2026-03-04T14:22:05-00:00")
    assert (stamp.rfc3339, stamp.zone_source) == ("2026-03-04T14:22:05-00:00", "unknown")


def test_a_fixed_offset_of_the_dialect() -> None:
    stamp = Calendar(GERMAN, "+01:00").stamp("04.03.2026 14:22:05")
    assert stamp.rfc3339 == "2026-03-04T14:22:05+01:00"
    assert (stamp.zone, stamp.zone_source) == ("+01:00", "dialect")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("04.03.2026 14:22:05", "2026-03-04T14:22:05+01:00"),
        ("04.07.2026 14:22:05", "2026-07-04T14:22:05+02:00"),
    ],
)
def test_a_named_zone_follows_summer_time(text: str, expected: str) -> None:
    assert Calendar(GERMAN, "Europe/Berlin").stamp(text).rfc3339 == expected


# Directive 2000/84/EC: summer time ends at 01:00 UTC on the last Sunday of October and begins at
# 01:00 UTC on the last Sunday of March (from memory). In 2026: 25 October and 29 March.
def test_the_repeated_hour_keeps_its_text_and_an_unknown_offset() -> None:
    stamp = Calendar(GERMAN, "Europe/Berlin").stamp("25.10.2026 02:30:00")
    assert stamp.as_stated == "25.10.2026 02:30:00"
    assert stamp.rfc3339 == "2026-10-25T02:30:00-00:00"
    assert stamp.zone_source == "unknown"
    assert "comes twice in Europe/Berlin" in stamp.doubt


def test_a_second_before_and_after_the_repeated_hour_is_certain() -> None:
    calendar = Calendar(GERMAN, "Europe/Berlin")
    assert calendar.stamp("25.10.2026 01:59:59").rfc3339 == "2026-10-25T01:59:59+02:00"
    assert calendar.stamp("25.10.2026 03:00:00").rfc3339 == "2026-10-25T03:00:00+01:00"


def test_the_hour_that_never_was() -> None:
    stamp = Calendar(GERMAN, "Europe/Berlin").stamp("29.03.2026 02:30:00")
    assert stamp.rfc3339 == "2026-03-29T02:30:00-00:00"
    assert "was never on the clock" in stamp.doubt


def test_a_zone_name_in_the_text_settles_the_repeated_hour() -> None:
    forms = ("DD.MM.YYYY hh:mm:ss zone",)
    calendar = Calendar(forms, "Europe/Berlin", {"CEST": "+02:00", "CET": "+01:00"})
    assert calendar.stamp("25.10.2026 02:30:00 CEST").rfc3339 == "2026-10-25T02:30:00+02:00"
    assert calendar.stamp("25.10.2026 02:30:00 CET").rfc3339 == "2026-10-25T02:30:00+01:00"
    with pytest.raises(NotADate, match=r"dates\.offsets"):
        calendar.stamp("25.10.2026 02:30:00 MSK")


@pytest.mark.parametrize(
    ("form", "text", "expected"),
    [
        ("MM/DD/YYYY hh:mm ap", "03/04/2026 12:05 AM", "2026-03-04T00:05:00-00:00"),
        ("MM/DD/YYYY hh:mm ap", "03/04/2026 12:05 pm", "2026-03-04T12:05:00-00:00"),
        ("MM/DD/YYYY hh:mm ap", "3/4/2026 1:05 p.m.", "2026-03-04T13:05:00-00:00"),
        ("DD-MON-YY hh:mm:ss", "04-Mar-26 14:22:05", "2026-03-04T14:22:05-00:00"),
        ("YYYYMMDDThhmmss", "20260304T142205", "2026-03-04T14:22:05-00:00"),
        ("YYYY-MM-DD hh:mm:ss", "2026-03-04 14:22:05.250", "2026-03-04T14:22:05.250000-00:00"),
    ],
)
def test_forms(form: str, text: str, expected: str) -> None:
    assert Calendar((form,)).stamp(text).rfc3339 == expected


@pytest.mark.parametrize(
    "text", ["31.02.2026 10:00:00", "04.13.2026 10:00:00", "04.03.2026 24:00:00", "4 March", ""]
)
def test_days_and_hours_that_do_not_exist_are_refused(text: str) -> None:
    with pytest.raises(NotADate, match=r"dates\.forms"):
        Calendar(GERMAN).stamp(text)


def test_thirteen_o_clock_p_m_is_refused() -> None:
    with pytest.raises(NotADate):
        Calendar(("DD.MM.YYYY hh:mm ap",)).stamp("04.03.2026 13:00 pm")


def test_a_date_is_no_time() -> None:
    with pytest.raises(NotADate):
        Calendar(GERMAN).stamp("04.03.2026")
    assert Calendar(GERMAN).day("04.03.2026") == date(2026, 3, 4)
    assert Calendar(GERMAN).day("04.03.2026 14:22:05") == date(2026, 3, 4)


def test_two_forms_that_disagree_are_an_error_and_two_that_agree_are_none() -> None:
    calendar = Calendar(("DD/MM/YYYY", "MM/DD/YYYY"))
    with pytest.raises(NotADate, match=r"means two things; take the one out of dates\.forms"):
        calendar.day("04/03/2026")
    assert calendar.day("25/03/2026") == date(2026, 3, 25)
    assert calendar.day("04/04/2026") == date(2026, 4, 4)


@pytest.mark.parametrize("form", ["hh:mm", "DD.MM.", "DD.MM.YYYY MM", "YYYY MON MM DD"])
def test_a_form_without_a_whole_date_or_with_a_letter_twice_is_refused(form: str) -> None:
    with pytest.raises(ValueError, match="once each"):
        pattern(form)


def test_marks_of_a_form_stand_for_themselves() -> None:
    assert pattern("DD.MM.YYYY").fullmatch("04.03.2026")
    assert not pattern("DD.MM.YYYY").fullmatch("04x03x2026")


@pytest.mark.parametrize("name", ["Nowhere/Atlantis", "+25:00", "../etc/passwd"])
def test_a_zone_that_does_not_exist(name: str) -> None:
    with pytest.raises(ValueError, match="IANA name"):
        zone_of(name)


@pytest.mark.parametrize(("which", "offset"), [("first", "+02:00"), ("second", "+01:00")])
def test_a_dialect_may_say_which_of_the_two_hours_is_meant(which: str, offset: str) -> None:
    calendar = Calendar(GERMAN, "Europe/Berlin", repeated_hour=which)
    stamp = calendar.stamp("25.10.2026 02:30:00")
    assert (stamp.rfc3339, stamp.doubt) == (f"2026-10-25T02:30:00{offset}", "")
    assert calendar.stamp("04.07.2026 14:22:05").rfc3339 == "2026-07-04T14:22:05+02:00"
    assert "dates.zone" in calendar.stamp("29.03.2026 02:30:00").doubt


def test_a_column_beside_the_time_settles_the_repeated_hour() -> None:
    calendar = Calendar(
        ("DD.MM.YYYY hh:mm:ss zone",), "Europe/Berlin", {"1": "+02:00", "0": "+01:00"}
    )
    assert calendar.stamp("25.10.2026 02:30:00 1").rfc3339 == "2026-10-25T02:30:00+02:00"
    assert calendar.stamp("25.10.2026 02:30:00 0").rfc3339 == "2026-10-25T02:30:00+01:00"


def test_the_name_of_a_day_of_the_week_is_passed_over() -> None:
    calendar = Calendar(("DAY DD MON YYYY hh:mm zone",), offsets={"BST": "+01:00"})
    for name in ("Fri", "Mon.", "vendredi"):
        assert (
            calendar.stamp(f"{name} 07 Jun 2024 15:20 BST").rfc3339 == "2024-06-07T15:20:00+01:00"
        )
    with pytest.raises(NotADate):
        calendar.stamp("5 07 Jun 2024 15:20 BST")


def test_each_time_may_name_a_zone_of_its_own() -> None:
    # IANA time zone database: Rome is at +01:00 in winter, Lisbon at that in summer.
    calendar = Calendar(("DD/MM/YYYY hh.mm.ss zone",), zone="+09:00")
    winter = calendar.stamp("30/01/2024 11.07.52 Europe/Rome")
    assert (winter.rfc3339, winter.zone) == ("2024-01-30T11:07:52+01:00", "Europe/Rome")
    assert winter.zone_source == "stated"
    assert calendar.stamp("08/07/2024 11.12.18 Europe/Lisbon").rfc3339.endswith("11:12:18+01:00")
    with pytest.raises(NotADate, match="no time zone 'Europe/Nowhere'"):
        calendar.stamp("30/01/2024 11.07.52 Europe/Nowhere")


def test_a_time_that_comes_twice_in_a_zone_of_its_own_keeps_no_offset() -> None:
    stamp = Calendar(("DD/MM/YYYY hh:mm zone",)).stamp("27/10/2024 02:30 Europe/Rome")
    assert (stamp.rfc3339, stamp.zone_source) == ("2024-10-27T02:30:00-00:00", "unknown")
    assert "comes twice in Europe/Rome" in stamp.doubt


@pytest.mark.parametrize(
    "language", ["en", "de", "fr", "es", "nl", "it", "pt", "pl", "cs", "da", "nb", "sv", "fi"]
)
def test_names_of_months_are_those_of_unicode_cldr(language: str) -> None:
    """Unicode CLDR, as the library Babel has it: in a date and alone, whole and short."""
    locale = pytest.importorskip("babel").Locale(language)
    calendar = Calendar(("DD MON YYYY",))
    for context in ("format", "stand-alone"):
        for width in ("wide", "abbreviated"):
            for number, name in locale.months[context][width].items():
                assert calendar.day(f"5 {name} 2026") == date(2026, number, 5)


def test_a_name_that_is_of_no_month_is_told_with_the_key_that_lists_them() -> None:
    form = "DD de MON de YYYY hh:mm"
    with pytest.raises(NotADate, match=r"'marc' .* is none that is known; .* dates\.months"):
        Calendar((form,)).stamp("28 de marc de 2025 12:05")
    with pytest.raises(NotADate, match=r"of the form .* change dates\.forms"):
        Calendar((form,)).stamp("28 marc 2025 12:05")
