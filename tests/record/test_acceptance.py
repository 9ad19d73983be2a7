"""The quick yes and the slow validator come to the same answer, whatever stands in a record."""

import copy
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sweepbook.record import acceptance, skeleton
from sweepbook.record.arrays import set_aside

from .faults import BY_SCHEMA, put
from .samples import plain, record, records

ODD: tuple[Any, ...] = (
    None, True, False, 0, 1, -1, 0.0, -0.0, 1.0, 2.0, -1.0, 0.5, 1e300, 10**400, 2**63, 2**64,
    float("inf"), float("-inf"), float("nan"), "", "x", "pass", "a\n", "1-2\n", "0" * 64,
    "0" * 64 + "\n", "\ud800", "\0", "é", "2024-01-01\n", "2024-01-01", [], [0], [0.5], [[]], {},
    {"a": 1}, [None], {"from": 1.0, "to": 2}, {"parameter": "next"}, b"x", (1, 2), 1 + 2j,
    999_999, 1_000_000,
)  # fmt: skip
VALUES = st.one_of(
    st.sampled_from(ODD),
    st.text(max_size=6),
    st.integers(),
    st.floats(),
    st.recursive(
        st.sampled_from(ODD[:24]), lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner)
    ),
)


def _bare() -> dict[str, Any]:
    return set_aside(record().document)[0]


def _places(value: object, way: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """The way to everything in a value."""
    found = [way] if way else []
    items = value.items() if isinstance(value, dict) else ()
    members = enumerate(value) if isinstance(value, list) else items
    for name, item in members:
        found += _places(item, (*way, name))
    return found


PLACES = _places(_bare())


def _slow(document: dict[str, Any]) -> bool:
    try:
        return not any(skeleton.validator().iter_errors(document))
    except (ValueError, TypeError, OverflowError, RecursionError):
        return False


def test_a_record_that_follows_its_schema_is_accepted() -> None:
    """Else the quick way would be no way at all."""
    assert acceptance.accepts(_bare())


@given(made=records())
@settings(max_examples=50, suppress_health_check=[HealthCheck.too_slow])
def test_any_sound_record_is_accepted(made: Any) -> None:
    assert acceptance.accepts(set_aside(made.document)[0])


@given(way=st.sampled_from(PLACES), value=VALUES, more=st.booleans())
@settings(max_examples=600, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_what_is_accepted_has_no_fault(
    way: tuple[str | int, ...], value: object, more: bool
) -> None:
    document = copy.deepcopy(_bare())
    holder: Any = document
    for step in way[:-1]:
        holder = holder[step]
    if more and isinstance(holder, dict):
        holder["more"] = value
    else:
        holder[way[-1]] = value
    if acceptance.accepts(document):
        assert _slow(document)


@pytest.mark.parametrize("value", ODD, ids=repr)
def test_odd_values_in_every_place_are_never_accepted_wrongly(value: object) -> None:
    for way in PLACES:
        document = copy.deepcopy(_bare())
        holder: Any = document
        for step in way[:-1]:
            holder = holder[step]
        holder[way[-1]] = value
        if acceptance.accepts(document):
            assert _slow(document), way


@pytest.mark.parametrize("name", BY_SCHEMA)
def test_no_known_fault_is_accepted(name: str) -> None:
    change, _, _ = BY_SCHEMA[name]
    document = plain()
    change(document)
    assert not acceptance.accepts(set_aside(document)[0])


@pytest.mark.parametrize("name", ["decimals", "count", "bytes", "from", "to", "port"])
def test_the_names_of_integers_come_from_the_schema(name: str) -> None:
    assert name in acceptance._integers()


def test_a_record_nested_without_end_is_left_to_the_slow_way() -> None:
    deep: Any = 1
    for _ in range(100_000):
        deep = [deep]
    document = _bare()
    put(deep, "extra")(document)
    assert not acceptance.accepts(document)


@pytest.mark.parametrize("other", [1.0, "1", True, None], ids=repr)
def test_a_sweep_that_was_accepted_is_not_taken_for_one_of_other_types(other: object) -> None:
    """Python has 1 == 1.0 == True, and one hash for all of them."""
    assert acceptance.accepts(_bare())
    document = _bare()
    sweep = document["results"]["sweeps"][-1]
    sweep["decimals"] = 1
    assert acceptance.accepts(document)
    sweep["decimals"] = other
    assert not acceptance.accepts(document)
    sweep["decimals"] = 1
    sweep["pairs"] = tuple(sweep["pairs"])
    assert not acceptance.accepts(document)


def test_a_kind_without_sweeps_of_ours_teaches_nothing() -> None:
    document = _bare()
    document["results"]["sweeps"][0]["pairs"] = "none of the schema"
    assert acceptance.accepts({**_bare(), "kind": "cord", "results": document["results"]})
    assert not acceptance.accepts(document)
