"""Drafts for XML take stated worst cases, and figures in attributes, and leave limit lines."""

from decimal import Decimal
from pathlib import Path

from .drafting import curves, draft_of, read, written
from .links import KHZ, link
from .stated_worst import FEW, WORST, at_curves, in_children

PAIRS = {"12": "1-2", "36": "3-6", "45": "4-5", "78": "7-8"}


def test_worst_cases_as_rows_of_children_need_no_change(tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    draft = draft_of(tmp_path, in_children(links), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(links, records, strict=True):
        document = record.document
        assert curves(document) == written(one, *FEW)
        scalars = document["results"]["scalars"]
        assert [entry["length_m"] for entry in scalars if "length_m" in entry] == [one.metres]
        delays = [entry["delay_ns"] for entry in scalars if "delay_ns" in entry]
        assert delays == [round(one.metres * 4.9)] * (4 if one is links[0] else 3)
        stated = [
            (
                item["parameter"],
                item.get("end"),
                item["pairs"],
                Decimal(str(item["worst_margin"]["margin_db"])),
                item["worst_margin"]["frequency_mhz"],
            )
            for item in document["stated"]["items"]
            if "worst_margin" in item
        ]
        assert stated == [
            (name, end, [PAIRS[pair] for pair in on.split("/")], Decimal(margin), at)
            for name, end, on, margin, at, _ in WORST
        ]
        judged = [
            (item["parameter"], item.get("pairs"), item.get("verdict"))
            for item in document["stated"]["items"]
            if "verdict_as_stated" in item
        ]
        words = {"ok": "pass", "ok (marginal)": "pass*", "info": None}
        assert judged == [(name, None, words[word]) for name, *_, word in WORST]
        assert "kind/ceiling" in document["extra"]
        assert document["extra"]["wires/@ends"] == "1 2 3 4 5 6 7 8 S"
    assert 'none = "info"' in draft
    assert 'missing = ["not tested"]' in draft


def test_the_worst_point_of_a_curve_is_no_point_and_no_curve(tmp_path: Path) -> None:
    one = link("L-9", 47.0)
    draft = draft_of(tmp_path, at_curves(one), "export.xml")
    assert draft.count("[[xml.curves]]") == 1
    (record,), _ = read(tmp_path / "export.xml", draft)
    assert curves(record.document) == written(one, *FEW)
    items = record.document["stated"]["items"]
    assert len(items) == len(written(one, *FEW))
    assert {item["worst_margin"]["frequency_mhz"] for item in items} == {KHZ[3] / 1000}
