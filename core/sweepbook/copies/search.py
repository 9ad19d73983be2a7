"""Which fingerprints of many lie near to each other, without holding each against every other.

Fingerprints are turned to their principal components. The first few carry most of what differs;
two that are further apart in these than is asked are further apart altogether, so that nothing is
missed (a distance in some orthogonal directions is never more than the whole one). The others are
held against each other in all 64 numbers.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sweepbook.copies.fingerprint import F32

Index = NDArray[np.int64]

COMPONENTS = 12
ROWS, COLUMNS = 256, 1024
"""Distances worked out at once: so few that they stay in the processor's cache."""
MOST_NEAR = 3
"""Neighbours of one fingerprint that are given: of many copies each need be tied to a few only."""
MOST_CANDIDATES = 64
"""Of more near ones in a block the nearest are held against a row."""
_SAMPLE = 8192
_AT_ONCE = 8_192
_NONE: Index = np.empty(0, dtype=np.int64)


def near(prints: F32, apart_db: float) -> list[tuple[int, int]]:
    """Pairs of fingerprints that are near to each other.

    Args:
        prints: float32[n, 64] in dB.
        apart_db: root mean square of the 64 differences up to which two are near.

    Returns:
        (row, row), the lower first, each pair once. Of more than a few neighbours of a row the
        nearest are given.
    """
    if len(prints) < 2:
        return []
    reach = apart_db * np.sqrt(prints.shape[1])
    mean = prints.mean(axis=0)
    components = _components(prints, mean)
    seen = prints @ components - mean @ components
    order = np.argsort(seen[:, 0], kind="stable")
    found = [
        (min(pair), max(pair))
        for rows, others in _blocks(seen[order], prints, order, float(reach))
        for pair in zip(order[rows].tolist(), order[others].tolist(), strict=True)
    ]
    return sorted(found)


def _components(prints: F32, mean: F32) -> F32:
    """The directions of greatest spread, float32[64, COMPONENTS], the greatest first."""
    sample = prints[:: max(1, len(prints) // _SAMPLE)]
    squares = np.zeros((mean.size, mean.size))
    for start in range(0, len(sample), ROWS):
        part = (sample[start : start + ROWS] - mean).astype(np.float64)
        squares += part.T @ part
    _, directions = np.linalg.eigh(squares)
    return np.asarray(directions[:, ::-1][:, :COMPONENTS], dtype=np.float32)


def _blocks(seen: F32, whole: F32, order: Index, reach: float) -> Iterator[tuple[Index, Index]]:
    """(rows, earlier rows) of near pairs, block by block, sorted along the first component.

    Args:
        seen: float32[n, COMPONENTS], in that order.
        whole: float32[n, 64], in the order in which they came.
        order: which of these each row is.
        reach: distance up to which two are near.
    """
    size = np.einsum("ij,ij->i", seen, seen)[:, None]
    one = np.ones_like(size)
    others = np.hstack([seen, one, size])
    first = np.searchsorted(seen[:, 0], seen[:, 0] - np.float32(reach))
    within = np.float32(reach * reach * 1.001 + 1e-3)  # room for the rounding of float32
    for start in range(0, len(seen), ROWS):
        stop = min(start + ROWS, len(seen))
        block = slice(start, stop)
        mine = np.hstack([-2.0 * seen[block], size[block], one[block]])
        parts = [(_NONE, _NONE)]
        for left in range(int(first[start]), stop, COLUMNS):
            right = min(left + COLUMNS, stop)
            square = mine @ others[left:right].T  # |a|^2 - 2 a b + |b|^2
            parts.append(_candidates(square, within, start, left))
        rows, earlier = (np.concatenate(part) for part in zip(*parts, strict=True))
        apart = _apart(whole, order[rows], order[earlier])
        close = apart <= reach
        yield _nearest(rows[close], earlier[close], apart[close])


def _candidates(square: F32, within: np.float32, start: int, left: int) -> tuple[Index, Index]:
    """Places of the squared distances that are small, for rows after the columns only."""
    small = np.flatnonzero(square <= within)
    if not small.size:
        return _NONE, _NONE
    rows, columns = np.divmod(small, square.shape[1])
    before = columns + left < rows + start
    rows, columns = rows[before], columns[before]
    if rows.size > MOST_CANDIDATES:
        order = np.lexsort((square[rows, columns], rows))
        rows, columns = rows[order], columns[order]
        few = np.arange(rows.size) - np.searchsorted(rows, rows) < MOST_CANDIDATES
        rows, columns = rows[few], columns[few]
    return rows + start, columns + left


def _apart(whole: F32, rows: Index, others: Index) -> NDArray[np.float64]:
    """Distances in all numbers: float64[k]."""
    apart = np.empty(rows.size)
    for start in range(0, rows.size, _AT_ONCE):
        part = slice(start, start + _AT_ONCE)
        difference = whole[rows[part]] - whole[others[part]]
        apart[part] = np.sqrt(np.einsum("ij,ij->i", difference, difference))
    return apart


def _nearest(rows: Index, others: Index, apart: NDArray[np.float64]) -> tuple[Index, Index]:
    """The few nearest of each row."""
    order = np.lexsort((others, apart, rows))
    rows, others = rows[order], others[order]
    begins = np.searchsorted(rows, rows)
    few = np.arange(rows.size) - begins < MOST_NEAR
    return rows[few], others[few]
