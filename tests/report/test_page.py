"""What a page needs for everybody to read it, and that the same job makes the same bytes."""

import base64
import hashlib
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from sweepbook.findings import Accepted, Finding, NotRun, RuleNotRun, Severity
from sweepbook.judging.assessment import Judgement, Origin, Outcome, Recomputed, ScalarMargin
from sweepbook.project.job import Job
from sweepbook_plugins.report import page as report
from tests.program import run
from tests.xlsx.making import assessment, delivery, document, many, margin, record

from .reading import answers, links, parsed, part, rows, text, written


def failing() -> Any:
    curve = margin(outcome=Outcome.FAIL, worst_margin_db=-2.5)
    return assessment(
        record(document("F-1")),
        recomputed=Recomputed.FAIL,
        judgement=Judgement.OVERTURNED,
        reason="Stated pass, but the data show a fail.",
        margins=(curve,),
    )


def test_the_basics_of_access_are_there(tmp_path: Path) -> None:
    """WCAG 2.1: 3.1.1 language, 2.4.2 title, 1.3.1 headings and header cells, 2.4.4 links."""
    tree = written(tmp_path / "x.html", [assessment(), failing()], title="A job")
    assert tree.get("lang") == "en"
    assert text(tree.find(".//title")).startswith("A job")
    levels = [int(h.tag[1]) for h in tree.iter("h1", "h2", "h3", "h4")]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(two - one <= 1 for one, two in pairwise(levels))
    assert {cell.get("scope") for cell in tree.xpath("//thead//th")} == {"col"}
    assert {cell.get("scope") for cell in tree.xpath("//tbody//th")} == {"row"}
    assert all(text(a) for a in tree.iter("a"))
    names = [element.get("id") for element in tree.xpath("//*[@id]")]
    assert len(set(names)) == len(names)
    pointed = {a.get("href")[1:] for a in tree.iter("a")} | set(tree.xpath("//@aria-labelledby"))
    assert pointed <= set(names)


def test_faults_of_a_wire_map_are_counted_and_have_no_sign(tmp_path: Path) -> None:
    for count, said in ((1, "1 fault"), (2, "2 faults")):
        map_ = ScalarMargin(
            parameter="wire_map", pair=None, value=float(count), unit="faults", limit=0.0,
            margin=float(-count), outcome=Outcome.FAIL, obligation="required",
            origin=Origin.RECOMPUTED, grade="A", reason="",
        )  # fmt: skip
        bad = replace(failing(), margins=(), scalars=(map_,))
        tree = written(tmp_path / "x.html", [assessment(), bad])
        assert answers(tree)["Which link is worst?"].endswith(f": {said}, wire map")
        assert links(tree)[0]["Margin"] == said


def test_what_the_job_is_stands_first(tmp_path: Path) -> None:
    whole = delivery([assessment()])
    job = Job(owner="Thornquay Borough", contract="C 77/24")
    report.write(replace(whole, about=replace(whole.about, job=job)), tmp_path / "x.html")
    tree = parsed(tmp_path / "x.html")
    told = [text(one) for one in tree.xpath("//header//dd")]
    assert told[:2] == ["C 77/24", "Thornquay Borough"]
    assert text(tree).count("Thornquay Borough") == 1


def test_what_is_said_of_many_tests_alike_is_said_once(tmp_path: Path) -> None:
    warned = (Finding("REC002", Severity.WARNING, "$", "no time", {}),)
    tests = [replace(one, findings=warned) for one in many(3)]
    lines = written(tmp_path / "x.html", tests).xpath("//article[@id='rule-REC002']/ul/li")
    assert len(lines) == 1
    assert len(lines[0].findall("a")) == 3
    assert text(lines[0]).endswith(": no time")


def test_what_every_test_lacks_stands_once_on_paper(tmp_path: Path) -> None:
    """On the screen each sheet has it; what only some have is printed with each of these."""
    lacks, other = (
        Finding(rule, Severity.WARNING, "$", text, {})
        for rule, text in (("REC001", "no field reference"), ("REC002", "two units of one serial"))
    )
    tests = [replace(one, findings=(lacks, other)) for one in many(3)]
    tests[1] = replace(tests[1], findings=(lacks,))
    page = written(tmp_path / "page.html", tests)
    (style,) = page.iterfind(".//style")
    assert style.text.rstrip().endswith("@media print { .found .by-REC001 { display: none; } }")
    (policy,) = page.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    digest = base64.b64encode(hashlib.sha256(style.text.encode()).digest()).decode()
    assert f"style-src 'sha256-{digest}'" in policy
    assert len(page.xpath("//li[@class='by-REC001']")) == 3
    assert "on paper their sheets do not repeat it" in text(part(page, "findings"))
    alone = written(tmp_path / "alone.html", tests[:1])
    assert "display: none; } }" not in alone.find(".//style").text.splitlines()[-1]


