"""Text in columns: wrapped to width, nothing lost, nothing that a terminal acts on."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.cli import table
from sweepbook.cli.table import Column
from sweepbook.text import printable, width


def test_words_are_kept_whole_where_they_fit() -> None:
    assert table.wrap("the worst margin of all", 9) == ["the worst", "margin of", "all"]


def test_a_word_too_long_is_cut_at_the_edge() -> None:
    assert table.wrap("ab 0123456789 c", 6) == ["ab 012", "345678", "9 c"]


@given(st.text(max_size=200), st.integers(2, 40))
def test_wrapped_lines_fit_and_lose_nothing_but_blanks(text: str, columns: int) -> None:
    lines = table.wrap(text, columns)
    assert all(width(line) <= columns for line in lines)
    assert all(line.isprintable() for line in lines)
    assert "".join(lines).replace(" ", "") == printable(text).replace(" ", "")


def test_a_long_cell_goes_on_below_and_figures_stand_right() -> None:
    columns = [Column("link", 6), Column("margin", 6, right=True)]
    assert list(table.row(["A-1-longer", "+1.20"], columns)) == ["A-1-lo   +1.20", "nger"]


def test_a_row_of_the_wrong_length_is_an_error() -> None:
    with pytest.raises(ValueError, match="zip"):
        list(table.row(["a"], [Column("a", 3), Column("b", 3)]))


def test_a_table_is_as_wide_as_the_terminal_at_most() -> None:
    columns = table.fitted(("path", "title"), [("x" * 30, "y" * 100)], 80)
    assert [column.columns for column in columns] == [30, 48]


def test_facts_without_text_are_left_out_and_long_ones_are_indented() -> None:
    lines = list(table.facts([("one", ""), ("two", "word " * 12)], 40))
    assert lines[0].startswith("two               word word")
    assert all(line.startswith(" " * 18 + "word") for line in lines[1:])
    assert len(lines) > 1


def test_colour_is_beside_the_word_and_can_be_switched_off(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert table.coloured("A pass upheld", "upheld") == "A pass \x1b[32mupheld\x1b[0m"
    monkeypatch.setenv("NO_COLOR", "1")
    assert table.coloured("A pass upheld", "upheld") == "A pass upheld"


@pytest.mark.parametrize(("asked", "given"), [("20", 60), ("80", 80), ("500", 140)])
def test_the_width_is_the_terminals_within_reason(
    monkeypatch: pytest.MonkeyPatch, asked: str, given: int
) -> None:
    monkeypatch.setenv("COLUMNS", asked)
    assert table.terminal_columns() == given
