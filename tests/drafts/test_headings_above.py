"""Headings above keys, and keys of which it is told that nothing takes them."""

from pathlib import Path

import pytest

from sweepbook.draft.key_offers import offers_of

from .drafting import draft_of
from .links import link, wide


@pytest.mark.parametrize("heading", ["[Angaben]/", "[Particulars of this test]/", ""])
@pytest.mark.parametrize(("side", "end"), [("A", "near"), ("B", "far")])
def test_a_heading_that_says_nothing_hides_no_key(heading: str, side: str, end: str) -> None:
    offers = offers_of(f"{heading}Gerät Seite {side}, Serien-Nr.", ("A", "B"))
    assert [path for path, *_ in offers] == [f"test.{end}.instrument.serial"]


def test_a_heading_that_says_what_keys_are_of_is_heard() -> None:
    offers = offers_of("[Gerät Seite B]/Serien-Nr.", ("A", "B"))
    assert {path for path, *_ in offers} == {"test.far.instrument.serial"}


def test_no_key_that_a_figure_has_is_told_to_go_to_extra(tmp_path: Path) -> None:
    more = "NEXT outcome;PASS\nRL outcome;PASS\nColour of the day;red\n\nFrequency"
    text = wide(link("L-1", 35.5), "insertion_loss", "return_loss", "next")
    draft = draft_of(tmp_path, text.replace("\nFrequency", more, 1))
    told = draft.partition("no field for these keys")[2].partition("[fields]")[0]
    assert "'Colour of the day'" in told
    assert "outcome" not in told
