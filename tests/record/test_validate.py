"""Every way not to follow record-1 is named with its place; the stock validator agrees."""

import copy
import json

import numpy as np
import pytest
from jsonschema import Draft202012Validator

from sweepbook.record import codec, identity, schema
from sweepbook.record.model import Record
from sweepbook.record.validate import MOST, problems

from .faults import BEYOND, BY_SCHEMA, SWEEP, Change, Document, put, sweep
from .samples import plain, record


def changed(change: Change) -> Document:
    document = plain()
    change(document)
    return document


def stock_says_no(document: Document) -> bool:
    return not Draft202012Validator(schema.schema()).is_valid(document)


def test_the_sample_follows_the_schema_by_the_stock_validator_too() -> None:
    assert problems(record().document) == problems(plain()) == ()
    assert not stock_says_no(plain())


@pytest.mark.parametrize("name", BY_SCHEMA)
def test_what_the_schema_forbids_is_named_with_its_place(name: str) -> None:
    change, path, words = BY_SCHEMA[name]
    document = changed(change)
    assert stock_says_no(document), "the schema alone must say so"
    found = {problem.path: problem.message for problem in problems(document)}
    assert path in found, found
    assert words in found[path]
    assert all(len(message) <= 300 for message in found.values())


@pytest.mark.parametrize("name", BEYOND)
def test_what_the_schema_cannot_say_is_named_with_its_place(name: str) -> None:
    change, path, words = BEYOND[name]
    document = changed(change)
    assert not stock_says_no(document), "the schema can say it: move the case up"
    found = {problem.path: problem.message for problem in problems(document)}
    assert path in found, found
    assert words in found[path]


@pytest.mark.parametrize("name", [*BY_SCHEMA, *BEYOND])
def test_a_faulty_record_read_from_a_file_is_found_faulty_too(name: str) -> None:
    change, path, _ = {**BY_SCHEMA, **BEYOND}[name]
    there = codec.loads(json.dumps(changed(change)).encode())
    assert path in {problem.path for problem in problems(there.document)}


def test_a_changed_record_does_not_have_its_identity() -> None:
    document = changed(lambda d: sweep(d).update(value_db=[90, 88.13]))
    (problem,) = problems(document)
    assert problem.path == "$.record_id"
    assert identity.record_id(Record.of(document).document) in problem.message


def test_an_infinite_value_is_named_once_an_array() -> None:
    document = copy.deepcopy(plain())
    sweep(document, 1)["delay_ns"] = np.array([1.0, np.nan, np.inf])
    paths = [problem.path for problem in problems(document)]
    assert paths[0] == "$.results.sweeps[1].delay_ns[1]"
    assert len(paths) == 2, "the other one is that there is no identity"


def test_a_faulty_sweep_does_not_hide_another() -> None:
    document = plain()
    sweep(document, 0)["decimals"] = -1
    sweep(document, 1)["delay_ns"].pop()
    paths = {problem.path for problem in problems(document)}
    assert paths == {f"{SWEEP}.decimals", "$.results.sweeps[1].delay_ns"}


def test_thousands_of_problems_are_cut_off_and_it_says_so() -> None:
    document = plain()
    sweep(document)["value_db"] = ["x"] * 5000
    found = problems(document)
    assert len(found) == MOST + 1
    assert found[-1].message == f"has more than {MOST} problems; no more are listed"
    assert len(problems(document, most=3)) == 4


def test_a_word_that_is_not_in_the_vocabulary_is_kept() -> None:
    members = plain()
    sweep(members).update(parameter="mode_conversion", pairs=["1-2"])
    members["record_id"] = identity.record_id(Record.of(members).document)
    assert problems(members) == ()


@pytest.mark.parametrize("value", [None, 1, "x", [], {}, True])
@pytest.mark.parametrize("name", [*plain(), "results.sweeps", "results.grids", "test.started"])
def test_anything_in_any_place_is_a_problem_and_no_crash(name: str, value: object) -> None:
    document = plain()
    put(value, *name.split("."))(document)
    assert problems(document)
