"""What a person sees: tints told apart in grey, black text legible on them, print large enough."""

import math
from itertools import combinations
from pathlib import Path

import pytest

from sweepbook.findings import NotRun, Severity
from sweepbook.judging.assessment import Judgement, Outcome, Recomputed
from sweepbook.retests.collect import MARGINAL
from sweepbook.schedule.standing import State
from sweepbook_plugins.xlsx.filling import LAYOUTS
from sweepbook_plugins.xlsx.layout import Layout, title_lines
from sweepbook_plugins.xlsx.look import BAD, DOUBTFUL, FONT, GOOD, HEADER, STRONG, TINTS

from .making import assessment, written

SIZE = 9
"""Points of the letters of every cell."""
NEUTRAL = {"unstated", "not evaluated", "note"}


def luminance(colour: str) -> float:
    """Relative luminance 0 to 1 of #RRGGBB: WCAG 2.1, definition "relative luminance"."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else math.pow((c + 0.055) / 1.055, 2.4) for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def lightness(colour: str) -> float:
    """CIE L*, 0 to 100, white 100: CIE 15, 116 * (Y/Yn)^(1/3) - 16 above Y/Yn = 0.008856."""
    return 116 * math.cbrt(luminance(colour)) - 16


@pytest.mark.parametrize("tint", [GOOD, DOUBTFUL, BAD, HEADER["bg_color"]])
def test_black_text_is_legible(tint: str) -> None:
    """WCAG 2.1, success criterion 1.4.6: a contrast of 7 to 1 at least."""
    assert (luminance(tint) + 0.05) / 0.05 >= 7


def test_the_tints_differ_in_grey() -> None:
    """Ten units of L* are a clear step beside each other: common practice, no source."""
    for one, two in combinations((GOOD, DOUBTFUL, BAD), 2):
        assert abs(lightness(one) - lightness(two)) >= 10


def test_every_word_of_a_judgement_has_a_tint_or_is_neutral() -> None:
    kinds = (Judgement, Recomputed, Outcome, Severity, NotRun, State)
    words = {word.value for kind in kinds for word in kind} | {MARGINAL}
    assert set(TINTS) | NEUTRAL == words
    assert not set(TINTS) & NEUTRAL


def test_bad_news_is_bold_besides() -> None:
    judged = {"fail", "overturned", "error", "crashed"}
    assert judged | {"failed", "untested", "verdict overturned"} == STRONG


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.name)
def test_what_is_printed_can_be_read_on_a4(layout: Layout) -> None:
    """Letters of 7 points at least: common practice, no source.

    A column of n digits of the default face is n * 7 + 5 pixels wide at 96 to the inch (XlsxWriter,
    "Worksheet: set_column"); paper() leaves 0.4 inches at either side.
    """
    assert FONT["font_size"] == SIZE
    printed = layout.columns[: layout.printed or len(layout.columns)]
    taken = sum(int(column.width * 7 + 5) for column in printed) / 96
    assert SIZE * min(1.0, (297 / 25.4 - 0.8) / taken) >= 7


def test_an_empty_sheet_prints_no_page(tmp_path: Path) -> None:
    for margins, state in (("none", "hidden"), ("worst", "visible")):
        book = written(tmp_path / f"{margins}.xlsx", [assessment()], asked={"margins": margins})
        assert book["Margins"].sheet_state == state
        assert book["Links"].sheet_state == "visible"
        assert book["Corrections"].sheet_state == "hidden", "nothing was corrected"
        for sheet in book:
            assert sheet.sheet_state == "visible" or not sheet.print_area, "else some print it"


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.name)
def test_no_column_off_paper_makes_the_titles_on_it_taller(layout: Layout) -> None:
    """The row of titles is as high as the longest asks for, printed or not."""
    printed = layout.columns[: layout.printed or len(layout.columns)]
    assert max(map(title_lines, layout.columns)) == max(map(title_lines, printed))
