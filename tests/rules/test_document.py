"""The audit document follows its schema, says what it rests on, and is the same every time."""

import hashlib
import json
from dataclasses import replace
from importlib.resources import files

import pytest

from sweepbook.audit import document
from sweepbook.audit.context import Context, installed
from sweepbook.audit.run import Run
from sweepbook.errors import ReadProblem
from sweepbook.record.model import Record

from . import documents
from .changes import record
from .documents import read

LOST = ReadProblem("öffnung.csv", "line 7", "A label is missing; mend the line.", False)
DIP = {
    "add_db": -30,
    "curve": {"parameter": "next", "end": "near", "pairs": ["1-2", "3-6"]},
    "from_mhz": 200,
    "to_mhz": 220,
}


def written(items: list[Record | ReadProblem], context: Context | None = None) -> bytes:
    run = Run(context or installed())
    return documents.written(run, run.walk(items))


def test_a_run_without_a_record_has_a_document_too() -> None:
    parsed = read(written([LOST]))
    assert list(document.problems(parsed)) == []
    assert parsed["records"] == []
    assert parsed["summary"]["problems"] == 1
    assert parsed["problems"] == [
        {
            "source": "öffnung.csv",
            "place": "line 7",
            "message": "A label is missing; mend the line.",
            "lost_record": False,
        }
    ]


def test_the_same_input_gives_the_same_bytes() -> None:
    items: list[Record | ReadProblem] = [record([]), LOST, record([DIP])]
    assert written(items) == written(items)


def test_one_record_a_line() -> None:
    lines = written([record([]), record([DIP])]).decode().splitlines()
    entries = [json.loads(line.rstrip(",")) for line in lines if '"record_id"' in line]
    assert entries == read("\n".join(lines).encode())["records"]


def test_it_says_what_it_rests_on() -> None:
    context = replace(installed(), options={"interpretation": "none"})
    parsed = read(written([record([])], context))

    def sha256(name: str) -> str:
        data = files("sweepbook_schemas").joinpath(name).read_bytes()
        return hashlib.sha256(data).hexdigest()

    path = "tia-568.2-d/cat6a/permanent-link"
    table = context.library.table(path)
    assert parsed["digests"] == {
        "limits": {path: table.sha256},
        "catalogue": sha256("rules.json"),
        "contributed_rules": None,
        "interpretations": sha256("interpretations.json"),
        "practice": sha256("practice.json"),
        "project": None,
        "corrections": None,
    }
    assert parsed["options"]["interpretation"] == "none"
    assert parsed["options"]["against"] == ""
    readings = context.settings.interpretations
    assert {name for name, switch in parsed["interpretations"].items() if switch["on"]} == {
        name for name in readings.ids() if readings.on(name)
    }


def test_the_figures_are_those_worked_out_by_hand() -> None:
    """Worst NEXT margin of 1-2 to 3-6: min of 95 - 20 lg f - limit(f) lies at 299 MHz.

    Limit of TIA Category 6A permanent link below 300 MHz, from memory (grade B in the table):
    -20 lg(10^(-(44.3 - 15 lg(f/100))/20) + 10^(-(54 - 20 lg(f/100))/20)) dB.
    """
    (entry,) = read(written([record([])]))["records"]
    (margin,) = [
        one
        for one in entry["margins"]
        if (one["parameter"], one["end"], one["pairs"]) == ("next", "near", ["1-2", "3-6"])
    ]
    assert margin["worst_margin_mhz"] == 299.0
    assert margin["worst_margin_db"] == pytest.approx(11.43449, abs=1e-5)
    assert margin["limit_at_worst_margin_db"] == pytest.approx(34.05551, abs=1e-5)
    assert margin["margin_high_db"] - margin["margin_low_db"] == pytest.approx(0.01, abs=1e-9)
    assert (margin["worst_value_db"], margin["worst_value_mhz"]) == (41.02, 500.0)
    assert margin["points_evaluated"] == 1028


def test_the_counts_add_up() -> None:
    fail = {"set": "stated/overall", "to": {"verdict": "fail", "as_stated": "FAIL"}}
    parsed = read(written([record([]), record([DIP]), record([DIP, fail]), LOST]))
    summary = parsed["summary"]
    assert summary["judgements"] == {"upheld": 2, "overturned": 1, "unproven": 0, "unstated": 0}
    assert summary["recomputed"] == {"pass": 1, "fail": 2, "undecided": 0}
    found = [one for entry in parsed["records"] for one in entry["findings"]]
    found += parsed["findings"]
    assert sum(summary["findings"].values()) == len(found)
    by_rule = {one["rule"]: one["findings"] for one in summary["rules"]}
    assert sum(by_rule.values()) == len(found)
    assert by_rule["VRD001"] == 1


def test_a_label_that_is_no_text_of_unicode_does_not_stop_the_document() -> None:
    odd = ReadProblem("\udce4.csv", "", "A file name that is not UTF-8.")
    assert read(written([odd]))["problems"][0]["source"] == "\udce4.csv"


@pytest.mark.parametrize(("against", "count"), [(None, 0), ("tia-568.2-d/cat6a/channel", 1)])
def test_the_limit_of_the_verdict_stands_beside_the_one_it_is_held_against(
    against: str | None, count: int
) -> None:
    parsed = read(written([record([])], replace(installed(), against=against)))
    assert list(document.problems(parsed)) == []
    limit = parsed["records"][0]["limit"]
    own = "tia-568.2-d/cat6a/permanent-link"
    assert limit["path"] == (against or own)
    assert limit["verdict_path"] == own
    assert limit["verdict_as_stated"] == record([]).document["test"]["limit"]["as_stated"]
    assert parsed["summary"]["under_another_limit"] == count
