"""What a run keeps of its records lies on disk, and comes back as it was."""

import random
import tracemalloc
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from sweepbook.copies import shared_curves as search
from sweepbook.copies.marks import KEYS, MARK, PARTS
from sweepbook.rules import together
from sweepbook.rules.together import groups
from sweepbook.rules.trace import Trace
from sweepbook.rules.traces import AT_HAND, PIECE, Traces
from sweepbook.waiting import Shelf

COUNT = 3 * PIECE * AT_HAND // 2 + 5


def of(number: int, label: str = "", changes: int = 0) -> Trace:
    return Trace(
        record_id=f"sb0-{number:064x}",
        label=label or f"L{number}",
        label_key=("", "", (label or f"l{number}").lower()),
        purpose="initial",
        started=None,
        limit_path=None,
        stated="pass",
        recomputed="pass",
        sweeps_sha256=number.to_bytes(32, "big"),
        values=number,
        changes=changes,
    )


@pytest.fixture
def full(monkeypatch: pytest.MonkeyPatch) -> None:
    def put(shelf: Shelf, items: Any) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Shelf, "put", put)


def filled(count: int = COUNT) -> Traces:
    traces = Traces()
    for number in range(count):
        traces.add(of(number), bytes([number % 251]), bytes([number % 241] * 3))
    return traces


def hold(traces: Traces) -> None:
    expected = [of(number) for number in range(COUNT)]
    assert len(traces) == COUNT
    assert list(traces) == expected
    shuffled = random.Random(4).sample(range(COUNT), COUNT)
    assert [traces[place] for place in shuffled] == [expected[place] for place in shuffled]
    assert traces[-1] == expected[-1]
    assert traces[5 : COUNT : PIECE - 1] == expected[5 : COUNT : PIECE - 1]
    with pytest.raises(IndexError):
        traces[COUNT]
    assert list(traces.fingerprints()) == [bytes([number % 251]) for number in range(COUNT)]
    marks = [one for some in traces.marks() for one in some]
    assert marks == [bytes([number % 241] * 3) for number in range(COUNT)]


def test_what_was_taken_comes_back() -> None:
    hold(filled())


@pytest.mark.usefixtures("full")
def test_where_nothing_can_be_written_it_stays_in_memory() -> None:
    hold(filled())


def test_a_folder_that_is_not_there_is_no_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "gone"))
    hold(filled())


def test_a_disk_that_fills_up_costs_nothing_that_was_written(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Some pieces are there, the next ones are not."""
    before, put = Shelf.put, 0

    def filling(shelf: Shelf, items: Any) -> int:
        nonlocal put
        put += 1
        if put > 40:
            raise OSError(28, "No space left on device")
        return before(shelf, items)

    monkeypatch.setattr(Shelf, "put", filling)
    hold(filled())


def test_memory_does_not_grow_with_the_records() -> None:
    """What is kept of a record in memory is where its piece lies."""
    traces = filled(10 * PIECE)
    tracemalloc.start()
    try:
        before = tracemalloc.get_traced_memory()[0]
        for number in range(300 * PIECE):
            traces.add(of(number), bytes(256), bytes(640))
        grown = tracemalloc.get_traced_memory()[0] - before
    finally:
        tracemalloc.stop()
    assert grown < 25 * 300 * PIECE


@pytest.mark.parametrize("least", [1, 2, 3])
def test_groups_are_those_of_a_plain_look(least: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Against a dictionary of lists that holds everything."""
    monkeypatch.setattr(together, "MOST_HELD", 20)
    luck = random.Random(least)
    traces, plain = Traces(), defaultdict[tuple[str, ...], list[Trace]](list)
    for number in range(500):
        one = of(number, f"L{luck.randrange(300)}", number % 3)
        traces.add(one, b"", b"")
        if one.changes:
            plain[one.label_key].append(one)

    def changing(_: int, trace: Trace) -> Iterator[tuple[str, ...]]:
        if trace.changes:
            yield trace.label_key

    found = list(groups(traces, changing, least))
    assert found == [(key, some) for key, some in plain.items() if len(some) >= least]
    assert any(len(some) > 2 for _, some in found)


class Clashing(str):
    """A text whose hash says little."""

    __slots__ = ()

    def __hash__(self) -> int:
        return len(self)


def test_keys_of_one_hash_are_told_apart() -> None:
    traces = Traces()
    for number, label in enumerate(["aa", "bb", "aa", "cc", "bb"]):
        traces.add(of(number, label), b"", b"")
    found = groups(traces, lambda _, trace: (Clashing(trace.label),))
    assert [(key, [one.values for one in some]) for key, some in found] == [
        ("aa", [0, 2]),
        ("bb", [1, 4]),
    ]


@pytest.mark.parametrize("at_once", [7, 100, 100_000])
def test_marks_are_found_again_in_any_number_of_shares(
    at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Against every test held against every earlier one."""
    monkeypatch.setattr(search, "AT_ONCE", at_once)
    luck = np.random.default_rng(11)
    tests: list[NDArray[np.void]] = []
    for _ in range(60):
        rows = np.empty(int(luck.integers(0, 9)), MARK)
        rows["curve"] = luck.integers(0, len(KEYS), rows.size)
        for part in PARTS:
            rows[part] = luck.integers(0, 1 << 64, rows.size, np.uint64)
        tests.append(rows)
    planted = {(3, 41): ("lower",), (3, 42): ("upper",), (10, 50): PARTS}
    for number, ((one, other), parts) in enumerate(planted.items()):
        pair = np.empty(2, MARK)
        pair["curve"] = 2 * number, 2 * number + 1
        for part in PARTS:
            pair[part] = luck.integers(0, 1 << 64, 2, np.uint64)
            if part in parts:
                pair[part] = pair[part][0]
        tests[one] = np.append(tests[one], pair[:1])
        tests[other] = np.append(tests[other], pair[1:])
    given = [rows.tobytes() for rows in tests]

    def marks() -> Iterator[list[bytes]]:
        yield given[:25]
        yield given[25:]

    found = search.shared_curves(marks, lambda one, other: (one, other) != (3, 42))
    assert {pair: [one.parts for one in some] for pair, some in found.items()} == {
        pair: [parts] for pair, parts in planted.items() if pair != (3, 42)
    }
    first = found[10, 50][0]
    assert (first.first, first.second) == (KEYS[4], KEYS[5])
