"""A day and a time of day in two texts, however the time is written."""

import tomllib
from pathlib import Path

import pytest

from sweepbook.draft.clock_notes import parted
from sweepbook.draft.dates import is_clock, is_day
from tests.program import run

from .drafting import draft_of, read
from .links import link, lists, wide

TWO = [link("A-1", 31.0), link("A-2", 88.5)]

OLD = "<started>2026-02-28T17:05:09Z</started>"


@pytest.mark.parametrize(
    ("written", "read_as"),
    [
        ("<datum>28.02.2026</datum><uhrzeit>17:05 Uhr</uhrzeit>", "17:05:00-00:00"),
        ('<when day="2026-02-28" time="5:05 PM"/>', "17:05:00-00:00"),
        ("<when><hour>17.05</hour><day>28.02.2026</day></when>", "17:05:00-00:00"),
        ('<when day="28.02.2026" time="17:05 MESZ"/>', "17:05:00+02:00"),
        ('<when day="2026-02-28" time="17:05:09+01:00"/>', "17:05:09+01:00"),
        ("<date>28/02/2026</date><heure>17h05</heure>", "17:05:00-00:00"),
        ("<dato>28-02-2026</dato><klokken>17.05</klokken>", "17:05:00-00:00"),
        ("<datum>2026-02-28</datum><klockan>17.05</klockan>", "17:05:00-00:00"),
        ("<started>28.02.2026, 17:05 Uhr</started>", "17:05:00-00:00"),
        ("<started>28.02.2026 17:05 (Ortszeit Wels)</started>", "17:05:00-00:00"),
        ("<date>28/02/2026</date><heure>17h05 (heure de Lyon)</heure>", "17:05:00-00:00"),
        ("<started>28.02.2026 17.05.09</started>", "17:05:09-00:00"),
        ("<started>Sat 28 Feb 2026 17:05:09</started>", "17:05:09-00:00"),
        ("<started>05:05:09 PM 2026/02/28</started>", "17:05:09-00:00"),
        ("<started>17:05:09 28.02.2026</started>", "17:05:09-00:00"),
        ("<started>17:05 +01:00, Sat 28.02.2026</started>", "17:05:00+01:00"),
        ("<started>17:05 28.02.2026 CEST</started>", "17:05:00+02:00"),
        ("<started>February 28, 2026 5:05 PM</started>", "17:05:00-00:00"),
        ("<started>28 de febrero de 2026 17:05</started>", "17:05:00-00:00"),
        ("<started>samedi 28 f\u00e9vrier 2026 \u00e0 17h05</started>", "17:05:00-00:00"),
        ("<started>28 febbraio 2026 17:05</started>", "17:05:00-00:00"),
        ("<started>28 lutego 2026 r., 17:05</started>", "17:05:00-00:00"),
        ("<started>Samstag, 28. Februar 2026 um 17:05 Uhr</started>", "17:05:00-00:00"),
        ("<fecha>28 de feb. de 2026</fecha><hora>17:05:09</hora>", "17:05:09-00:00"),
        (
            "<fecha>28 de febrero de 2026</fecha><hora>17:05:09</hora>"
            "<zonaHoraria>Atlantic/Canary</zonaHoraria>",
            "17:05:09+00:00",
        ),
        (
            "<Time>05:05:09 PM 2026/02/28</Time><Zone>Asia/Taipei</Zone>",
            "17:05:09+08:00",
        ),
        ("<started>Samstag, 28.02.2026 17:05 +01:00</started>", "17:05:00+01:00"),
        ("<started>2026年02月28日 17:05:09</started>", "17:05:09-00:00"),
        ("<started>2026年2月28日 下午5:05:09</started>", "17:05:09-00:00"),
        ("<started>2026年2月28日 午後5時05分</started>", "17:05:00-00:00"),
        ("<started>2026년 2월 28일 오후 5:05:09</started>", "17:05:09-00:00"),
        ("<started>28/02/2026 5:05:09 μ.μ.</started>", "17:05:09-00:00"),
        ("<started>28.02.2026 5:05 odp.</started>", "17:05:00-00:00"),
        ("<started>28.02.2026 в 17:05</started>", "17:05:00-00:00"),
        ("<started>den 28. februar 2026 kl. 17.05.09 (UTC+2)</started>", "17:05:09+02:00"),
        ("<started>lørdag den 28. februar 2026 kl. 17.05</started>", "17:05:00-00:00"),
        ("<started>28-02-2026 17:05:09 (GMT-3)</started>", "17:05:09-03:00"),
        ("<started>17:05:09 28.02.2026 (MEZ)</started>", "17:05:09+01:00"),
        ("<started>le 28 février 2026 à 17h05 (UTC+01:00)</started>", "17:05:00+01:00"),
        ("<debut>2026-02-28 17 h 05 min 09 s</debut>", "17:05:09-00:00"),
        ("<started>28 f\u00e9vrier 2026 \u00e0 17 h 05</started>", "17:05:00-00:00"),
        ("<started>2026-02-28 17h05m09s +01:00</started>", "17:05:09+01:00"),
        ("<debut>28/02/2026 17h05:09</debut>", "17:05:09-00:00"),
        ("<debut>28/02/2026 à 17 h 05.09</debut>", "17:05:09-00:00"),
        ("<jour>28/02/2026</jour><heure>17h05:09</heure>", "17:05:09-00:00"),
        ("<started>28.02.2026 17 ч 05 мин 09 с</started>", "17:05:09-00:00"),
        ("<started>28.02.2026 um 17 Uhr 05</started>", "17:05:00-00:00"),
        ("<when><day>28/02/2026</day><time>17 giờ 05 phút</time></when>", "17:05:00-00:00"),
        (
            "<started>2026年2月28日 17:05:09</started><clock>JST (UTC+09:00)</clock>",
            "17:05:09+09:00",
        ),
    ],
)
def test_times(written: str, read_as: str, tmp_path: Path) -> None:
    text = lists([link("L-1", 35.5), link("L-2", 80.0)]).replace(OLD, written)
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for record in records:
        assert record.document["test"]["started"]["rfc3339"] == f"2026-02-28T{read_as}"


