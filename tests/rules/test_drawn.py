"""A stretch that was drawn over the points that failed is told; links as they are, are not."""

import json
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from sweepbook.judging.bands import Given
from sweepbook.judging.curves import Curves, Key
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.shapes import line
from sweepbook.rules.drawn import _not_rough, _ripples, _stretches
from tests.copies.planting import DIALECTS, Sheet
from tests.program import run

TABLE = "tia-568.2-d/cat6a/permanent-link"
MAKE = f"--dialect={DIALECTS / 'brindlewick-heron-5.toml'}"
FAILED = Sheet.of("heron-1A-P1-03.csv").fact("verdict", "PASS")
BAD = "NEXT A 3-6/4-5"
AXIS = np.array([float(row[0]) for row in FAILED.table[1:]])
FROM, TO = 160.0, 260.0


def stretch(value: np.ndarray, first: float = FROM, last: float = TO) -> list[dict[str, object]]:
    """What SWP027 says where the failing curve has other values between two frequencies."""
    place = FAILED.table[0].index(BAD)
    own = [row[place] for row in FAILED.table[1:]]
    drawn = [
        f"{new:.2f}" if first <= mhz <= last else text
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


def test_one_arc_between_two_nulls_is_no_drawing() -> None:
    """On 47 m a period of ripple is 13 MHz at 100 MHz, and 21 MHz at 200 MHz."""
    arc = 47.0 + 0.06 * (AXIS - 97.0) ** 2
    assert stretch(arc, 92.75, 101.25) == []
    assert stretch(45.0 - 0.02 * AXIS, 160.0, 190.0) == []


def insertion_loss(axis: np.ndarray, db: float) -> Curves:
    value = np.full((1, axis.size), db)
    key = Key("insertion_loss", None, ("1-2",))
    flags = np.zeros(1, dtype=np.bool_)
    return Curves("insertion_loss", (key,), axis, value, Given(value, value), ((0,),), flags)


@pytest.mark.parametrize(
    ("length_m", "loss_db", "periods"),
    [
        (75.0, 0.0, 50.03),  # 2 * 75 m / (299.79 m / us) in 1 MHz, 100 times
        (75.0, 8.6859, 12.28),  # one neper: (1 - e^-4) / 4 = 0.24542 of it
        (75.0, 17.3718, 6.252),  # two: (1 - e^-8) / 8 = 0.12496
        (10.0, 0.0, 6.671),
    ],
)
def test_what_comes_back_along_a_link_is_weaker_by_twice_the_loss(
    length_m: float, loss_db: float, periods: float
) -> None:
    axis = np.linspace(100.0, 200.0, 401)
    found = _ripples(axis, insertion_loss(axis, loss_db), length_m)
    assert found[0] == 0.0
    assert found[-1] == pytest.approx(periods, rel=1e-3)


def test_the_loss_is_taken_where_it_was_measured() -> None:
    axis = np.linspace(100.0, 200.0, 401)
    other = insertion_loss(np.array([1.0, 150.0, 500.0]), 8.6859)
    assert _ripples(axis, other, 75.0)[-1] == pytest.approx(12.28, rel=1e-3)
    nothing = insertion_loss(axis, np.nan)
    assert not _ripples(axis, nothing, 75.0).any()


def test_from_each_block_on_a_stretch_is_as_short_as_may_be() -> None:
    """Without loss 149.9 m make one period a MHz: 31 steps of 0.1 MHz 3.1, and 32 with the next."""

    def stretches(axis: np.ndarray, periods: float) -> list[tuple[int, int]]:
        blocks = _stretches(axis, insertion_loss(axis, 0.0), 149.896, periods)
        return [(32 * first, 32 * end) for first, end in blocks.T.tolist()]

    even = 1.0 + 0.1 * np.arange(170)
    assert stretches(even, 3.0) == [(32 * k, 32 * k + 32) for k in range(5)]
    assert stretches(even, 3.5) == [(32 * k, 32 * k + 64) for k in range(4)]
    assert stretches(even, 16.0) == []
    slower = np.concatenate([even[:96], even[95] + 0.02 * np.arange(1, 65)])
    assert stretches(slower, 3.0) == [(0, 32), (32, 64), (64, 96)]
    assert stretches(even[:31], 0.1) == []


def blocks(*spans: tuple[int, int]) -> NDArray[np.intp]:
    return np.array(spans).T // 32


@pytest.mark.parametrize("seed", range(4))
def test_the_first_look_leaves_out_no_stretch_that_is_smooth(seed: int) -> None:
    """Against what a parabola leaves of all points of each stretch, by numpy's own fit."""
    luck = np.random.default_rng(seed)
    rough, points = 0.1, 1030
    value = 40.0 + np.cumsum(luck.normal(0.0, 2.0, (5, points)), axis=1)
    place = np.arange(points)
    drawn = [(32, 64), (64, 160), (256, 384), (512, 768)]
    for row, (start, end) in enumerate(drawn):
        value[row, start:end] = 30.0 + 1e-4 * (place[start:end] - start) ** 2
        value[row, start:end] += luck.normal(0.0, 0.07, end - start)
    for span in drawn:
        part = value[:, slice(*span)].T
        at = np.arange(len(part))
        fits = np.polynomial.polynomial.polyfit(at, part, 2)
        left = part - np.polynomial.polynomial.polyval(at, fits).T
        assert (np.sqrt(np.mean(left**2, axis=0)) <= rough).any()
        assert list(_not_rough(value, blocks(span), rough)) == [span]
        assert list(_not_rough(value[4:], blocks(span), rough)) == []
    assert list(_not_rough(value, blocks(*drawn), rough)) == drawn


def test_a_hole_hides_no_stretch_beyond_it() -> None:
    value = 40.0 + np.cumsum(np.random.default_rng(5).normal(0.0, 2.0, (4, 256)), axis=1)
    value[0, 10] = np.nan
    value[0, 128:192] = 30.0
    assert list(_not_rough(value, blocks((0, 64), (128, 192)), 0.1)) == [(128, 192)]
