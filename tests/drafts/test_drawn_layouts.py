"""Drafts for layouts of XML exports that were drawn at random: nothing is wrong, nothing lacks.

Each seed is another language, form of curves and place of results. Many more are tried by hand:
`python -m tests.layouts.tally`.
"""

from pathlib import Path

import pytest

from tests.layouts import tally

from .drafting import LIBRARY


@pytest.mark.parametrize("seed", [6002, 6011, 6020, 6041, 6054])
def test_a_draft_reads_what_was_written(tmp_path: Path, seed: int) -> None:
    trial = tally.trial(seed, tmp_path, LIBRARY)
    assert trial.faults == []
    assert trial.outcome.documents
    no_zone = trial.layout.date == "local no zone"
    assert ("dates.zone" in trial.outcome.told) == no_zone
