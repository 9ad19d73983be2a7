"""A stretch that was drawn over the points that failed is told; links as they are, are not."""

import json
from pathlib import Path

import numpy as np
import pytest

from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.shapes import line
from sweepbook.rules.drawn import SIZES, _not_rough
from tests.copies.planting import DIALECTS, Sheet
from tests.program import run

TABLE = "tia-568.2-d/cat6a/permanent-link"
MAKE = f"--dialect={DIALECTS / 'brindlewick-heron-5.toml'}"
FAILED = Sheet.of("heron-1A-P1-03.csv").fact("verdict", "PASS")
BAD = "NEXT A 3-6/4-5"
AXIS = np.array([float(row[0]) for row in FAILED.table[1:]])
FROM, TO = 160.0, 260.0


def stretch(value: np.ndarray) -> list[dict[str, object]]:
    """What SWP027 says where the failing curve has other values from 160 to 260 MHz."""
    place = FAILED.table[0].index(BAD)
    own = [row[place] for row in FAILED.table[1:]]
    drawn = [
        f"{new:.2f}" if FROM <= mhz <= TO else text
        for mhz, new, text in zip(AXIS, value, own, strict=True)
    ]
    return told(FAILED.with_curves({BAD: drawn}))


def told(sheet: Sheet) -> list[dict[str, object]]:
    path = sheet.save(Path.cwd(), "drawn.csv")
    (record,) = json.loads(run("check", path, MAKE, "--json").output)["records"]
    return [one["arguments"] for one in record["findings"] if one["rule"] == "SWP027"]


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def test_the_export_as_it_came_is_rough() -> None:
    assert told(FAILED) == []


def test_a_stretch_beside_the_limit() -> None:
    limit = line(Library.load().table(TABLE), "next", AXIS, Interpretations.load()).value
    (one,) = stretch(limit + 0.4)
    assert one["where"] == "3-6 to 4-5, near end"
    assert FROM <= float(str(one["from_mhz"])) < float(str(one["to_mhz"])) <= TO


def test_a_straight_line() -> None:
    (one,) = stretch(45.0 - 0.02 * AXIS)
    assert one["usual_db"] > 1.0  # type: ignore[operator]


def test_one_value_throughout() -> None:
    assert len(stretch(np.full(AXIS.size, 47.0))) == 1


def test_noise_of_half_a_decibel_is_rough() -> None:
    """What the rule cannot tell, as its reason says: it is no proof."""
    noise = np.random.default_rng(2).normal(0.0, 0.5, AXIS.size)
    assert stretch(45.0 - 0.02 * AXIS + noise) == []


@pytest.mark.parametrize("seed", range(4))
def test_the_first_look_leaves_out_no_stretch_that_is_smooth(seed: int) -> None:
    """Against what a parabola leaves of all points of each stretch, by numpy's own fit."""
    luck = np.random.default_rng(seed)
    rough, points = 0.1, 1030
    value = 40.0 + np.cumsum(luck.normal(0.0, 2.0, (5, points)), axis=1)
    place = np.arange(points)
    for row, (start, size) in enumerate([(32, 32), (64, 64), (256, 128), (512, 256)]):
        span = slice(start, start + size)
        value[row, span] = 30.0 + 1e-4 * (place[span] - start) ** 2
        value[row, span] += luck.normal(0.0, 0.09, size)
    spans = [(size, slice(0, points - points % size)) for size in SIZES]
    found = [size for size, _ in _not_rough(value, spans, rough)]
    for size, span in spans:
        parts = value[:, span].reshape(-1, size).T
        fits = np.polynomial.polynomial.polyfit(np.arange(size), parts, 2)
        left = parts - np.polynomial.polynomial.polyval(np.arange(size), fits).T
        smooth = np.sqrt(np.mean(left**2, axis=0)) <= rough
        assert smooth.any()
        assert size in found
    assert list(_not_rough(value[4:], spans, rough)) == []
