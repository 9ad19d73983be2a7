"""Layouts drawn by chance in languages that the others do not speak: drafts read them as well."""

from dataclasses import replace
from pathlib import Path

import pytest

from tests.text_layouts.choices import draw
from tests.text_layouts.trial import run_in


@pytest.mark.parametrize(
    ("tongue", "seed"),
    [
        *(("hu", 66), ("hu", 72), ("hu", 75), ("ko", 64), ("ko", 73), ("ko", 77)),
        *(("vi", 63), ("vi", 72), ("vi", 83), ("el", 62), ("el", 77), ("el", 83)),
    ],
)
def test_a_draft_reads_all_of_a_layout(tongue: str, seed: int, tmp_path: Path) -> None:
    """Words for no value stand among its figures and curves, which no list of words has."""
    encoding = {"hu": "cp1250", "el": "cp1253"}.get(tongue, "utf-8")
    outcome = run_in(replace(draw(seed), tongue=tongue, encoding=encoding), tmp_path)
    assert outcome.faults == []
    assert outcome.settled <= 1


@pytest.mark.parametrize("seed", [79])
def test_tabulators_part_rows_below_keys_with_colons(seed: int, tmp_path: Path) -> None:
    """Titles with numbers in them, as those of frequencies, made them look like printed columns."""
    assert run_in(draw(seed), tmp_path).faults == []
