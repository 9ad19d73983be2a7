"""One number of many that does not fit the others is named with its place."""

from pathlib import Path

import pytest

from tests.csv_format.dialects import CURVES
from tests.csv_format.reading import read

MHZ = [100 + 10 * step for step in range(12)]


def table(mhz: list[str], values: list[str]) -> str:
    rows = "".join(f"{f},{value}\n" for f, value in zip(mhz, values, strict=True))
    return f"Link,A\nMHz,IL 1-2\n{rows}"


@pytest.mark.parametrize(
    ("at", "text", "beside"),
    [(4, "104", "130 and 150"), (4, "410", "130 and 150"), (11, "12", "200"), (0, "1000", "110")],
)
def test_the_one_frequency_out_of_line_is_named(
    at: int, text: str, beside: str, tmp_path: Path
) -> None:
    mhz = [str(f) for f in MHZ]
    mhz[at] = text
    (problem,) = read(tmp_path, table(mhz, ["5"] * 12), CURVES).problems
    assert f"of 12 frequencies {text}, beside {beside}, is the only one out of" in problem.message
    assert problem.place == f"line {3 + at}, column 'MHz'"
    assert "csv.test" not in problem.message


@pytest.mark.parametrize("order", [[0, 2, 1, 3], [0, 1, 2, 3, 0, 1, 2, 3], [0, 0]])
def test_where_no_one_number_is_out_of_line_none_is_named(order: list[int], tmp_path: Path) -> None:
    mhz = [str(MHZ[at]) for at in order] + [str(1000 + f) for f in MHZ]
    (problem,) = read(tmp_path, table(mhz, ["5"] * len(mhz)), CURVES).problems
    assert "the only one" not in problem.message
    assert "csv.test" in problem.message


def test_the_one_value_that_nothing_measures_is_named(tmp_path: Path) -> None:
    values = ["5"] * 12
    values[6] = "535"
    mhz = [str(f) for f in MHZ]
    (problem,) = read(tmp_path, table(mhz, values), CURVES).problems
    assert problem.lost_record
    assert "'535' of 'insertion_loss 1-2' would be 535 dB" in problem.message
    assert "line 9, column 'IL 1-2'" in problem.message
    assert "units.loss" not in problem.message
    (problem,) = read(tmp_path, table(mhz, ["535"] * 12), CURVES).problems
    assert "would reach 535 dB, which nothing measures; see units.loss" in problem.message


def test_a_gap_before_it_shifts_no_place(tmp_path: Path) -> None:
    values = ["5"] * 12
    values[2], values[3], values[6] = "--", "--", "535"
    (problem,) = read(tmp_path, table([str(f) for f in MHZ], values), CURVES).problems
    assert "'535' of 'insertion_loss 1-2' would be 535 dB" in problem.message
    assert "line 9, column 'IL 1-2'" in problem.message
