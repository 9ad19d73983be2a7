"""What is read is never written over, and a book is never written into."""

import json
import os
import shutil
from pathlib import Path

import click
import pytest

from tests.program import DEMO

from .conftest import UPHELD, Run
from .test_help import every_command

DIALECT = DEMO / "dialects" / "brindlewick-heron-5.toml"


@pytest.fixture
def export(tmp_path: Path) -> Path:
    """A copy of an export in a folder of its own."""
    folder = tmp_path / "exports"
    folder.mkdir()
    return Path(shutil.copy(UPHELD, folder))


@pytest.mark.parametrize("way", ["itself", "roundabout", "symbolic link", "second name"])
@pytest.mark.parametrize("named", ["file", "folder"])
def test_an_export_that_is_read_is_not_written_over(
    run: Run, tmp_path: Path, export: Path, way: str, named: str
) -> None:
    before = export.read_bytes()
    target = {
        "itself": export,
        "roundabout": export.parent / ".." / "exports" / export.name,
        "symbolic link": tmp_path / "link.json",
        "second name": tmp_path / "second.json",
    }[way]
    if way == "symbolic link":
        target.symlink_to(export)
    if way == "second name":
        os.link(export, target)
    source = export if named == "file" else export.parent
    result = run("convert", source, "--dialect", DIALECT, "--to", "json", "-o", target)
    assert result.exit_code == 3
    assert "is being read" in result.stderr
    assert export.read_bytes() == before
    assert target.is_symlink() is (way == "symbolic link")


@pytest.mark.parametrize("option", ["--dialect", "--limits"])
def test_a_file_that_the_reading_rests_on_is_not_written_over(
    run: Run, tmp_path: Path, export: Path, option: str
) -> None:
    kept = tmp_path / "kept"
    shutil.copy(DIALECT, kept)
    arguments = ["--dialect", kept if option == "--dialect" else DIALECT]
    arguments += ["--limits", kept] if option == "--limits" else []
    result = run("convert", export, *arguments, "--to", "xlsx", "-o", kept)
    assert result.exit_code == 3
    assert "is being read" in result.stderr
    assert kept.read_bytes() == DIALECT.read_bytes()


@pytest.mark.parametrize("inside", ["", "journal.jsonl", "records/new.json", "deep/er/x.json"])
@pytest.mark.parametrize("command", ["export", "convert"])
def test_nothing_is_written_into_a_book(
    run: Run, tmp_path: Path, book: Path, export: Path, inside: str, command: str
) -> None:
    own = shutil.copytree(book, tmp_path / "book")
    before = {path: path.read_bytes() for path in own.rglob("*") if path.is_file()}
    source = [own] if command == "export" else [export, "--dialect", DIALECT]
    result = run(command, *source, "--to", "json", "-o", own / inside)
    assert result.exit_code == 3
    assert "lies in the book" in result.stderr
    assert {path: path.read_bytes() for path in own.rglob("*") if path.is_file()} == before


def test_records_are_not_scattered_among_the_exports_that_are_read(run: Run, export: Path) -> None:
    folder = export.parent
    result = run("convert", folder, "--dialect", DIALECT, "--to", "json", "-o", folder)
    assert result.exit_code == 3
    assert list(folder.iterdir()) == [export]


def test_records_are_not_written_into_the_folder_of_a_file_that_is_read(
    run: Run, tmp_path: Path, export: Path
) -> None:
    """A record that is read, in a layout of its own, would be replaced by one of the same name."""
    folder = tmp_path / "records"
    folder.mkdir()
    assert run("convert", export, "--dialect", DIALECT, "--to", "json", "-o", folder).exit_code == 0
    (record,) = folder.iterdir()
    record.write_text(json.dumps(json.loads(record.read_bytes()), indent=8))
    before = record.read_bytes()
    result = run("convert", record, "--to", "json", "-o", tmp_path / "records" / ".." / "records")
    assert result.exit_code == 3
    assert "which is being read" in result.stderr
    assert record.read_bytes() == before


def test_what_a_writer_writes_beside_its_target_is_no_export_either(
    run: Run, tmp_path: Path, export: Path
) -> None:
    target = export.parent / "built.sqlite"
    beside = export.rename(export.parent / "built.sqlite.columns.csv")
    before = beside.read_bytes()
    source = tmp_path / "exports"
    result = run("convert", source, "--dialect", DIALECT, "--to", "as-built", "-o", target)
    assert result.exit_code == 3
    assert "built.sqlite.columns.csv is a file that is being read" in result.stderr.replace(
        "\n", ""
    )
    assert beside.read_bytes() == before
    assert not target.exists()


@pytest.mark.parametrize("inside", ["index.csv", "records/new.json"])
def test_a_book_that_lost_its_book_json_is_not_written_into(
    run: Run, tmp_path: Path, book: Path, export: Path, inside: str
) -> None:
    own = shutil.copytree(book, tmp_path / "book")
    (own / "book.json").unlink()
    before = {path: path.read_bytes() for path in own.rglob("*") if path.is_file()}
    result = run("convert", export, "--dialect", DIALECT, "--to", "json", "-o", own / inside)
    assert result.exit_code == 3
    assert {path: path.read_bytes() for path in own.rglob("*") if path.is_file()} == before
    for command in (["check"], ["doctor"], ["gather"]):
        result = run(*command, own, *([export] if command == ["gather"] else []))
        assert result.exit_code == 3
        assert "has lost its book.json" in result.stderr


