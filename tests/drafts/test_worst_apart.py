"""A trial tells where worst values are none of the curves: margins that stand as such, perhaps."""

from typing import Any

import pytest

from sweepbook.dialect.load import parse
from sweepbook.trial.worst_apart import apart
from tests.csv_format.dialects import CURVES

MHZ = [1.0, 10.0, 100.0]
DB = [60.0, 40.0, 20.0]
PAIRS = ("1-2", "3-6", "4-5", "7-8")


def document(off_db: float, at: float = 10.0, **more: Any) -> dict[str, Any]:
    """A test with a return loss of each pair, and a worst value of each."""
    sweep = {"parameter": "return_loss", "end": "near", "grid": "g1", "value_db": DB}
    worst = {"worst_value": {"value_db": 40.0 + off_db, "frequency_mhz": at}}
    return {
        "results": {
            "grids": [{"id": "g1", "frequency_mhz": MHZ}],
            "sweeps": [{**sweep, "pairs": [pair]} for pair in PAIRS],
        },
        "stated": {"items": [
            {"parameter": "return_loss", "end": "near", "pairs": [pair], **worst, **more}
            for pair in PAIRS
        ]},
    }  # fmt: skip


@pytest.mark.parametrize(
    ("of", "told"),
    [
        (document(0.0), False),
        (document(0.2), False),
        (document(-37.0), True),
        (document(-37.0, at=55.0), False),  # there is no point to hold it against
        (document(-37.0, parameter="next"), False),
        ({"results": document(-37.0)["results"]}, False),
    ],
)
def test_worst_values_that_no_curve_has_are_told(of: dict[str, Any], told: bool) -> None:
    edits = list(apart(of, parse(CURVES.encode(), "t.toml")))
    assert bool(edits) is told
    assert all("worst_margin.margin" in edit.what and "4 of 4" in edit.what for edit in edits)
