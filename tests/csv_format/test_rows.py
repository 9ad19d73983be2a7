"""Rows kept as bytes say the same as rows that are lists of their cells."""

import csv
from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.columns import Column
from sweepbook_plugins.csv import cut, quotes
from sweepbook_plugins.csv.rows import Rows

CELL = st.sampled_from(["", "", " ", "1", "1", "12.5", "-3.25", "--", "IL", "\u0660", "1" * 300])
LINE = st.integers(1, 3).flatmap(lambda width: st.lists(CELL, min_size=width, max_size=width))


def raw(lines: Iterable[str]) -> bytes:
    return "".join(f"{line}\n" for line in lines).encode()


@pytest.fixture(autouse=True)
def short_stretches(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cut, "LEAST", 2)


@st.composite
def tables(draw: st.DrawFn) -> list[list[str]]:
    some = draw(st.lists(LINE, min_size=1, max_size=4))
    repeated = draw(st.lists(st.sampled_from(some), min_size=1, max_size=12))
    return [[] if row == [""] else row for row in repeated]


@given(tables(), st.data())
def test_both_kinds_say_the_same(table: list[list[str]], data: st.DataObject) -> None:
    apart = {at: table[at] for at in data.draw(st.sets(st.integers(0, len(table) - 1)))}
    own, kept = Rows([*table]), cut.BlockRows(raw(map(";".join, table)), ";", apart)
    assert len(own) == len(kept) == len(table)
    assert list(kept) == table
    assert [kept[at] for at in range(-len(table), len(table))] == table * 2
    start, stop = (data.draw(st.integers(0, len(table))) for _ in range(2))
    assert list(kept[start:stop]) == table[start:stop]
    bounds = list(kept.stretches(start))
    assert [at for first, end, _ in bounds for at in range(first, end)] == [
        *range(start, len(table))
    ]
    for first, end, width in bounds:
        if width >= 0:
            assert {len(row) for row in table[first:end]} == {width}
            alike(own[first:end], kept[first:end], width)
    assert own.drop_wide(2) == kept.drop_wide(2)
    assert list(own) == list(kept)


def alike(own: Rows, kept: Rows, width: int) -> None:
    """Hold rows of one width against each other."""
    places = tuple(range(width))
    for positions in [places, places[:1], places[1:], places[::2]]:
        assert list(own.runs(positions)) == list(kept.runs(positions))
        for at in places:
            ends = [of.run_end(0, width, at, positions) for of in (own, kept)]
            assert ends[0] == ends[1]
    for at in places:
        assert list(own.column(at, places)) == list(kept.column(at, places))
        assert list(kept[1:].column(at, ())) == [row[at] for row in own][1:]
    assert list(kept[len(kept) :].runs(places)) == []


@given(st.lists(st.text(alphabet="1;, \u2028\x1c", max_size=6), min_size=1, max_size=8))
def test_lines_are_split_as_one_by_one(lines: list[str]) -> None:
    rows = cut.BlockRows(raw(lines), ";", {})
    assert list(rows) == [line.split(";") if line else [] for line in lines]


QUOTED = st.lists(
    st.sampled_from(['"1"', '""', '"a b"', "1", "", '"', '"1;2"', '"a""b"', ' "1"', '"1"x', 'a"']),
    min_size=1,
    max_size=4,
).map(";".join)


@given(st.lists(QUOTED, min_size=1, max_size=6))
def test_quotes_taken_off_are_those_around_whole_cells(lines: list[str]) -> None:
    """By the reader of the standard library, a line at a time."""
    found = quotes.taken_off(raw(lines), '"', ";")
    rows = cut.BlockRows(found.raw, ";", {at: [] for at in found.others})
    for at, line in enumerate(lines):
        plain = all(cell in ('"1"', '""', '"a b"', "1", "") for cell in line.split(";"))
        assert (at not in found.others) == (plain and line != '""')
        if line and at not in found.others:
            assert [rows[at]] == list(csv.reader([line], delimiter=";", strict=True))


def test_columns_that_were_read_are_compared_without_a_text(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of a file with a row a point each curve has frequencies of its own, mostly the same ones."""
    rows = cut.BlockRows(raw(f"{at};{at}.5" for at in range(1, 9)), ";", {})
    one, two = (Column([rows[:].column(0, (0, 1))]) for _ in range(2))
    assert one.read(".").values.tolist() == list(range(1, 9))
    monkeypatch.setattr("sweepbook.bulk_cells.Buffer.text", None)
    assert one == two
