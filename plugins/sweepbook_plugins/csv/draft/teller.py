"""Which column of a table with several rows a test tells the tests apart, file by file."""

from collections.abc import Sequence
from itertools import pairwise

from sweepbook.draft import phrases, tongues, tongues_more
from sweepbook.draft.trade_words import PAIR_WORDS
from sweepbook.word_lists import words_of
from sweepbook_plugins.csv.draft.text import Cells

_TEST_WORDS = (
    *words_of("test, record, link, cable, label, id, no, nr, number, job"),
    *tongues.WORDS["test"],
    *tongues_more.WORDS["test"],
)
_LEAST_ROWS = 8
"""So many rows, in the mean, a test has."""


def teller_of(
    titles: Sequence[str], columns: Sequence[Cells], rest: Sequence[int], axis: Cells | None,
    starts: Sequence[int],
) -> tuple[int | None, bool]:  # fmt: skip
    """The column that tells tests apart, and whether its texts show that.

    In each file its texts never come back, and most of them stand on points. Among such columns
    that with most texts counts, since a floor or a day may be that of several tests; of equal ones
    that whose texts come in no other file. Numbers that begin again in each file need a title that
    says so.

    Args:
        titles: of all columns.
        columns: their cells.
        rest: positions of the columns that may be it.
        axis: the cells of frequencies; None where there are none.
        starts: positions of the rows with which each file begins.
    """
    count = len(columns[0]) if columns else 0
    spans = [slice(*span) for span in pairwise((*starts, count))]
    blocks: list[tuple[int, bool, int]] = []
    for at in rest:
        column = columns[at]
        by_file = [column[span] for span in spans]
        if not all(map(_in_blocks, by_file)) or not _has_points(column, axis):
            continue
        counts = [len(set(cells)) for cells in by_file]
        again = sum(counts) > len(set(column))
        several = max(counts) > 1 and _is_test(titles[at]) if again else sum(counts) > 1
        if several and (sum(counts) - 1) * _LEAST_ROWS < count:
            blocks.append((sum(counts), not again, -at))
    if blocks:
        return -max(blocks)[2], True
    for at in rest:
        constant = len(set(columns[at])) == 1 and "" not in columns[at]
        if constant and phrases.has(titles[at], _TEST_WORDS):
            return at, False
    return None, False


def _in_blocks(column: Cells) -> bool:
    """Whether no text of a column comes back, and none is lacking."""
    changes = sum(a != b for a, b in pairwise(column))
    return "" not in column and changes + 1 == len(set(column))


def _has_points(column: Cells, axis: Cells | None) -> bool:
    """Whether most texts of a column stand on rows with a frequency, as those of tests do."""
    if axis is None:
        return True
    with_one = {text for text, of in zip(column, axis, strict=True) if of}
    return len(with_one) * 2 > len(set(column))


def _is_test(title: str) -> bool:
    return phrases.has(title, _TEST_WORDS) and not phrases.has(title, PAIR_WORDS)