@pytest.mark.parametrize("text", ["21.5", "21.50", "25:70 h", "2026", "17 05", "3.2 h"])
def test_what_is_no_time_of_day_where_none_is_asked_for(text: str) -> None:
    assert not is_clock(text)


@pytest.mark.parametrize("text", ["12 Foo 2025", "13 rue 2025", "Cat 6 2025", "5 de Mayonesa 2025"])
def test_other_words_are_no_months(text: str) -> None:
    assert not is_day(text)


def test_words_for_half_of_the_day_that_nobody_knows_wait_for_a_person(tmp_path: Path) -> None:
    text = lists([link("L-1", 35.5), link("L-2", 80.0)])
    text = text.replace(OLD, "<started>28.02.2026 9:05 утра</started>", 1)
    text = text.replace(OLD, "<started>28.02.2026 5:05 вечера</started>")
    draft = draft_of(tmp_path, text, "export.xml")
    assert 'forms = ["DD.MM.YYYY hh:mm ap"]' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    started = [record.document["test"]["started"] for record in records]
    assert [list(one) for one in started] == [["as_stated"]] * 2
    assert len(problems) == 2
    assert all("dates.before_noon and dates.after_noon" in str(one) for one in problems)
    asleep = ('# before_noon = ["утра", "вечера"]', '# after_noon = ["утра", "вечера"]')
    assert all(line in draft for line in asleep)
    draft = draft.replace(asleep[0], 'before_noon = "утра"').replace(
        asleep[1], 'after_noon = "вечера"'
    )
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    times = [record.document["test"]["started"]["rfc3339"] for record in records]
    assert [time[11:16] for time in times] == ["09:05", "17:05"]


@pytest.mark.parametrize("key", ["Versión", "Software version", "Program"])
def test_a_version_that_reads_as_a_date_is_no_time(key: str, tmp_path: Path) -> None:
    text = wide(link("L-1", 35.5), "insertion_loss", "next")
    text = text.replace("Tested on;28.02.2026 17:05", f"{key};3.4.18")
    draft = draft_of(tmp_path, text)
    assert f'test.started = "{key}"' not in draft


def test_a_bracket_that_is_not_closed_is_part_of_no_time() -> None:
    assert not is_day("28-02-2026 17:05:09 (GMT-3")
    assert not is_day("28-02-2026 17:05:09 GMT-3)")


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("17.05.09 (ora del posto)", ("17.05.09", " (ora del posto)")),
        ("17:05 (CEST)", ("17:05 (CEST)", "")),
        ("17:05 (Europe/Rome)", ("17:05 (Europe/Rome)", "")),
        ("17:05 (GMT-3)", ("17:05 (GMT-3)", "")),
        ("17:05 (happy hour)", ("17:05 (happy hour)", "")),  # of "ap" a form makes something else
        ("Saal (oben)", ("Saal (oben)", "")),
    ],
)
def test_words_in_brackets_are_parted_where_a_form_can_hold_them(
    text: str, parts: tuple[str, str]
) -> None:
    assert parted(text) == parts


@pytest.mark.parametrize("other", ["ora del posto", "ora legale"])
def test_words_behind_times_are_part_of_the_form_where_all_have_them(
    other: str, tmp_path: Path
) -> None:
    first, second = (wide(one, "insertion_loss", "next") for one in TWO)
    said = second.replace("28.02.2026 17:05", f"14.07.2026 9:41 ({other})")
    (tmp_path / "a.csv").write_text(first.replace("17:05", "17:05 (ora del posto)"), "utf-8")
    (tmp_path / "b.csv").write_text(said, "utf-8")
    result = run("dialect", "draft", tmp_path / "a.csv", tmp_path / "b.csv")
    told = " ".join(result.stdout.replace("\n#", "").split())
    dated = tomllib.loads(result.stdout).get("dates", {})
    (record,), problems = read(tmp_path / "b.csv", result.stdout)
    if other == "ora legale":
        assert "forms" not in dated
        assert record.document["test"]["started"] == {"as_stated": "14.07.2026 9:41 (ora legale)"}
        return
    assert dated["forms"] == ["DD.MM.YYYY hh:mm (ora del posto)"]
    assert "The file says 'ora del posto'" in told
    assert problems == []
    assert record.document["test"]["started"]["rfc3339"] == "2026-07-14T09:41:00-00:00"