def test_the_demo_leaves_a_book_of_others_alone(run: Run, tmp_path: Path, book: Path) -> None:
    own = shutil.copytree(book, tmp_path / "job" / "book")
    before = {path: path.read_bytes() for path in own.rglob("*") if path.is_file()}
    result = run("demo", own.parent)
    assert result.exit_code == 3
    assert "is not of the demo" in result.stderr
    assert {path: path.read_bytes() for path in own.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("name", ["schedule.csv", "report.html", "as-built.sqlite"])
def test_the_demo_writes_over_no_file_of_others(run: Run, tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(b"mine")
    result = run("demo", tmp_path)
    assert result.exit_code == 3
    assert f"{name} is not of the demo" in result.stderr
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"mine"]


def test_the_demo_does_not_write_into_a_book(run: Run, tmp_path: Path, book: Path) -> None:
    own = shutil.copytree(book, tmp_path / "book")
    result = run("demo", own)
    assert result.exit_code == 3
    assert not (own / "book").exists()


def test_an_earlier_output_is_replaced(run: Run, tmp_path: Path, export: Path) -> None:
    target = tmp_path / "out.json"
    target.write_bytes(b"old")
    result = run("convert", export, "--dialect", DIALECT, "--to", "json", "-o", target)
    assert result.exit_code == 0
    assert target.read_bytes() != b"old"


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "EMPTY"),
        ("check", "--json", "EMPTY"),
        ("show", "EMPTY"),
        ("convert", "EMPTY", "--to", "json", "-o", "OUT"),
        ("gather", "OUT", "EMPTY"),
    ],
)
def test_an_empty_folder_is_said_to_be_one(
    run: Run, tmp_path: Path, arguments: tuple[str, ...]
) -> None:
    empty, out = tmp_path / "empty", tmp_path / "out"
    empty.mkdir()
    places = {"EMPTY": empty, "OUT": out}
    result = run(*(places.get(word, word) for word in arguments))
    assert result.exit_code == 3
    assert result.stdout == ""
    assert "There is no test in" in result.stderr
    assert not out.exists()


@pytest.mark.parametrize("option", [("--from", "csv"), ("--dialect", DIALECT)])
def test_a_book_is_not_read_by_a_dialect_again(
    run: Run, book: Path, option: tuple[str, str | Path]
) -> None:
    result = run("check", book, *option)
    assert result.exit_code == 3
    assert "has been read already" in result.stderr


def test_an_empty_file_is_said_to_be_empty(run: Run, tmp_path: Path) -> None:
    (tmp_path / "e.csv").write_bytes(b"")
    assert "the file is empty" in run("check", tmp_path).stdout


WRITING = {
    **{
        f"export to {name}": ("export", "BOOK", "--to", name, "-o")
        for name in ("json", "xlsx", "tables", "as-built", "report")
    },
    "convert": ("convert", "EXPORT", "--dialect", DIALECT, "--to", "json", "-o"),
    "limits plot": ("limits", "plot", "tia-568.2-d/cat6a/channel", "-o"),
    "retests": ("retests", "BOOK", "-o"),
    "dialect draft": ("dialect", "draft", "EXPORT", "-o"),
    "check": ("check", "BOOK", "--objections"),
    "archive make": ("archive", "make", "BOOK"),
    "gather": ("gather", "OUT", "EXPORT", "--dialect", DIALECT),
    "demo": ("demo",),
}


@pytest.mark.parametrize("name", ["-", "./-", "./-/deeper", "new/-/deeper"])
@pytest.mark.parametrize("command", WRITING)
def test_nothing_is_called_by_the_sign_for_standard_output(
    run: Run,
    tmp_path: Path,
    book: Path,
    export: Path,
    monkeypatch: pytest.MonkeyPatch,
    command: str,
    name: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    before = set(tmp_path.rglob("*"))
    places = {"BOOK": book, "EXPORT": export, "OUT": name}
    words = [places.get(str(word), word) for word in WRITING[command]]
    result = run(*words, *([] if "OUT" in WRITING[command] else [name]))
    assert result.exit_code == 3
    assert result.stdout == ""
    assert "called `-`" in result.stderr and "Name another file or folder." in result.stderr
    assert set(tmp_path.rglob("*")) == before


def test_every_command_that_writes_to_a_path_is_held_to_that() -> None:
    """It has `-o`, or a parameter that takes a path where nothing need be yet."""
    writing = {
        words
        for words, command in every_command()
        for one in command.params
        if "-o" in one.opts or (isinstance(one.type, click.Path) and not one.type.exists)
    }
    assert writing == {name.partition(" to ")[0] for name in WRITING}


def test_a_place_in_a_folder_of_that_name_that_is_there_is_no_fault(
    run: Run, tmp_path: Path, export: Path
) -> None:
    (tmp_path / "-").mkdir()
    target = tmp_path / "-" / "draft.toml"
    assert run("dialect", "draft", export, "-o", target).exit_code == 0
    assert target.is_file()
