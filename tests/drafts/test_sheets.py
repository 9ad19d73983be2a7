"""Drafts of text tables with titles in three lines, headings with commas, and worst cases."""

from decimal import Decimal
from pathlib import Path

from tests.joined.test_join import read as joined
from tests.program import run

from .drafting import curves, draft_of, read, written
from .links import link
from .sheets import FEW, WORST, apart, bracketed, stacked


def test_titles_in_three_lines_and_a_pair_that_was_not_measured(tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    paths = [tmp_path / f"{one.label}.csv" for one in links]
    for one, path in zip(links, paths, strict=True):
        path.write_text(stacked(one, broken=one is links[1]), encoding="utf-8")
    result = run("dialect", "draft", *paths)
    for one, path in zip(links, paths, strict=True):
        (record,), problems = read(path, result.stdout)
        assert problems == []
        assert record.label == one.label
        sweeps = record.document["results"]["sweeps"]
        lengths = [e["length_m"] for e in record.document["results"]["scalars"] if "length_m" in e]
        if one is links[0]:
            assert curves(record.document) == written(one, *FEW)
            assert lengths == [one.metres] * 4
        else:
            gaps = {tuple(sweep["pairs"]) for sweep in sweeps if not any(sweep["value_db"])}
            assert gaps == {("7-8",), ("1-2", "7-8"), ("3-6", "7-8"), ("4-5", "7-8")}
            assert lengths == [one.metres] * 3


def test_headings_that_hold_the_delimiter_and_worst_cases_need_no_change(tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    draft = draft_of(tmp_path, bracketed(links))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(links, records, strict=True):
        document = record.document
        assert curves(document) == written(one, *FEW)
        assert document["test"]["started"]["rfc3339"] == "2026-02-13T17:05:00-03:00"
        assert document["test"]["near"]["instrument"]["serial"] == "SN 55"
        assert document["test"]["far"]["instrument"]["serial"] == "SN 56"
        delays = [e["delay_ns"] for e in document["results"]["scalars"] if "delay_ns" in e]
        assert delays == [round(one.metres * 4.9)] * 4
        words = {"ok": "pass", "ok (marginal)": "pass*", "not ok": "fail"}
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
        ] == [(*head, Decimal(margin), at) for *head, margin, at, _ in WORST]
        assert {
            item["parameter"]: item["verdict"]
            for item in document["stated"]["items"]
            if "pairs" not in item
        } == {parameter: words[word] for parameter, *_, word in WORST}


def test_rows_of_curves_and_heads_in_two_files_need_no_change(tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    files = dict(zip(("job-heads.txt", "job-rows.txt"), apart(links), strict=True))
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    result = run("dialect", "draft", *(tmp_path / name for name in files))
    records, problems = joined(tmp_path, {}, result.stdout)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(links, records, strict=True):
        document = record.document
        assert curves(document) == written(one, *FEW)
        assert document["link"]["cable"]["part"] == "RW 6A S/FTP"
        scalars = document["results"]["scalars"]
        assert [e["length_m"] for e in scalars if "length_m" in e] == [one.metres]
        stated = [i for i in document["stated"].get("items", []) if "worst_margin" in i]
        assert len(stated) == (one is links[0])
    assert 'missing = ["not tested"]' in result.stdout
