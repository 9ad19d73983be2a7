"""The history of the demo's links stands by its model's truth: which were tested again."""

import json
from importlib.resources import files
from pathlib import Path

from openpyxl import load_workbook

from sweepbook.findings import Finding, Severity
from sweepbook.judging.assessment import Assessment, Judgement, Recomputed
from tests.program import run

from .making import assessment, document, record, rows, written

TRUTH = json.loads(files("sweepbook_demo").joinpath("truth.json").read_bytes())


def test_links_that_were_tested_again_are_there_with_every_test(
    demo_book: Path, tmp_path: Path
) -> None:
    run("export", demo_book, "--to", "xlsx", "-o", tmp_path / "w.xlsx")
    found = rows(load_workbook(tmp_path / "w.xlsx"), "History")
    labels = [link["label"] for link in TRUTH["links"]]
    again = {label for label in labels if labels.count(label) > 1}
    assert again
    assert {row["Link"] for row in found} == again
    for label in again:
        tests = [row for row in found if row["Link"] == label]
        assert len(tests) == labels.count(label)
        assert [row["Current"] for row in tests] == ["no"] * (len(tests) - 1) + ["yes"]
        times = [str(row["Began by its clock"]) for row in tests]
        assert times == sorted(times)


def test_an_order_that_is_not_known_is_not_made_up(tmp_path: Path) -> None:
    one = assessment(record(document("A-1")))
    other = assessment(
        record(document("A-1")),
        recomputed=Recomputed.FAIL,
        judgement=Judgement.OVERTURNED,
    )
    found = rows(written(tmp_path / "w.xlsx", [one, other]), "History")
    assert {row["Current"] for row in found} == {"order not known"}
    assert len(found) == 2


def test_a_row_of_links_says_which_test_it_is_and_whether_that_counts(tmp_path: Path) -> None:
    def tested(label: str, hour: int, kind: str = "balanced-link") -> Assessment:
        parts = document(label)
        parts["test"]["started"] = {"rfc3339": f"2026-03-04T{hour:02}:00:00+01:00"}
        parts["kind"] = kind
        return assessment(record(parts))

    entries = [
        tested("A-1", 11), tested("B-1", 9), tested("A-1", 8), tested("C-1", 9), tested("C-1", 9),
        tested("D-1", 9, kind="fibre-link"), tested("A-1", 10),
    ]  # fmt: skip
    found = rows(written(tmp_path / "w.xlsx", entries), "Links")
    assert [row["Current"] for row in found] == [
        "yes", "yes", "no", "order not known", "order not known", None, "no"
    ]  # fmt: skip
    assert [*found[0]][:3] == ["Link", "Test started", "Current"]
    assert found[2]["Test started"] == "2026-03-04T08:00:00+01:00"


def test_links_that_share_a_test_are_to_be_tested_again(tmp_path: Path) -> None:
    entries = [assessment(record(document(label))) for label in ("A-1", "B-1", "C-1")]
    ids = tuple(one.record.record_id for one in entries[:2])
    error = Finding("SET002", Severity.ERROR, "$", "the labels share one test", {}, tests=ids)
    book = written(tmp_path / "w.xlsx", entries, findings=[error])
    found = rows(book, "To retest")
    assert [(row["Link"], row["State"]) for row in found] == [
        ("A-1", "unproven"), ("B-1", "unproven")
    ]  # fmt: skip
    assert "The labels share one test." in str(found[0]["Why"])
