"""Rows taken in runs and rows taken one by one make the same tests, whatever the rows are."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sweepbook_plugins.csv import reader as csv_reader
from sweepbook_plugins.csv import tests as csv_tests
from tests.reading import Result

from .dialects import POINTS, changed
from .reading import read
from .test_nothing_lost import LINES
from .test_sections import BY_HEADING, FIGURES, sections

TITLES = "Test;What;Pair;End;MHz;dB;Text;Note;Worst\n"
ROWS = st.lists(
    st.builds(
        ";".join,
        st.tuples(
            st.sampled_from(["1", "1", "1", "2", "3", ""]),
            st.sampled_from(["IL", "IL", "IL", "RL", "Length", "Link", "Result", "TCL", ""]),
            st.sampled_from(["1-2", "1-2", "3-6", ""]),
            st.sampled_from(["A", "A", "B", ""]),
            st.sampled_from(["1", "2", "3", "4", "--", "", " "]),
            st.sampled_from(["1.5", "20", "--", "x", ""]),
            st.sampled_from(["", "", "L1", "PASS"]),
            st.sampled_from(["n", "n", "n", "m"]),
            st.sampled_from(["", "", "3.1"]),
        ),
    )
    | st.sampled_from(["", ";;;;;;;;", "1;IL", '1;"IL', "# no row"]),
    max_size=25,
)
REPEATED = ROWS.flatmap(
    lambda rows: st.lists(
        st.sampled_from(rows or [""]).flatmap(
            lambda row: st.integers(1, 4).map(lambda count: [row] * count)
        ),
        max_size=12,
    )
)


def everything(result: Result) -> list[object]:
    """All that a user sees of a file that was read."""
    told = [(problem.place, problem.message, problem.lost_record) for problem in result.problems]
    return [[record.document for record in result.records], told]


def without_clock(seen: list[object]) -> str:
    """The same without the time of reading."""
    return "\n".join(part.partition("}")[2] for part in repr(seen).split("'read_at'"))


DIALECT = changed(
    changed(POINTS, 'delimiter = ";"', 'delimiter = ";"\ncomment = "#"'),
    "[csv.rows.property]",
    '[[csv.rows.figures]]\nname = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }\n'
    'worst_margin.margin = "Worst"\n[csv.rows.property]',
)


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(lines=ROWS | REPEATED.map(lambda runs: [row for run in runs for row in run]))
def test_runs_and_single_rows_give_the_same(lines: list[str], tmp_path: Path) -> None:
    text = TITLES + "\n".join(lines) + "\n"
    in_runs = read(tmp_path, text, DIALECT)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            csv_tests.Tests,
            "_block",
            lambda self, block: self._one_by_one(block, range(len(block.rows))),
        )
        one_by_one = read(tmp_path, text, DIALECT)
    assert [record.record_id for record in in_runs.records] == [
        record.record_id for record in one_by_one.records
    ]
    assert without_clock(everything(in_runs)) == without_clock(everything(one_by_one))


TAKE_RUN = csv_reader.Reader.take_run


@pytest.mark.parametrize("size", [40, 1 << 18])
@settings(
    max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(kinds=LINES)
def test_runs_and_blocks_of_any_size_give_the_same_sections(
    size: int, kinds: list[str], tmp_path: Path
) -> None:
    dialect = sections(BY_HEADING + FIGURES, 'first_line = "Link"')
    lines = [kind.format(n=number + 100) for number, kind in enumerate(kinds, 1)]
    text = "\n".join(lines) + "\n"
    in_runs = read(tmp_path, text, dialect)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sweepbook_plugins.csv.lines.BLOCK_CHARACTERS", size)
        patch.setattr(
            csv_reader.Reader,
            "take_run",
            lambda self, rows, start, first: TAKE_RUN(self, rows[: start + 1], start, first),
        )
        one_by_one = read(tmp_path, text, dialect)
    assert without_clock(everything(in_runs)) == without_clock(everything(one_by_one))
