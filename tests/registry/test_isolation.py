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
RULE = """
    from sweepbook.findings import Severity
    from sweepbook.formats import Format
    from sweepbook.hookspecs import hookimpl
    from sweepbook.rules.model import Entry, Rule

    def toy(case):
        yield from ()

    @hookimpl
    def describe_formats():
        return [Format("ghost", "A ghost's notes", (".gho",), read=lambda *_: iter(()))]

    @hookimpl
    def contribute_rules():
        entry = Entry(
            id="TOY001", name="toy-found", since="1.0", status="preview",
            severity=Severity.NOTE, subject="record", needs=(), title="No toys", why="w", fix="f",
            reference={"document": "d", "clause": "", "force": "practice", "known": "none"},
            check="toy", message="was found", arguments=(),
        )
        return [Rule(entry, toy)]
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
    "rule-twice": (RULE.replace("TOY001", "REC001"), "The rule id REC001 is used twice"),
    "rule-other-function": (
        RULE.replace('check="toy"', 'check="toyy"'),
        "The rule TOY001 cannot be used: its check is called 'toyy', and its function 'toy'",
    ),
    "rule-of-a-set": (RULE.replace('"record"', '"set"'), "its subject is 'set', and it is a Rule"),
    "rule-without-a-why": (RULE.replace('why="w"', 'why=""'), "no word of why"),
    "rule-says-more": (RULE.replace('"was found"', '"{what} was found"'), "its message uses what"),
    "rule-takes-two": (RULE.replace("toy(case)", "toy(case, more)"), "'more'"),
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


def test_a_third_partys_rule_joins_them(folder: Path) -> None:
    found = _loaded(_entry(folder, "plug_rule", RULE, "ruler"))
    assert found.failures == {}
    assert [rule.entry.id for rule in found.rules] == ["TOY001"]


def test_a_rule_that_another_plugin_has_brought_is_a_failure_of_the_second(folder: Path) -> None:
    first = _entry(folder, "plug_one", RULE, "one")
    second = _entry(folder, "plug_two", RULE.replace("ghost", "spook"), "two")
    found = _loaded(first, second)
    assert list(found.failures) == ["two"]
    assert "TOY001 is used twice" in found.failures["two"]
    assert "spook" not in found.formats


@pytest.mark.parametrize("fault", FAULTS)
def test_a_broken_plugin_is_named_and_nothing_of_it_is_used(folder: Path, fault: str) -> None:
    code, told = FAULTS[fault]
    broken = _entry(folder, f"plug_{fault.replace('-', '_')}", code, "broken")
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
