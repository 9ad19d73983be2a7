"""Titles of schedules as people write them, and which column is what."""

import pytest

from sweepbook.schedule.titles import ROLES, joined, role_of, roles


@pytest.mark.parametrize(
    ("title", "role"),
    [
        ("From floor", "from floor"),
        ("TO_TERMINATION", "to termination"),
        ("End A - Patch Panel", "from panel"),
        ("Room (far end)", "to space"),
        ("Outlet side B", "to termination"),
        ("Required limit", "limit"),
        ("Drum No.", "reel"),
        ("Cable type", "cable"),
        ("Storey", "floor"),
        ("Drum ID", "reel"),
        ("Cable no.", None),
        ("Room no.", "space"),
        ("Rack number", "cabinet"),
        ("From port no", "from port"),
        ("Room A", "from space"),
        ("Port (B)", "to port"),
        ("Source room", "from space"),
        ("Destination outlet ref", "to termination"),
        ("From: Termination label", "from termination"),
        ("Test standard", "limit"),
        ("Bldg", "building"),
        ("Remarks", None),
        ("Location", None),
        ("Category", None),
        ("Termination", None),
        ("", None),
    ],
)
def test_a_title_has_a_role(title: str, role: str | None) -> None:
    assert role_of(title) == role


def test_every_role_is_told_by_its_own_name() -> None:
    for role in ROLES:
        assert role == "label" or role_of(role) == role


@pytest.mark.parametrize(
    ("titles", "label"),
    [
        (["Cable", "Label", "Limit"], 1),
        (["Cable", "Limit"], 0),
        (["No", "Cable no.", "Link type"], 1),
        (["Reference", "Circuit no."], 1),
        (["No.", "Cable ref", "Cable type"], 1),
        (["Cable name", "Link code"], 1),
        (["Circuit reference", "Room no"], 0),
    ],
)
def test_the_surest_title_is_the_label(titles: list[str], label: int) -> None:
    assert roles(titles)["label"] == label


def test_without_a_label_there_is_no_line_of_titles() -> None:
    assert roles(["Floor", "Room", "Limit"]) == {}


def test_headings_over_several_columns_are_joined_to_what_stands_below() -> None:
    groups = ["", "From", "", "To", "", ""]
    below = ["Label", "Floor", "Panel", "Floor", "Outlet", "Limit"]
    told = roles(joined(groups, below))
    assert told == {
        "label": 0, "from floor": 1, "from panel": 2, "to floor": 3, "to termination": 4,
        "limit": 5,
    }  # fmt: skip
