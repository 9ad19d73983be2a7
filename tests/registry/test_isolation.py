"""A broken plugin is named and left out; the others work. No plugin is installed for this."""

import sys
from collections.abc import Iterator
from importlib.metadata import EntryPoint
from pathlib import Path
from textwrap import dedent

import pytest

from sweepbook import registry
from sweepbook.errors import SweepbookError
from sweepbook.registry import BUILTIN, GROUP, OURS, Registry

GOOD = """
    from sweepbook.formats import Format
    from sweepbook.hookspecs import hookimpl

    @hookimpl
    def describe_formats():
        return [Format("ghost", "A ghost's notes", (".gho",), read=lambda *_: iter(()))]
"""
FAULTS = {
    "raises": ("raise RuntimeError('no such luck')", "RuntimeError: no such luck"),
    "syntax": ("def x(:", "SyntaxError"),
    "signature": (
        GOOD.replace("describe_formats()", "describe_formats(colour)"),
        "PluginValidationError",
    ),
    "misspelt": (
        GOOD.replace("describe_formats()", "describe_format()"),
        "unknown hook 'describe_format'",
    ),
    "throws": (GOOD.replace("return [", "return 1 / 0 + ["), "ZeroDivisionError"),
    "number": (GOOD.replace("return [", "return 7 and 7 or ["), "TypeError"),
    "taken": (GOOD.replace('"ghost"', '"csv"'), "The format 'csv' is there already"),
    "twice": (GOOD.replace("return [", "return 2 * ["), "The format 'ghost' is there already"),
}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder on the path for modules of plugins, forgotten afterwards."""
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delenv(registry.STRICT, raising=False)
    yield tmp_path
    for path in tmp_path.glob("*.py"):
        sys.modules.pop(path.stem, None)


def _entry(folder: Path, module: str, code: str, name: str = "") -> EntryPoint:
    (folder / f"{module}.py").write_text(dedent(code))
    return EntryPoint(name or module, module, GROUP)


def _loaded(*entries: EntryPoint) -> Registry:
    return registry.load(entries)


def _expected() -> list[str]:
    return [name.removeprefix(OURS) for name in BUILTIN]


def test_the_built_in_plugins_load() -> None:
    found = _loaded()
    assert found.failures == {}
    assert found.loaded == _expected()
    assert {"csv", "json", "xlsx"} <= set(found.formats)


def test_a_third_partys_format_joins_them(folder: Path) -> None:
    found = _loaded(_entry(folder, "plug_good", GOOD, "good"))
    assert found.failures == {}
    assert found.loaded == [*_expected(), "good"]
    assert found.reader("ghost").title == "A ghost's notes"


@pytest.mark.parametrize("fault", FAULTS)
def test_a_broken_plugin_is_named_and_nothing_of_it_is_used(folder: Path, fault: str) -> None:
    code, told = FAULTS[fault]
    broken = _entry(folder, f"plug_{fault}", code, "broken")
    good = _entry(folder, "plug_fine", GOOD.replace("ghost", "spook"), "fine")
    found = _loaded(broken, good)
    assert found.loaded == [*_expected(), "fine"]
    assert list(found.failures) == ["broken"]
    assert told in found.failures["broken"]
    assert "\n" not in found.failures["broken"]
    assert "spook" in found.formats
    assert "ghost" not in found.formats
    assert not found.manager.has_plugin("broken")
    formats = [entry.name for part in found.manager.hook.describe_formats() for entry in part]
    assert sorted(formats) == sorted(found.formats)


def test_two_plugins_of_one_name_are_the_first_and_a_failure(folder: Path) -> None:
    first = _entry(folder, "plug_first", GOOD, "same")
    second = _entry(folder, "plug_second", GOOD.replace("ghost", "spook"), "same")
    found = _loaded(first, second)
    assert "ghost" in found.formats
    assert "spook" not in found.formats
    assert "taken" in found.failures["same"]


def test_a_plugin_that_takes_the_name_of_a_built_in_one_is_a_failure(folder: Path) -> None:
    name = _expected()[0]
    found = _loaded(_entry(folder, "plug_like_ours", GOOD, name))
    assert found.loaded == _expected()
    assert list(found.failures) == [name]


def test_strict_loading_raises(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(registry.STRICT, "1")
    with pytest.raises(RuntimeError, match="no such luck"):
        _loaded(_entry(folder, "plug_strict", "raise RuntimeError('no such luck')"))


def test_an_unknown_format_is_answered_with_those_there_are(folder: Path) -> None:
    found = _loaded(_entry(folder, "plug_known", GOOD, "known"))
    with pytest.raises(SweepbookError, match="ghost"):
        found.reader("gost")
    with pytest.raises(SweepbookError, match="No format that can write is called 'ghost'"):
        found.writer("ghost")
