"""Findings that somebody accepts stay visible and count no longer; rules may be left out, aloud."""

import contextlib
import json
import shutil
import sqlite3
from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.findings import Accepted, Finding, Severity
from sweepbook.project.load import load
from sweepbook.project.model import Acceptance
from sweepbook.project.write import accept
from tests.program import run

HEAD = 'schema = "urn:sweepbook:project-0"\n'
ENTER = ("--who", "K. Orme", "--why", 'a "paper" log\\of that day')


@pytest.fixture
def book(demo_book: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(demo_book, tmp_path / "book"))


def audit(*arguments: str | Path) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(run("check", "--json", *arguments).stdout)
    return document


def accepted(document: dict[str, Any]) -> list[tuple[str, str]]:
    return [
        (record["label"], finding["rule"])
        for record in document["records"]
        for finding in record["findings"]
        if finding["accepted"]
    ]


def test_an_accepted_finding_is_shown_and_counts_no_longer(book: Path) -> None:
    before = audit(book)
    done = run("accept", book, "REC003", "1A-P1-02", *ENTER)
    assert (done.exit_code, done.stdout) == (0, "accepted: REC003 of 1A-P1-02\n")
    assert "no such finding" not in done.stderr
    after = audit(book)
    assert accepted(before) == []
    assert accepted(after) == [("1A-P1-02", "REC003")]
    assert after["summary"]["accepted"] == 1
    errors = [d["summary"]["findings"]["error"] for d in (before, after)]
    assert errors[1] == errors[0] - 1
    assert after["digests"]["project"] == load(book / "project.toml").sha256
    shown = run("check", book).stdout
    assert "accepted error REC003" in shown
    assert "accepted by K. Orme, 20" in shown
    judgements = [[r["judgement"] for r in d["records"]] for d in (before, after)]
    assert judgements[0] == judgements[1]


def test_what_is_accepted_may_be_one_record_or_everything(book: Path) -> None:
    records = audit(book)["records"]
    (one,) = [record for record in records if record["label"] == "1A-P1-02"]
    run("accept", book, "REC003", one["record_id"][:16], *ENTER)
    (acceptance,) = load(book / "project.toml").acceptances
    assert (acceptance.label, acceptance.record) == (None, one["record_id"])
    run("accept", book, "VRD001", "--everywhere", *ENTER)
    found = accepted(audit(book))
    assert ("1A-P1-02", "REC003") in found
    everywhere = {r["label"] for r in records for f in r["findings"] if f["rule"] == "VRD001"}
    assert {label for label, rule in found if rule == "VRD001"} == everywhere != set()


def test_an_accepted_label_goes_by_no_case(book: Path) -> None:
    done = run("accept", book, "REC003", "1a-p1-02", *ENTER)
    assert (done.exit_code, done.stdout) == (0, "accepted: REC003 of 1A-P1-02\n")
    file = book / "project.toml"
    file.write_text(file.read_text().replace("1A-P1-02", "1a-P1-02"))
    assert accepted(audit(book)) == [("1A-P1-02", "REC003")]


def test_a_finding_about_tests_together_is_accepted_by_all_its_labels(tmp_path: Path) -> None:
    """And by no fewer: what comes to be about one more link is to be looked at again."""
    file, who = tmp_path / "project.toml", Accepted("op-9", "2026-03-01", "seen on site")
    accept(file, Acceptance("SET002", None, None, False, None, who, ("A-1", "A-2")))
    accept(file, Acceptance("SET021", "A-3", None, False, None, who))
    project = load(file)
    assert project.acceptances[0].labels == ("A-1", "A-2")
    assert project.acceptances[0].in_words() == "SET002 of A-1 and A-2"

    def stands(rule: str, *labels: str) -> bool:
        found = Finding(rule, Severity.ERROR, "$", "", {}, labels=labels)
        (one,) = project.marked([found], "", "")
        return one.accepted == who

    assert stands("SET002", "A-2", "A-1")
    assert stands("SET002", "A-1")
    assert not stands("SET002", "A-1", "A-2", "A-3")
    assert not stands("SET002")
    assert stands("SET021", "A-3")
    assert not stands("SET021", "A-3", "A-1")
    of_record = Finding("SET002", Severity.ERROR, "$", "", {})
    assert project.marked([of_record], "A-1", "sb0-1")[0].accepted is None


