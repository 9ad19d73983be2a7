"""Crosstalk that is called a ratio: to what the disturbed pair passes on, and not to the signal.

ISO/IEC 11801-1:2017 calls ACR-N and ACR-F attenuation to crosstalk ratio at the near and at the far
end (recalled).
"""

import pytest

from sweepbook.draft.phrases import parameter_in


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("farEndCrosstalkRatio", "acr_f"),
        ("Far-end crosstalk ratio (dB)", "acr_f"),
        ("near end crosstalk ratio", "acr_n"),
        ("powerSumFarEndCrosstalkRatio", "psacr_f"),
        ("PS NEXT ratio", "psacr_n"),
        ("attenuation to crosstalk ratio, far end", "acr_f"),
        ("farEndCrosstalk", "fext"),
        ("Ratio of pair 1: FEXT", "fext"),
        ("FEXT, ratios aside", "fext"),
        ("NEXT rationale", "next"),
    ],
)
def test_a_ratio_of_crosstalk_is_no_crosstalk(text: str, meaning: str) -> None:
    found = parameter_in(text)
    assert found is not None
    assert found.meaning == meaning


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("soma de potências da relação atenuação-paradiafonia", "psacr_n"),
        ("Suma de potencias de la paradiafonía", "psnext"),
        ("Somme des puissances de la paradiaphonie", "psnext"),
        ("power sum of the NEXT", "psnext"),
        ("sum total, NEXT", "next"),
    ],
)
def test_small_words_may_stand_between_a_sum_and_its_parts(text: str, meaning: str) -> None:
    """As languages say it that have an article there: common practice, no source."""
    found = parameter_in(text)
    assert found is not None
    assert found.meaning == meaning
