"""Words of a clock of twelve hours, whichever language they are of."""

import pytest

from sweepbook.dialect.dates import Calendar, NotADate
from sweepbook.dialect.half_days import HALVES, halves_of, said
from sweepbook.dialect.load import BadDialect, parse
from tests.csv_format.dialects import CURVES

LANGUAGES = (
    "en es nl ro nb ca gl sv fi cs sl uk el hu tr fa zh ja ko vi th is ar lt de fr it pt pl da ru"
)
WIDTHS = [(of, width) for of in ("format", "stand-alone") for width in ("wide", "abbreviated")]


def _of_cldr(language: str) -> set[tuple[str, int]]:
    """Words of a language as they are looked up, each with what it adds to the hour."""
    periods = pytest.importorskip("babel").Locale.parse(language).day_periods
    found = set()
    for of, width in WIDTHS:
        words = periods.get(of, {}).get(width, {})
        found |= {(said(words[key]), add) for key, add in (("am", 0), ("pm", 12)) if key in words}
    return found


@pytest.mark.parametrize("language", LANGUAGES.split())
def test_times_with_the_words_of_unicode_cldr_are_read(language: str) -> None:
    """Unicode CLDR, as the library Babel has it; of several widths one is known at least."""
    known = {word: add for word, add in _of_cldr(language) if word in HALVES}
    assert set(known.values()) == {0, 12}
    for word, add in known.items():
        for text, form in ((f"{word} 3:05", "ap hh:mm"), (f"3:05{word}", "hh:mmap")):
            stamp = Calendar((f"YYYY-MM-DD {form}",)).stamp(f"2026-03-04 {text}")
            assert stamp.rfc3339 == f"2026-03-04T{3 + add:02}:05:00-00:00"


def test_no_known_word_is_of_the_other_half_in_another_language() -> None:
    babel = pytest.importorskip("babel.localedata")
    for language in (name for name in babel.locale_identifiers() if len(name) == 2):
        for word, add in _of_cldr(language):
            assert HALVES.get(word, add) == add, (language, word)


def test_each_known_word_is_of_unicode_cldr() -> None:
    of_cldr = {word for language in LANGUAGES.split() for word, _ in _of_cldr(language)}
    assert of_cldr >= HALVES.keys()


@pytest.mark.parametrize(
    ("form", "text", "clock"),
    [
        ("YYYY年MM月DD日 aphh:mm:ss", "2026年3月4日 下午12:39:49", "12:39:49"),
        ("YYYY年MM月DD日 aphh:mm:ss", "2026年3月4日 上午12:39:49", "00:39:49"),
        # In Japan hours go from 0 to 11 (pattern K of Unicode CLDR).
        ("YYYY/MM/DD aphh時mm分", "2026/03/04 午後0時39分", "12:39:00"),
        ("DD/MM/YYYY hh:mm ap", "04/03/2026 7:39 \u03bc.\u03bc.", "19:39:00"),
        ("DD/MM/YYYY hh:mm ap", "04/03/2026 7:39 p.\u00a0m.", "19:39:00"),
        ("DD/MM/YYYY hh:mm ap", "04/03/2026 7:39 P. M.", "19:39:00"),
    ],
)
def test_forms(form: str, text: str, clock: str) -> None:
    assert Calendar((form,)).stamp(text).rfc3339 == f"2026-03-04T{clock}-00:00"


def _dates(lines: str) -> Calendar:
    return parse(f"{CURVES}\n[dates]\n{lines}".encode(), "made-up.toml").meaning.calendar


def test_declared_words_are_the_only_ones() -> None:
    calendar = _dates(
        'forms = ["DD.MM.YYYY hh:mm ap"]\nbefore_noon = ["ночи", "утра"]\n'
        'after_noon = ["дня", "вечера"]'
    )
    for text, clock in (("2:10 ночи", "02:10"), ("9:10 УТРА", "09:10"), ("7:10 вечера", "19:10")):
        assert calendar.stamp(f"04.03.2026 {text}").rfc3339 == f"2026-03-04T{clock}:00-00:00"
    with pytest.raises(NotADate, match=r"'pm' .* in dates\.before_noon and dates\.after_noon"):
        calendar.stamp("04.03.2026 7:10 pm")


def test_a_word_that_is_not_known_is_told_with_the_keys_that_take_it() -> None:
    with pytest.raises(NotADate, match=r"'вечера' .* dates\.before_noon and dates\.after_noon"):
        Calendar(("DD.MM.YYYY hh:mm ap",)).stamp("04.03.2026 7:10 вечера")


@pytest.mark.parametrize(
    ("lines", "said_of_it"),
    [
        ('forms = ["YYYY-MM-DD 上午hh:mm", "YYYY-MM-DD 下午hh:mm"]', "'上午' says which half"),
        ('forms = ["YYYY-MM-DD hh:mm PM"]', "'PM' says which half .* write ap in its place"),
        ('forms = ["hh:mm pm DD.MM.YYYY"]', "'pm' says which half"),
        ('forms = ["DD.MM.YYYY hh:mm утра", "DD.MM.YYYY hh:mm дня"]', "'утра' and 'дня' alone"),
        (
            'forms = ["DD.MM.YYYY hh:mm am (UTCzone)", "DD.MM.YYYY hh:mm pm (UTCzone)"]',
            r"'am \(UTC' and 'pm \(UTC' alone",
        ),
        (
            'forms = ["DD.MM.YYYY hh:mm CET (zone)", "DD.MM.YYYY hh:mm noon (zone)"]',
            r"'CET \(' and 'noon \(' alone",
        ),
        ('forms = ["DD.MM.YYYY ap"]', "hh is missing"),
        ('before_noon = "one"\nafter_noon = ["One"]', "'one' stands for both halves"),
        ('before_noon = "12"', "'12' is no word"),
    ],
)
def test_dialects_that_would_read_times_twelve_hours_wrong_are_refused(
    lines: str, said_of_it: str
) -> None:
    with pytest.raises(BadDialect, match=said_of_it):
        _dates(lines)


def test_words_beside_a_clock_that_tell_no_half_are_fixed_text() -> None:
    german = _dates(
        'forms = ["hh:mm am DD.MM.YYYY", "DD.MM.YYYY hh:mm Uhr", "DD.MM.YYYY um hh:mm"]'
    )
    for text in ("14:05 am 04.03.2026", "04.03.2026 14:05 Uhr", "04.03.2026 um 14:05"):
        assert german.stamp(text).rfc3339 == "2026-03-04T14:05:00-00:00"
    both = _dates(
        'forms = ["DD/MM/YYYY \u00e0 hh:mm", "DD/MM/YYYY at hh:mm"]\n'
        'before_noon = "AM"\nafter_noon = "PM"'
    )
    assert both.stamp("04/03/2026 at 14:05").rfc3339 == "2026-03-04T14:05:00-00:00"


def test_names_of_zones_beside_a_clock_tell_no_half() -> None:
    """MEZ and MESZ are what one clock says in winter and in summer: common practice, no source."""
    german = _dates('forms = ["DD.MM.YYYY hh:mm MEZ (UTCzone)", "DD.MM.YYYY hh:mm MESZ (UTCzone)"]')
    for text in ("MEZ (UTC+01:00)", "MESZ (UTC+01:00)"):
        assert german.stamp(f"04.03.2026 2:05 {text}").rfc3339 == "2026-03-04T02:05:00+01:00"


def test_one_word_of_both_halves_is_refused() -> None:
    with pytest.raises(ValueError, match="both halves"):
        halves_of(["a. m."], ["AM"])
