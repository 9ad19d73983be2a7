"""Drafts of sheets with a line of titles above the wires, and a title in two lines above all."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, edited, read, written
from .links import KHZ, link, shifted

ONE = link("A-1", 31.0)
RAW = ("insertion_loss", "next")
FAR = ("3", "6", "1", "x", "5", "2", "7", "8")
PINS = [[str(near), None if far == "x" else far] for near, far in enumerate(FAR, 1)]
NUMBERED = [f"Pin {near}" for near in range(1, 9)]
TITLE = ("Link sheet", "Mirador desk 4, sheets with curves")


def sheet(wires: list[list[str]], title: tuple[str, ...] = TITLE) -> str:
    """What is known of a test, its wires, a table of figures with verdicts, and its curves."""
    lines = [*title, "", f"Cable;{ONE.label}", "Limit;Cat 6A PL TIA 568.2-D"]
    lines += ["Tested on;28.02.2026 17:05", "Overall;FAIL", "", *map(";".join, wires), ""]
    lines += ["Figures;Unit;12;36;45;78;Outcome", "Length;m;31,0;31,2;31,1;30,9;PASS", ""]
    lines += ["Margins;Pair;Side;Margin dB;At kHz;Outcome", "NEXT;12-36;Base;3,2;100000;PASS", ""]
    some = {key: of for key, of in ONE.curves.items() if key[0] in RAW}
    words = {"insertion_loss": "Attenuation", "next": "NEXT"}
    sides = {None: "", "near": " Base", "far": " Hand"}
    names = [
        f"{words[name]} {'-'.join(of.replace('-', '') for of in pairs)}{sides[end]}"
        for name, end, pairs in some
    ]
    lines += ["Curves", ";".join(["kHz", *names])]
    for at, khz in enumerate(KHZ):
        lines.append(";".join([str(khz), *(shifted(of[at], 2, ",") for of in some.values())]))
    return "\n".join([*lines, ""])


@pytest.mark.parametrize(
    "wires",
    [
        [["Wires", *NUMBERED, "Outcome"], ["Hand", *FAR, "FAIL"]],
        [["Wires", "Outcome", *NUMBERED], ["Hand", "FAIL", *FAR]],
        [["Wires", *"12345678", "Outcome"], ["Hand", *FAR, "FAIL"]],
        [["Wires", *NUMBERED], ["Hand", *FAR]],
    ],
    ids=["verdict behind", "verdict ahead", "bare numbers", "no verdict"],
)
def test_wires_stand_below_their_titles(wires: list[list[str]], tmp_path: Path) -> None:
    draft = draft_of(tmp_path, sheet(wires))
    assert "what these tables hold" not in draft
    (record,), problems = read(tmp_path / "export.csv", edited(draft))
    assert problems == []
    document = record.document
    assert document["results"]["wire_map"]["pins"] == PINS
    assert curves(document) == written(ONE, *RAW)
    told = {
        of["parameter"]: of["verdict"] for of in document["stated"]["items"] if not of.get("pairs")
    }
    judged = "FAIL" in wires[1]
    assert told == ({"wire_map": "fail"} if judged else {}) | {"length": "pass"}
    assert document["stated"]["overall"]["verdict"] == "fail"


def test_titles_that_several_lines_have_name_no_wire_map(tmp_path: Path) -> None:
    """A form that took the verdict below one of them would take that below the other as well."""
    wires = [["Wires", *NUMBERED, "Outcome"], ["Hand", *FAR, "FAIL"], []]
    wires += [["Link id", "Retested by", "Retest date", "Outcome"]]
    wires += [["A-1", "R. Plover", "01.03.2026", "PASS"]]
    draft = draft_of(tmp_path, sheet(wires))
    assert '\npreamble.titles = ["Wires", "Link id"]\n' in draft
    assert "\nwire_map = " not in draft


@pytest.mark.parametrize(
    ("title", "heading"),
    [
        (TITLE, ""),
        (("Link sheet", "[Mirador desk 4]"), "[Mirador desk 4]"),
        (("Link sheet", "", "Mirador desk 4"), "Mirador desk 4"),
    ],
)
def test_the_second_line_of_a_title_is_no_heading_of_all_keys(
    title: tuple[str, ...], heading: str, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, sheet([["Wires", *NUMBERED], ["Hand", *FAR]], title))
    label = f'"{heading}/Cable"' if heading else '"Cable"'
    assert f"\nlink.label = {label}\n" in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert record.document["link"]["label"] == ONE.label
    assert not heading or title[-1] not in record.document["extra"]
    assert heading or title[-1] in record.document["extra"]


def test_a_second_line_among_headings_like_it_is_one(tmp_path: Path) -> None:
    text = sheet([["Hand unit"], [], ["Serial", "H-7"], [], ["Wires", *NUMBERED], ["Hand", *FAR]])
    text = text.replace(TITLE[1], "Base unit").replace("\nCable;", "\nSerial;B-4\nCable;")
    draft = draft_of(tmp_path, text)
    assert '\ntest.near.instrument.serial = "Base unit/Serial"\n' in draft
    assert '\ntest.far.instrument.serial = "Hand unit/Serial"\n' in draft
