"""What is said of a sign that no loss has, by the other curves of the parameter."""

from pathlib import Path

import pytest

from tests.csv_format.reading import read
from tests.csv_format.test_curve_rows import TITLES, WORDS, dialect

PAIRS = ("12-36", "12-45", "12-78")


def table(*signs: str) -> str:
    rows = (
        f"A;NEXT;{pair};A;{sign}70,1;{sign}61,0;{sign}40,2\n"
        for pair, sign in zip(PAIRS, signs, strict=False)
    )
    return "Cable;Par;Pair;End;1;4;100\n" + "".join(rows) + "A;IL;12;;1,9;3,7;19,4\n"


@pytest.mark.parametrize(
    ("signs", "negative"), [(("-", "-", ""), '["next"]'), (("", "-", ""), "[]")]
)
def test_one_curve_of_several_was_turned(
    signs: tuple[str, ...], negative: str, tmp_path: Path
) -> None:
    text = dialect(TITLES, words=f"{WORDS}[signs]\nnegative = {negative}\n")
    said = read(tmp_path, table(*signs), text).lost
    assert "while 2 other curves of next are the other way, as signs.negative says" in said
    assert "export it again" in said
    assert "take it out" not in said
    assert "add it to" not in said


@pytest.mark.parametrize(
    ("signs", "negative", "change"),
    [
        (("", "", ""), '["next"]', "for next, take it out of signs.negative"),
        (("-", "-", "-"), "[]", "for next, add it to signs.negative"),
        (("",), '["next"]', "for next, take it out of signs.negative"),
        (("-", "-", ""), "[]", "for next, add it to signs.negative"),
    ],
)
def test_most_curves_of_a_parameter_are_the_other_way(
    signs: tuple[str, ...], negative: str, change: str, tmp_path: Path
) -> None:
    text = dialect(TITLES, words=f"{WORDS}[signs]\nnegative = {negative}\n")
    assert change in read(tmp_path, table(*signs), text).lost
