"""Change one number of a table by one percent, and see whether any check value notices.

A number is named by its place in the table's file. The joint of two segments is one number.
"""

import copy
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from sweepbook.limits.build import build
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shapes import line, scalar_limit

from .checks import READINGS, Check, by_table, held
from .figure_checks import others_held

Document = dict[str, Any]
Place = tuple[str | int, ...]

NOT_NUMBERS_OF_A_LIMIT = ("rounding",)
"""Digits to round to are whole numbers: one percent of them is nothing."""

FACTORS = (1.01, 0.99)


@dataclass(frozen=True)
class Number:
    """One number of a table: the parameter it belongs to, and its places in the file."""

    parameter: str
    places: tuple[Place, ...]
    value: float

    @property
    def name(self) -> str:
        """E.g. `next.segments.0.shape.lines.1.a`."""
        return ".".join(str(step) for step in self.places[0])


def numbers(document: Document) -> Iterator[Number]:
    """Every number of the limits of a table that one percent changes."""
    for word, member in document["parameters"].items():
        yield from _joints(word, member["segments"])
        for place, value in _leaves((word,), member):
            edge = place[1] == "segments" and place[-1] in ("from_mhz", "to_mhz")
            if not edge and value != 0 and not set(place) & set(NOT_NUMBERS_OF_A_LIMIT):
                yield Number(word, (place,), float(value))


def _joints(word: str, segments: list[dict[str, Any]]) -> Iterator[Number]:
    if "from_mhz" not in segments[0]:
        return
    last = len(segments) - 1
    yield Number(word, ((word, "segments", 0, "from_mhz"),), segments[0]["from_mhz"])
    for i, segment in enumerate(segments):
        place: Place = (word, "segments", i, "to_mhz")
        after: tuple[Place, ...] = ((word, "segments", i + 1, "from_mhz"),) if i < last else ()
        yield Number(word, (place, *after), segment["to_mhz"])


def _leaves(place: Place, member: Any) -> Iterator[tuple[Place, Any]]:
    if isinstance(member, dict):
        for key, value in member.items():
            yield from _leaves((*place, key), value)
    elif isinstance(member, list):
        for i, value in enumerate(member):
            yield from _leaves((*place, i), value)
    elif isinstance(member, int | float) and not isinstance(member, bool):
        yield place, member


def touched(document: Document, parameter: str) -> list[str]:
    """The parameter, and the differences that are made of it."""
    made = [
        word
        for word, member in document["parameters"].items()
        if parameter in member["segments"][0]["shape"].values()
    ]
    return [parameter, *made]


def changed(document: Document, number: Number, factor: float) -> LimitTable:
    """The table with one number changed; of its limits only those that may move."""
    words = touched(document, number.parameter)
    other = {
        shape[which]
        for word in words
        if (shape := document["parameters"][word]["segments"][0]["shape"])["kind"]
        == "difference_of"
        for which in ("minuend", "subtrahend")
    }
    limits = {word: document["parameters"][word] for word in {*words, *other}}
    limits[number.parameter] = copy.deepcopy(limits[number.parameter])
    for place in number.places:
        at: Any = limits
        for step in place[:-1]:
            at = at[step]
        at[place[-1]] = number.value * factor
    return build({**document, "parameters": limits, "not_usable": []}, "changed")


def with_steps(
    document: Document,
    changes: dict[tuple[int, str], float] | None = None,
    length: float | None = None,
) -> LimitTable:
    """The table with changes to its steps, by range and key, or to its longest length."""
    steps = copy.deepcopy(document["steps"])
    for (i, key), value in (changes or {}).items():
        steps["ranges"][i][key] = value
    longest = document["longest_length_m"] if length is None else length
    return build({**document, "steps": steps, "longest_length_m": longest}, "changed")


def checks_of(document: Document, parameter: str) -> list[Check]:
    """The checks over frequency that may notice a change of the parameter."""
    words = touched(document, parameter)
    return [check for check in by_table()[document["path"]] if check.parameter in words]


def noticed(document: Document, number: Number, factor: float) -> str:
    """What notices the change: "public" where a public value does, else "memory", else ""."""
    table = changed(document, number, factor)
    failing = [c for c in checks_of(document, number.parameter) if not all(held(c, table))]
    if any(check.public for check in failing):
        return "public"
    if failing or not all(others_held(table, number.parameter)):
        return "memory"
    return ""


def effect(document: Document, number: Number, factor: float) -> float:
    """By how much the limit moves at most, over its own range, in its unit.

    Where the change makes the limit end elsewhere, or the condition of a relaxation moves, there
    is no such figure: infinite.
    """
    before = build({**document, "not_usable": []}, "as it is")
    after = changed(document, number, factor)
    word = number.parameter
    limit = before.parameters[word]
    if number.places[0][-1] in ("at_mhz", "below_db"):
        return float("inf")
    if limit.f_min_mhz is None or limit.f_max_mhz is None:
        one, other = (scalar_limit(x, word, READINGS, base_ohm=5.0) for x in (before, after))
        return max(abs(one.value - other.value), abs(one.low - other.low))
    if number.places[0][1] == "relaxed_when":
        return _relaxed_effect(before, after, word)
    at = _grid(limit.f_min_mhz, limit.f_max_mhz, number)
    lines = [line(x, word, at, READINGS) for x in (before, after)]
    if not np.array_equal(np.isnan(lines[0].value), np.isnan(lines[1].value)):
        return float("inf")
    lines = [unrounded_line(x, word, at) for x in (before, after)]
    moves = (getattr(lines[0], w) - getattr(lines[1], w) for w in ("value", "low", "high"))
    return float(max(np.nanmax(np.abs(move)) for move in moves))


def _relaxed_effect(before: LimitTable, after: LimitTable, word: str) -> float:
    from sweepbook.limits.effects import Relaxation

    at = np.linspace(440.0, 510.0, 1401)
    amounts = []
    for table in (before, after):
        data = table.parameters[word].relaxed_when
        assert data is not None
        taken = Relaxation("", data.companion, data.at_mhz, data.below_db, "own", data)
        amounts.append(taken.amount_db(at))
    return float(np.max(np.abs(amounts[0] - amounts[1])))


def _grid(low: float, high: float, number: Number) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Fine over the range, and finer about the number where it is a joint."""
    grid = np.geomspace(low, high, 1500)
    if number.places[0][-1] in ("from_mhz", "to_mhz"):
        near = number.value * np.linspace(0.989, 1.011, 221)
        grid = np.concatenate([grid, near[(near >= low) & (near <= high)]])
    return np.sort(grid)
