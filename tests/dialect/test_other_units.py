"""A unit that stands in a test and is not the declared one."""

from pathlib import Path

import pytest

from sweepbook.dialect.other_units import is_note
from tests.drafts.drafting import draft_of, edited, read
from tests.drafts.links import link, lists
from tests.drafts.test_depths import report


@pytest.mark.parametrize(
    ("unit", "said"), [("0,1 dB", True), ("0.01 dB", True), ("1 dB", False), ("3.2 dB", False)]
)
def test_another_part_of_a_decibel_is_told(unit: str, said: bool, tmp_path: Path) -> None:
    text = report(link("L-7", 35.5)).replace('name="NEXT"', f'unit="{unit}" name="NEXT"')
    draft = draft_of(tmp_path, text, "export.xml")
    _, problems = read(tmp_path / "export.xml", draft)
    told = [one.message for one in problems if f"says {unit!r}" in one.message]
    assert len(told) == said
    assert all("change units.loss" in one for one in told)


def test_the_declared_part_of_a_decibel_is_not(tmp_path: Path) -> None:
    text = report(link("L-7", 35.5)).replace('name="NEXT"', 'unit="0.01 dB" name="NEXT"')
    draft = draft_of(tmp_path, text, "export.xml")
    draft = edited(draft, ("[units]", '[units]\nloss = "0.01 dB"'))
    _, problems = read(tmp_path / "export.xml", draft)
    assert not [one for one in problems if "says '0.01 dB'" in one.message]


@pytest.mark.parametrize(("unit", "said"), [("kHz", True), ("Hz", False), ("Hertz", False)])
def test_another_unit_of_frequency_beside_an_axis_is_told(
    unit: str, said: bool, tmp_path: Path
) -> None:
    """The numbers are right: whoever wrote the unit there, or the dialect, is not."""
    links = [link("L-7", 35.5), link("L-8", 80.0)]
    draft = draft_of(tmp_path, lists(links), "export.xml")
    text = lists(links).replace('<grid id="a" unit="Hz">', f'<grid id="a" unit="{unit}">')
    (tmp_path / "export.xml").write_text(text, "utf-8")
    records, problems = read(tmp_path / "export.xml", draft)
    assert len(records) == len(links)
    told = [one.message for one in problems if f"says {unit!r} where frequencies" in one.message]
    assert bool(told) == said
    notes = [record.document["resolved"].get("notes") for record in records]
    note = f"'/survey/grid/@unit' says {unit!r} where frequencies are read in Hz"
    assert notes == [[note] if said else None] * len(links)
    assert is_note(note)
    assert all("are read in Hz" in one and "[@unit=Hz]" in one for one in told)
