"""A row of units below titles whose rows say themselves what they hold."""

from pathlib import Path

import pytest

from sweepbook.errors import ReadProblem
from tests.drafts.drafting import read

DIALECT = """schema = "urn:sweepbook:dialect-0"
name = "units"
title = "Units in a row"
format = "csv"
[csv]
layout = "sections"
delimiter = ";"
[[csv.sections]]
heading = "Worst"
[[csv.sections.rows.figures]]
name = { What = "{parameter}", Pair = "{pairs}" }
value = "Length"
worst_margin.margin = "Margin"
worst_margin.frequency = "At"
[fields]
link.label = "Link"
[words.parameters]
insertion_loss = "IL"
length = "Length"
[words.pairs]
1-2 = "12"
[units]
frequency = "MHz"
length = "m"
"""
HEAD = "Link;A\n\nWorst\nWhat;Pair;Margin;At;Length\n"
ROWS = "IL;12;3.2;100;\nLength;12;;;31.5\n"


def told(units: str, folder: Path) -> list[str]:
    path = folder / "export.csv"
    path.write_text(f"{HEAD}{units}{ROWS}", encoding="utf-8")
    (record,), problems = read(path, DIALECT)
    (item,) = record.document["stated"]["items"]
    assert item["worst_margin"]["margin_db"] == 3.2
    assert [of["length_m"] for of in record.document["results"]["scalars"]] == [31.5]
    assert not any(of.lost_record for of in problems)
    return [of.message for of in problems if isinstance(of, ReadProblem)]


@pytest.mark.parametrize("units", ["", ";;dB;MHz;m\n", ";;[dB];[MHz];[m]\n", ";;;MHz;m\n"])
def test_units_as_declared_are_passed_over(units: str, tmp_path: Path) -> None:
    assert told(units, tmp_path) == []


@pytest.mark.parametrize(
    ("units", "said"),
    [
        (";;dB;kHz;m\n", "'kHz' stands below 'At', where units.frequency is MHz"),
        (";;dB;MHz;ft\n", "'ft' stands below 'Length', where units.length is m"),
    ],
)
def test_other_units_are_told(units: str, said: str, tmp_path: Path) -> None:
    (message,) = told(units, tmp_path)
    assert said in message
    assert "declare it in units" in message
