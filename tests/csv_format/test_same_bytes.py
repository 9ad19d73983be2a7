"""A file read from its bytes gives what it gives cell by cell, however it was mangled."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from .dialects import CURVE_ROWS, CURVES, POINTS, changed
from .reading import read
from .test_runs import everything, without_clock
from .test_sections import BY_HEADING, FIGURES, sections

LINES = 30


def column_a_curve() -> list[str]:
    rows = [f"{at},{at / 7:.2f},{40 - at / 9:.2f},{at / 11:.1f}" for at in range(1, LINES)]
    return ["Link,A-17", "Site,Büro", "MHz,IL 1-2,RL 1-2 A,IL 3-6", *rows]


def point_a_row() -> list[str]:
    rows = [
        f"{test};{what};{pair};{end};{at};{at / 7:.2f};"
        for test in "12"
        for what, end in (("IL", ""), ("RL", "A"))
        for pair in ("1-2", "3-6")
        for at in range(1, LINES // 3)
    ]
    return [
        "Test;What;Pair;End;MHz;dB;Text",
        "1;Link;;;;;Bü",
        *rows[:36],
        "2;Link;;;;;C",
        *rows[36:],
    ]


def quoted_points() -> list[str]:
    return [";".join(f'"{cell}"' for cell in line.split(";")) for line in point_a_row()]


def under_headings() -> list[str]:
    rows = [f"{at},{at / 7:.2f},{at / 9:.2f}" for at in range(1, LINES // 2)]
    return ["Link,A", "[IL]", "MHz,1-2,3-6", *rows, "Link,B", "[RL A]", "MHz,1-2,3-6", *rows]


def curve_a_row() -> list[str]:
    rows = [
        f"{what};{pair};{end};{';'.join(f'{at / 7:.2f}' for at in range(1, 9))};x"
        for what, end in (("IL", ""), ("RL", "A"))
        for pair in ("1-2", "3-6", "4-5")
    ]
    titles = f"What;Pair;End;{';'.join(map(str, range(1, 9)))};Text"
    return ["Test;A-17", "Site;Büro", titles, *rows]


def curve_a_row_of_tests() -> list[str]:
    _, _, titles, *rows = curve_a_row()
    return [f"Test;{titles}", *(f"{test};{row}" for test in "12" for row in rows)]


ROWS = changed(
    changed(CURVE_ROWS, "[csv]", '[csv]\ncomment = "#"\nskip = ["end"]'),
    'loss = "IL"',
    'loss = "IL"\nreturn_loss = "RL"\n[words.ends]\nnear = "A"',
)
KINDS: dict[Callable[[], list[str]], str] = {
    column_a_curve: changed(CURVES, "[csv]", '[csv]\ncomment = "#"\nskip = ["end"]'),
    point_a_row: changed(POINTS, "[csv]", '[csv]\ncomment = "#"\nskip = ["end"]'),
    quoted_points: changed(POINTS, "[csv]", '[csv]\ncomment = "#"\nskip = ["end"]'),
    curve_a_row: changed(ROWS, 'test = "Test"\n', ""),
    curve_a_row_of_tests: ROWS,
    under_headings: sections(BY_HEADING + FIGURES, 'first_line = "Link"'),
}
CELLS = st.sampled_from(
    [
        "",
        " ",
        "--",
        ">65.0",
        "x",
        "1.5",
        "1,5",
        "1.50",
        "-1",
        "007",
        " 2",
        "3e1",
        "\u0663",
        '"4"',
        "RL",
        "2",
    ]
)
WHOLE = st.sampled_from(
    ["", ",", "# word", "end", '"', 'a"b', "MHz,IL 1-2", "1;2;3", "Link,Z", "é\0"]
)


def mangled(lines: list[str], mark: str, data: st.DataObject) -> str:
    """The lines with some cells changed, some added or lost, and lines put in, doubled or lost."""
    places = st.integers(0, len(lines) - 1)
    for at in data.draw(st.lists(places, max_size=4)):
        cells = lines[at].split(mark)
        position = data.draw(st.integers(0, len(cells)))
        cells[position : position + data.draw(st.integers(0, 1))] = [data.draw(CELLS)]
        lines[at] = mark.join(cells[: data.draw(st.sampled_from([len(cells), position]))])
    for at in data.draw(st.lists(places, max_size=2)):
        doubled = st.just(lines[min(at, len(lines) - 1)])
        lines[at : at + data.draw(st.integers(0, 2))] = [data.draw(WHOLE | doubled)]
    return data.draw(st.sampled_from(["\n", "\r\n"])).join(lines) + data.draw(
        st.sampled_from(["\n", ""])
    )


@pytest.mark.parametrize("kind", KINDS)
@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_bytes_and_cells_give_the_same(
    kind: Callable[[], list[str]], data: st.DataObject, tmp_path: Path
) -> None:
    mark = "," if kind in (column_a_curve, under_headings) else ";"
    text, size = mangled(kind(), mark, data), data.draw(st.sampled_from([60, 1 << 18]))
    found = []
    for characters, least in ((10**9, 1), (0, 1), (40, 5)):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr("sweepbook_plugins.csv.lines.BLOCK_CHARACTERS", size)
            patch.setattr("sweepbook_plugins.csv.lines.LEAST_CHARACTERS", characters)
            patch.setattr("sweepbook_plugins.csv.cut.LEAST", least)
            patch.setattr("sweepbook_plugins.csv.cut.WIDE", 64 if least == 5 else 1)
            patch.setattr("sweepbook_plugins.csv.tests.SHORT", least - 1)
            result = read(tmp_path, text, KINDS[kind])
        ids = [record.record_id for record in result.records]
        found.append((ids, without_clock(everything(result))))
    assert found[0] == found[1] == found[2]


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_not_mangled_is_read_whole(kind: Callable[[], list[str]], tmp_path: Path) -> None:
    result = read(tmp_path, "\n".join(kind()) + "\n", KINDS[kind])
    assert result.problems == []
    assert {len(record.document["results"]["sweeps"]) for record in result.records} <= {2, 3, 4, 6}
