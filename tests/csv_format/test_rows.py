"""Rows kept cell after cell say the same as rows with cells of their own."""

from hypothesis import given
from hypothesis import strategies as st

from sweepbook_plugins.csv.rows import EvenRows, Rows, split

CELL = st.sampled_from(["", " ", "1", "1,5", "--", "IL", "\u0660", "\t"])


@st.composite
def tables(draw: st.DrawFn) -> list[list[str]]:
    width = draw(st.integers(1, 4))
    rows = st.lists(CELL, min_size=width, max_size=width)
    return draw(st.lists(st.one_of(rows, st.just(["1"] * width)), min_size=1, max_size=12))


@given(tables(), st.data())
def test_both_kinds_say_the_same(table: list[list[str]], data: st.DataObject) -> None:
    width = len(table[0])
    own, even = Rows(table), EvenRows([cell for row in table for cell in row], width)
    assert own.width == even.width == width
    assert len(own) == len(even) == len(table)
    assert list(own) == list(even) == table
    assert [even[at] for at in range(-len(table), len(table))] == table * 2
    positions = data.draw(st.lists(st.integers(0, width - 1), max_size=3))
    assert list(own.runs(positions)) == list(even.runs(positions))
    assert [own.column(at) for at in range(width)] == [even.column(at) for at in range(width)]
    start, stop = (data.draw(st.integers(0, len(table))) for _ in range(2))
    for part in (own[start:stop], even[start:stop], own.rest(start)[: max(0, stop - start)]):
        assert list(part) == table[start:stop]
    assert list(even[len(table) :].runs([0])) == []


@given(st.lists(st.text(alphabet="1;, \u2028\x1c", max_size=6), max_size=8))
def test_lines_are_split_as_one_by_one(lines: list[str]) -> None:
    assert list(split(lines, ";")) == [line.split(";") if line else [] for line in lines]


@given(tables())
def test_runs_are_as_long_as_they_can_be(table: list[list[str]]) -> None:
    even = EvenRows([cell for row in table for cell in row], len(table[0]))
    bounds = list(even.runs([0]))
    assert [at for start, end in bounds for at in range(start, end)] == list(range(len(table)))
    for start, end in bounds:
        assert len({row[0] for row in table[start:end]}) == 1
        assert end == len(table) or table[end][0] != table[start][0]
