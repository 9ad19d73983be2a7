"""Reading goes on whatever a reader does, and the named dialect is never overruled."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, cast

import pluggy
import pytest

from sweepbook.dialect.model import Dialect, Meaning
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import Claim, Format, ReadSetting, Strength
from sweepbook.limits.library import Library
from sweepbook.reading import MOST_PROBLEMS, Pipeline, ReaderCrash
from sweepbook.record.model import Record
from sweepbook.registry import STRICT, Registry
from sweepbook.source import Source


def _dialect(name: str) -> Dialect:
    return Dialect(name, name, "x", name, Meaning(), {})


DIALECT = _dialect("other")


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv(STRICT, raising=False)
    (tmp_path / "a.x").write_text("a")
    (tmp_path / "b.x").write_text("b")
    return tmp_path


def _pipeline(read: Any, **setting: Any) -> Pipeline:
    def asked(_source: Source, given: ReadSetting) -> Iterator[Claim]:
        for name, dialect in given.dialects.items():
            strength = Strength.SIGNATURE if name == "fits" else Strength.SUFFIX
            yield Claim(strength, name, dialect)
        yield Claim(Strength.STRUCTURE, "always")

    form = Format("x", "any", (".x",), asked, read)
    registry = Registry(pluggy.PluginManager("x"), formats={"x": form})
    return Pipeline(registry, ReadSetting(Library({}), **setting))


def _problem(source: Source, number: int) -> ReadProblem:
    return ReadProblem(source.name, f"line {number}", "wrong")


def test_a_reader_that_gives_up_loses_its_file_and_no_other(path: Path) -> None:
    def read(source: Source, _: ReadSetting) -> Iterator[ReadProblem]:
        if source.name == "a.x":
            raise SweepbookError("a.x: The end is missing.", "Copy it again.")
        yield _problem(source, 1)

    items = list(_pipeline(read).read_all([path]))
    assert [(i.source, i.message) for i in items if isinstance(i, ReadProblem)] == [
        ("a.x", "The end is missing. Copy it again."),
        ("b.x", "wrong"),
    ]


@pytest.mark.parametrize("wrong", ["text", None, 7])
def test_a_reader_that_yields_something_else_has_crashed(path: Path, wrong: object) -> None:
    (item, _) = _pipeline(lambda *_: iter([wrong])).read_all([path])
    assert isinstance(item, ReaderCrash)
    assert "not a record or a problem" in item.message


def test_a_reader_that_is_no_generator_has_crashed(path: Path) -> None:
    items = list(_pipeline(lambda *_: None).read_all([path]))
    assert [type(item) for item in items] == [ReaderCrash, ReaderCrash]


def test_a_flood_of_problems_is_cut_off_and_says_so(path: Path) -> None:
    def read(source: Source, _: ReadSetting) -> Iterator[ReadProblem]:
        for number in range(MOST_PROBLEMS + 800):
            yield _problem(source, number)

    items = list(_pipeline(read).read_all([path / "a.x"]))
    assert len(items) == MOST_PROBLEMS + 2
    assert cast(ReadProblem, items[-2]).message == "799 more problems in this file, not listed."
    assert cast(ReadProblem, items[-1]).place == f"line {MOST_PROBLEMS + 799}", "which may say why"


def test_of_files_that_were_read_the_first_bytes_are_not_kept(path: Path) -> None:
    def reader(source: Source, _setting: ReadSetting) -> Iterator[ReadProblem]:
        yield ReadProblem(source.name, source.head.decode(), "Look.")

    pipeline = _pipeline(reader)
    sources = [one for one in pipeline.sources([path]) if isinstance(one, Source)]
    found = [item for one in sources for item in pipeline.read_source(one, sources)]
    assert [item.place for item in found if isinstance(item, ReadProblem)] == ["a", "b"]
    assert not any("head" in vars(one) for one in sources)


def test_the_claim_brings_its_dialect_and_the_named_one_is_never_overruled(path: Path) -> None:
    seen: list[Dialect | None] = []

    def read(_: Source, setting: ReadSetting) -> Iterator[Record]:
        seen.append(setting.dialect)
        return iter(())

    fitting, named = _dialect("fits"), _dialect("named")
    dialects = {"other": DIALECT, "fits": fitting}
    list(_pipeline(read, dialects=dialects).read_all([path / "a.x"]))
    list(_pipeline(read, dialects=dialects, dialect=named).read_all([path / "a.x"]))
    assert seen == [fitting, named]
