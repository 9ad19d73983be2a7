"""Several processes: what they say of a book is what one says, damage and corrections included."""

import contextlib
import importlib
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest

from sweepbook.cli import workers
from sweepbook.cli.asked import Asked
from sweepbook.cli.desk import Desk

from .conftest import Run

Work = Callable[..., object]

MORTAL = """
import os
from pathlib import Path

def curves(flag, assessment, held):
    if Path(flag).exists():
        Path(flag).unlink()
        os._exit(1)
    return assessment.record.label, len(held())
"""
"""A writer's work that ends its worker once, in a module that a worker can import."""


@pytest.fixture
def spoiled(run: Run, demo_book: Path, tmp_path: Path) -> Path:
    """The demo's book with a damaged record, a correction and an accepted finding."""
    book = tmp_path / "book"
    shutil.copytree(demo_book, book)
    first, second, *_ = sorted(book.rglob("sb0-*.json"))
    first.write_bytes(first.read_bytes().replace(b'"label"', b'"lable"', 1))
    why = ("--who", "K. Orme", "--why", "read off the panel")
    assert run("correct", book, second.stem, "label", "Z-99", *why).exit_code == 0
    assert run("accept", book, "REC004", "1A-P1-02", *why).exit_code == 0
    return book


@pytest.mark.parametrize("options", [(), ("--json",)])
def test_it_is_the_same_as_by_one_process(
    run: Run, book: Path, spoiled: Path, options: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "AT_ONCE", 5)
    command = ("check", book, spoiled, f"--project={spoiled / 'project.toml'}", *options)
    alone, together = run(*command), run(*command, "--workers", "2")
    assert alone.stdout == together.stdout
    assert alone.stderr == together.stderr
    assert alone.exit_code == together.exit_code == 1


@pytest.mark.parametrize(
    ("records", "processors", "expected"),
    [(99, 8, 0), (250, 8, 2), (250, 1, 1), (100_000, 3, 3), (100_000, 64, workers.MOST_UNASKED)],
)
def test_unasked_there_are_as_many_as_the_records_are_worth_and_processors_there(
    records: int, processors: int, expected: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "_processors", lambda: processors)
    assert workers._worth_starting(records) == expected


@pytest.mark.parametrize("more", [(), ("--without-people",)])
def test_the_page_is_the_same_byte_for_byte(
    run: Run, spoiled: Path, tmp_path: Path, more: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "AT_ONCE", 5)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1780000000")
    pages = [tmp_path / "alone.html", tmp_path / "together.html"]
    asked = (f"--project={spoiled / 'project.toml'}", "--to", "report", *more)
    alone = run("export", spoiled, *asked, "-o", pages[0])
    together = run("export", spoiled, *asked, "-o", pages[1], "--workers", "2")
    assert alone.exit_code == together.exit_code == 1, together.output
    assert alone.stderr == together.stderr
    assert pages[0].read_bytes() == pages[1].read_bytes()
    assert pages[0].read_bytes().count(b"<figure>") > 20
    assert (b"K. Orme" in pages[0].read_bytes()) is not bool(more)


def test_the_database_is_the_same_row_for_row(
    run: Run, spoiled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "AT_ONCE", 5)
    files = [tmp_path / "alone.sqlite", tmp_path / "together.sqlite"]
    asked = (f"--project={spoiled / 'project.toml'}", "--to", "as-built")
    alone = run("export", spoiled, *asked, "-o", files[0])
    together = run("export", spoiled, *asked, "-o", files[1], "--workers", "2")
    assert alone.exit_code == together.exit_code == 1, together.output
    one, other = map(_dump, files)
    assert one == other
    assert sum(line.startswith('INSERT INTO "result_value"') for line in one) > 1000


def _dump(database: Path) -> list[str]:
    with contextlib.closing(sqlite3.connect(database)) as connection:
        return list(connection.iterdump())


def test_the_workbook_is_the_same_byte_for_byte(
    run: Run, spoiled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "AT_ONCE", 5)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1780000000")
    books = [tmp_path / "alone.xlsx", tmp_path / "together.xlsx"]
    asked = ("--to", "xlsx", "--margins", "worst", "--sweeps", "1A-P1-03")
    run("export", spoiled, *asked, "-o", books[0])
    together = run("export", spoiled, *asked, "-o", books[1], "--workers", "2")
    assert together.exit_code == 1, together.output
    assert books[0].read_bytes() == books[1].read_bytes()


@pytest.fixture
def mortal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Work:
    (tmp_path / "mortal_writer.py").write_text(MORTAL, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    work: Work = importlib.import_module("mortal_writer").curves
    return work


def test_a_writers_work_is_done_where_the_record_was_judged_and_again_where_a_worker_is_lost(
    demo_book: Path, mortal: Work, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "AT_ONCE", 5)
    flag = tmp_path / "lose a worker"
    here = list(_worked_here(demo_book, partial(mortal, flag)))
    flag.touch()
    desk = Desk(Asked(workers=2), (demo_book,))
    besides = workers.Besides(work=partial(mortal, flag))
    first, *others = desk.assessed(desk.run(), (demo_book,), besides)
    assert not first.made
    assert [one.made[0] for one in others] == here[1:]
    assert not flag.exists()
    for one in others:
        assert one.trace is not None
        assert "results" not in one.assessment.record.evidence.document


@pytest.mark.parametrize(("worth", "elsewhere"), [(5, True), (500, False)])
def test_unasked_a_large_book_is_shared_out_and_a_small_one_is_not(
    demo_book: Path,
    mortal: Work,
    tmp_path: Path,
    worth: int,
    elsewhere: bool,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(workers, "AT_ONCE", 5)
    monkeypatch.setattr(workers, "WORTH_A_WORKER", worth)
    monkeypatch.setattr(workers, "_processors", lambda: 2)
    desk = Desk(paths=(demo_book,))
    besides = workers.Besides(work=partial(mortal, tmp_path / "no flag"))
    first, *others = desk.assessed(desk.run(), (demo_book,), besides)
    assert not first.made
    assert {bool(one.made) for one in others} == {elsewhere}


def _worked_here(book: Path, work: Work) -> Iterator[object]:
    desk = Desk(paths=(book,))
    run = desk.run()
    for entry in desk.assessments(run, (book,)):
        yield work(entry, partial(run.held, entry))
