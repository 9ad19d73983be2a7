"""Drafts of exports that join the colours of two pairs by a word of some language."""

import re
from pathlib import Path

import pytest

from sweepbook.draft.naming import settle

from .curve_rows import in_titles
from .drafting import curves, draft_of, edited, read, written
from .links import Link, link
from .xml_tables import by_parameter

RAW = ("insertion_loss", "return_loss", "next", "fext")
ENGLISH = ("Orange", "Green", "Blue", "Brown")
TONGUES = {
    "German": (("Orange", "Grün", "Blau", "Braun"), ("Und", "Zu")),
    "Spanish": (("Naranja", "Verde", "Azul", "Marrón"), ("Y", "A")),
    "French": (("Orange", "Vert", "Bleu", "Brun"), ("Et", "À")),
    "Italian": (("Arancio", "Verde", "Blu", "Marrone"), ("Con", "Su")),
    "English": (ENGLISH, ("And", "To")),
    "English in capitals": (tuple(map(str.upper, ENGLISH)), ("And", "To")),
}
"""Colours of 1-2, 3-6, 4-5 and 7-8 under T568B (ANSI/TIA-568.2-D, recalled), and two joints."""


@pytest.mark.parametrize("tongue", TONGUES)
def test_colours_are_parted_by_great_letters(tongue: str) -> None:
    colours, joints = TONGUES[tongue]
    pairs = dict(zip(colours, ("1-2", "3-6", "4-5", "7-8"), strict=True))
    naming = settle(colours)
    for joint in joints:
        for one in colours:
            for other in colours:
                if one != other:
                    part = naming.parse(f"{one}{joint}{other}")
                    assert [pair for _, pair in part.pairs] == [pairs[one], pairs[other]]
                    assert (part.between, part.template) == (joint, "{pairs}")


@pytest.mark.parametrize("text", ["Evergreen", "bluetooth", "Brownfield", "greenandblue", "Blues"])
def test_a_colour_within_a_word_is_no_pair(text: str) -> None:
    assert not settle(ENGLISH).parse(text).pairs


DANISH = {"12": "orange", "36": "grøn", "45": "blå", "78": "brun"}


@pytest.mark.parametrize("joint", [" og ", " et ", " y ", " e ", " i ", " a ", " und ", " és "])
def test_a_word_for_and_is_neither_a_colour_nor_an_end(joint: str) -> None:
    naming = settle([*DANISH.values(), "A", "B"])
    part = naming.parse(f"grøn{joint}orange B")
    assert [pair for _, pair in part.pairs] == ["3-6", "1-2"]
    assert (part.between, part.template) == (joint, "{pairs} {end}")


@pytest.mark.parametrize("text", ["OG-GN", "og/gn", "BN OG"])
def test_a_short_orange_is_a_colour_elsewhere(text: str) -> None:
    part = settle(["OG", "GN", "BU", "BN"]).parse(text)
    assert "1-2" in [pair for _, pair in part.pairs]


def test_rows_of_colours_joined_by_a_word_that_is_short_for_one(tmp_path: Path) -> None:
    one = link("L9", 47.0)
    text = re.sub(r";(\d\d)-(\d\d);", r";\1 og \2;", in_titles([one], *RAW[:3]))
    text = re.sub(r"(?<=[; ])(12|36|45|78)(?=(?: og \d\d)?;\w*;)", lambda of: DANISH[of[0]], text)
    draft = draft_of(tmp_path, text, "export.csv")
    assert '\nbetween = " og "\n' in draft
    (record,), problems = read(tmp_path / "export.csv", edited(draft))
    assert problems == []
    assert curves(record.document) == written(one, *RAW[:3])


def joined(links: list[Link]) -> str:
    """A table a parameter and end, an element a column called GreenAndBlue or GreenToBlue."""
    text = by_parameter(links, told_by_attribute=False)
    before, mark, behind = text.partition('<sweep of="FEXT"')
    for pins, colour in zip(("12", "36", "45", "78"), ENGLISH, strict=True):
        for part in ("<p{}", "</p{}", "-{}>"):
            old, new = part.format(pins), part.replace("p", "").format(colour)
            before, behind = before.replace(old, new), behind.replace(old, new)
    return before.replace("-", "And") + mark + behind.replace("-", "To")


def test_columns_of_joined_colours(tmp_path: Path) -> None:
    one = link("L9", 47.0)
    draft = draft_of(tmp_path, joined([one]), "export.xml")
    assert '\nbetween = ["And", "To"]\n' in draft
    assert "ASSUMED: 'To' leads from the disturbing pair on" in draft
    assert '\nfirst = "disturbing"\n' in draft
    (record,), problems = read(tmp_path / "export.xml", edited(draft))
    assert problems == []
    assert curves(record.document) == written(one, *RAW)
