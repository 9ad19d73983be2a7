"""Drafts where frequencies of margins are named in another unit than those of curves."""

from pathlib import Path

import pytest

from .drafting import draft_of, edited, read
from .links import link, wide
from .test_csv import RAW, SETTLE, SETTLED


@pytest.mark.parametrize(
    ("unit", "text", "said"),
    [("MHz", "61,5", True), ("kHz", "61500", False)],
    ids=["other", "the same"],
)
def test_a_margin_stands_where_its_own_unit_says(
    unit: str, text: str, said: bool, tmp_path: Path
) -> None:
    lines = f"Margin NEXT 12+36 local (dB);3,1\nMargin NEXT 12+36 local at ({unit});{text}"
    export = wide(link("L-1", 35.5), *RAW).replace("Outcome;PASS", f"Outcome;PASS\n{lines}")
    draft = edited(draft_of(tmp_path, export), (SETTLE, SETTLED))
    assert ('figures = { frequency = "MHz" }' in draft) == said
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    (margin,) = [of["worst_margin"] for of in record.document["stated"]["items"]]
    assert (margin["margin_db"], margin["frequency_mhz"]) == (3.1, 61.5)
