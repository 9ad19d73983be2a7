"""Curves that lack a point or two of those that others of their test have."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from sweepbook.dialect import sweeps
from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.raw import Name, RawCurve
from tests.csv_format import dialects
from tests.csv_format.reading import read as read_csv
from tests.xml_format.reading import HEAD
from tests.xml_format.reading import read as read_xml

TEN = [f"{mhz}" for mhz in range(10, 110, 10)]
LACKS = "it lacks 50 MHz and has all others"


def curve(parameter: str, pair: str, frequencies: Sequence[str]) -> RawCurve:
    name = Name(parameter, (pair,), "near" if parameter == "return_loss" else None)
    values = [f"{20 + at}" for at in range(len(frequencies))]
    return RawCurve(name, frequencies, values, "value {}".format, "frequency {}".format)


def told(*curves: RawCurve) -> list[str]:
    _, _, faults, notes = sweeps.build(curves, Numbers(), lambda _: False)
    assert not faults
    return [str(note) for note in notes]


def without(*lost: int) -> list[str]:
    return [mhz for at, mhz in enumerate(TEN) if at not in lost]


def test_a_point_between_others_is_told_of_once() -> None:
    short = without(4)
    (note,) = told(
        curve("insertion_loss", "1-2", TEN),
        curve("return_loss", "3-6", short),
        curve("return_loss", "4-5", short),
    )
    assert note.startswith("frequency 4: the curve 'return_loss 3-6 near' has 9 points where ")
    assert "'insertion_loss 1-2' has 10" in note
    assert f"{LACKS} (the same in 2 curves)" in note


def test_the_last_point_is_told_of_within_a_parameter() -> None:
    whole, same = (curve("insertion_loss", pair, TEN) for pair in ("1-2", "3-6"))
    (note,) = told(whole, same, curve("insertion_loss", "4-5", without(9)))
    assert note.startswith("frequency 8: the curve 'insertion_loss 4-5' has 9 points")
    assert told(whole, same, curve("return_loss", "4-5", without(9))) == []


@pytest.mark.parametrize(
    "other",
    [without(1, 3, 5, 7), [*TEN[:4], "55", *TEN[6:]], [f"{mhz}.0" for mhz in TEN], TEN[:5]],
    ids=["half of them", "another one", "written otherwise", "hardly any"],
)
def test_other_frequencies_are_no_lost_points(other: list[str]) -> None:
    assert told(curve("insertion_loss", "1-2", TEN), curve("return_loss", "3-6", other)) == []


OWN = (
    HEAD
    + """
[xml]
test = "/r/t"
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}" }
values = "v"
frequency = "f"
"""
)


def test_lists_with_axes_of_their_own(tmp_path: Path) -> None:
    def one(pair: str, mhz: Sequence[str]) -> str:
        values = " ".join("7" for _ in mhz)
        return f'\n<c of="IL" pair="{pair}"><f>{" ".join(mhz)}</f><v>{values}</v></c>'

    test = f'<t label="A">{one("1-2", TEN)}{one("3-6", without(4))}</t>'
    result = read_xml(tmp_path, f"<r>{test}</r>", OWN)
    assert len(result.records) == 1
    (problem,) = result.problems
    assert problem.place.startswith("line 3, ")
    assert LACKS in problem.message


def test_rows_of_points(tmp_path: Path) -> None:
    rows = [f"1;IL;{pair};;{mhz};7;" for pair in ("1-2", "3-6") for mhz in TEN]
    rows.remove("1;IL;3-6;;50;7;")
    head = "Test;What;Pair;End;MHz;dB;Text\n1;Link;;;;;007\n"
    result = read_csv(tmp_path, head + "\n".join(rows) + "\n", dialects.POINTS)
    assert len(result.records) == 1
    assert [LACKS in of.message for of in result.problems] == [True]
