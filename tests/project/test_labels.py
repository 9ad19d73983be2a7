"""Labels that are written in several forms come together in the one that the project declares.

The forms in the manner of ANSI/TIA-606 are recalled and from no text at hand: floor and space, a
hyphen, panel and port. That labels come with other marks, zeros, case and order: common practice,
no source.
"""

import csv
import json
import shutil
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.book import corrections
from sweepbook.book.layout import open_book
from sweepbook.cli import job_lines
from sweepbook.label_template import template
from sweepbook.project.labels import CAPITAL, SMALL, LabelForms
from sweepbook.project.load import BadProject, load
from sweepbook.record.model import Record
from tests.program import DEMO, DIALECTS, run

HEAD = 'schema = "urn:sweepbook:project-0"\n'
RECALLED = LabelForms(
    template("{floor:digits}{space:letters}-{panel:letters}{port:2 digits}"),
    tuple(
        map(
            template,
            (
                "{floor:digits}{space:letters}-{panel:letters}{port:digits}",
                "{floor:digits}{space:letters}.{panel:letters}-{port:digits}",
                "{floor:digits} {space:letters} {panel:letters} {port:digits}",
                "{panel:letters}{port:digits}/{floor:digits}{space:letters}",
                "PNL {panel:letters} PORT {port:digits} TR {floor:digits}{space:letters}",
            ),
        )
    ),
)
FORMS = """
[labels]
form = "{room}-{panel}-{port:2 digits}"
other_forms = ["{room}.{panel}.{port:digits}", "{panel}/{port:digits} in {room}"]
"""


@pytest.mark.parametrize(
    "label",
    [
        "1A-B07", "1a-b07", "01A-B07", "1A-B7", "1A-B007", "1A.B-7", "1 A B 07", " 1  a b  7 ",
        "B7/1A", "b07/01a", "Pnl B Port 7 TR 1A",
    ],
)  # fmt: skip
def test_zeros_marks_order_and_case_are_brought_to_one(label: str) -> None:
    assert RECALLED.one(label) == "1A-B07"


@pytest.mark.parametrize(
    "label",
    ["", "1A-B", "1A-B07-2", "A1-B07", "1A-B107", "B7 1A", "1A-B\u0660\u0667", "1A_B07", "spare"],
)
def test_what_fits_no_form_stays_to_the_letter(label: str) -> None:
    """Among it a port that has more digits than the form, and digits of another script."""
    assert RECALLED.one(label) == label


def test_different_links_stay_different() -> None:
    every = [f"{f}{s}-{p}{n:02}" for f in range(1, 12) for s in "AB" for p in "AB" for n in (1, 11)]
    assert len({RECALLED.one(label) for label in every}) == len(every)
    assert [RECALLED.one(label) for label in every] == every


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Stra\u00dfe", "STRASSE"),
        ("\u0131", "i"),
        ("\ufb01", "fi"),
        ("\u017f", "s"),
        ("\u00b5", "\u03bc"),
        ("\u212a", "k"),
        ("i\u0307", "\u0130"),
        ("\u03c2", "\u03c3"),
    ],
)
@pytest.mark.parametrize("letters", [CAPITAL, SMALL])
def test_letters_that_are_not_one_and_the_same_keep_rooms_apart(
    one: str, other: str, letters: str
) -> None:
    forms = LabelForms(template("{room:characters}-{port:digits}"), (), letters)
    assert forms.one(f"{one}-1") != forms.one(f"{other}-1")
    for letter in one:
        assert len(forms.one(f"{letter}-1")) == len(f"{letter}-1")


def test_letters_with_marks_and_of_other_scripts_have_their_case() -> None:
    forms = LabelForms(template("{room:characters}-{port:digits}"), ())
    assert forms.one("\u00e4\u00f8\u03bb\u0434-1") == "\u00c4\u00d8\u039b\u0414-1"


def test_small_letters_and_numbers_without_zeros_where_they_are_declared() -> None:
    form = template("Rm {room:letters}-{port:digits}")
    forms = LabelForms(form, (template("{room:letters}/{port:digits}"),), SMALL)
    assert [forms.one(text) for text in ("LIB/007", "RM lib-07", "Rm lib-0")] == [
        "Rm lib-7", "Rm lib-7", "Rm lib-0",
    ]  # fmt: skip


@given(st.text(alphabet="1A-B07./ aP\u00df\u017f", max_size=14))
def test_once_brought_to_the_one_form_a_label_stays_so(label: str) -> None:
    once = RECALLED.one(label)
    assert RECALLED.one(once) == once


