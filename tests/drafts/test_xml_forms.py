"""Drafts for XML whose curves have some texts each, axes by reference, and units by their role."""

from pathlib import Path

import pytest

from sweepbook.record.model import frequency_mhz

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next", "fext")


def archive(links: list[Link], word: str = "Pair") -> str:
    """Units and axes once for all; elements that name a curve, one pair or two of other names."""
    units = "".join(
        f"<Unit Id='u{number}'><Serial>S-{number}7</Serial><Role>{role}</Role></Unit>"
        for number, role in enumerate(("Main", "Remote"), 1)
    )
    axes = [" ".join(f"{khz}000" for khz in some) for some in (KHZ, KHZ[:9])]
    listed = "".join(f"<Axis Id='x{n}' Unit='Hz'>{text}</Axis>" for n, text in enumerate(axes, 1))
    lines = [f"<Archive><Units>{units}</Units><Axes>{listed}</Axes>"]
    for one in links:
        lines.append(f"<Result><Label>{one.label}</Label><Outcome>Pass</Outcome>")
        for (parameter, end, pairs), values in one.curves.items():
            if parameter not in WORDS:
                continue
            names = ("Pair",) if len(pairs) == 1 else ("Disturber", "Disturbed")
            called = (f"{word}{pair.replace('-', '')}" for pair in pairs)
            told = "".join(f"<{of}>{text}</{of}>" for of, text in zip(names, called, strict=True))
            told += {None: "<End/>", "near": "<End>Local</End>", "far": "<End>Remote</End>"}[end]
            text = " ".join(shifted(value, 2) for value in values)
            head = f"<Series><Quantity>{WORDS[parameter]}</Quantity>{told}<AxisRef>x1</AxisRef>"
            lines.append(f"{head}<Values>{text}</Values></Series>")
        lines.append("</Result>")
    return "\n".join([*lines, "</Archive>\n"])


@pytest.mark.parametrize("word", ["Pair", ""])
def test_texts_that_no_curve_has_together_are_two_forms(word: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, archive(LINKS, word), "export.xml")
    assert draft.count("[[xml.curves]]") == 2
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


def test_units_are_told_by_their_role(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, archive(LINKS), "export.xml")
    assert "Unit[Role=Main]/Role" not in draft
    records, _ = read(tmp_path / "export.xml", draft)
    for record in records:
        units = [record.document["test"][end]["instrument"] for end in ("near", "far")]
        assert [of["serial"] for of in units] == ["S-17", "S-27"]


def test_two_units_of_one_role_are_not_told_by_it(tmp_path: Path) -> None:
    text = archive(LINKS).replace("<Role>Remote</Role>", "<Role>Main</Role>")
    draft = draft_of(tmp_path, text, "export.xml")
    assert "Role=Main" not in draft
    assert ".serial" not in draft


def test_the_name_of_a_test_is_none_of_the_frequencies_in_it(tmp_path: Path) -> None:
    """The steps stand in the test itself, whose name no curve refers to."""
    lines = ["<survey>"]
    for label, first in (("W-1", 100), ("W-2", 140)):
        lines.append(f'<link name="{label}" limit="TIA-568.2-D Cat 6A PL" verdict="PASS">')
        lines.append('<raster from="1" step="1" to="40"/>')
        for number, pair in enumerate(("1-2", "3-6", "4-5", "7-8")):
            values = " ".join(f"{(first + number + 7 * at) / 100:.2f}" for at in range(40))
            lines.append(f'<trace of="IL" pairs="{pair}">{values}</trace>')
        lines.append("</link>")
    draft = draft_of(tmp_path, "\n".join([*lines, "</survey>", ""]), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["W-1", "W-2"]
    for record, first in zip(records, (100, 140), strict=True):
        sweep = record.document["results"]["sweeps"][0]
        assert [float(f"{value:.2f}") for value in sweep["value_db"]][:2] == [
            first / 100,
            (first + 7) / 100,
        ]
        assert [*map(float, frequency_mhz(record.document, sweep["grid"]))] == [*range(1, 41)]


@pytest.mark.parametrize("mark", [";", "|", ",", "/", "~", "_", "#", "^", " | ", " "])
def test_lists_in_attributes_may_be_parted_by_any_usual_mark(mark: str, tmp_path: Path) -> None:
    """Axes by reference, one with every second frequency; a mark of text tables makes none."""
    one = link("K-5", 64.0)
    lines = ['<?xml version="1.0"?>', f'<Record link="{one.label}" norm="TIA-568.2-D Cat 6A PL">']
    for name, some in (("all", KHZ), ("half", KHZ[::2])):
        lines.append(f'<Steps id="{name}" unit="kHz">{mark.join(map(str, some))}</Steps>')
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in RAW[:3]:
            side = {None: "", "near": ' end="local"', "far": ' end="remote"'}[end]
            told = f'of="{WORDS[parameter]}" pair="{"+".join(pairs)}"{side}'
            listed = mark.join(shifted(value, 2) for value in values)
            lines.append(f'<Line {told} by="all" dB="{listed}"/>')
    draft = draft_of(tmp_path, "\n".join([*lines, "</Record>", ""]), "export.xml")
    assert draft.count(f'\nseparator = "{mark.strip()}"\n') == (2 if mark.strip() else 0)
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(one, *RAW[:3])
