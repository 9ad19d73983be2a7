"""Drafts of worst margins whose two pairs stand in two keys, and whose end stands in a third."""

from pathlib import Path

import pytest

from .drafting import draft_of, edited, read
from .links import blocks, link

SAID = """\
Return loss worst margin (dB)\t4.1
Return loss measured at\tside B
Return loss pair\tgreen
NEXT worst margin (dB)\t2.5
NEXT measured at\tside A
NEXT pair\torange
NEXT disturbing pair\tblue
ACR-F worst margin (dB)\t-
ACR-F measured at\t-
ACR-F pair\t-
ACR-F disturbing pair\t-
"""


@pytest.mark.parametrize("lacking", ["-", "not tested"])
def test_both_pairs_and_the_end_are_found(lacking: str, tmp_path: Path) -> None:
    text = blocks([link("L-1", 35.5)])
    text = text.replace("Pairs\n", SAID.replace("\t-", f"\t{lacking}") + "Pairs\n", 1)
    draft = draft_of(tmp_path, text)
    assert 'worst_margin.second_pair = "{parameter} disturbing pair"' in draft
    assert "no field for these keys" not in draft
    chosen = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbed"'))
    (record,), problems = read(tmp_path / "export.csv", chosen)
    assert problems == []
    items = [one for one in record.document["stated"]["items"] if "worst_margin" in one]
    assert [(one["parameter"], one["end"], one["pairs"]) for one in items] == [
        ("return_loss", "far", ["3-6"]),
        ("next", "near", ["4-5", "1-2"]),
    ]
