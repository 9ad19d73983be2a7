"""Layouts of text tables drawn by chance: a draft reads each as it is, and nothing is lost.

Which seeds stand here was settled by their structures, one of each at least; many more are run by
hand, see tests/by_hand/README.md.
"""

from pathlib import Path

import pytest

from tests.text_layouts.choices import draw
from tests.text_layouts.trial import run_in

SEEDS = (60, 61, 62, 63, 66, 68, 113, 118)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_draft_reads_all_of_a_layout(seed: int, tmp_path: Path) -> None:
    outcome = run_in(draw(seed), tmp_path)
    assert outcome.faults == []
    assert outcome.settled <= 1


def test_every_structure_is_among_them() -> None:
    structures = {draw(seed).structure for seed in SEEDS}
    assert len(structures) == 7