@pytest.mark.parametrize(
    ("table", "why"),
    [
        ('form = "{a}-{b"', "a brace that is not closed"),
        ('form = "plain"', "labels.form has no piece"),
        ('form = "{a}-{b}"\nother_forms = ["{b}.{c}"]', "other_forms[0] has not the pieces"),
        ('form = "{a:digits}{b:digits}"', "nothing says where 'a' ends"),
        ('other_forms = ["{a}"]', "form"),
        ('form = "{a}"\nletters = "both"', "letters"),
    ],
)
def test_forms_that_cannot_be_used_are_refused(tmp_path: Path, table: str, why: str) -> None:
    path = tmp_path / "project.toml"
    path.write_text(f"{HEAD}[labels]\n{table}\n")
    with pytest.raises(BadProject) as caught:
        load(path)
    assert why in str(caught.value)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two demo tests whose labels somebody typed otherwise, and the forms. Do not write to it."""
    folder = tmp_path_factory.mktemp("labels")
    exports = folder / "exports"
    exports.mkdir()
    for name, typed in (("1A-P1-01", "1a.p1.1"), ("1A-P1-03", "P1/3 in 1A")):
        text = (DEMO / f"exports/heron-{name}.csv").read_text("utf-8")
        (exports / f"{name}.csv").write_text(text.replace(name, typed), "utf-8")
    assert run("gather", folder / "book", exports, *DIALECTS).exit_code == 0
    (folder / "book/project.toml").write_text(HEAD + FORMS)
    return folder / "book"


def test_tests_and_schedule_meet_in_the_one_form(book: Path, tmp_path: Path) -> None:
    plan = tmp_path / "plan.csv"
    plan.write_text("Label,Floor\n1A.P1.01,1\n1A-P1-03,1\n1a-P1-3 ,1\n1A-P1-1,1\nX,1\n")
    document = json.loads(run("reconcile", book, "--schedule", plan, "--json").stdout)
    states = {link["label"]: link["state"] for link in document["links"]}
    assert states == {
        "1A-P1-01": "passed, no limit asked for",
        "1A-P1-03": "failed",
        "1a-P1-3": "untested",
        "1A-P1-1": "untested",
        "X": "untested",
    }
    audit = json.loads(run("check", book, "--json").stdout)
    assert [record["label"] for record in audit["records"]] == ["1A-P1-01", "1A-P1-03"]
    names = [record["names"][0] for record in audit["records"]]
    assert [(one["field"], one["said"], one["name"]) for one in names] == [
        ("link.label", "1a.p1.1", "1A-P1-01"), ("link.label", "P1/3 in 1A", "1A-P1-03"),
    ]  # fmt: skip
    said = " ".join(run("check", book).stdout.split())
    assert 'Brought together by project.toml: label "1a.p1.1" is "1A-P1-01" (1 time)' in said


def test_what_is_brought_together_is_said_beside_what_is_open(book: Path, tmp_path: Path) -> None:
    plan = tmp_path / "plan.csv"
    plan.write_text("Label\n1A-P1-03\n")
    for words in (("reconcile", book, "--schedule", plan), ("retests", book)):
        said = " ".join(run(*words).stdout.split())
        assert 'Brought together by project.toml: label "1a.p1.1" is "1A-P1-01" (1 time)' in said


def test_tests_come_in_the_order_of_the_labels_that_are_shown(book: Path) -> None:
    """As the exports spell them, 1a.p1.1 comes before P1/3 in 1A."""
    shown = {"1a.p1.1": "2A-P1-01", "P1/3 in 1A": "1A-P1-03"}
    found = corrections.records(open_book(book), shown.__getitem__)
    labels = [one.label for one in found if isinstance(one, Record)]
    assert labels == ["P1/3 in 1A", "1a.p1.1"]


def test_what_was_withdrawn_is_told_by_the_labels_of_the_job(book: Path, tmp_path: Path) -> None:
    copy = Path(shutil.copytree(book, tmp_path / "book"))
    by = ("--who", "K. Orme", "--why", "another job")
    assert run("withdraw", copy, "1A-P1-03.csv", *by).exit_code == 0
    options = ("--to", "as-built", "--since", "2026-01-01", "-o", tmp_path / "delta.sqlite")
    said = " ".join(run("export", copy, *options).output.split())
    assert "(with tests of 1A-P1-03)" in said


def test_many_spellings_are_counted_by_kind(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(job_lines, "MOST_SPELLINGS", 1)
    plan = tmp_path / "plan.csv"
    plan.write_text("Label\n1A-P1-03\n")
    for words in (("check", book), ("reconcile", book, "--schedule", plan), ("retests", book)):
        said = " ".join(run(*words).stdout.split())
        assert "Brought together by project.toml: 2 spellings (label 2). `sweepbook export" in said
        assert "1a.p1.1" not in said
        if words[0] != "check":
            assert said.startswith("Brought together")


def test_a_row_that_is_another_one_in_another_form_is_told(book: Path, tmp_path: Path) -> None:
    plan = tmp_path / "plan.csv"
    plan.write_text("Label\n1A-P1-01\nP1/1 in 1a\n")
    result = run("reconcile", book, "--schedule", plan, "--json")
    (fault,) = json.loads(result.stdout)["schedule"]["faults"]
    assert fault["line"] == 3
    assert fault["message"].startswith("P1/1 in 1a is 1A-P1-01 by the project file, and stands in")


def test_a_test_is_asked_for_by_any_form_and_the_record_keeps_its_own(
    book: Path, tmp_path: Path
) -> None:
    for label in ("1A-P1-03", "p1/03 in 1a", "P1/3 in 1A"):
        assert "Test of 1A-P1-03" in run("show", book, label).stdout
    record = json.loads(run("show", book, "1A-P1-03", "--json").stdout)
    assert record["link"]["label"] == "P1/3 in 1A"
    assert run("compare", book, "1A-P1-03").exit_code == 0
    assert run("export", book, "--to", "tables", "-o", tmp_path / "t").exit_code == 0
    with (tmp_path / "t/links.csv").open(newline="", encoding="utf-8") as stream:
        assert [row["link"] for row in csv.DictReader(stream)] == ["1A-P1-01", "1A-P1-03"]


def test_what_is_accepted_of_a_label_holds_in_every_form(book: Path, tmp_path: Path) -> None:
    project = tmp_path / "project.toml"
    project.write_text(
        f'{HEAD}{FORMS}[[accept]]\nrule = "VRD001"\nlabel = "p1/3 in 1a"\n'
        'who = "K"\nwhen = "2026-03-09"\nwhy = "seen"\n'
    )
    (accepted,) = load(project).acceptances
    assert accepted.label == "1A-P1-03"