def test_several_labels_are_taken_as_one_finding(book: Path) -> None:
    done = run("accept", book, "SET002", "1A-P1-01", "1A-P1-02", *ENTER)
    assert done.stdout == "accepted: SET002 of 1A-P1-01 and 1A-P1-02\n"
    assert "there only for a check of the whole book" in " ".join(done.stderr.split())
    assert load(book / "project.toml").acceptances[0].labels == ("1A-P1-01", "1A-P1-02")
    idle = " ".join(run("check", book).stdout.split())
    assert "SET002 of 1A-P1-01 and 1A-P1-02" in idle


def test_what_is_accepted_and_not_found_is_told(book: Path) -> None:
    entered = run("accept", book, "SWP001", "1A-P1-02", *ENTER)
    assert entered.stdout == "accepted: SWP001 of 1A-P1-02\n"
    assert "no such finding is there now" in entered.stderr
    assert "REC003 $." in entered.stderr
    shown = " ".join(run("check", book).stdout.split())
    assert "project.toml accepts what was not found here: SWP001 of 1A-P1-02." in shown


def test_the_same_is_accepted_once_and_listed(book: Path) -> None:
    first = run("accept", book, "REC003", "1A-P1-02", *ENTER)
    again = run("accept", book, "REC003", "1A-P1-02", *ENTER)
    assert first.stdout.startswith("accepted: ")
    assert again.stdout.startswith("accepted already: ")
    listed = " ".join(run("accept", book).stdout.split())
    assert "REC003 of 1A-P1-02: accepted by K. Orme, 20" in listed
    assert 'a "paper" log\\of that day' in listed


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("REC999", "1A-P1-02", *ENTER), "No rule has the id 'REC999'"),
        (("REC003", "1A-P1-99", *ENTER), "1A-P1-99"),
        (("REC003", *ENTER), "or --everywhere"),
        (("REC003", "1A-P1-02", "--who", "K. Orme"), "--why"),
        (("REC003", "1A-P1-02", "--who", "\udcff", "--why", "w"), "bytes that are no text"),
    ],
)
def test_what_cannot_be_accepted_is_refused(book: Path, words: tuple[str, ...], told: str) -> None:
    refused = run("accept", book, *words)
    assert refused.exit_code == 3
    assert told in refused.stderr
    assert not (book / "project.toml").exists()


def test_what_people_wrote_into_the_file_stays(tmp_path: Path) -> None:
    path = tmp_path / "project.toml"
    text = 'schema = "urn:sweepbook:project-0"  # ours\n[practice]\nfield_reference_days = 7'
    path.write_text(text, encoding="utf-8")
    entered = Acceptance(
        "REC004", "A\x7f\u2028é", None, False, "$", Accepted("N", "2024-02-29", "w")
    )
    assert accept(path, entered)
    assert path.read_text(encoding="utf-8").startswith(text)
    assert load(path).acceptances == (entered,)
    assert load(path).practice == {"field_reference_days": 7}


def test_line_ends_stay_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / "project.toml"
    path.write_bytes(HEAD.replace("\n", "\r\n").encode())
    entered = Acceptance("REC004", "A-1", None, False, None, Accepted("N", "2024-02-29", "w"))
    assert accept(path, entered)
    assert path.read_bytes().count(b"\n") == path.read_bytes().count(b"\r\n") > 5
    assert load(path).acceptances == (entered,)


def test_a_file_that_has_no_room_for_one_more_is_left_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "project.toml"
    path.write_text(f"{HEAD}accept = []\n", encoding="utf-8")
    before = path.read_bytes()
    entered = Acceptance("REC004", "A-1", None, False, None, Accepted("N", "2024-02-29", "w"))
    with pytest.raises(SweepbookError, match="no TOML"):
        accept(path, entered)
    assert path.read_bytes() == before


def test_no_figure_of_a_job_changes_a_judgement(book: Path) -> None:
    (book / "project.toml").write_text(f"{HEAD}[practice]\ntwin_points = 1e9\n")
    refused = run("check", book)
    assert refused.exit_code == 3
    assert "twin_points bears on judgements, which no job can change" in refused.stderr


def test_a_book_without_a_project_file_is_not_read_by_that_of_another(
    book: Path, demo_book: Path
) -> None:
    (book / "project.toml").write_text(f"{HEAD}[practice]\nfield_reference_days = 7\n")
    refused = run("check", book, demo_book)
    assert refused.exit_code == 3
    assert "read the books one by one" in refused.stderr
    alone = " ".join(run("check", book).stdout.split())
    assert "Figures set by project.toml: field_reference_days = 7." in alone


