"""Drafts of XML whose rooms hold several tests, and in which one word says more than one thing."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("R1-01", 35.5), link("R1-02", 50.0), link("R2-01", 80.0), link("R2-02", 20.0)]
NAMES = {"insertion_loss": "insertion loss", "next": "NEXT", "return_loss": "return loss"}


def rooms() -> str:
    """Two rooms with two tests each; every curve is an element called attenuation."""
    lines = ["<works>", '<site name="Mill Lane">']
    for room in (LINKS[:2], LINKS[2:]):
        lines.append(f'<room name="{room[0].label[:2]}">')
        for one in room:
            lines += run_of(one)
        lines.append("</room>")
    return "\n".join([*lines, "</site>", "</works>"])


def run_of(one: Link) -> list[str]:
    """The lines of a test: its wire map passes, whatever becomes of it in all."""
    outcome = "good" if one.label.endswith("1") else "bad"
    lines = ["<run>", f"<label>{one.label}</label>", "<limit>TIA-568.2-D Cat 6A PL</limit>"]
    lines += ["<wiremap><result>good</result></wiremap>", f"<result>{outcome}</result>"]
    lines += ["<started>2026-02-28T17:05:09Z</started>", "<figures>", "<length>good</length>"]
    lines += ['<delay unit="ns" pair="1,2">170</delay>', '<delay unit="ns" pair="3,6">172</delay>']
    lines += [
        '<margin of="return loss" pair="1,2" end="near" frequencyUnit="kHz" frequency="4000" '
        'unit="dB">3.5</margin>',
        "</figures>",
    ]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in NAMES:
            dash = [pair.replace("-", ",") for pair in pairs]
            pair = f'pair1="{dash[0]}" pair2="{dash[-1]}"' if len(dash) > 1 else f'pair="{dash[0]}"'
            side = f' end="{end}"' if end else ""
            lines += [f'<curve of="{NAMES[parameter]}" {pair}{side}>']
            lines += [f'<frequency unit="kHz">{" ".join(map(str, KHZ))}</frequency>']
            shown = " ".join(shifted(value, 2) for value in values)
            lines += [f'<attenuation unit="dB">{shown}</attenuation>', "</curve>"]
    return [*lines, "</run>"]


@pytest.fixture
def draft(tmp_path: Path) -> str:
    return draft_of(tmp_path, rooms(), "export.xml")


def test_tests_are_what_says_what_a_test_says_and_not_the_room_around_them(
    draft: str, tmp_path: Path
) -> None:
    records, problems = read(tmp_path / "export.xml", draft)
    assert not [one for one in problems if one.lost_record]
    assert [record.label for record in records] == [one.label for one in LINKS]
    for record, one in zip(records, LINKS, strict=True):
        assert curves(record.document) == written(one, *NAMES)


def test_the_verdict_of_the_wire_map_is_not_that_of_all(draft: str, tmp_path: Path) -> None:
    records, _ = read(tmp_path / "export.xml", draft)
    stated = [record.document["stated"]["overall"]["verdict"] for record in records]
    assert stated == ["pass", "fail", "pass", "fail"]


def test_a_unit_is_no_frequency_and_a_word_is_no_figure_where_others_like_it_are(
    draft: str, tmp_path: Path
) -> None:
    assert 'worst_margin.frequency = "@frequency"' in draft
    (record, *_), _ = read(tmp_path / "export.xml", draft)
    document = record.document
    wires, margin = document["stated"]["items"]
    assert (wires["parameter"], wires["verdict"]) == ("wire_map", "pass")
    assert (margin["parameter"], margin["worst_margin"]["margin_db"]) == ("return_loss", 3.5)
    assert margin["worst_margin"]["frequency_mhz"] == 4.0
    delays = {tuple(one["pairs"]): one["delay_ns"] for one in document["results"]["scalars"]}
    assert delays == {("1-2",): 170.0, ("3-6",): 172.0}
    assert document["extra"]["figures/length"] == "good"
