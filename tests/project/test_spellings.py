"""Spellings brought together by the project file: seen by whoever reads, never in the evidence."""

import hashlib
import json
import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from sweepbook.audit import document
from sweepbook.audit.context import installed
from sweepbook.audit.run import Run, case_of
from sweepbook.errors import SweepbookError
from sweepbook.limits.library import Library, UnknownLimit
from sweepbook.project.load import load
from sweepbook.project.spellings import Spellings, spellings_of
from sweepbook.schedule.model import End, Schedule, ScheduledLink
from sweepbook.schedule.one_name import respelled
from tests.program import run
from tests.rules.changes import record

HEAD = 'schema = "urn:sweepbook:project-0"\n'
LINK = "tia-568.2-d/cat6a/permanent-link"


def at(**levels: str) -> dict[str, Any]:
    return {"set": "link/near/place", "to": {"site": "Thornquay Library", **levels}}


def together(**tables: Any) -> Spellings:
    return spellings_of(tables)


def test_a_record_is_seen_by_its_one_names_and_stays_what_it_is() -> None:
    made = record(
        [at(building="Main Hse", floor="01"), {"set": "link/cable/part", "to": "WEFT 6a"}]
    )
    before = json.dumps(made.document["link"])
    spellings = together(
        places={"building": {"main  HSE": "Main House"}, "floor": {"01": "1"}},
        cables={"part": {"W6A": "Weft 6A"}},
    )
    seen = spellings.of(made)
    assert seen.document["link"]["near"]["place"]["building"] == "Main House"
    assert seen.document["link"]["near"]["place"]["floor"] == "1"
    assert seen.document["link"]["cable"]["part"] == "Weft 6A"
    assert seen.evidence is made
    assert json.dumps(made.document["link"]) == before
    assert seen.record_id == made.record_id
    assert seen.spelled is not None
    assert {(one.field, one.said, one.name) for one in seen.spelled.names} == {
        ("link.near.place.building", "Main Hse", "Main House"),
        ("link.near.place.floor", "01", "1"),
        ("link.cable.part", "WEFT 6a", "Weft 6A"),
    }
    assert spellings.of(seen) is seen
    assert spellings.of(record([at(building="Main House")])).spelled is None


def test_a_level_is_not_another_level() -> None:
    made = record([at(floor="01", panel="01")])
    place = together(places={"floor": {"01": "1"}}).of(made).document["link"]["near"]["place"]
    assert (place["floor"], place["panel"]) == ("1", "01")


ROOMS = {"floor": {"03": "3"}, "space": {"A": "TR-{floor}A"}, "panel": {"K": "{space}-K"}}


@pytest.mark.parametrize(
    ("place", "seen"),
    [
        ({"space": "a", "floor": "03"}, {"space": "TR-3A", "floor": "3"}),
        ({"floor": "1", "space": "A", "panel": "K"},
         {"floor": "1", "space": "TR-1A", "panel": "TR-1A-K"}),
        ({"space": "A"}, {"space": "A"}),
        ({"floor": "3", "space": "TR-3A"}, {"floor": "3", "space": "TR-3A"}),
        ({"floor": "3", "space": "B"}, {"floor": "3", "space": "B"}),
    ],
)  # fmt: skip
def test_the_name_of_a_room_may_hold_its_floor(place: dict[str, str], seen: dict[str, str]) -> None:
    spellings = together(places=ROOMS)
    assert spellings.place(place) == seen
    assert list(spellings.place(place)) == list(place)
    found = spellings.of(record([{"set": "link/near/place", "to": place}])).document["link"]
    assert found["near"]["place"] == seen


