"""A unit that stands in a test and is not the declared one."""

from pathlib import Path

import pytest

from tests.drafts.drafting import draft_of, edited, read
from tests.drafts.links import link
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
