"""Headings that count their rows, and cells within key lines that name the next one."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook_plugins.csv.layout import layout_of
from tests.reading import axis, sweep

from .dialects import CURVES, changed
from .reading import read

LAYOUT = 'layout = "curve-per-column"\n'
COUNTED = """layout = "sections"
[[csv.sections]]
heading = "Sweep;{parameter};{pairs};{number} points"
columns = ["mark", "MHz", "dB", "limit"]
[csv.sections.rows]
kind = "mark"
point = { kind = "P", frequency = "MHz", value = "dB" }
[[csv.sections]]
heading = "Figures of {number} tests, 2nd part"
"""


def counted(heading: str = "") -> str:
    """The words of the dialect of curves, with headings that count."""
    head, _, rest = CURVES.partition(LAYOUT)
    form = COUNTED.replace("Figures of {number} tests, 2nd part", heading) if heading else COUNTED
    own = f'{head}delimiter = ";"\n{form}{rest[rest.index("[fields]") :]}'
    return own.replace('delimiter = ","\n', "", 1)


def test_a_heading_may_count_its_rows(tmp_path: Path) -> None:
    text = (
        "Link;A\nSweep;IL;1-2;2 points\nP;1;1.9;4\nP;100;19.4;20\n"
        "Sweep;IL;3-6;3 points;\nP;1;1.8;4\nP;50;9.9;4\nP;100;19.3;4\n"
        "Sweep;IL;4-5;2.5 points\nP;1;1.7;4\n"
        "Figures of 12 tests, 2nd part\nRoom;7\n"
    )
    found = read(tmp_path, text, counted())
    document = found.records[0].document
    one, two = (sweep(document, f"insertion_loss {pair}") for pair in ("1-2", "3-6"))
    assert [float(v) for v in two["value_db"]] == [1.8, 9.9, 19.3]
    assert [float(v) for v in one["value_db"]] == [1.9, 19.4]
    assert len(document["results"]["sweeps"]) == 2  # 2.5 counts nothing, and that is told
    assert any("2.5 points" in problem.message for problem in found.problems)
    assert document["extra"]["Figures of {number} tests, 2nd part/Room"] == "7"
    assert document["extra"]["Sweep;IL;1-2;{number} points/limit"] == "4\n20"
    assert axis(document, two)[-1] == 100


@pytest.mark.parametrize("template", ["{number} and {number}", "{count} points"])
def test_a_heading_counts_once(template: str) -> None:
    with pytest.raises(BadDialect, match="heading"):
        layout_of(parse(counted(template).encode()))


def test_a_cell_may_name_the_next_one(tmp_path: Path) -> None:
    names = 'preamble.names = ["Pair 1-2", "Pair 3-6", "limit", "ns", "By"]\n'
    dialect = changed(CURVES, LAYOUT, LAYOUT + names)
    dialect = changed(
        dialect,
        'value = "{parameter} {pairs}"\n',
        'value = ["{parameter}/Pair {pairs}", "{parameter}/ns"]\n',
    )
    dialect = changed(dialect, 'wire_map = "Wires"\n', 'delay_skew = "Skew"\n')
    text = (
        "Link,A\nDelay,ns,Pair 1-2,163,,Pair 3-6,166,limit,555\nSkew,ns,3,limit\n"
        "Made,By,Umbel,in,Mill Row\nMHz,IL 1-2\n1,1.9\n100,19.4\n"
    )
    document = read(tmp_path, text, dialect).document
    scalars = {
        (one["parameter"], *one.get("pairs", ())): float(one.get("delay_ns", one.get("skew_ns", 0)))
        for one in document["results"]["scalars"]
    }
    assert scalars == {
        ("propagation_delay", "1-2"): 163.0,
        ("propagation_delay", "3-6"): 166.0,
        ("delay_skew",): 3.0,
    }
    extra = document["extra"]
    assert extra["Delay"] == "ns"
    assert extra["Delay/limit"] == "555"
    assert extra["Skew/3"] == "limit"  # nothing stands behind it
    assert extra["Made/By"] == "Umbel"
    assert extra["Made/3"] == "in"
    assert extra["Made/4"] == "Mill Row"
