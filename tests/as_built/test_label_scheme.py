"""What labels say of ends, in the database: whose word it is, what differs, what does not fit."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sweepbook.schedule.label_scheme import LabelScheme, parse
from sweepbook.schedule.model import End, Schedule, ScheduledLink
from sweepbook_plugins.asbuilt import database as asbuilt

from .made_up import ask, assessed, delivery, dump, record

CONTENT = """schema = "urn:sweepbook:label-scheme-0"
name = "ours"
[[labels]]
template = "{from_floor:digits}{wing}-{from_panel}-{from_port}"
[labels.ends]
from_space = "TR-{from_floor}{wing}"
to_building = "Hall"
"""
SCHEME = parse(CONTENT, "labels.toml")
SCHEDULE = Schedule(
    "plan.csv",
    "0" * 64,
    (
        ScheduledLink(2, "2A-P1-07", near=End({"site": "Quay", "space": "TR-2A"}, "K2-07")),
        ScheduledLink(3, "2A-P1-08"),
        ScheduledLink(4, "riser 3"),
    ),
)


def _write(
    target: Path, *tests: Any, schedule: Schedule | None = None, scheme: LabelScheme | None = SCHEME
) -> Path:
    asbuilt.write(replace(delivery(tests), schedule=schedule, scheme=scheme), target)
    return target


def _ends(database: Path, end: str = "near") -> list[tuple[Any, ...]]:
    return ask(
        database,
        "SELECT label, said_by, site, building, floor, space, panel, port, termination "
        "FROM link_end WHERE at_end = ? AND link_id IS NOT NULL ORDER BY label",
        end,
    )


def test_ends_that_only_the_label_tells_are_marked_so(tmp_path: Path) -> None:
    target = _write(tmp_path / "a.sqlite", assessed(record("2A-P1-07")))
    assert _ends(target) == [
        ("2A-P1-07", "label scheme", None, None, "2", "TR-2A", "P1", "07", None)
    ]
    assert _ends(target, "far") == [
        ("2A-P1-07", "label scheme", None, "Hall", None, None, None, None, None)
    ]
    assert ask(target, "SELECT COUNT(*) FROM end_conflicts") == [(0,)]


def test_the_label_adds_to_schedule_and_record_and_overwrites_nothing(tmp_path: Path) -> None:
    near = {"place": {"floor": "2", "cabinet": "K2"}}
    target = _write(
        tmp_path / "a.sqlite", assessed(record("2A-P1-07", near=near)), schedule=SCHEDULE
    )
    everybody = "schedule, record and label scheme"
    assert _ends(target) == [
        ("2A-P1-07", everybody, "Quay", None, "2", "TR-2A", "P1", "07", "K2-07")
    ]


@pytest.mark.parametrize("by", ["record", "schedule"])
def test_a_contradiction_is_listed_and_not_mixed_in(tmp_path: Path, by: str) -> None:
    place = {"floor": "3", "cabinet": "K3"}
    links = (ScheduledLink(2, "2A-P1-07", near=End(place)),)
    test = record("2A-P1-07", near={"place": place} if by == "record" else None)
    schedule = replace(SCHEDULE, links=links) if by == "schedule" else None
    target = _write(tmp_path / "a.sqlite", assessed(test), schedule=schedule)
    assert _ends(target) == [("2A-P1-07", by, None, None, "3", None, None, None, None)]
    told = ask(target, "SELECT label, at_end, differs_in, said_by, place, other_said_by, "
               "other_place FROM end_conflicts")  # fmt: skip
    assert told == [
        ("2A-P1-07", "near", "floor", by, "3 / K3", "label scheme", "2 / TR-2A / P1 / 07")
    ]


def test_labels_that_do_not_fit_are_listed_and_give_no_end(tmp_path: Path) -> None:
    target = _write(tmp_path / "a.sqlite", assessed(record("2A/P1")), schedule=SCHEDULE)
    told = ask(target, "SELECT label, reason FROM label_misfit ORDER BY label")
    assert [label for label, _ in told] == ["2A/P1", "riser 3"]
    assert "at character 3 stands '/P1', expected is '-'" in told[0][1]
    assert _ends(target) == [("2A/P1", *[None] * 8)]


def test_untested_links_are_sorted_by_their_labels(tmp_path: Path) -> None:
    target = _write(tmp_path / "a.sqlite", assessed(record("2A-P1-07")), schedule=SCHEDULE)
    told = ask(target, "SELECT label, space, panel FROM open_items WHERE floor = '2'")
    assert told == [("2A-P1-08", "TR-2A", "P1")]


def test_twice_is_the_same_and_the_last_scheme_counts_on(tmp_path: Path) -> None:
    target = _write(tmp_path / "a.sqlite", assessed(record("2A-P1-07")), schedule=SCHEDULE)
    before = dump(target)
    assert dump(_write(target, assessed(record("2A-P1-07")), schedule=SCHEDULE)) == before
    assert dump(_write(target, assessed(record("2A-P1-07")), scheme=None)) == before
    _write(target, assessed(record("3B-P2-01")), scheme=None)
    assert [row[:2] for row in _ends(target)] == [
        ("2A-P1-07", "schedule and label scheme"),
        ("3B-P2-01", "label scheme"),
    ]


def test_another_scheme_takes_the_place_of_the_first(tmp_path: Path) -> None:
    target = _write(tmp_path / "a.sqlite", assessed(record("2A-P1-07")))
    other = parse(CONTENT.replace("TR-", "Room ").replace("ours", "theirs"), "labels.toml")
    _write(target, assessed(record("2A-P1-07")), scheme=other)
    assert [row[5] for row in _ends(target)] == ["Room 2A"]
    assert ask(target, "SELECT name, sha256 FROM label_scheme") == [("theirs", other.sha256)]
    assert ask(target, "SELECT COUNT(*) FROM end_conflicts") == [(0,)]
