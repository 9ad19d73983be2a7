"""Single curves that were taken from another test are told, and those of sisters are not."""

import json
from pathlib import Path

import pytest

from tests.program import run

from .planting import DIALECTS, Sheet, noise

BAD = "NEXT A 3-6/4-5"
SOURCE, FAILED = Sheet.of("heron-1A-P1-01.csv"), Sheet.of("heron-1A-P1-03.csv")
MAKE = f"--dialect={DIALECTS / 'brindlewick-heron-5.toml'}"


def column(sheet: Sheet, title: str) -> list[str]:
    place = sheet.table[0].index(title)
    return [row[place] for row in sheet.table[1:]]


def told(folder: Path, *sheets: Sheet) -> list[str]:
    """What SET022 says of some exports."""
    for number, sheet in enumerate(sheets):
        sheet.save(folder, f"{number}.csv")
    audit = json.loads(run("check", folder, MAKE, "--json").output)
    return [found["message"] for found in audit["findings"] if found["rule"] == "SET022"]


def test_a_curve_of_another_link_in_place_of_the_failing_one(tmp_path: Path) -> None:
    pasted = FAILED.with_curves({BAD: column(SOURCE, BAD)})
    (message,) = told(tmp_path, SOURCE, pasted)
    assert message.startswith('suspicion: "1A-P1-03" (sb0-')
    assert '1 of the curves of "1A-P1-01"' in message
    assert "at every point," in message


@pytest.mark.parametrize("title", ["NEXT B 1-2/7-8", "RL A 4-5", "FEXT B 1-2>3-6"])
def test_a_curve_of_another_pair_or_kind(tmp_path: Path, title: str) -> None:
    pasted = FAILED.with_curves({BAD: column(SOURCE, title)})
    assert len(told(tmp_path, SOURCE, pasted)) == 1


def test_padded_digits_and_an_offset_hide_nothing(tmp_path: Path) -> None:
    moved = [
        text if text[0] == ">" else f"{float(text) + 0.7:.4f}"
        for text in column(SOURCE, "RL A 4-5")
    ]
    assert len(told(tmp_path, SOURCE, FAILED.with_curves({"RL A 4-5": moved}))) == 1


def test_the_upper_half_alone(tmp_path: Path) -> None:
    own, other = column(FAILED, BAD), column(SOURCE, BAD)
    spliced = [*own[: len(own) // 3], *other[len(own) // 3 :]]
    (message,) = told(tmp_path, SOURCE, FAILED.with_curves({BAD: spliced}))
    assert "at every point of its upper half" in message


def test_noise_of_its_own_makes_a_curve_of_its_own(tmp_path: Path) -> None:
    """What these marks cannot tell, as the reason of the rule says."""
    own = noise(3, 0.3)
    noisy = [text if text[0] == ">" else own(float(text)) for text in column(SOURCE, BAD)]
    assert told(tmp_path, SOURCE, FAILED.with_curves({BAD: noisy})) == []


def test_no_test_of_the_demo_has_a_curve_of_another(demo_book: Path) -> None:
    audit = json.loads(run("check", demo_book, "--json").output)
    assert [found for found in audit["findings"] if found["rule"] == "SET022"] == []
