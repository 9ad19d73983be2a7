"""Drafts of times whose zones an export names by a short name: every offset that it may mean.

What CEST, EDT and others stand for is held to rules written out here; ambiguous ones as people use
them (recalled).
"""

from pathlib import Path

import pytest

from sweepbook.dialect import zone_names
from sweepbook.draft import zones

from .drafting import draft_of, edited, read
from .links import link, lists, wide

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
OLD = "2026-02-28T17:05:09Z</started>"


def started(tmp_path: Path, draft: str) -> set[str]:
    """The times of all records."""
    records, problems = read(tmp_path / "export.xml", draft)
    assert [one for one in problems if one.lost_record] == []
    assert len(records) == len(LINKS)
    return {record.document["test"]["started"]["rfc3339"] for record in records}


@pytest.mark.parametrize(
    ("name", "offset"),
    [
        ("MEZ", "+01:00"),
        ("CET", "+01:00"),
        ("MESZ", "+02:00"),
        ("CEST", "+02:00"),
        ("EEST", "+03:00"),
        ("WET", "+00:00"),
        ("UTC", "+00:00"),
        ("AEDT", "+11:00"),
        ("NST", "-03:30"),
    ],
)
@pytest.mark.parametrize(
    "written", ["28.02.2026 17:05 {}</started>", "28.02.2026 17:05</started><zone>{}</zone>"]
)
def test_a_short_name_that_means_one_offset_is_taken(
    name: str, offset: str, written: str, tmp_path: Path
) -> None:
    """MEZ is UTC+1 and MESZ UTC+2 by the German law on time (EinhZeitG, section 4, recalled)."""
    draft = draft_of(tmp_path, lists(LINKS).replace(OLD, written.format(name)), "export.xml")
    assert started(tmp_path, draft) == {f"2026-02-28T17:05:00{offset}"}
    assert f"every zone whose clock says {name} is at {offset}" in " ".join(
        line.removeprefix("# ") for line in draft.splitlines()
    )


@pytest.mark.parametrize(
    "written", ["28.02.2026 17:05 {}</started>", "28.02.2026 17:05</started><zone>{}</zone>"]
)
@pytest.mark.parametrize(("name", "other"), [("MEZ", "MESZ"), ("EEST", "EET"), ("AEDT", "AEST")])
def test_tests_of_the_other_half_of_the_year_are_read_too(
    name: str, other: str, written: str, tmp_path: Path
) -> None:
    offsets = {"MESZ": "+02:00", "EET": "+02:00", "AEST": "+10:00"}
    draft = draft_of(tmp_path, lists(LINKS).replace(OLD, written.format(name)), "export.xml")
    text = lists(LINKS).replace(OLD, written.format(other))
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    assert started(tmp_path, draft) == {f"2026-02-28T17:05:00{offsets[other]}"}


def test_a_name_beside_an_offset_is_read_in_the_other_half_of_the_year(tmp_path: Path) -> None:
    clock = "28.02.2026 17:05</started><clock>{}</clock>"
    draft = draft_of(
        tmp_path, lists(LINKS).replace(OLD, clock.format("MEZ (UTC+01:00)")), "export.xml"
    )
    for told, offset in (("MEZ (UTC+01:00)", "+01:00"), ("MESZ (UTC+02:00)", "+02:00")):
        text = lists(LINKS).replace(OLD, clock.format(told))
        (tmp_path / "export.xml").write_text(text, encoding="utf-8")
        assert started(tmp_path, draft) == {f"2026-02-28T17:05:00{offset}"}


AMBIGUOUS = ("BST", "EDT", "IST", "CST", "XYZT")


@pytest.mark.parametrize("name", AMBIGUOUS)
def test_a_short_name_that_means_several_waits_for_a_person(name: str, tmp_path: Path) -> None:
    text = lists(LINKS).replace(OLD, f"28.02.2026 17:05 {name}</started>")
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    times = [record.document["test"]["started"] for record in records]
    assert times == [{"as_stated": f"28.02.2026 17:05 {name}"}] * len(LINKS)
    assert all(f"names the zone '{name}'" in one.message for one in problems)
    (line,) = (of for of in draft.splitlines() if of.startswith(f"# offsets.{name} = "))
    said = edited(draft, (line, f'offsets.{name} = "-04:00"'))
    assert started(tmp_path, said) == {"2026-02-28T17:05:00-04:00"}


@pytest.mark.parametrize("name", AMBIGUOUS)
def test_such_a_name_in_a_text_of_its_own_leaves_the_offset_unknown(
    name: str, tmp_path: Path
) -> None:
    text = lists(LINKS).replace(OLD, f"28.02.2026 17:05</started><zone>{name}</zone>")
    draft = draft_of(tmp_path, text, "export.xml")
    assert started(tmp_path, draft) == {"2026-02-28T17:05:00-00:00"}
    said = edited(draft, ('# zone = "Region/City"', 'zone = "America/New_York"'))
    assert started(tmp_path, said) == {"2026-02-28T17:05:00-05:00"}


def test_the_zone_of_a_place_is_taken(tmp_path: Path) -> None:
    text = lists(LINKS).replace(OLD, "28.02.2026 17:05</started><where>Europe/Lisbon</where>")
    draft = draft_of(tmp_path, text, "export.xml")
    assert started(tmp_path, draft) == {"2026-02-28T17:05:00+00:00"}


def test_the_zone_of_a_place_is_taken_with_words_beside_it(tmp_path: Path) -> None:
    where = "<where>Europe/Rome (local time)</where>"
    text = lists(LINKS).replace(OLD, f"28.02.2026 17:05</started>{where}")
    draft = draft_of(tmp_path, text, "export.xml")
    assert '\nzone = "Europe/Rome"\n' in draft
    assert started(tmp_path, draft) == {"2026-02-28T17:05:00+01:00"}


