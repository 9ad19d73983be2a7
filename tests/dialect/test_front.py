"""Counts in front of frequencies, in lists whose frequencies are known.

The frequencies of tables are those at which ISO/IEC 11801-1 and ANSI/TIA-568.2-D print limits
(recalled); steps even and by a ratio are common practice of testers (no source).
"""

import numpy as np
import pytest

from sweepbook.dialect import front

PRINTED = [1, 4, 8, 10, 16, 20, 25, 31.25, 62.5, 100, 200, 250, 300, 400, 500, 600, 1000]
EVEN = [n / 2 for n in range(2, 1001)]
RATIO = [round(1000 * 1.059**n) for n in range(110)]


def counting(numbers: list[float | str]) -> int:
    texts = [str(of) for of in numbers]
    return front.counting(texts, np.array([float(of) for of in texts]))


@pytest.mark.parametrize("rest", [PRINTED, EVEN, RATIO])
@pytest.mark.parametrize("before", [[], ["00007"], [3, "2025"], [1, 2, 3, 4, 5, 6]])
def test_a_count_is_found(before: list[float | str], rest: list[float]) -> None:
    assert counting([*before, len(rest), *rest]) == len(before) + 1


@pytest.mark.parametrize("count", range(2, len(PRINTED) + 1))
def test_printed_frequencies_have_no_count(count: int) -> None:
    """Of some of these lists a frequency is a number of those behind it: 8 of ten from 4 on."""
    assert counting([*PRINTED[:count]]) == 0
    assert counting([*PRINTED[1:count]]) == 0


@pytest.mark.parametrize("first", [1, 100, 250, 251])
def test_even_steps_have_no_count(first: int) -> None:
    for count in range(2, first + 260):
        assert counting([*range(first, first + count)]) == 0


def test_steps_by_a_ratio_have_no_count() -> None:
    for count in range(2, len(RATIO) + 1):
        assert counting([*RATIO[:count]]) == 0
    assert counting([110.0, *RATIO[:109]]) == 0


def test_frequencies_that_fall_in_even_steps_have_no_count() -> None:
    assert counting([*range(251, 0, -1)]) == 0
