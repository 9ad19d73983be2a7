"""Made-up tests of made-up links, every figure of them written here; questions in plain SQL."""

import contextlib
import sqlite3
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from sweepbook.audit import context
from sweepbook.audit.context import Context
from sweepbook.delivery import About, Delivery
from sweepbook.findings import Finding, Severity
from sweepbook.judging.assessment import (
    Assessment,
    Judgement,
    Margin,
    Origin,
    Outcome,
    Recomputed,
    ScalarMargin,
)
from sweepbook.limits.interpretations import Interpretations
from sweepbook.record.model import Record
from sweepbook_plugins.asbuilt import database as asbuilt

LIMIT = "tia-568.2-d/cat6a/permanent-link"
OUTCOMES = {
    "upheld": Recomputed.PASS,
    "overturned": Recomputed.FAIL,
    "unproven": Recomputed.UNDECIDED,
    "unstated": Recomputed.PASS,
}


@cache
def installed() -> Context:
    """The limits and rules that come with the program."""
    return context.installed()


def time(rfc3339: str) -> dict[str, str]:
    """A time as a record has it."""
    source = "unknown" if rfc3339.endswith("-00:00") else "stated"
    return {"as_stated": rfc3339, "rfc3339": rfc3339, "zone_source": source}


def record(
    label: str,
    near: dict[str, Any] | None = None,
    far: dict[str, Any] | None = None,
    started: str | None = None,
    gathered: str | None = None,
    origin: tuple[str, str] = ("a.csv", ""),
    serials: tuple[str, str] = ("BH5-1", "BH5-2"),
    link: dict[str, Any] | None = None,
    test: dict[str, Any] | None = None,
    scalars: Sequence[dict[str, Any]] = (),
) -> Record:
    """A record; `near` and `far` are ends, `origin` is the file's name and the place in it."""
    name, locator = origin
    ends = {"near": near, "far": far}
    return Record.build(
        link={"label": label, **{k: v for k, v in ends.items() if v}, **(link or {})},
        test={
            **{
                end: {"instrument": {"maker": "Brindlewick", "model": "Heron 5", "serial": serial}}
                for end, serial in zip(ends, serials, strict=True)
            },
            **({"started": time(started)} if started else {}),
            **(test or {}),
        },
        results={"scalars": [*scalars]} if scalars else {},
        origin=[{"sha256": name.encode().hex().ljust(64, "0"), "name": name, "locator": locator}],
        provenance={"program": "sweepbook", **({"read_at": gathered} if gathered else {})},
    )


def assessed(
    made: Record,
    judgement: str = "upheld",
    stated: str | None = "pass",
    margins: Sequence[Margin] = (),
    scalars: Sequence[ScalarMargin] = (),
    findings: Sequence[tuple[str, Severity, str]] = (),
    recomputed: Recomputed | None = None,
) -> Assessment:
    """What was found out about a record; findings are rule, severity and message."""
    return Assessment(
        record=made,
        limit_path=LIMIT,
        limit_how="named",
        limit_sha256=installed().library.table(LIMIT).sha256,
        stated=stated,
        recomputed=recomputed or OUTCOMES[judgement],
        judgement=Judgement(judgement),
        reason="because",
        grade="B",
        margins=tuple(margins),
        scalars=tuple(scalars),
        findings=tuple(Finding(rule, weight, "$", said, {}) for rule, weight, said in findings),
    )


def margin(
    parameter: str, end: str | None, pairs: tuple[str, ...], worst: float | None, **more: Any
) -> Margin:
    """A judged curve with this worst margin in dB at 100 MHz."""
    at = None if worst is None else 100.0
    values: dict[str, Any] = {
        "parameter": parameter,
        "obligation": "required",
        "end": end,
        "pairs": pairs,
        "outcome": Outcome.NOT_EVALUATED if worst is None else Outcome.PASS,
        "worst_margin_db": worst,
        "worst_margin_mhz": at,
        "limit_at_worst_margin_db": None if worst is None else 40.0,
        "worst_value_db": None if worst is None else 40.0 + worst,
        "worst_value_mhz": at,
        "limit_at_worst_value_db": None if worst is None else 40.0,
        "points_evaluated": 0 if worst is None else 702,
        "points_for_information": 0,
        "origin": Origin.RECOMPUTED,
        "grade": None if worst is None else "B",
    }
    return Margin(**{**values, **more})


def delivery(
    entries: Iterable[Assessment],
    title: str = "Library",
    interpretations: Interpretations | None = None,
    **more: Any,
) -> Delivery:
    """A delivery of these tests."""
    judged = installed()
    about = About(
        title=title,
        program="sweepbook 0",
        decision_rule="unrounded",
        options={"against": "as stated"},
        digests={"catalogue": judged.catalogue.sha256, f"limit table {LIMIT}": "0" * 64},
        limits=judged.library,
        catalogue=judged.catalogue,
        interpretations=interpretations,
    )
    return Delivery(entries, about, **more)


def write(target: Path, *entries: Assessment, **more: Any) -> Path:
    """Write a delivery of these tests into a database."""
    asbuilt.write(delivery(entries, **more), target)
    return target


def ask(database: Path, question: str, *values: object) -> list[tuple[Any, ...]]:
    """The rows that answer a question, by Python's own sqlite3."""
    with contextlib.closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
        return connection.execute(question, values).fetchall()


def dump(database: Path) -> list[str]:
    """Every table, index, view and row as SQL."""
    with contextlib.closing(sqlite3.connect(database)) as connection:
        return list(connection.iterdump())
