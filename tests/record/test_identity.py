"""The identity of a record follows from what was measured and stated, and from nothing else."""

import copy
import hashlib
import json
from collections.abc import Iterator
from typing import Any

import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st

from sweepbook.record import identity
from sweepbook.record.model import Record

from .samples import body, plain, record, records

INSIDE = ("kind", "link", "test", "results", "stated", "extra", "extensions")


@settings(max_examples=60, deadline=None)
@given(records())
def test_it_is_the_digest_of_the_text_that_the_reference_library_writes(made: Record) -> None:
    there = json.loads(json.dumps(_listed(made.document)))
    inside = {name: there[name] for name in INSIDE if name in there}
    assert made.record_id == f"sb0-{hashlib.sha256(rfc8785.dumps(inside)).hexdigest()}"


def _listed(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _listed(item) for name, item in value.items()}
    if isinstance(value, list):
        return [_listed(item) for item in value]
    return value.tolist() if hasattr(value, "tolist") else value


@settings(max_examples=50, deadline=None)
@given(st.randoms(use_true_random=False), st.integers(0, 8))
def test_neither_order_nor_blanks_matter(random: Any, indent: int) -> None:
    def shuffled(value: object) -> object:
        if isinstance(value, dict):
            names = list(value)
            random.shuffle(names)
            return {name: shuffled(value[name]) for name in names}
        return [shuffled(item) for item in value] if isinstance(value, list) else value

    other = json.loads(json.dumps(shuffled(plain()), indent=indent))
    assert identity.record_id(Record.of(other).document) == record().record_id


def test_where_it_was_found_and_how_it_was_read_do_not_matter() -> None:
    made = record()
    for other in (
        made.with_origin([{"sha256": "9" * 64, "name": "copy.csv", "locator": ""}]),
        made.with_resolved({"label": "other"}),
        made.with_provenance({"program": "other"}),
        Record.of({**made.document, "attachments": []}),
    ):
        assert other != made
        assert identity.record_id(other.document) == other.record_id == made.record_id


def _leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(value, dict | list):
        items = value.items() if isinstance(value, dict) else enumerate(value)
        for name, item in items:
            yield from _leaves(item, (*path, name))
    else:
        yield path


EVIDENCE = [path for path in _leaves(body()) if path[0] in INSIDE]


@pytest.mark.parametrize("path", EVIDENCE, ids=lambda path: ".".join(map(str, path)))
def test_any_change_of_what_was_measured_or_stated_makes_another_record(
    path: tuple[Any, ...],
) -> None:
    members = body()
    holder = members
    for name in path[:-1]:
        holder = holder[name]
    old = holder[path[-1]]
    if isinstance(old, bool):
        holder[path[-1]] = not old
    elif isinstance(old, float | int):
        holder[path[-1]] = old + 1
    else:
        holder[path[-1]] = f"{old} "
    assert Record.build(**members, origin=[]).record_id != record().record_id


def test_the_last_bit_of_a_value_counts() -> None:
    members = body()
    members["results"]["sweeps"][0]["value_db"] = [90.0, 88.12000000000002]
    assert 88.12000000000002 != 88.12
    assert Record.build(**members, origin=[]).record_id != record().record_id


def test_how_a_number_was_written_does_not_count() -> None:
    one, two = copy.deepcopy(plain()), copy.deepcopy(plain())
    one["results"]["sweeps"][0]["value_db"] = [90, 0]
    two["results"]["sweeps"][0]["value_db"] = [90.0, -0.0]
    assert identity.record_id(Record.of(one).document) == identity.record_id(two)


def test_spellings_of_one_label_are_one_link_in_a_job() -> None:
    one = identity.link_id("job", "1A-P1-03")
    assert identity.link_id("job", " 1a-p1-03 ") == one
    assert identity.link_id("job", "\uff11A-P1-03") == one
    assert identity.link_id("another job", "1A-P1-03") != one
    assert identity.link_id("job", "1A-P1-3") != one
    assert identity.link_id("a", "b c") != identity.link_id("a b", "c")