def test_what_stands_in_braces_is_a_wider_level(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    for level, name in (("space", "{panel}-A"), ("space", "TR-{space}"), ("site", "{floor}")):
        file.write_text(f'{HEAD}[places.{level}]\n"A" = "{name}"\n')
        with pytest.raises(SweepbookError, match="is no wider level of a place"):
            load(file)


def test_a_spelling_of_a_limit_leads_to_the_table_that_the_job_means() -> None:
    house = Library.load().calling({"house rule 6": LINK}, "project.toml")
    found = house.resolve("House  Rule 6", date(2024, 5, 1))
    assert (found.path, found.by) == (LINK, "path")
    assert found.how.startswith("project.toml takes 'House  Rule 6' for")
    with pytest.raises(UnknownLimit):
        Library.load().resolve("House Rule 6")
    with pytest.raises(UnknownLimit):
        Library.load().calling({"house rule 6": "no such limit"}, "project.toml")


def test_what_the_job_means_goes_before_what_a_dialect_makes_of_a_spelling() -> None:
    made = record(
        [{"set": "test/limit", "to": {"as_stated": "House Rule 6"}}],
        {"limit": {"path": "tia-568.2-d/cat5e/permanent-link", "how": "by the dialect"}},
    )
    plain = installed()
    assert case_of(made, plain).assessment.limit_path == "tia-568.2-d/cat5e/permanent-link"
    own = replace(plain, library=plain.library.calling({"house rule 6": LINK}, "project.toml"))
    judged = case_of(made, own).assessment
    assert judged.limit_path == LINK
    assert "project.toml takes" in judged.limit_how
    assert judged.verdict_limit == "House Rule 6"


def test_the_schedule_has_the_one_names_too() -> None:
    link = ScheduledLink(
        2, "A-1", reel="r1", near=End({"floor": "01"}), place={"building": "Main Hse"}
    )
    spellings = together(
        places={"building": {"Main Hse": "Main House"}, "floor": {"01": "1"}},
        cables={"reel": {"R1": "R-1"}},
    )
    (seen,) = respelled(Schedule("s.csv", "", (link,)), spellings).links
    assert (seen.near.place, seen.place) == ({"floor": "1"}, {"building": "Main House"})
    assert seen.reel == "R-1"


def test_two_spellings_of_one_place_are_a_conflict_until_they_are_brought_together() -> None:
    first = record([at(floor="1")])
    again = record([
        at(floor="01"),
        {"set": "test/purpose", "to": "retest"},
        {"ripple_db": 0.5, "seed": 2},
    ])  # fmt: skip

    def conflicts(spellings: Spellings) -> list[str]:
        whole = Run(installed())
        for assessed in whole.walk(map(spellings.of, (first, again))):
            assert assessed.record.label == "1A-P1-03"
        whole.close()
        return [found.rule for found in whole.findings]

    assert "SET016" in conflicts(Spellings())
    assert "SET016" not in conflicts(together(places={"floor": {"01": "1"}}))


@pytest.fixture
def book(demo_book: Path, tmp_path: Path) -> Path:
    copy = Path(shutil.copytree(demo_book, tmp_path / "book"))
    text = '[places.building]\n"main house" = "House A"\n[limits]\n"Channel Class EA" = '
    (copy / "project.toml").write_text(f'{HEAD}{text}"{LINK}"\n', encoding="utf-8")
    return copy


def test_what_was_brought_together_is_shown(book: Path, demo_book: Path, tmp_path: Path) -> None:
    audit = json.loads(run("check", book, "--json").stdout)
    assert list(document.problems(audit)) == []
    names = [
        (one["field"], one["said"], one["name"])
        for entry in audit["records"]
        for one in entry["names"]
    ]
    assert ("link.near.place.building", "Main House", "House A") in names
    tests = sum(
        any(n["field"].startswith("link.near") for n in e["names"]) for e in audit["records"]
    )
    said = " ".join(run("check", book).stdout.split())
    assert "Brought together by project.toml:" in said
    assert 'building "Main House" is "House A"' in said
    shown = " ".join(run("show", book, "1A-P1-01").stdout.split())
    assert 'taken as link.near.place.building is "House A", which the record spells "Main' in shown
    run("export", book, "--to", "xlsx", "-o", tmp_path / "w.xlsx")
    workbook = load_workbook(tmp_path / "w.xlsx")
    links = list(workbook["Links"].iter_rows(values_only=True))
    buildings = [row[links[0].index("Near building")] for row in links[1:]]
    assert buildings.count("House A") == tests
    assert "Main House" not in buildings
    spelled = list(workbook["Spellings"].iter_rows(min_row=2, max_col=3, values_only=True))
    assert ("building", "Main House", "House A") in spelled
    digests = [
        hashlib.sha256(b"".join(p.read_bytes() for p in sorted(one.glob("records/*/*")))).digest()
        for one in (book, demo_book)
    ]
    assert digests[0] == digests[1]
    assert run("doctor", book).exit_code == 0


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ('[places]\nbuilding = "x"\n', "places.building"),
        ('[places.attic]\n"a" = "b"\n', "attic, which is not known here"),
        ('[places.floor]\n"a" = "b"\n"b" = "c"\n', 'and that to "c"'),
        ('[places.floor]\n"a" = "b"\n"A" = "c"\n', "to two names"),
        ('[cables.part]\n"a" = " "\n', "cables.part"),
        ('[limits]\n"a" = 6\n', "limits"),
    ],
)
def test_tables_that_cannot_be_used_are_refused(tmp_path: Path, text: str, word: str) -> None:
    path = tmp_path / "project.toml"
    path.write_text(f"{HEAD}{text}", encoding="utf-8")
    with pytest.raises(SweepbookError) as refused:
        load(path)
    assert word in str(refused.value)


def test_a_limit_that_is_not_known_is_refused_by_its_name(book: Path) -> None:
    (book / "project.toml").write_text(f'{HEAD}[limits]\n"a" = "cat 6a loop"\n')
    refused = run("check", book)
    assert refused.exit_code == 3
    assert "project.toml, [limits]: No limit table goes by 'cat 6a loop'." in refused.stderr
