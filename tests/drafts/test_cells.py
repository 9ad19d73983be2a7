"""Drafts where one text holds a figure and its limit, and where a column has the worst pair."""

from pathlib import Path
from typing import Any

import pytest

from .drafting import draft_of, read

HEAD = "Link;A-17\nNorm;Cat 6A PL TIA 568.2-D\nBegun;2026-03-04 14:22\nResult;PASS\n"
SWEEP = "MHz;IL 12;IL 36\n1;1,9;1,8\n10;6,1;5,9\n100;19,4;19,2\n"
TESTS = """Cable,Norm,Begun,Pass,Length 1-2,NEXT margin,NEXT at MHz,{next},RL margin,RL at MHz,{rl}
A-17,Cat 6A PL,2026-03-04 14:22,PASS,62.1 m (limit 90),3.1,100,{one},1.4,250,{two}
A-18,Cat 6A PL,2026-03-04 14:31,PASS,62.4 m (limit 90),2.7,50,{three},1.9,200,{four}
"""


def length(document: dict[str, Any]) -> float:
    """The only length, m."""
    (found,) = (of["length_m"] for of in document["results"]["scalars"] if "length_m" in of)
    return round(float(found), 6)


@pytest.mark.parametrize(
    ("text", "metres", "limit"),
    [
        ("62,1 m (limit 90 m)", 62.1, "90 m"),
        ("62,1 m (max. 90)", 62.1, "90"),
        ("62,1 m < 90 m", 62.1, "90 m"),
        ("203,7 ft (limit 295 ft)", 203.7 * 0.3048, "295 ft"),
        ("62,1 / Grenzwert 90", 62.1, "90"),
    ],
)
def test_a_figure_and_its_limit_in_one_text(
    text: str, metres: float, limit: str, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, f"{HEAD}Length 12;{text}\n{SWEEP}")
    assert "ASSUMED: the first number is the figure" in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert length(record.document) == pytest.approx(metres)
    assert record.document["extra"]["Length 12/limit"] == limit


@pytest.mark.parametrize("text", ["62,1 m (90)", "62,1 m, 63,0 m", "between 62,1 and limit 90"])
def test_two_numbers_without_a_word_between_are_left_alone(text: str, tmp_path: Path) -> None:
    assert "[[cells]]" not in draft_of(tmp_path, f"{HEAD}Length 12;{text}\n{SWEEP}")


def test_a_unit_behind_a_figure_is_taken(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, f"{HEAD}Length 12;203,7 ft\n{SWEEP}")
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert length(record.document) == pytest.approx(203.7 * 0.3048)


@pytest.mark.parametrize(
    ("titles", "cells", "ends"),
    [
        (("NEXT pair", "RL pair"), ("1-2/3-6", "4-5", "3-6/4-5", "1-2"), False),
        (("NEXT worst", "RL worst"), ("1-2/3-6 A", "4-5 B", "3-6/4-5 B", "1-2 A"), True),
    ],
)
def test_a_column_beside_each_margin_says_its_pair(
    titles: tuple[str, str], cells: tuple[str, ...], ends: bool, tmp_path: Path
) -> None:
    one, two, three, four = cells
    text = TESTS.format(next=titles[0], rl=titles[1], one=one, two=two, three=three, four=four)
    draft = draft_of(tmp_path, text)
    records, problems = read(tmp_path / "export.csv", draft)
    assert [problem for problem in problems if problem.lost_record] == []
    stated = [
        {
            of["parameter"]: (of.get("end"), *of["pairs"], float(of["worst_margin"]["margin_db"]))
            for of in record.document["stated"]["items"]
        }
        for record in records
    ]
    near, far = ("near", "far") if ends else (None, None)
    assert stated == [
        {"next": (near, "1-2", "3-6", 3.1), "return_loss": (far, "4-5", 1.4)},
        {"next": (far, "3-6", "4-5", 2.7), "return_loss": (near, "1-2", 1.9)},
    ]
    assert [length(record.document) for record in records] == [62.1, 62.4]
