"""Lists taken together are cut and read as each is by itself, whatever they hold."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sweepbook import numerals, tokens
from sweepbook.columns import Column
from sweepbook.dialect.numbers import Numbers
from sweepbook_plugins.xml import kept
from sweepbook_plugins.xml.kept import Batches

SEPARATORS = (None, " ", ";", "; ", "::")
NUMBERS = [0.5, -12.25, 3.0, 40.0]


@example([["1", "2", "", "3"], ["4"]], "; ", ";")
@example([["1", "2", ""], ["4", ""]], "; ", "; ")
@example([["1", "2", "", "3"], [], ["4"]], ";", "; ")
@example([["1", "2", "", "3"], ["", ""], ["4"]], None, "\n ")
@given(
    pieces=st.lists(
        st.lists(st.sampled_from(["1.5", "-20", ">80", "", "--", "é", "\t", "1\n2", ";", "0"])),
        min_size=1,
    ),
    separator=st.sampled_from(SEPARATORS),
    between=st.sampled_from([" ", "\n ", ";", "; ", "\n;\n", "::"]),
)
def test_the_texts_are_those_of_each_list_by_itself(
    pieces: list[list[str]], separator: str | None, between: str
) -> None:
    lists = [between.join(some) for some in pieces]
    batches = Batches()
    taken = [batches.take(text, separator) for text in lists]
    for text, one in zip(lists, taken, strict=True):
        found, alone = one.cut(), tokens.split(text, separator)
        assert list(found) == list(alone)
        assert [found[at] for at in range(len(found))] == list(alone)
        if isinstance(found, Column):
            every = list(range(len(found)))
            assert found.some(every[::2]) == list(alone)[::2]


@pytest.mark.parametrize("most", [1, 40, 1 << 20])
def test_the_numbers_are_those_of_each_list(most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "MOST_TOGETHER", most)
    lists = [f"\n{' '.join(map(str, NUMBERS[:count]))} " for count in (4, 1, 3, 2)]
    lists[2] = lists[2].replace("-12.25", ">80.5")
    batches = Batches()
    taken = [batches.take(text, None) for text in lists]
    numbers = Numbers(numerals.POINT, frozenset({"--"}), [(">", "", "at_least")])
    for one, count in zip(taken, (4, 1, 3, 2), strict=True):
        values, decimals, marks = numbers.column(one.cut(), "loss", str)
        expected = [*NUMBERS[:count]]
        if count == 3:
            expected[1] = 80.5
            assert [mark.as_stated for mark in marks] == [">80.5"]
        np.testing.assert_array_equal(values, expected)
        assert decimals == (2 if -12.25 in expected else 1)
