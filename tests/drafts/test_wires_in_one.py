"""Drafts of wire maps of which one text holds the contacts of both ends."""

from pathlib import Path

import pytest

from sweepbook.draft.wires_told import find

from .drafting import draft_of, read
from .links import link, wide

CROSSED = [["1", "3"], ["2", "6"], ["3", "1"], ["4", "4"], ["5", "5"], ["6", "2"], ["7", "7"]]


@pytest.mark.parametrize(
    ("text", "last"),
    [
        ("12345678-36145278", "8"),
        ("12345678 / 3614527x", None),
        ("1 2 3 4 5 6 7 8 to 3 6 1 4 5 2 7 8", "8"),
        ("12345678S:36145278S", "8"),
    ],
)
def test_two_lists_in_one_text_are_the_ends(text: str, last: str | None, tmp_path: Path) -> None:
    export = wide(link("E-1", 30.0), "insertion_loss").replace("\n\n", f"\nWire map;{text}\n\n", 1)
    draft = draft_of(tmp_path, export)
    assert "# ASSUMED: the first of two lists is taken for the near end" in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    found = record.document["results"]["wire_map"]
    assert sorted(found["pins"], key=str) == sorted([*CROSSED, ["8", last]], key=str)
    assert found.get("screen") == ("continuous" if "S" in text else None)


@pytest.mark.parametrize(
    ("key", "texts"),
    [
        ("Order", ["12345678-36145278"]),
        ("Wire map", ["12345678-36145278", "12345678"]),
        ("Wire map", ["1234-3614"]),
        ("Wire map", ["12345678-36145278-12345678"]),
    ],
)
def test_other_numbers_are_no_wires(key: str, texts: list[str]) -> None:
    assert find({key: texts}, None) is None
