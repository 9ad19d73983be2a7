"""Drafts of tables with a margin, or a limit, at each frequency beside each curve."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, shifted

PARAMETERS = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": " local", "far": " remote"}


def sheet(one: Link, beside: Sequence[str], *, below: str = "") -> str:
    """A row a frequency, and behind each curve columns that are no curves.

    The margins are those to a straight line at 15 dB, of no standard.
    """
    titles, columns = ["Freq"], [[shifted(khz, 3) for khz in KHZ]]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter not in PARAMETERS:
            continue
        on = "-".join(pair.replace("-", "") for pair in pairs)
        titles += [f"{on} {WORDS[parameter]}{SIDES[end]}", *beside]
        columns.append([shifted(value, 2) for value in values])
        columns += [[shifted(value - 1_500, 2) for value in values] for _ in beside]
    lines = [f"Circuit;{one.label}", "Norm;Cat 6A PL", "Tested on;28.02.2026 17:05", "Outcome;PASS"]
    lines += ["", *([below] if below else []), ";".join(titles)]
    return "\n".join([*lines, *(";".join(row) for row in zip(*columns, strict=True)), ""])


@pytest.mark.parametrize("beside", [("Margin",), ("Limit", "Margin"), ("Grenzwert", "Reserve")])
@pytest.mark.parametrize("below", ["", "Sweeps"])
def test_curves_are_drafted_and_margins_kept(
    beside: Sequence[str], below: str, tmp_path: Path
) -> None:
    one = link("W-1", 40.0)
    draft = draft_of(tmp_path, sheet(one, beside, below=below))
    assert "limits or margins at each frequency, which go to extra" in draft.replace("\n# ", " ")
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    (record,) = records
    assert curves(record.document) == written(one, *PARAMETERS)
    kept = [key for key in record.document["extra"] if key.partition(" (")[0] in beside]
    assert len(kept) == len(beside) * len(written(one, *PARAMETERS))
    assert not record.document["stated"].get("items")