def test_tests_may_name_different_places(tmp_path: Path) -> None:
    text = lists(LINKS).replace(OLD, "28.02.2026 17:05</started><where>Europe/Lisbon</where>")
    draft = draft_of(tmp_path, text.replace("Lisbon", "Rome", 1), "export.xml")
    assert started(tmp_path, draft) == {"2026-02-28T17:05:00+00:00", "2026-02-28T17:05:00+01:00"}


def test_every_offset_of_a_short_name_is_known_with_its_zones() -> None:
    assert list(zone_names.meanings("CEST", 2026)) == ["+02:00"]
    assert "Europe/Berlin" in zone_names.meanings("MESZ", 2026)["+02:00"]
    assert set(zone_names.meanings("BST", 2026)) >= {"+01:00", "+06:00"}
    assert set(zone_names.meanings("IST", 2026)) == {"+05:30", "+01:00", "+02:00"}
    assert set(zone_names.meanings("CST", 2026)) >= {"-06:00", "+08:00"}
    assert zone_names.meanings("XYZT", 2026) == {}


@pytest.mark.parametrize(("key", "text"), [("type", "CAT"), ("result", "PASS"), ("site", "A/B")])
def test_other_texts_are_no_zones(key: str, text: str) -> None:
    assert not zones.are_zones(key, [text])


@pytest.mark.parametrize(
    ("text", "zone"),
    [
        ("Europe/Lisbon", "Europe/Lisbon"),
        ("Europe/Lisbon (hora local)", "Europe/Lisbon"),
        ("local time [America/Sao_Paulo]", "America/Sao_Paulo"),
        ("Europe/Lisbon, Europe/Madrid", None),
        ("Hall/3", None),
        ("Lisbon", None),
    ],
)
def test_a_place_is_a_zone_with_words_beside_it(text: str, zone: str | None) -> None:
    assert zones.region_of(text) == zone


@pytest.mark.parametrize(
    ("line", "zone"),
    [
        ("All times IST (UTC+05:30)", "+05:30"),
        ("Clock times are UTC", "+00:00"),
        ("Times as in Asia/Kolkata", "Asia/Kolkata"),
        ("Alle Uhrzeiten: MEZ (UTC+01:00)", None),
        ("All times UTC+02:00", None),
        ("All times IST", None),
        ("TIME ZONE|SGT = UTC+08:00", "+08:00"),
    ],
)
def test_a_line_may_say_the_zone_of_all_times(line: str, zone: str | None) -> None:
    """India has no summer time, and central Europe has one: the zone data, and IST in both."""
    told = [text for text in [line] if zones.is_of_clocks(text)]
    assert zones.of_clocks(told, 2026) == zone


def test_the_zone_that_a_line_says_is_that_of_a_draft(tmp_path: Path) -> None:
    head = "Umbel 2 wide report\nAll times IST (UTC+05:30)\n"
    text = wide(LINKS[0], "insertion_loss", "return_loss").replace("Umbel 2 wide report\n", head)
    draft = draft_of(tmp_path, text)
    assert '\nzone = "+05:30"\n' in draft
    assert "All times IST (UTC+05:30)/" not in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    (record,) = records
    assert record.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00+05:30"


def test_a_line_may_say_the_offset_of_a_short_name(tmp_path: Path) -> None:
    """IST is the time of India, of Israel and of Ireland in summer: the zone data."""
    head = "Umbel 2 wide report\nTime zone;IST = UTC+05:30\n"
    text = wide(LINKS[0], "insertion_loss", "return_loss").replace("Umbel 2 wide report\n", head)
    text = text.replace("28.02.2026 17:05", "28.02.2026 17:05 IST")
    draft = draft_of(tmp_path, text)
    assert '\noffsets.IST = "+05:30"\n' in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert record.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00+05:30"


def test_a_line_that_summer_changes_leaves_the_zone_to_a_person(tmp_path: Path) -> None:
    head = "Umbel 2 wide report\nAll times MEZ (UTC+01:00)\n"
    text = wide(LINKS[0], "insertion_loss", "return_loss").replace("Umbel 2 wide report\n", head)
    draft = draft_of(tmp_path, text)
    assert '\n# zone = "Region/City"\n' in draft
    assert "The file says 'All times MEZ (UTC+01:00)'" in " ".join(draft.replace("\n#", "").split())


def test_the_zone_of_the_begin_is_that_of_the_end_too(tmp_path: Path) -> None:
    text = wide(LINKS[0], "insertion_loss", "return_loss")
    lines = "28.02.2026 17:05\nEnded;28.02.2026 17:09\nTime zone;Europe/Lisbon"
    draft = draft_of(tmp_path, text.replace("28.02.2026 17:05", lines))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.document["test"]["ended"]["rfc3339"] == "2026-02-28T17:09:00+00:00"


def test_clocks_that_name_utc_are_read_in_the_other_half_of_the_year_too(tmp_path: Path) -> None:
    text = wide(LINKS[0], "insertion_loss", "return_loss")
    winter = text.replace("28.02.2026 17:05", "28.02.2026 17:05 (UTC+1)")
    draft = draft_of(tmp_path, winter)
    assert "offsets." not in draft
    later = tmp_path / "july.csv"
    later.write_text(text.replace("28.02.2026 17:05", "28.07.2026 17:05 (UTC+2)"), encoding="utf-8")
    (record,), problems = read(later, draft)
    assert problems == []
    assert record.document["test"]["started"]["rfc3339"] == "2026-07-28T17:05:00+02:00"
