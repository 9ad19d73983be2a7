"""Drafts of exports that part groups of three digits: such numbers are known as frequencies."""

import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.draft.document import quoted
from sweepbook.draft.numbers import values_of

from .curve_rows import in_a_line, in_cells, in_each_test, in_sections, in_titles, side_by_side
from .drafting import curves, draft_of, read, written
from .links import Link, link, wide

RAW = ("insertion_loss", "return_loss", "next")
MARKS = {
    "no-break space": "\u00a0",
    "narrow no-break space": "\u202f",
    "thin space": "\u2009",
    "apostrophe": "'",
    "raised comma": "\u2019",
    "full stop": ".",
}


def grouped(text: str, mark: str, unit: str = "") -> str:
    """Whole numbers of four digits and more in groups of three, with a decimal comma and a unit."""

    def written_so(of: re.Match[str]) -> str:
        return f"{int(of[0].replace(',', '')):,}".replace(",", mark) + f",0{unit}"

    return re.sub(r"(?m)(?:(?<=[;|])|^)[0-9]{4,}(?=[;|\n])", written_so, text)


def in_titles_khz(links: list[Link], *parameters: str) -> str:
    """The frequencies are titles, as whole kHz with no unit behind."""
    text = in_titles(links, *parameters)
    return re.sub(r"([0-9]+),([0-9]{3}) MHz", lambda of: str(int(of[1] + of[2])), text)


@pytest.mark.parametrize(
    ("mark", "unit"),
    [*((mark, "") for mark in MARKS.values()), ("\u00a0", "\u00a0kHz"), ("\u2019", " kHz")],
    ids=[*MARKS, "no-break space, unit", "raised comma, unit"],
)
def test_titles_in_groups_of_three_are_frequencies(mark: str, unit: str, tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    draft = draft_of(tmp_path, grouped(in_titles_khz(links, *RAW), mark, unit))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-1", "A-2"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


@pytest.mark.parametrize(
    "write", [in_a_line, in_each_test, in_cells, in_sections, side_by_side, wide]
)
def test_axes_in_groups_of_three_need_no_change(write: Callable[..., str], tmp_path: Path) -> None:
    links = [link("A-1", 31.0)] if write is wide else [link("A-1", 31.0), link("A-2", 88.5)]
    text = grouped(write(links[0] if write is wide else links, *RAW), "\u00a0")
    assert "\u00a0" in text
    records, problems = read(tmp_path / "export.csv", draft_of(tmp_path, text))
    assert problems == []
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


@pytest.mark.parametrize(
    ("texts", "meant"),
    [
        (["1\u00a0000,0", "12\u202f500,5"], None),  # two marks in one list
        (["1\u202f000,5", "12\u202f500,5"], [1000.5, 12500.5]),
        (["999.5", "1,000.5"], [999.5, 1000.5]),
        (["999,5", "1.000,5"], [999.5, 1000.5]),
        (["1.000", "31.250"], [1.0, 31.25]),
        (["0,500", "1,000"], [0.5, 1.0]),
        (["1 00,0", "2,0"], None),
        (["1.5", "n.m."], None),
    ],
)
def test_numbers_are_read_by_the_marks_they_show_together(
    texts: list[str], meant: list[float] | None
) -> None:
    assert values_of(texts) == meant


def test_a_unit_named_in_a_title_is_not_overruled_by_a_guess_by_size(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, wide(link("1", 60.0), *RAW).replace("/kHz", " (Hz)"))
    # 500,000 Hz is where no sweep ends, and 500,000 kHz is the end of a class.
    assert '\nfrequency = "TO-BE-SETTLED"' in draft
    assert "COULD NOT TELL: 'Hz' is named beside frequencies, while the highest" in draft
    odd = wide(link("1", 60.0), *RAW).replace("/kHz", " (Hz)")
    odd = "\n".join(line for line in odd.split("\n") if not line.startswith("500000;"))
    draft = draft_of(tmp_path, odd)
    assert '\nfrequency = "Hz"' in draft
    above = draft[: draft.index('\nfrequency = "Hz"')]
    assert "COULD NOT TELL: the highest frequency is 340449, at which no sweep ends" in above


def test_a_highest_frequency_at_which_no_class_ends_is_an_assumption(tmp_path: Path) -> None:
    text = wide(link("1", 60.0), *RAW).replace("/kHz", "")
    text = "\n".join(line for line in text.split("\n") if not line.startswith("500000;"))
    assert "ASSUMED: the highest frequency is 340449" in draft_of(tmp_path, text)


def test_cells_that_say_what_a_unit_is_name_no_others(tmp_path: Path) -> None:
    units = "Units;frequency : kHz;level : dB;distance : m;time : ns;resistance : ohm"
    text = wide(link("1", 60.0), *RAW).replace("Umbel 2 wide report", f"Umbel 2\n{units}")
    draft = draft_of(tmp_path, text)
    assert "preamble.names" not in draft
    assert "# worked out: the file says so; the highest frequency is 500000" in draft


@pytest.mark.parametrize("mark", ["\u00a0", "\u202f", "\u2009"])
def test_blanks_that_look_alike_are_spelled_out(mark: str) -> None:
    text = f'1{mark}000 "of" 2 000\n'
    assert mark not in quoted(text)
    assert tomllib.loads(f"a = {quoted(text)}") == {"a": text}
