"""The tints can be told apart in grey and black text is legible on them."""

import math
from itertools import combinations

import pytest

from sweepbook.findings import NotRun, Severity
from sweepbook.judging.assessment import Judgement, Outcome, Recomputed
from sweepbook.retests.collect import MARGINAL
from sweepbook.schedule.standing import State
from sweepbook_plugins.xlsx.look import BAD, DOUBTFUL, GOOD, HEADER, STRONG, TINTS

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
