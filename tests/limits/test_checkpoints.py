"""The tables give the values that documents print; each value names where it was seen."""

import json
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shapes import line, scalar_limit

CHECKS: dict[str, Any] = json.loads(Path(__file__).with_name("checkpoints.json").read_text("utf-8"))
HELD = [check for check in CHECKS["values"] if "exception" not in check]
EXCEPTIONS = [check for check in CHECKS["values"] if "exception" in check]


def name(check: dict[str, Any]) -> str:
    kind = "memory" if check["source"] == "memory" else "public"
    return f"{kind}:{check['table']}:{check['parameter']}:{check.get('mhz', '')}"


def limit_at(table: LimitTable, check: dict[str, Any]) -> float:
    """The table's limit, without the cap where the source prints none; in the source's unit."""
    if check.get("cap") is False:
        bare = replace(table.parameters[check["parameter"]], cap=None)
        table = replace(table, parameters={**table.parameters, check["parameter"]: bare})
    at = np.array([float(check["mhz"])])
    return float(unrounded_line(table, check["parameter"], at).value[0])


def as_printed(value: float, check: dict[str, Any]) -> bool:
    """Whether the source would have printed the value: rounded, or in some rows cut."""
    digit = 10.0 ** -check["decimals"]
    rounded = abs(value - check["value"]) <= digit / 2 + 1e-9
    cut = check.get("printed") == "cut at places" and 0.0 <= value - check["value"] < digit
    return rounded or cut


@pytest.mark.parametrize("check", HELD, ids=name)
def test_a_printed_value_is_the_limit_to_half_its_last_digit(
    check: dict[str, Any], library: Library, readings: Interpretations
) -> None:
    table = library.table(check["table"])
    if table.parameters[check["parameter"]].rounding is None:
        assert as_printed(limit_at(table, check), check)
    else:  # the document rounds the limit itself: then the rounded one is the printed one
        at = np.array([float(check["mhz"])])
        assert line(table, check["parameter"], at, readings).value[0] == check["value"]


@pytest.mark.parametrize("check", EXCEPTIONS, ids=name)
def test_a_value_listed_as_wrong_in_its_source_is_still_wrong(
    check: dict[str, Any], library: Library
) -> None:
    assert check["exception"]
    assert not as_printed(limit_at(library.table(check["table"]), check), check)


@pytest.mark.parametrize("figure", CHECKS["figures"], ids=name)
def test_a_recalled_figure_is_the_limit(
    figure: dict[str, Any], library: Library, readings: Interpretations
) -> None:
    limit = scalar_limit(library.table(figure["table"]), figure["parameter"], readings)
    assert limit.value == limit.low == limit.high == figure["value"]


def test_every_check_names_a_source_that_is_described() -> None:
    for check in [*CHECKS["values"], *CHECKS["figures"]]:
        assert CHECKS["sources"][check["source"]]


# Delay of 100 m of cable (534 + 36/sqrt(f) ns) with 2.5 ns a connection, worked out by hand at
# 10 MHz: 534 + 11.38 + 10 and 480.6 + 10.25 + 7.5. Cable equation and 2.5 ns: ISO/IEC 11801:2002
# Amendment 1, Corrigendum 1, Table 17 for the channel; memory for the permanent link.
@pytest.mark.parametrize(
    ("path", "ns"),
    [
        ("iso-11801-1-2017/class-ea/channel", 555.38),
        ("iso-11801-1-2017/class-ea/permanent-link", 498.35),
        ("tia-568.2-d/cat6a/channel", 555.38),
        ("tia-568.2-d/cat6a/permanent-link", 498.35),
    ],
)
def test_the_delay_before_rounding_is_that_of_cable_and_connections(
    path: str, ns: float, library: Library
) -> None:
    found = unrounded_line(library.table(path), "propagation_delay", np.array([10.0])).value[0]
    assert math.isclose(found, ns, abs_tol=0.005)
