"""Made-up assessments to write, and a workbook read back. The figures mean nothing."""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from random import Random
from typing import Any

from openpyxl import Workbook, load_workbook

from sweepbook.delivery import About, Delivery
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
from sweepbook.limits.library import Library
from sweepbook.record.model import Record
from sweepbook.rules import catalogue
from sweepbook_plugins.xlsx import workbook as xlsx

TIA = "tia-568.2-d/cat6a/permanent-link"
LIBRARY = Library.load()
CATALOGUE = catalogue.load()
Row = dict[str, Any]


def document(label: str = "A-1", **link: Any) -> dict[str, Any]:
    """The parts of a record, as Record.build takes them."""

    def end(serial: str) -> dict[str, Any]:
        unit = {"maker": "Brindlewick", "model": "Heron 5", "serial": serial}
        return {"instrument": unit, "adaptor": {"part": "HP-6A", "serial": f"P-{serial}"}}

    def length(pair: str, metres: float) -> dict[str, Any]:
        return {"parameter": "length", "pairs": [pair], "length_m": metres, "decimals": 1}

    return {
        "link": {
            "label": label,
            "near": {"place": {"floor": "1", "port": "03"}, "termination": "K1-03"},
            "far": {"place": {"space": "Reading Room"}, "termination": "RR-03"},
            **link,
        },
        "test": {
            "limit": {"as_stated": "House limit"},
            "configuration": {"kind": "permanent-link"},
            "started": {"rfc3339": "2026-03-04T09:12:40+01:00"},
            "operator": "op-17",
            "near": end("N-1"),
            "far": end("F-1"),
        },
        "results": {"scalars": [length("1-2", 62.1), length("3-6", 61.8)]},
    }


def record(parts: dict[str, Any] | None = None) -> Record:
    origin = [{"sha256": "0" * 64, "name": "a.csv", "locator": "lines 1-9"}]
    return Record.build(**(parts or document()), origin=origin)


def margin(**changes: Any) -> Margin:
    members: dict[str, Any] = {
        "parameter": "next",
        "obligation": "required",
        "end": "near",
        "pairs": ("1-2", "3-6"),
        "outcome": Outcome.PASS,
        "worst_margin_db": 1.234,
        "worst_margin_mhz": 31.25,
        "limit_at_worst_margin_db": 50.5,
        "worst_value_db": 40.25,
        "worst_value_mhz": 500.0,
        "limit_at_worst_value_db": 27.9,
        "points_evaluated": 1028,
        "points_for_information": 3,
        "origin": Origin.RECOMPUTED,
        "grade": "B",
    }
    return Margin(**{**members, **changes})


def figure(**changes: Any) -> ScalarMargin:
    members: dict[str, Any] = {
        "parameter": "dc_loop_resistance",
        "obligation": "informative",
        "pair": "1-2",
        "outcome": Outcome.PASS,
        "value": 8.91,
        "limit": 21.0,
        "margin": 12.09,
        "unit": "ohm",
        "origin": Origin.AS_EXPORTED,
        "grade": "A",
    }
    return ScalarMargin(**{**members, **changes})


def assessment(of: Record | None = None, **changes: Any) -> Assessment:
    members: dict[str, Any] = {
        "record": of or record(),
        "limit_path": TIA,
        "limit_how": "spelling 'House limit'",
        "limit_sha256": "1" * 64,
        "stated": "pass",
        "recomputed": Recomputed.PASS,
        "judgement": Judgement.UPHELD,
        "reason": "Every required parameter passes.",
        "grade": "B",
        "margins": (margin(),),
        "scalars": (figure(),),
    }
    return Assessment(**{**members, **changes})


def many(count: int) -> Iterator[Assessment]:
    """Assessments of random figures, the same ones each time."""
    random = Random(5)
    for number in range(count):
        curves = tuple(
            margin(
                pairs=("4-5", pair),
                worst_margin_db=random.gauss(3, 3),
                worst_margin_mhz=random.uniform(1, 500),
                worst_value_db=random.uniform(-1e6, 1e-6),
                margin_low_db=random.gauss(0, 1e-9),
            )
            for pair in ("1-2", "3-6", "7-8")
        )
        figures = (
            figure(
                value=random.random() * 1e12,
                margin=-random.random(),
                margin_low=-random.random() - 1,
                margin_high=random.random() + 1,
            ),
        )
        yield assessment(record(document(f"L-{number}")), margins=curves, scalars=figures)


def delivery(
    entries: Iterable[Assessment],
    title: str = "A job",
    **parts: Any,
) -> Delivery:
    about = About(
        title=title,
        program="sweepbook 0",
        decision_rule="A pass is proved or it is none.",
        options={"against": "the limit that each test states"},
        digests={f"limit table {TIA}": "1" * 64, "catalogue": "2" * 64},
        limits=LIBRARY,
        catalogue=CATALOGUE,
        interpretations=Interpretations.load(),
    )
    return Delivery(entries, about, **parts)


def written(target: Path, entries: Iterable[Assessment], **parts: Any) -> Workbook:
    """Write a delivery and read it back."""
    xlsx.write(delivery(entries, **parts), target)
    return load_workbook(target)


def rows(book: Workbook, sheet: str) -> list[Row]:
    """The rows of a sheet, each by the titles of the columns; titles must be unique."""
    titles, *found = book[sheet].iter_rows(values_only=True)
    names: Sequence[str] = [str(title) for title in titles]
    assert len(set(names)) == len(names)
    return [dict(zip(names, row, strict=True)) for row in found]


def about_rows(book: Workbook) -> dict[str, str]:
    """The names and texts of the about sheet; of one name the last text."""
    return {str(row[0]): str(row[1]) for row in book["About"].iter_rows(values_only=True)}
