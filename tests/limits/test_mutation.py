"""One percent on any number of any table is noticed by a check value, or is listed as too small.

The checks are values that documents print (see `checkpoints/`), never a copy of coefficients.
"""

import json
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from sweepbook.limits.library import Library

from .figure_checks import steps_held
from .mutation import FACTORS, Document, effect, noticed, numbers, with_steps

PATHS = Library.load().paths()
SMALL: dict[str, Any] = json.loads(Path(__file__).with_name("too_small.json").read_text("utf-8"))
HALF_A_DIGIT = 0.05
"""Documents print limits in dB with one digit after the mark."""


LISTED_TO_DB = 0.0001
"""Effects are listed with four digits after the mark."""


def document(path: str) -> Document:
    found: Document = json.loads(
        files("sweepbook_schemas").joinpath(f"limits/{path}.json").read_bytes()
    )
    return found


@cache
def listed(path: str) -> dict[str, tuple[list[str], float]]:
    """What is listed of a table: changes that nothing notices, and by how much the limit moves."""
    return {
        row["number"]: (row["changes"], row["effect"])
        for row in (*SMALL["too_small"], *SMALL["no_value"])
        if path in row["tables"]
    }


def in_words(factor: float) -> str:
    return f"{100.0 * (factor - 1.0):+.0f} %"


@pytest.mark.parametrize("path", PATHS)
def test_one_percent_is_noticed_or_listed(path: str) -> None:
    table, found = document(path), {}
    for number in numbers(table):
        unseen = [factor for factor in FACTORS if not noticed(table, number, factor)]
        if unseen:
            moves = max(effect(table, number, factor) for factor in unseen)
            found[number.name] = ([in_words(factor) for factor in unseen], moves)
    assert found.keys() == listed(path).keys()
    for name, (changes, moves) in found.items():
        assert listed(path)[name][0] == changes, name
        assert abs(listed(path)[name][1] - moves) <= LISTED_TO_DB, name


def test_what_is_too_small_moves_a_limit_by_less_than_half_a_printed_digit() -> None:
    assert all(0.0 <= row["effect"] < HALF_A_DIGIT for row in SMALL["too_small"])


def test_what_no_value_sees_moves_it_little_more_and_says_why() -> None:
    for row in SMALL["no_value"]:
        assert HALF_A_DIGIT <= row["effect"] < 3 * HALF_A_DIGIT
        assert row["why"]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("factor", FACTORS)
def test_one_percent_on_a_step_or_on_the_length_is_noticed(path: str, factor: float) -> None:
    table = document(path)
    assert steps_held(with_steps(table))
    ranges = table["steps"]["ranges"]
    for i, span in enumerate(ranges):
        step = {(i, "largest_step_mhz"): span["largest_step_mhz"] * factor}
        joint = {(i, "to_mhz"): span["to_mhz"] * factor}
        if i + 1 < len(ranges):
            joint[(i + 1, "from_mhz")] = span["to_mhz"] * factor
        assert not steps_held(with_steps(table, step)), i
        assert not steps_held(with_steps(table, joint)), i
    start = {(0, "from_mhz"): ranges[0]["from_mhz"] * factor}
    assert not steps_held(with_steps(table, start))
    assert not steps_held(with_steps(table, {}, length=table["longest_length_m"] * factor))
