"""Whatever a record lacks or overstates, judging ends, no rule crashes, the document is valid."""

import copy
import io
import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sweepbook.audit import document
from sweepbook.audit.run import Run
from sweepbook.findings import NotRun, Severity
from sweepbook.judging.assessment import Judgement
from sweepbook.record.model import Record
from sweepbook.record.validate import problems as schema_problems

from .changes import ORIGIN, record
from .link import clean, time
from .test_cases import context

ODD_NUMBERS = st.sampled_from([0.0, -0.0, -3.5, 1e-9, 1e9, 400.0])
ODD_TEXTS = st.sampled_from(["", " ", "=1+1", "007", "Grüße", "1\n2", "a" * 300])


def every_place(value: object, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Paths of all members and entries, long number lists taken as one."""
    inner: list[tuple[Any, object]]
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list) and len(value) < 100:
        inner = list(enumerate(value))
    else:
        return [path]
    return [path, *(place for name, part in inner for place in every_place(part, (*path, name)))]


def full() -> dict[str, Any]:
    """The clean link on every 13th frequency, with every member that a rule looks at."""
    members = clean()
    grid = members["results"]["grids"][0]
    grid["frequency_mhz"] = grid["frequency_mhz"][::13]
    for sweep in members["results"]["sweeps"]:
        sweep["value_db"] = sweep["value_db"][::13]
    members["test"]["accuracy"] = [{"parameter": "next", "constant_db": 0.8}]
    members["test"]["ended"] = time("2026-03-04T09:13:00+00:00")
    figure = {"margin_db": 11.4, "decimals": 1, "as_stated": "11.4", "frequency_mhz": 299.0}
    worst = {"value_db": 41.0, "decimals": 1, "as_stated": "41.0"}
    delay = {"value_ns": 306, "decimals": 0, "as_stated": "306"}
    members["stated"]["items"] = [
        {"parameter": "next", "verdict": "pass", "worst_margin": figure, "worst_value": worst},
        {"parameter": "propagation_delay", "verdict": "pass*", "worst_value": delay},
    ]
    return members


PLACES = [place for place in every_place(full()) if place]


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, Any]:
    """The link after a few changes; most often each is taken back where the schema forbids it."""
    members, picky = full(), draw(st.integers(0, 4)) > 0
    for place in draw(st.lists(st.sampled_from(PLACES), min_size=1, max_size=5)):
        changed = copy.deepcopy(members)
        if _change(changed, place, draw) and not (picky and _forbidden(changed)):
            members = changed
    return members


def _change(members: dict[str, Any], place: tuple[Any, ...], draw: st.DrawFn) -> bool:
    *steps, last = place
    holder: Any = members
    try:
        for step in steps:
            holder = holder[step]
        before = holder[last]
    except (KeyError, IndexError):
        return False
    if isinstance(before, str) and draw(st.booleans()):
        holder[last] = draw(ODD_TEXTS)
    elif isinstance(before, int | float) and draw(st.booleans()):
        holder[last] = draw(ODD_NUMBERS)
    else:
        del holder[last]
    return True


def _forbidden(members: dict[str, Any]) -> bool:
    if not {"link", "test", "results"} <= set(members):
        return True
    return bool(schema_problems(Record.build(origin=ORIGIN, **members).document))


@given(members=mutated())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_nothing_raises_and_nothing_crashes(members: dict[str, Any]) -> None:
    if not {"link", "test", "results"} <= set(members):
        return
    run = Run(context())
    stream = io.BytesIO()
    with document.Writer(run) as out:
        for assessed in run.walk([Record.build(origin=ORIGIN, **members)]):
            out.add(assessed)
            assert not [one for one in assessed.rules_not_run if one.how is NotRun.CRASHED]
        out.write_to(stream)
    assert list(document.problems(json.loads(stream.getvalue()))) == []


@pytest.mark.parametrize("parameter", ["next", "return_loss", "insertion_loss"])
@given(deeper=st.floats(min_value=14.0, max_value=60.0))
@settings(max_examples=5, deadline=None)
def test_a_bad_link_truthfully_stated_is_upheld_without_error_or_warning(
    parameter: str, deeper: float
) -> None:
    """By 14 dB more than the worst margin of the clean link, every one of these fails."""
    sign = 1.0 if parameter == "insertion_loss" else -1.0
    curve = {"parameter": parameter, "pairs": ["3-6", "4-5"] if parameter == "next" else ["3-6"]}
    bad: list[dict[str, Any]] = [
        {"add_db": sign * deeper, "curve": curve, "from_mhz": 290, "to_mhz": 310},
        {"set": "stated/overall", "to": {"verdict": "fail", "as_stated": "FAIL"}},
    ]
    run = Run(context())
    (assessed,) = run.walk([record(bad)])
    assert assessed.judgement is Judgement.UPHELD, assessed.reason
    assert not [one for one in assessed.findings if one.severity is not Severity.NOTE]
