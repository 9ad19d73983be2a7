"""Other people's plugins in whole runs: the good ones work, the broken ones stop nobody."""

import json
import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from textwrap import dedent

import pytest

from sweepbook import registry
from tests.program import DIALECTS

from .conftest import UPHELD, Run

ROOT = Path(__file__).parents[2]
PLUGINS = {
    "plug_good": """
        from sweepbook.formats import Format
        from sweepbook.hookspecs import hookimpl

        def write(delivery, target):
            labels = [entry.record.label for entry in delivery.entries]
            target.write_text("\\n".join(labels) + "\\n")

        def crash(delivery, target):
            for entry in delivery.entries:
                raise LookupError("no\\x1b pen")

        @hookimpl
        def describe_formats():
            return [
                Format("labels", "One label a line", (".labels",), write=write),
                Format("penless", "Crashes", write=crash),
            ]
    """,
    "plug_raises": "raise RuntimeError('no such luck')",
    "plug_misspelt": """
        from sweepbook.hookspecs import hookimpl

        @hookimpl
        def describe_formatz():
            return []
    """,
    "plug_rule": """
        from sweepbook.findings import Severity
        from sweepbook.hookspecs import hookimpl
        from sweepbook.rules.model import Entry, Rule

        def operator_is_named(case):
            yield from ()

        @hookimpl
        def contribute_rules():
            entry = Entry(
                "REC001", "operator-missing", "1.0", "preview", Severity.NOTE, "record", (),
                "A test names its operator", "The contract asks.", "Enter it.",
                {}, "operator_is_named", "nobody is named", (),
            )
            return [Rule(entry, operator_is_named)]
    """,
    "plug_asks": """
        from sweepbook.formats import Format
        from sweepbook.hookspecs import hookimpl

        def identify(source, setting):
            raise ZeroDivisionError("asked too much")

        @hookimpl
        def describe_formats():
            return [Format("asks", "Crashes when asked", identify=identify, read=identify)]
    """,
}


@pytest.fixture
def installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Have the plugins found as if they were installed."""
    folder = tmp_path / "site"
    folder.mkdir()
    for name, code in PLUGINS.items():
        (folder / f"{name}.py").write_text(dedent(code))
    monkeypatch.syspath_prepend(folder)
    info = folder / "plugs-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: plugs\nVersion: 1.0\n")
    entries = "".join(f"{name} = {name}\n" for name in PLUGINS)
    (info / "entry_points.txt").write_text(f"[{registry.GROUP}]\n{entries}")
    monkeypatch.delenv(registry.STRICT, raising=False)
    yield
    for name in PLUGINS:
        sys.modules.pop(name, None)


@pytest.mark.usefixtures("installed")
def test_doctor_lists_what_is_in_use_and_what_is_not_with_the_cause(run: Run) -> None:
    result = run("doctor")
    assert result.exit_code == 2
    said = " ".join(result.stdout.split())
    assert "ok plug_good" in said
    assert "FAIL plug_raises: RuntimeError: no such luck" in said
    assert "FAIL plug_misspelt" in said
    assert "describe_formatz" in said
    assert "FAIL plug_rule: SweepbookError: The rule id REC001 is used twice." in said


def test_doctor_names_every_library_that_is_worked_with(run: Run) -> None:
    """Those of pyproject.toml, the extras for users among them."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    users = (extra for name in ("excel", "plot", "postgresql") for extra in extras[name])
    needed = [*project["dependencies"], *users]
    named = {re.split(r"[<>=!~; \[]", text)[0].casefold() for text in needed}
    assert json.loads(run("doctor", "--json").stdout)["libraries"].keys() == named


@pytest.mark.usefixtures("installed")
def test_conversion_goes_on_beside_broken_plugins(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "out.labels"
    result = run("convert", UPHELD, "--from", "csv", *DIALECTS, "--to", "labels", "-o", target)
    assert result.exit_code == 0
    assert target.read_text() == "1A-P1-01\n"
    assert "plug_raises" in result.stderr


@pytest.mark.usefixtures("installed")
def test_an_identifier_that_crashes_is_told_and_makes_it_2(run: Run, tmp_path: Path) -> None:
    result = run("gather", tmp_path / "book", UPHELD, *DIALECTS)
    assert result.exit_code == 2
    assert "1 test, 1 new" in result.stdout
    assert "asks, asked about heron-1A-P1-01.csv: ZeroDivisionError" in result.stderr


@pytest.mark.usefixtures("installed")
def test_a_writer_that_crashes_is_named_without_a_traceback(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "out"
    result = run("convert", UPHELD, "--from", "csv", *DIALECTS, "--to", "penless", "-o", target)
    assert result.exit_code == 2
    assert r"The writer 'penless' crashed (LookupError: no\x1b pen)" in result.stderr
