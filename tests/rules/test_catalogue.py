"""The catalogue as data: it follows its schema, and every part of it has its counterpart."""

import copy
import inspect
import json
import re
from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path
from string import Formatter
from typing import Any

import pytest

import sweepbook
from sweepbook import schemas
from sweepbook.cli import rules
from sweepbook.errors import SweepbookError
from sweepbook.findings import Severity
from sweepbook.rules import catalogue
from sweepbook.rules.bindings import CHECKS, SET_CHECKS
from sweepbook.rules.model import Entry, Hit, Rule, SetRule

ENTRIES = catalogue.built_in_entries()
IDS = [entry.id for entry in ENTRIES]
CASES = Path(__file__).parent / "cases"
LETTERS = {
    "source": {"SRC"},
    "record": {"COR", "REC", "SCH"},
    "sweep": {"SWP"},
    "limit": {"LIM"},
    "verdict": {"VRD"},
    "set": {"SET"},
    "schedule": {"PLN"},
}
ASKED = [entry for entry in ENTRIES if entry.subject != "schedule"]
"""Those that a run asks; `tests/schedule/test_accepted.py` has the others on both sides."""


def document() -> dict[str, Any]:
    rules: dict[str, Any] = json.loads(
        files("sweepbook_schemas").joinpath("rules.json").read_bytes()
    )
    return rules


def test_the_catalogue_follows_its_schema() -> None:
    assert list(catalogue.problems(document())) == []


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("id", "REC1"),
        ("severity", "fatal"),
        ("name", "Has Blanks"),
        ("needs", ["luck"]),
        ("reference", {"document": "x", "clause": "", "force": "shall"}),
        ("unheard_of", 1),
    ],
)
def test_the_schema_refuses_a_faulty_entry(field: str, value: object) -> None:
    faulty = copy.deepcopy(document())
    faulty["rules"][0][field] = value
    assert list(catalogue.problems(faulty))


def test_the_schema_refuses_an_error_on_the_strength_of_common_practice() -> None:
    faulty = copy.deepcopy(document())
    practice = next(r for r in faulty["rules"] if r["reference"]["force"] == "practice")
    practice["severity"] = "error"
    assert list(catalogue.problems(faulty))


def test_ids_and_names_are_used_once_and_stand_in_order() -> None:
    assert sorted(set(IDS)) == IDS
    assert len({entry.name for entry in ENTRIES}) == len(ENTRIES)


@pytest.mark.parametrize("entry", ENTRIES, ids=IDS)
def test_the_fields_of_a_message_are_its_arguments(entry: Entry) -> None:
    fields = [name for _, name, _, _ in Formatter().parse(entry.message) if name is not None]
    assert tuple(dict.fromkeys(fields)) == entry.arguments


@pytest.mark.parametrize("entry", ENTRIES, ids=IDS)
def test_the_letters_of_an_id_fit_its_subject(entry: Entry) -> None:
    assert entry.id[:3] in LETTERS[entry.subject]


@pytest.mark.parametrize("entry", ENTRIES, ids=IDS)
def test_an_error_stands_on_a_shall_or_a_proof(entry: Entry) -> None:
    if entry.severity is Severity.ERROR:
        assert entry.reference["force"] in {"shall", "provable"}
    if entry.reference["force"] == "shall":
        assert entry.reference["known"] in {"own", "public"}, "no shall from memory"


@pytest.mark.parametrize("entry", ASKED, ids=lambda entry: entry.id)
def test_the_function_takes_the_parameters_and_has_a_docstring(entry: Entry) -> None:
    check = (SET_CHECKS if entry.subject == "set" else CHECKS)[entry.check]
    inspect.signature(check).bind(None, **entry.parameters)
    assert check.__doc__


def test_every_function_is_used_by_some_entry() -> None:
    used = {entry.check for entry in ASKED}
    assert {*CHECKS, *SET_CHECKS} == used


def test_every_public_function_of_the_rule_modules_is_bound() -> None:
    bound = {*CHECKS.values(), *SET_CHECKS.values()}
    modules = {inspect.getmodule(check) for check in bound}
    yielding = {
        function
        for module in modules
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if not name.startswith("_") and function.__module__ == getattr(module, "__name__", "")
    }
    assert yielding == bound


@pytest.mark.parametrize("entry", ASKED, ids=lambda entry: entry.id)
@pytest.mark.parametrize("side", ["fail", "pass"])
def test_every_rule_has_cases_on_both_sides(entry: Entry, side: str) -> None:
    assert list(CASES.glob(f"{entry.id}-{side}-*.json")), f"no {side} case of {entry.id}"


def test_every_case_is_named_after_a_rule() -> None:
    assert {path.name[:6] for path in CASES.glob("*.json")} <= set(IDS)
    assert {path.name[6:12] for path in CASES.glob("*.json")} == {"-fail-", "-pass-"}


def test_every_id_in_the_code_is_in_the_catalogue() -> None:
    root = Path(sweepbook.__file__).parent
    letters = "|".join(sorted({ours for group in LETTERS.values() for ours in group}))
    named = {
        found
        for path in root.rglob("*.py")
        for found in re.findall(rf"\b(?:{letters})[0-9]{{3}}\b", path.read_text("utf-8"))
    }
    assert named <= set(IDS)


def a_rule(id_: str, check: Callable[..., Iterator[Hit]], subject: str = "record") -> Rule:
    entry = Entry(
        id=id_,
        name="cable-too-red",
        since="0.1",
        status="stable",
        severity=Severity.NOTE,
        subject=subject,
        needs=(),
        title="Cables are not red",
        why="The owner has a taste of his own.",
        fix="Pull another cable.",
        reference={"document": "wish", "clause": "", "force": "practice", "known": "none"},
        check=check.__name__,
        message="the cable is {colour}",
        arguments=("colour",),
    )
    return Rule(entry, check)


def test_a_contributed_rule_stands_among_the_others_and_in_the_digests() -> None:
    def red(_case: object) -> Iterator[Hit]:
        yield Hit("$.link.cable", {"colour": "red"})

    plain, more = catalogue.load(), catalogue.load([a_rule("RED001", red)])
    assert plain.contributed_sha256 is None
    assert re.fullmatch("[0-9a-f]{64}", more.contributed_sha256 or "")
    assert plain.sha256 == more.sha256
    assert more.entry("RED001").name == "cable-too-red"
    assert len(more.entries) == len(plain.entries) + 1
    assert all(isinstance(rule, SetRule) for rule in more.set_rules)


def test_an_id_that_is_taken_is_refused() -> None:
    def red(_case: object) -> Iterator[Hit]:
        yield from ()

    with pytest.raises(SweepbookError, match="REC001 is used twice"):
        catalogue.load([a_rule("REC001", red)])


def test_an_unknown_rule_is_named_with_what_to_do() -> None:
    with pytest.raises(SweepbookError, match=r"'ABC999'.*sweepbook rules"):
        catalogue.load().entry("ABC999")


def test_the_words_of_the_catalogue_are_explained_as_its_schema_has_them() -> None:
    rule = schemas.schema("rules-0.schema.json")["$defs"]["rule"]["properties"]
    reference = rule["reference"]["properties"]
    for told, words in (
        (rules.STATUS, rule["status"]),
        (rules.FORCE, reference["force"]),
        (rules.KNOWN, reference["known"]),
    ):
        for word in words["enum"]:
            explained = f"{word}: {told[word]}" if word in told else f" {word};"
            assert explained in words["description"], word
