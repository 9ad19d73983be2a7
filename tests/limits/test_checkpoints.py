"""The tables give the values that documents print; each value names where it was seen."""

import math
from typing import Any

import numpy as np
import pytest

from sweepbook.limits.library import Library
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.shape_model import DifferenceOf, Unknown

from .checks import CURVES, Check, by_table, checks, held, read
from .figure_checks import FIGURES, figure_held, range_held, relaxation_held

PATHS = Library.load().paths()
SOURCES: dict[str, str] = read("sources")


def told(check: Check, answers: list[bool]) -> list[str]:
    """The values of a check that the table does not give."""
    rows = zip(answers, check.mhz, check.printed, strict=True)
    what = f"{check.parameter} {check.part}".strip()
    return [
        f"{what} at {mhz:g} MHz: {value:g}, {check.source}" for ok, mhz, value in rows if not ok
    ]


@pytest.mark.parametrize("path", PATHS)
def test_printed_values_are_the_limits_to_half_their_last_digit(
    path: str, library: Library
) -> None:
    table = library.table(path)
    assert [line for check in by_table()[path] for line in told(check, held(check, table))] == []


@pytest.mark.parametrize(
    "check", tuple(checks(wrong=True)), ids=lambda c: f"{c.table}:{c.parameter}"
)
def test_a_value_listed_as_wrong_in_its_source_is_still_wrong(
    check: Check, library: Library
) -> None:
    assert not any(held(check, library.table(check.table)))


def test_every_exception_says_why() -> None:
    for name in CURVES:
        for group in read(name)["groups"]:
            assert all(len(row) == 3 and row[2] for row in group.get("exceptions", []))


@pytest.mark.parametrize(
    "figure", FIGURES["figures"], ids=lambda f: f"{f['parameter']}:{f['value']}"
)
def test_a_single_figure_is_the_limit(figure: dict[str, Any], library: Library) -> None:
    assert [p for p in figure["tables"] if not figure_held(figure, library.table(p))] == []
    assert ("working" in figure) == (figure["source"] == "by-hand")


@pytest.mark.parametrize("span", FIGURES["ranges"], ids=lambda s: f"{s['tables'][0]}:{s['to_mhz']}")
def test_a_limit_holds_over_its_range_and_nowhere_else(
    span: dict[str, Any], library: Library
) -> None:
    for path in span["tables"]:
        for word in span["parameters"]:
            assert range_held(word, span, library.table(path)), (path, word)


@pytest.mark.parametrize("row", FIGURES["relaxations"], ids=lambda r: r["parameter"])
def test_a_relaxation_is_what_is_recalled(row: dict[str, Any], library: Library) -> None:
    assert [p for p in row["tables"] if not relaxation_held(row, library.table(p))] == []


def test_every_check_names_a_source_that_is_described() -> None:
    assert all(SOURCES[check.source] for check in checks())
    for kind in ("figures", "ranges", "relaxations"):
        assert all(SOURCES[row["source"]] for row in FIGURES[kind])


def test_every_limit_that_decides_is_held_to_some_value(library: Library) -> None:
    figures = {(p, row["parameter"]) for row in FIGURES["figures"] for p in row["tables"]}
    for path in PATHS:
        valued = {check.parameter for check in by_table()[path] if not check.part}
        for word, limit in library.table(path).parameters.items():
            made_of_others = isinstance(limit.segments[0].shape, DifferenceOf | Unknown)
            if limit.obligation in ("required", "sampled") and not made_of_others:
                assert word in valued or (path, word) in figures, (path, word)


# Delay of 100 m of cable (534 + 36/sqrt(f) ns) with 2.5 ns a connection, worked out by hand at
# 10 MHz: 534 + 11.38 + 10 and 480.6 + 10.25 + 7.5. Cable equation and 2.5 ns: ISO/IEC 11801:2002
# Amendment 1, Corrigendum 1, Table 17 for the channel; memory for the permanent link.
@pytest.mark.parametrize("path", PATHS)
def test_the_delay_before_rounding_is_that_of_cable_and_connections(
    path: str, library: Library
) -> None:
    ns = 555.38 if path.endswith("/channel") else 498.35
    found = unrounded_line(library.table(path), "propagation_delay", np.array([10.0])).value[0]
    assert math.isclose(found, ns, abs_tol=0.005)