def test_a_figure_of_the_job_goes_before_that_of_the_program(book: Path) -> None:
    """A reference of the same day is older than a thousandth of one."""
    (book / "project.toml").write_text(f"{HEAD}[practice]\nfield_reference_days = 0.001\n")
    strict = json.loads(run("check", "--json", book, "--rule", "REC004").stdout)
    found = {f["rule"] for record in strict["records"] for f in record["findings"]}
    assert found == {"REC004"}
    (book / "project.toml").unlink()
    usual = json.loads(run("check", "--json", book, "--rule", "REC004").stdout)
    assert len([r for r in strict["records"] if r["findings"]]) > len(
        [r for r in usual["records"] if r["findings"]]
    )


def test_rules_left_out_are_counted_with_the_words_that_name_them(book: Path) -> None:
    shown = run("check", book, "--without-rule", "VRD", "--without-rule", "note")
    every = {
        rule["id"]: rule
        for rule in json.loads(run("rules", "list", "--json").stdout)["rules"]
        if rule["subject"] != "schedule"  # a check asks none of these
    }
    out = [name for name, of in every.items() if name[:3] == "VRD" or of["severity"] == "note"]
    told = f"Rules not asked, by choice: {len(out)} of {len(every)}; left out: VRD, note."
    assert told in " ".join(shown.stdout.split())
    assert "error VRD001" not in shown.stdout
    assert "; asked: error." in " ".join(run("check", book, "--rule", "error").stdout.split())
    only = json.loads(run("check", "--json", book, "--rule", "error").stdout)
    assert {f["severity"] for r in only["records"] for f in r["findings"]} == {"error"}
    assert only["options"]["rules"] == "error"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("schema = 1", r"schema"),
        (
            'schema = "urn:sweepbook:project-0"\n[[accept]]\nrule = "REC004"\n',
            "lacks who, when, why",
        ),
        (f"{HEAD}figures = 1\n", "not known here"),
        ("schema = ", "no TOML"),
        (f"{HEAD}[practice]\nfield_reference_days = nan\n", "must be a number above 0"),
        (f"{HEAD}[practice]\nfield_reference_days = {'9' * 5000}\n", "64 bits|above 0"),
        (
            f'{HEAD}[[accept]]\nrule = "REC004"\nlabel = "A"\nwho = "N"\nwhy = "w"\n'
            'when = "9999-99-99"\n',
            "no day of the calendar",
        ),
    ],
)
def test_a_project_file_that_cannot_be_used_is_told(tmp_path: Path, text: str, told: str) -> None:
    path = tmp_path / "project.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(SweepbookError, match=told):
        load(path)


def test_a_figure_that_is_none_and_a_word_that_is_no_rule_are_told(book: Path) -> None:
    (book / "project.toml").write_text(f"{HEAD}[practice]\nreference_days = 1\n")
    unknown = run("check", book)
    assert (unknown.exit_code, "no practice figure 'reference_days'" in unknown.stderr) == (3, True)
    (book / "project.toml").unlink()
    no_rule = run("check", book, "--rule", "rec")
    assert (no_rule.exit_code, "'rec' is no rule" in no_rule.stderr) == (3, True)
    nothing = run("check", book, "--rule", "REC", "--without-rule", "REC")
    assert (nothing.exit_code, "No rule would be asked" in nothing.stderr) == (3, True)


def test_an_owner_sees_in_the_database_what_was_accepted(book: Path, tmp_path: Path) -> None:
    run("accept", book, "REC003", "1A-P1-02", *ENTER)
    database = tmp_path / "as-built.sqlite"
    assert run("export", book, "--to", "as-built", "-o", database).exit_code == 0
    with contextlib.closing(sqlite3.connect(database)) as opened:
        query = "SELECT rule, accepted_by, accepted_why FROM finding WHERE accepted_by IS NOT NULL"
        assert opened.execute(query).fetchall() == [("REC003", "K. Orme", ENTER[3])]
        query = "SELECT count(*) FROM open_items WHERE rule = 'REC003'"
        assert opened.execute(query).fetchone() == (0,)


def test_that_a_test_is_no_pass_is_said_whatever_is_accepted(book: Path) -> None:
    """A person who accepts a finding may think that the link is settled by it."""

    def told(rule: str, *labels: str) -> str:
        return " ".join(run("accept", book, rule, *labels, *ENTER).stderr.split())

    failed = told("REC001", "1A-P1-03")
    assert "the test of 1A-P1-03 on 2023-03-07 is a fail (fail stated: upheld), and stays" in failed
    assert "is a fail (pass stated: overturned)" in told("VRD001", "1A-P1-04")
    assert "2A-P1-07 on 2023-03-07 proves neither pass nor fail (pass stated: unproven)" in told(
        "SET002", "2A-P1-07", "1A-P1-01"
    )
    assert told("REC003", "1A-P1-02") == ""
