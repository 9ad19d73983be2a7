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


@pytest.mark.parametrize(
    ("first", "second", "pairs"),
    [
        ("pair", "disturbing pair", ["4-5", "1-2"]),
        ("disturbed pair", "disturbing pair", ["4-5", "1-2"]),
        ("disturbing pair", "disturbed pair", ["1-2", "4-5"]),
    ],
)
def test_the_words_of_the_keys_tell_which_pair_disturbs(
    first: str, second: str, pairs: list[str], tmp_path: Path
) -> None:
    """In the names of the curves an arrow leads from the disturbing pair on."""
    said = f"""\
ACR-F worst margin (dB)\t2.5
ACR-F measured at\tside A
ACR-F {first}\torange
ACR-F {second}\tblue
"""
    text = blocks([link("L-1", 35.5)]).replace("NEXT", "ACR-F").replace("/", "->")
    draft = draft_of(tmp_path, text.replace("Pairs\n", f"{said}Pairs\n", 1))
    assert 'first = "disturbing"' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    (item,) = [one for one in record.document["stated"]["items"] if "worst_margin" in one]
    assert (item["parameter"], item["end"], item["pairs"]) == ("acr_f", "near", pairs)


def test_what_cannot_be_told_in_the_order_of_names_is_not_taken(tmp_path: Path) -> None:
    """The pair of return loss is called as the second one of ACR-F would be."""
    text = blocks([link("L-1", 35.5)]).replace("/", "->").replace("NEXT", "ACR-F")
    said = SAID.replace("NEXT", "ACR-F").partition("ACR-F worst margin (dB)\t-")[0]
    draft = draft_of(tmp_path, text.replace("Pairs\n", f"{said}Pairs\n", 1))
    assert "worst_margin.pairs" not in draft and "worst_margin.second_pair" not in draft
    untold = draft.partition("no field for these keys")[2].partition("schema")[0]
    assert "ACR-F disturbing pair" in untold and "Return loss pair" in untold
