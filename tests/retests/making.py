"""Made-up assessments of one link; the figures mean nothing."""

from typing import Any

from sweepbook.judging.assessment import (
    Assessment,
    Judgement,
    Margin,
    Origin,
    Outcome,
    Recomputed,
    ScalarMargin,
)
from sweepbook.record.model import Record

_LINK = {"label": "A-1", "near": {"termination": "K1-03"}, "far": {"termination": "RR-03"}}
_CURVE = Margin(
    "next", "required", "near", ("1-2", "3-6"), Outcome.FAIL, -1.5, 31.25, 50.5, 49.0, 31.25, 50.5,
    1028, 0, Origin.RECOMPUTED, "B",
)  # fmt: skip
_FIGURE = ScalarMargin(
    "wire_map", "required", None, Outcome.FAIL, 1.0, 0.0, -1.0, "faults", Origin.RECOMPUTED, "B"
)


def curve(**changes: Any) -> Margin:
    return _CURVE._replace(**changes)


def figure(**changes: Any) -> ScalarMargin:
    return _FIGURE._replace(**changes)


def failing(*parts: Margin | ScalarMargin) -> Assessment:
    """A failing test with these parts."""
    record = Record.build(
        link=_LINK, test={}, results={}, origin=[{"sha256": "0" * 64, "name": "a", "locator": ""}]
    )
    return Assessment(
        record, "tia", "", None, "pass", Recomputed.FAIL, Judgement.OVERTURNED, "", "B",
        tuple(part for part in parts if isinstance(part, Margin)),
        tuple(part for part in parts if isinstance(part, ScalarMargin)),
    )  # fmt: skip
