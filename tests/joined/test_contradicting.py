"""Files of one test that contradict each other: the test is refused, whichever file comes first."""

from pathlib import Path

import pytest

from tests.joined.test_join import document, read
from tests.joined.test_tables import DIALECT, FILES, in_one_file

NEAR = "test.near.instrument.serial"


def table(name: str, *lines: str) -> dict[str, str]:
    """The files of the guide's example with other lines in one of them."""
    return {f"hall-7-{name}.csv": "".join(f"{line}\n" for line in lines)}


def heads(outcome: str = "", norm: str = "Cat 6A PL", unit: str = "77") -> dict[str, str]:
    titles = "No;Cable;Norm;Begun;Unit;Outcome"
    one = f"1;B-07;{norm};2026-03-04 14:22;{unit};{outcome}"
    return table("tests", titles, one, "2;B-08;Cat 6A PL;2026-03-04 14:31;77;")


def figures(titles: str, texts: str) -> dict[str, str]:
    """The figures with one more column, or several."""
    first, *rows = FILES["hall-7-figures.csv"].splitlines()
    blank = ";" * (titles.count(";") + 1)
    more = [f"{row};{texts}" if row.startswith("1;") else f"{row}{blank}" for row in rows]
    return table("figures", f"{first};{titles}", *more)


@pytest.mark.parametrize(
    ("files", "said"),
    [
        (
            heads("PASS") | table("verdicts", "Link;Outcome", "B-07;FAIL"),
            "'PASS' stands under 'Outcome' here, and 'FAIL' in hall-7-verdicts.csv, line 2",
        ),
        (figures("Cable", "B-08"), "'B-07' stands under 'Cable' here, and 'B-08' in hall-7-fig"),
        (figures("Norm", "Cat 5e PL"), "'Cat 6A PL' stands under 'Norm' here, and 'Cat 5e PL'"),
        (figures("Unit", "78"), "and '78' in hall-7-figures.csv, line 2, column 'Unit', which"),
        (figures("Begun", "2026-03-06 14:22"), "these are parts of two tests"),
    ],
)
def test_tables_that_contradict_lose_the_test(
    files: dict[str, str], said: str, tmp_path: Path
) -> None:
    dialect = DIALECT.replace("[words.parameters]", f'{NEAR} = "Unit"\n[words.parameters]')
    records, problems = read(tmp_path, FILES | heads() | files, dialect)
    assert [record.label for record in records] == ["B-08"]
    assert len(problems) == 1
    assert said in problems[0]


@pytest.mark.parametrize("stated", ["", "FAIL", "bad"])
def test_blanks_and_other_spellings_contradict_nothing(stated: str, tmp_path: Path) -> None:
    dialect = DIALECT.replace('fail = "FAIL"', 'fail = ["FAIL", "bad"]')
    files = FILES | heads(stated) | table("verdicts", "Link;Outcome", "B-07;FAIL")
    records, problems = read(tmp_path, files, dialect)
    assert problems == []
    assert document(records, "B-07")["stated"]["overall"]["verdict"] == "fail"


def test_parts_of_one_file_that_contradict_lose_the_test(tmp_path: Path) -> None:
    files = FILES | heads("PASS") | table("verdicts", "Link;Outcome", "B-07;FAIL")
    names = ("tests", "curves", "figures", "verdicts")
    text = "".join(f"[{name}]\n{files[f'hall-7-{name}.csv']}\n" for name in names)
    records, problems = read(tmp_path, {"job.csv": text}, in_one_file(DIALECT))
    assert [record.label for record in records] == ["B-08"]
    said = "'PASS' stands under 'Outcome' here, and 'FAIL' in the part '[verdicts]', line"
    assert said in problems[0]


WIRES = """
schema = "urn:sweepbook:dialect-0"
name = "wires"
title = "A file a parameter, with a line a contact"
format = "csv"
[csv]
layout = "curve-per-column"
delimiter = ";"
[csv.curves]
frequency = "MHz"
name = "{pairs}"
[join]
file = "{}_{parameter}.csv"
[fields]
link.label = "{}"
results.wire_map.pins = "Wire"
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
[words.ends]
near = ["A", ""]
[wire_map]
between_ends = ";"
"""
STRAIGHT = {contact: contact for contact in "12345678"}
CROSSED = STRAIGHT | {"3": "6", "6": "3"}


def sheet(wires: dict[str, str]) -> str:
    lines = "".join(f"Wire;{near};{far}\n" for near, far in wires.items())
    return f"{lines}MHz;1-2\n1;30\n100;20\n"


@pytest.mark.parametrize(
    ("one", "other"), [(STRAIGHT, CROSSED), (CROSSED, STRAIGHT), ({}, CROSSED), (CROSSED, CROSSED)]
)
def test_a_wire_map_is_compared_and_kept_whole(
    one: dict[str, str], other: dict[str, str], tmp_path: Path
) -> None:
    files = {"T17_IL.csv": sheet(one), "T17_RL.csv": sheet(other)}
    records, problems = read(tmp_path, files, WIRES)
    if one and one != other:
        assert records == []
        assert "stands under 'Wire' here" in problems[0]
        return
    assert problems == []
    pins = document(records, "T17")["results"]["wire_map"]["pins"]
    assert [tuple(ends) for ends in pins] == [*CROSSED.items()]
