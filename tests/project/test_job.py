"""The job block: shown with every delivery, and heard on marginal passes.

That the quality plan says what becomes of marginal results is common practice, no source.
"""

import json
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from sweepbook.audit import document
from sweepbook.audit.context import installed
from sweepbook.audit.marginal import marginal_pass
from sweepbook.audit.run import case_of
from sweepbook.errors import SweepbookError
from sweepbook.project.load import load
from tests.program import run
from tests.rules.changes import record

HEAD = 'schema = "urn:sweepbook:project-0"\n'
JOB = f"""{HEAD}
[job]
number = "TQ-2031"
contract = "C 77/24"
owner = "Thornquay Borough"
site = "Thornquay Library"
installer = "Wharfside Cabling"
design_standard = "ANSI/TIA-568.2-D, Category 6A"
quality_plan = "QP-12, edition 3"
warranty_number = "W-1187"
warranty_years = 25
"""


DECLARED = {"parameter": "insertion_loss", "declared_by": "made up"}


def with_project(demo_book: Path, folder: Path, text: str) -> Path:
    book = Path(shutil.copytree(demo_book, folder / "book"))
    (book / "project.toml").write_text(text, encoding="utf-8")
    return book


def told(*words: str | Path) -> Any:
    return json.loads(run(*words, "--json").stdout)


def test_what_the_job_is_stands_with_every_delivery(demo_book: Path, tmp_path: Path) -> None:
    book = with_project(demo_book, tmp_path, JOB)
    first = run("check", book).stdout.splitlines()[0]
    assert first == "Thornquay Library, job TQ-2031, contract C 77/24, for Thornquay Borough."
    audit = told("check", book)
    assert list(document.problems(audit)) == []
    assert audit["job"]["warranty_years"] == 25
    assert audit["job"]["marginal_pass"] is None
    run("export", book, "--to", "xlsx", "-o", tmp_path / "w.xlsx")
    about = load_workbook(tmp_path / "w.xlsx")["About"]
    said = {(name.value, text.value) for name, text in about.iter_rows(min_row=2, max_col=2)}
    block = load(book / "project.toml").job
    assert set(block.in_words()) <= said
    assert len(dict(block.in_words())) == JOB.count(" = ") - 1


def test_the_quality_plan_decides_what_becomes_of_marginal_passes(
    demo_book: Path, tmp_path: Path
) -> None:
    schedule = Path(__file__).parents[2] / "demo_data" / "sweepbook_demo" / "schedule.csv"
    books = {
        word: with_project(demo_book, tmp_path / word, f'{HEAD}[job]\nmarginal_pass = "{word}"\n')
        for word in ("counts", "retest")
    }
    plain = told("check", demo_book)
    audits = {word: told("check", book) for word, book in books.items()}
    judged = [[one["judgement"] for one in audit["records"]] for audit in audits.values()]
    assert judged == [[one["judgement"] for one in plain["records"]]] * 2
    starred = {
        one["label"]
        for one in plain["records"]
        if (one["stated"], one["recomputed"], one["judgement"]) == ("pass*", "pass", "upheld")
    }
    assert starred
    assert {one["label"] for one in audits["retest"]["records"] if one["again"]} >= starred
    assert not any(one["again"] for one in audits["counts"]["records"])
    before, after = (
        {one["label"]: one["state"] for one in told("retests", books[word])["retests"]}
        for word in ("counts", "retest")
    )
    added = after.items() - before.items()
    assert before.items() <= after.items()
    assert {state for _, state in added} == {"marginal"}
    assert {label for label, _ in added} >= starred
    held = {word: told("reconcile", book, "--schedule", schedule) for word, book in books.items()}
    count = held["retest"]["summary"]["marginal, to be tested again"]
    assert count == len(added)
    assert held["retest"]["open"] == held["counts"]["open"] + count
    said = " ".join(run("check", books["retest"]).stdout.split())
    assert f"Marginal passes: {count}. A marginal pass has to be tested again." in said
    said = " ".join(run("check", books["counts"]).stdout.split())
    assert f"Marginal passes: {count}. A marginal pass counts as a pass." in said


@pytest.mark.parametrize(
    ("stated", "db", "marginal"),
    [
        ("pass", 0.1, False),
        ("pass*", 0.1, True),
        ("pass", 60.0, True),
        ("pass*", 60.0, True),
        ("fail", 60.0, False),
        (None, 60.0, True),
    ],
)
def test_a_pass_is_marginal_where_its_source_or_its_accuracy_says_so(
    stated: str | None, db: float, marginal: bool
) -> None:
    """60 dB is no accuracy of anything: every margin lies within it."""
    said = {"verdict": stated, "as_stated": str(stated)}
    changes = [
        {"set": "stated/overall", "to": said} if stated else {"remove": "stated"},
        {"set": "test/accuracy", "to": [{**DECLARED, "constant_db": db}]},
    ]
    context = installed()
    case = case_of(record(changes), context)
    assert case.assessment.recomputed == "pass"
    found = marginal_pass(case.assessment, case.working)
    assert bool(found) is marginal
    assert ("stated as pass*" in found) is (stated == "pass*")
    undecided = replace(case.assessment, recomputed=type(case.assessment.recomputed)("undecided"))
    assert marginal_pass(undecided, case.working) == ""


@pytest.mark.parametrize(
    ("block", "word"),
    [
        ('marginal_pass = "fail"', "must be one of counts, retest"),
        ("warranty_years = 0", "warranty_years"),
        ("warranty_years = 2.5", "warranty_years"),
        ('owner = "  "', "owner"),
        ('owner = "a\\nb"', "owner"),
        ('client = "a"', "client, which is not known here"),
    ],
)
def test_a_block_that_cannot_be_used_is_refused(tmp_path: Path, block: str, word: str) -> None:
    path = tmp_path / "project.toml"
    path.write_text(f"{HEAD}[job]\n{block}\n", encoding="utf-8")
    with pytest.raises(SweepbookError) as refused:
        load(path)
    assert word in str(refused.value)
