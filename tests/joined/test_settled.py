"""Files are read once; what comes of it is the same as if their keys had been known before."""

import json
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from sweepbook.dialect import reading, settled
from sweepbook.dialect.assemble import Assembler
from sweepbook.dialect.keys_twice import Again, Items, Keys
from sweepbook.dialect.raw import RawTest
from sweepbook.errors import ReadProblem
from sweepbook.reading import ReaderCrash
from sweepbook.record import codec
from sweepbook.record.model import Record
from sweepbook.waiting import Shelf
from tests.joined.generated import job
from tests.joined.test_join import HEADS, POINTS, ROWS, pipeline

JOBS = 160
Item = Record | ReadProblem
Make = Callable[[Items, Again], Iterator[settled.Made]]

FOUR = "".join([POINTS, "3,IL,1-2,,1,2.2\n", "4,IL,1-2,,1,2.3\n"])
OF_FOUR = f"{HEADS}3,A-19,Cat 6A PL,good,,R1\n4,A-20,Cat 6A PL,good,,R1\n"
LABELS = ["A-17", "A-18", "A-19", "A-20"]


def by_keys_known_before(begin: Callable[[], Items], make: Make, keys: Keys) -> Iterator[Item]:
    """What `settled` gives, by a first look at all tests and a second one that makes records."""
    for _ in keys.passing(begin()):
        pass
    for made in make(begin(), keys.again):
        yield from made


def told(items: Iterator[Item]) -> list[str]:
    """Records without when they were read, and problems, in their order."""
    return [_said(item) for item in items]


def _said(item: Item) -> str:
    if isinstance(item, ReadProblem):
        return repr(item)
    document: dict[str, Any] = json.loads(codec.dumps(item))
    del document["provenance"]["read_at"]
    return json.dumps(document)


def given(folder: Path, points: str = FOUR, dialect: str = ROWS) -> Iterator[Item]:
    """What is read of points beside the heads of four tests."""
    (folder / "3-points.csv").write_text(points)
    (folder / "3-heads.csv").write_text(OF_FOUR)
    return pipeline(folder, dialect).read_all([folder])


def labels(items: list[Item]) -> list[str]:
    return [item.label for item in items if isinstance(item, Record)]


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Grows by one each time that a reader begins with the tests of the first file."""
    times: list[int] = []
    before = reading._tests

    def counted(*arguments: Any) -> Any:
        times.append(1)
        return before(*arguments)

    monkeypatch.setattr(reading, "_tests", counted)
    return times


def test_jobs_come_out_as_by_keys_that_were_known_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whole ones and damaged ones; both of them with keys that come again."""
    met: Counter[str] = Counter()
    for seed in range(JOBS):
        folder = tmp_path / str(seed)
        folder.mkdir()
        of = job(seed)
        for name, content in of.files.items():
            (folder / name).write_bytes(content)
        once = told(pipeline(folder, of.dialect).read_all([folder]))
        with monkeypatch.context() as patched:
            patched.setattr(reading, "settled", by_keys_known_before)
            assert told(pipeline(folder, of.dialect).read_all([folder])) == once, seed
        met["records"] += any(one.startswith("{") for one in once)
        met["lost"] += any("lost_record=True" in one for one in once)
        met["under one key"] += any("so neither is read" in one for one in once)
    assert len(met) == 3
    assert min(met.values()) > JOBS / 15, met


@pytest.mark.parametrize("points", [POINTS[: POINTS.index("2,RL")], POINTS, FOUR])
def test_a_file_whose_keys_stand_alone_is_read_once(
    points: str, tmp_path: Path, begun: list[int]
) -> None:
    assert labels(list(given(tmp_path, points))) == LABELS  # those without curves stand behind
    assert len(begun) == 1


def test_nothing_is_given_before_the_last_key_is_known(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    passed: list[str] = []
    before = Keys.passing

    def noted(keys: Keys, items: Items) -> Items:
        for item in before(keys, items):
            passed.append(item.locator if isinstance(item, RawTest) else "")
            yield item

    monkeypatch.setattr(Keys, "passing", noted)
    items = given(tmp_path)
    next(items)
    assert len(passed) == 4
    shared = ROWS.replace('key = "Nr"', 'shared = true\nkey = "Nr"')
    passed.clear()
    list(given(tmp_path, dialect=shared))
    assert passed == []


def test_one_test_needs_no_disk_and_several_hold_little_memory(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put: list[int] = []
    before = Shelf.put

    def counted(shelf: Shelf, items: Any) -> int:
        put.append(len(items))
        return before(shelf, items)

    monkeypatch.setattr(Shelf, "put", counted)
    list(given(tmp_path, POINTS[: POINTS.index("2,RL")]))
    assert put == []
    assert labels(list(given(tmp_path))) == LABELS
    assert put == [1, 1, 1]


def test_records_come_back_from_the_disk_as_they_were_made(tmp_path: Path) -> None:
    """With numbers that nobody can write over."""
    records = [item for item in given(tmp_path) if isinstance(item, Record)]
    arrays = [record.document["results"]["grids"][0]["frequency_mhz"] for record in records] + [
        record.document["results"]["sweeps"][0]["value_db"] for record in records[:1]
    ]
    assert len(arrays) == 5
    assert not any(array.flags.writeable for array in arrays)


def test_a_full_disk_costs_a_second_reading_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, begun: list[int]
) -> None:
    def full(shelf: Shelf, items: Any) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Shelf, "put", full)
    assert labels(list(given(tmp_path))) == LABELS
    assert len(begun) == 2


def test_a_reader_that_crashes_gives_what_came_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Once all keys are known: of a crash among the tests themselves nothing comes before."""
    before = Assembler.assemble

    def crashing(assembler: Assembler, test: RawTest) -> Iterator[Item]:
        if "5" in test.locator:
            raise ValueError("no such thing")
        return before(assembler, test)

    monkeypatch.delenv("SWEEPBOOK_STRICT_PLUGINS", raising=False)
    with monkeypatch.context() as patched:
        patched.setattr(Assembler, "assemble", crashing)
        *came, last = given(tmp_path)
    assert labels(came) == ["A-17"]
    assert isinstance(last, ReaderCrash)

    def torn(*_: object) -> Items:
        yield RawTest("one")
        raise ValueError("no such line")

    monkeypatch.setattr(reading, "_tests", torn)
    (only,) = given(tmp_path)
    assert isinstance(only, ReaderCrash)
