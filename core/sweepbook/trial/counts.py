"""Curves and figures of a record beside those that its limit asks for."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

import numpy as np

from sweepbook.draft.document import listed
from sweepbook.draft.phrases import parameter_in
from sweepbook.judging import phrases
from sweepbook.judging.coverage import absent, needed
from sweepbook.judging.curves import PAIRS, Curves
from sweepbook.judging.working import Lack, LackKind
from sweepbook.limits.model import LimitTable
from sweepbook.record import vocabulary

_MISSING_SHOWN = 4
RECIPROCAL = ("fext", "acr_f")
"""Received at one end, all orders of the pairs say what is received at the other (the vocabulary
has why, for FEXT); of exported ACR-F nothing more is asked."""

NO_SIGN = "no sign of it"
"""Said of curves that the limit asks for and that the export most likely does not have."""


class Row(NamedTuple):
    """One parameter.

    Attributes:
        parameter: word of the vocabulary.
        found, expected: curves or figures; expected is 0 for what no limit asks for.
        missing: what lacks, in words; "" for nothing.
        frequency: the axis in MHz, in words; "" for figures.
        values: the least and the greatest value with their unit, in words.
        swept: whether it is counted in curves.
    """

    parameter: str
    found: int
    expected: int
    missing: str
    frequency: str
    values: str
    swept: bool


def rows(
    document: Mapping[str, Any], measured: Mapping[str, Curves], table: LimitTable | None
) -> list[Row]:
    """The parameters that the limit asks for, and all others that were found.

    Args:
        document: of the record.
        measured: its curves by parameter.
        table: its limit, or None where none is known.
    """
    figures: dict[str, list[Mapping[str, Any]]] = {}
    for entry in document.get("results", {}).get("scalars", ()):
        figures.setdefault(entry["parameter"], []).append(entry)
    known = vocabulary.load().parameters
    signs = _signs(document)
    there = {*measured, *figures, *(signs or ())}
    wanted = dict.fromkeys(_wanted(table, there)) if table else {}
    names = [name for name in known if name in wanted or name in measured or name in figures]
    made = [_row(name, name in wanted, measured.get(name), figures.get(name, [])) for name in names]
    return [_as_lacking(row, signs) for row in made if row is not None]


def _signs(document: Mapping[str, Any]) -> set[str] | None:
    """Parameters that keys in `extra` read as; None for a test without curves."""
    if "sweeps" not in document.get("results", {}):
        return None
    spans = map(parameter_in, document.get("extra", {}))
    return {span.meaning for span in spans if span is not None}


def _as_lacking(row: Row, signs: set[str] | None) -> Row:
    """A row that says where nothing in the export reads as its parameter."""
    if signs is None or row.parameter in signs or not (row.swept and row.missing):
        return row
    return row if row.found else row._replace(missing=NO_SIGN)


def _wanted(table: LimitTable, there: set[str]) -> Iterator[str]:
    """What a limit requires: what it is made from, or itself where only that was exported."""
    known = vocabulary.load().parameters
    names = [name for name, rule in table.parameters.items() if rule.obligation == "required"]
    while names:
        name = names.pop()
        parts = known[name].obtained_from if name in known else ()
        if parts and (name not in there or there.issuperset(parts)):
            names += parts
        elif name in known:
            yield name


def _row(
    name: str, wanted: bool, curves: Curves | None, figures: list[Mapping[str, Any]]
) -> Row | None:
    unit = vocabulary.load().parameters[name].unit
    if unit == "1":
        return None
    swept = curves is not None or unit == "dB"
    if swept and not (figures and curves is None):
        expected = len(needed(name)) if wanted else 0
        lacks = absent(name, curves)
        found = len(curves.keys) if curves is not None else 0
        if name in RECIPROCAL and [lack.kind for lack in lacks] == [LackKind.END]:
            lacks, expected = (), min(expected, found)
        missing = _missing(lacks) if wanted or curves is not None else ""
        return Row(name, found, expected, missing, _axis(curves), _range(curves, unit), True)
    expected = len(PAIRS) if wanted else 0
    if name == "length":
        expected = min(expected, 1)
    values = [value for entry in figures if (value := _value(entry)) is not None]
    text = f"{min(values):g} to {max(values):g} {unit}" if values else ""
    missing = f"no {phrases.name(name)}" if wanted and not figures else ""
    return Row(name, len(figures), expected, missing, "", text, False)


def _missing(lacks: tuple[Lack, ...]) -> str:
    texts = []
    for lack in lacks:
        if lack.kind is LackKind.PARAMETER:
            texts.append("all")
        elif lack.kind is LackKind.END:
            texts.append(f"all at the {lack.end} end")
        else:
            texts.append(f"{'/'.join(lack.pairs)}{f' {lack.end}' if lack.end else ''}")
    return listed(texts, _MISSING_SHOWN)


def _axis(curves: Curves | None) -> str:
    if curves is None or not curves.frequency_mhz.size:
        return ""
    return f"{curves.frequency_mhz[0]:g} to {curves.frequency_mhz[-1]:g} MHz"


def _range(curves: Curves | None, unit: str) -> str:
    if curves is None or np.isnan(curves.value).all():
        return ""
    shown = "ns" if curves.parameter in ("propagation_delay", "delay_skew") else unit
    return f"{np.nanmin(curves.value):g} to {np.nanmax(curves.value):g} {shown}"


def _value(entry: Mapping[str, Any]) -> float | None:
    """The measured value of a single figure, if it is a plain number."""
    names = vocabulary.load().parameters[entry["parameter"]].values
    return next((float(entry[name]) for name in names if name in entry), None)
