"""A draft of lines with a mark of their kind: heads, points and summaries without titles."""

from decimal import Decimal
from pathlib import Path

from .drafting import curves, draft_of, read, written
from .links import link
from .marked import marked
from .sheets import FEW, WORST


def test_lines_with_a_mark_each_need_no_change(tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    draft = draft_of(tmp_path, marked(links))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(links, records, strict=True):
        document = record.document
        assert curves(document) == written(one, *FEW)
        assert document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00+01:00"
        assert document["stated"]["overall"]["verdict"] == "pass"
        assert [
            (
                item["parameter"],
                item.get("end"),
                tuple(item["pairs"]),
                Decimal(str(item["worst_margin"]["margin_db"])),
                item["worst_margin"]["frequency_mhz"],
            )
            for item in document["stated"]["items"]
            if "worst_margin" in item
        ] == [(name, end, pairs, Decimal(margin), at) for name, end, pairs, margin, at, _ in WORST]
        judged = {
            item["parameter"]: item["verdict"]
            for item in document["stated"]["items"]
            if "pairs" not in item
        }
        assert judged == {"insertion_loss": "pass", "return_loss": "pass", "next": "fail"}
        # "3" of RETARD/3 is the number of a cell, and of no pair
        assert "scalars" not in document["results"]
        assert document["extra"]["RETARD/3"] == str(round(one.metres * 4.9))
