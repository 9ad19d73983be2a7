"""What a draft takes for a site or a firmware: common practice, no source."""

from pathlib import Path

import pytest

from sweepbook.draft import fields
from sweepbook.draft.assumed_fields import assumed

from .drafting import draft_of, read
from .links import link, wide

PLACES = {"Building": ["Kiln Row"], "Room": ["2.04", "2.05"]}


def told(properties: dict[str, list[str]]) -> list[tuple[str, str, bool]]:
    """Member, key, and whether it waits for a person, of what is assumed."""
    filled = fields.guess(properties, None)
    return [(one.path, one.keys[0], one.asleep) for one in assumed(properties, filled)]


@pytest.mark.parametrize(
    "key",
    [
        "Project",
        "Job",
        "/export/project/@name",
        "[Kopf]/Projekt",
        "head/@project",
        "row[c=Projet]/c[2]",
        "Auftrag",
        "[Kopf]/Anlage",
    ],
)
def test_a_project_above_buildings_and_rooms_is_taken_for_the_site(key: str) -> None:
    site = ("link.near.place.site", key, False)
    assert told({key: ["Thornmere Yard"], **PLACES}) == [site]


@pytest.mark.parametrize("key", ["Customer", "job/@client", "[Kopf]/Auftraggeber", "顧客名"])
def test_a_client_is_taken_for_the_site_where_no_project_is(key: str) -> None:
    client = {key: ["Thornmere College"], **PLACES}
    assert told(client) == [("link.near.place.site", key, False)]
    project = {**client, "Project": ["North wing"]}
    assert told(project) == [("link.near.place.site", "Project", False)]


@pytest.mark.parametrize(
    "properties",
    [
        {"Customer": ["Thornmere College"]},
        {"Customer": ["K-20114"], **PLACES},
        {"Customer order": ["Thornmere"], **PLACES},
        {"Client": ["Thornmere College"], "Site": ["Dock 4"], **PLACES},
        {"Project": ["Thornmere Yard"]},
        {"Project": ["2026-014"], **PLACES},
        {"Job": ["JOB-2026-14"], **PLACES},
        {"Auftrag": ["A-2026-14"], **PLACES},
        {"Anlage": ["3"], **PLACES},
        {"Anlage": ["Thornmere Yard"], "Standort": ["Dock 4"], **PLACES},
        {"/export/maker/@name": ["Thornmere"], **PLACES},
        {"Project no.": ["Thornmere"], **PLACES},
        {"Project": ["Thornmere Yard"], "Customer site": ["Dock 4"], **PLACES},
    ],
)
def test_any_other_project_is_none(properties: dict[str, list[str]]) -> None:
    assert told(properties) == []


@pytest.mark.parametrize("key", ["location", "job/@location", "[Angaben]/Ort", "Lugar", "場所"])
def test_a_place_that_tests_share_is_taken_for_the_site(key: str) -> None:
    labels = {"Link": ["A-1", "A-2", "A-3"]}
    site = [("link.near.place.site", key, False)]
    assert told({**labels, key: ["Thornmere Yard"]}) == site
    assert told({**labels, key: ["Thornmere Yard"], "Project": ["North wing"], **PLACES}) == site
    assert told({**labels, key: ["Dock four", "Dock five", "Mill"]}) == []
    assert told({**labels, key: ["Thornmere Yard"], "Site": ["Dock 4"]}) == []
    assert told({**labels, key: ["2.04"]}) == []


@pytest.mark.parametrize(
    ("properties", "floor"),
    [
        ({"Level": ["Ground", "Level 1"], **PLACES}, True),
        ({"place/@level": ["1", "2"], **PLACES}, True),
        ({"Level": ["Ground"]}, False),
        ({"Level": ["III", "IIIe"], **PLACES}, False),
        ({"Accuracy level": ["IV"], **PLACES}, False),
        ({"Level": ["1"], "Floor": ["2"], **PLACES}, False),
        ({"Level (dB)": ["1"], **PLACES}, False),
    ],
)
def test_a_level_is_a_floor_where_buildings_are_named(
    properties: dict[str, list[str]], floor: bool
) -> None:
    labelled = {"Link": ["A-1", "A-2"], **properties}
    paths = [path for path, _, asleep in told(labelled) if not asleep]
    assert ("link.near.place.floor" in paths) is floor


@pytest.mark.parametrize("key", ["Customer site", "Client site", "Job site"])
def test_whose_site_it_is_makes_no_other_field(key: str) -> None:
    filled = {one.path: one.keys for one in fields.guess({key: ["Dock 4"]}, None)}
    assert filled == {"link.near.place.site": (key,)}


@pytest.mark.parametrize("key", ["Software", "Oprogramowanie", "Programvara"])
def test_software_of_nothing_named_waits_for_a_person(key: str) -> None:
    assert told({key: ["1.9.4"]}) == [("test.near.instrument.firmware", key, True)]


@pytest.mark.parametrize(
    "properties",
    [
        {"Software": ["1.9.4"], "Firmware": ["2.0"]},
        {"/export/@software": ["1.9.4"]},
        {"Software": ["the usual one"]},
        {"Exportsoftware": ["1.9.4"]},
    ],
)
def test_other_software_is_no_firmware(properties: dict[str, list[str]]) -> None:
    assert told(properties) == []


def test_a_draft_says_what_it_assumes_and_what_waits(tmp_path: Path) -> None:
    text = wide(link("L-1", 35.5), "insertion_loss", "return_loss", "next")
    before, mark, behind = text.partition("Limit;")
    assert mark
    lines = "Project;Thornmere Yard\nRoom;2.04\nSoftware;1.9.4\n"
    draft = draft_of(tmp_path, f"{before}{lines}{mark}{behind}")
    head = " ".join(line.removeprefix("# ") for line in draft.partition("\n\n")[0].splitlines())
    assert "Only you can say these" in head
    assert "fields.test.near.instrument.firmware" in head
    assert '\n# test.near.instrument.firmware = "Software"\n' in draft
    assert '\nlink.near.place.site = "Project"\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.document["link"]["near"]["place"]["site"] == "Thornmere Yard"
    assert record.document["extra"]["Software"] == "1.9.4"
    woken = draft.replace("# test.near.instrument.firmware", "test.near.instrument.firmware")
    (record,), _ = read(tmp_path / "export.csv", woken)
    assert record.document["test"]["near"]["instrument"]["firmware"] == "1.9.4"
