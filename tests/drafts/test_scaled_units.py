"""Drafts of exports that count in hundredths of a dB, centimetres and tenths of a nanosecond.

What the records must hold is known from the links, which are whole hundredths of a dB.
"""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import Link, blocks, elements, link, lists, long, wide

RAW = ("insertion_loss", "return_loss", "next", "fext")
_DECIMAL = re.compile(r"(?<![0-9.,:])(-?)([0-9]+)[.,]([0-9]{2})(?![0-9.,:])")


def counted(text: str) -> str:
    """Numbers with two decimals without their mark: whole hundredths."""
    return _DECIMAL.sub(lambda of: f"{of[1]}{int(of[2] + of[3])}", text)


def test_hundredths_are_told_by_what_is_measured(tmp_path: Path) -> None:
    one = link("007", 52.4)
    text = counted(wide(one, *RAW, "acr_f")).replace("Length [m];52,4", "Length;5240")
    draft = draft_of(tmp_path, text)
    assert '\nloss = "0.01 dB"' in draft
    assert "dB is what nothing measures; in 0.01 dB the largest return loss or crosstalk" in draft
    assert '\nlength = "cm"' in draft
    assert '\nfirst = "disturbed"\n' in draft  # worked out of FEXT and ACR-F in dB
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, *RAW, "acr_f")
    assert record.document["results"]["scalars"][0]["length_m"] == 52.4
    assert {of["decimals"] for of in record.document["results"]["sweeps"]} == {2}


@pytest.mark.parametrize("spelled", ["dB/100", "0.01 dB", "1/100 dB", "0,01 dB"])
def test_hundredths_are_told_by_the_unit_in_titles(spelled: str, tmp_path: Path) -> None:
    one = link("007", 52.4)
    lines = counted(wide(one, *RAW)).split("\n")
    at = next(at for at, line in enumerate(lines) if line.startswith("Frequency/kHz"))
    first, *names = lines[at].split(";")
    lines[at] = ";".join([first, *(f"{name} ({spelled})" for name in names)])
    draft = draft_of(tmp_path, "\n".join(lines))
    assert re.search(r"# worked out: named in the file.*\nloss = \"0.01 dB\"", draft)
    assert "({unit})" in draft
    draft = draft.replace('"TO-BE-SETTLED"', '"disturbed"', 1)
    draft = draft.replace('"TO-BE-SETTLED"', '"receiving"', 1)
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, *RAW)


def test_points_in_hundredths(tmp_path: Path) -> None:
    some = [link("1", 52.4), link("2", 33.0)]
    draft = draft_of(tmp_path, counted(long(some, lambda _, end: end)))
    draft = draft.replace('"TO-BE-SETTLED"', '"disturbing"', 1)
    draft = draft.replace('"TO-BE-SETTLED"', '"receiving"', 1)
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [curves(of.document) for of in records] == [written(of, *RAW) for of in some]


@pytest.mark.parametrize("make", [lists, lambda links: elements(links[0])])
def test_xml_in_hundredths(make: Callable[[list[Link]], str], tmp_path: Path) -> None:
    text = counted(make([link("1", 52.4)]))
    draft = draft_of(tmp_path, text, "export.xml")
    assert '\nloss = "0.01 dB"' in draft


def test_insertion_loss_alone_does_not_say_which_part_is_counted(tmp_path: Path) -> None:
    """500 may be 5 dB in hundredths, or 50 in tenths: nobody but a person can tell."""
    draft = draft_of(tmp_path, counted(wide(link("1", 60.0), "insertion_loss")))
    assert '\nloss = "TO-BE-SETTLED"' in draft
    assert "COULD NOT TELL" in draft.partition('\nloss = "TO-BE-SETTLED"')[0].rpartition("\n\n")[2]


def test_tenths_of_a_nanosecond_and_decibels_as_ever(tmp_path: Path) -> None:
    one = link("007", 52.4)
    text = wide(one, *RAW).replace(
        "Length [m];52,4", "Length [mm];52400\nDelay 12;2568\nDelay 36;2570"
    )
    draft = draft_of(tmp_path, text)
    assert '\ndelay = "0.1 ns"' in draft
    assert '\nlength = "mm"' in draft
    assert "\nloss = " not in draft


def test_sections_in_hundredths(tmp_path: Path) -> None:
    some = [link("1", 52.4), link("2", 33.0)]
    draft = draft_of(tmp_path, counted(blocks(some)))
    assert '\nloss = "0.01 dB"' in draft
