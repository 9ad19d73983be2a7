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


@pytest.mark.parametrize("mark", [": ", ":"])
def test_a_word_before_the_wires_says_how_they_are(mark: str, tmp_path: Path) -> None:
    text = f"Wire map;crossed pairs{mark}1-3 2-6 3-1 4-4 5-5 6-2 7-7 8-x"
    export = wide(link("E-2", 30.0), "insertion_loss").replace("\n\n", f"\n{text}\n\n", 1)
    draft = draft_of(tmp_path, export)
    assert f'results.wire_map.pins = "{{any}}{mark}{{}}"' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    pins = record.document["results"]["wire_map"]["pins"]
    assert sorted(pins, key=str) == sorted([*CROSSED, ["8", None]], key=str)


@pytest.mark.parametrize(
    ("key", "texts"),
    [
        ("Order", ["straight: 1-1 2-2 3-3 4-4 5-5 6-6 7-7 8-8"]),
        ("Wire map", ["straight: 1-1 2-2 3-3 4-4 5-5 6-6 7-7 8-8", "straight"]),
        ("Wire map", ["pairs: 12 36 45 78"]),
    ],
)
def test_what_stands_behind_other_words_is_no_wire(key: str, texts: list[str]) -> None:
    assert find({key: texts}, None) is None