def test_the_same_job_makes_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1774000000")
    one, two = tmp_path / "one.html", tmp_path / "two.html"
    report.write(delivery(many(5)), one)
    report.write(delivery(many(5)), two)
    assert one.read_bytes() == two.read_bytes()
    assert b"2026-03-20T09:46:40Z" in one.read_bytes()


def test_without_a_schedule_it_says_that_nobody_knows_what_was_asked(tmp_path: Path) -> None:
    tree = written(tmp_path / "x.html", [assessment()])
    assert "No cable schedule was given" in text(part(tree, "asked"))
    assert answers(tree)["Which link is nearest to its limit?"].startswith("A-1")
    assert "No link has to be tested again" in text(part(tree, "open"))


def test_a_failed_link_has_its_caution_where_it_stands(tmp_path: Path) -> None:
    tree = written(tmp_path / "x.html", [failing(), assessment()])
    first, second = tree.xpath("//article[@class='test']")
    if "F-1" not in text(first.getparent().find("h2")):
        first, second = second, first
    assert "Local codes" in text(first.find("p[@class='caution']"))
    assert second.find("p[@class='caution']") is None
    assert "judges data" in text(part(tree, "cautions"))


def test_a_rule_without_an_answer_is_shown_and_not_counted_as_passed(tmp_path: Path) -> None:
    silent = (RuleNotRun("LIM002", NotRun.SKIPPED, "no limit"),)
    tree = written(tmp_path / "x.html", [assessment(rules_not_run=silent)])
    (row,) = rows(part(tree, "unjudged").find(".//table"))
    assert row == {"Rule": "LIM002", "How": "skipped", "Why": "no limit", "Tests": "1"}


def test_two_records_of_one_identity_are_two_tests(tmp_path: Path) -> None:
    """The same evidence under different corrections, out of two books."""
    tree = written(tmp_path / "x.html", [assessment(), assessment()])
    (row,) = links(tree)
    assert row["Sweeps of its tests"] == "pass and pass"
    assert len(tree.xpath("//article[@class='test']")) == 2


def test_a_job_of_kinds_that_are_not_judged_is_shown(tmp_path: Path) -> None:
    from sweepbook.record.model import Record

    kept = assessment(
        Record.build(kind="cord", **document(), origin=[{"name": "a"}]),
        limit_path=None,
        stated=None,
        recomputed=Recomputed.UNDECIDED,
        judgement=Judgement.UNSTATED,
        margins=(),
        scalars=(),
    )
    (row,) = links(written(tmp_path / "x.html", [kept]))
    assert row["State"] == "kept, not judged"


def test_people_stand_by_id_and_name_or_not_at_all(demo_book: Path, tmp_path: Path) -> None:
    """Plots are there all the same when nobody may be named."""
    target = tmp_path / "x.html"
    parts = (demo_book, "--to", "report", "-o", target, "--plots", "failed")
    assert run("export", *parts).exit_code == 0
    whole = parsed(target)
    assert run("export", *parts, "--without-people").exit_code == 0
    bare = parsed(target)
    assert "operator" in text(whole) and "op-17" in text(whole)
    assert "op-17" not in text(bare)
    assert len(bare.findall(".//svg")) == len(whole.findall(".//svg")) > 10


def test_what_the_rules_found_stands_at_the_top(tmp_path: Path) -> None:
    """Of links that pass as well; what somebody lets stand is not counted."""
    accepted = Accepted("op-1", "2026-01-01", "known")
    found = (
        Finding("REC004", Severity.ERROR, "$", "one", {}),
        Finding("REC004", Severity.ERROR, "$", "two", {}),
        Finding("REC004", Severity.ERROR, "$", "three", {}, accepted),
        Finding("REC011", Severity.WARNING, "$", "four", {}),
    )
    glance = part(written(tmp_path / "x.html", [assessment(findings=found)]), "glance")
    (said,) = glance.xpath(".//a[@href='#findings']")
    assert text(said) == "2 errors and 1 warning"


def test_places_and_limits_break_between_their_levels_and_read_on_as_they_are(
    tmp_path: Path,
) -> None:
    limit = "iso-11801-1-2017/class-ea/channel"
    tree = written(tmp_path / "x.html", [assessment(limit_path=limit)])
    (cell,) = part(tree, "links").xpath(".//td[@class='path']")
    assert text(cell) == limit
    assert [text(one) for one in cell] == ["iso-11801-1-2017/", "class-ea/", "channel"]
