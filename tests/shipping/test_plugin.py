"""The plugin of the guide, and broken ones, installed into an environment of their own and used."""

import json
import re
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path
from textwrap import dedent

import pytest

from sweepbook.cli import program

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "plugins" / "README.md").read_text("utf-8").partition("## Write a plugin")[2]
FILES = dict(re.findall(r"^`([\w/.]+)` .*?:?\n\n~~~\w+\n(.*?)^~~~$", GUIDE, re.M | re.S))
HERE = f"import site; site.addsitedir({sysconfig.get_paths()['purelib']!r})\n"
BROKEN = {
    "pyproject.toml": """
        [build-system]
        requires = ["hatchling"]
        build-backend = "hatchling.build"
        [project]
        name = "broken-plugins"
        version = "1.0"
        [project.entry-points.sweepbook]
        broken_import = "broken_plugins.at_import"
        broken_signature = "broken_plugins.signature"
        broken_spelling = "broken_plugins.spelling"
        broken_hook = "broken_plugins.hook"
        broken_offer = "broken_plugins.offer"
        broken_double = "broken_plugins.double"
    """,
    "broken_plugins/__init__.py": "",
    "broken_plugins/at_import.py": "import no_such_library",
    "broken_plugins/signature.py": """
        from sweepbook.hookspecs import hookimpl
        @hookimpl
        def describe_formats(colour): return []
    """,
    "broken_plugins/spelling.py": """
        from sweepbook.hookspecs import hookimpl
        @hookimpl
        def describe_formatts(): return []
    """,
    "broken_plugins/hook.py": """
        from sweepbook.hookspecs import hookimpl
        @hookimpl
        def contribute_rules(): raise ZeroDivisionError("in the hook")
    """,
    "broken_plugins/offer.py": """
        from sweepbook.hookspecs import hookimpl
        @hookimpl
        def describe_formats(): return ["no format"]
    """,
    "broken_plugins/double.py": """
        from sweepbook.formats import Format
        from sweepbook.hookspecs import hookimpl
        @hookimpl
        def describe_formats(): return [Format("csv", "another csv")]
    """,
}


class Environment:
    """A fresh virtual environment that sees the libraries of this one, and can have more."""

    def __init__(self, folder: Path) -> None:
        venv.create(folder, with_pip=False)
        self.folder = folder
        self.python = folder / ("Scripts" if sys.platform == "win32" else "bin") / "python"
        (site,) = folder.glob("**/site-packages")
        (site / "of_this_one.pth").write_text(HERE)

    def install(self, package: Path) -> None:
        """Install a package by pip, without a registry."""
        offline = ["--no-deps", "--no-build-isolation", "--no-index", "--quiet"]
        command = [sys.executable, "-m", "pip", "--python", str(self.python), "install"]
        subprocess.run([*command, *offline, str(package)], check=True, capture_output=True)

    def run(self, *arguments: str | Path) -> "subprocess.CompletedProcess[str]":
        """Run the program in it."""
        command = [str(self.python), "-m", "sweepbook", *map(str, arguments)]
        done = subprocess.run(
            command, capture_output=True, text=True, cwd=self.folder, encoding="utf-8", check=False
        )
        assert "Traceback" not in done.stderr
        return done


def _written(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(dedent(text).lstrip("\n"), "utf-8")
    return folder


@pytest.fixture(scope="module")
def environment(tmp_path_factory: pytest.TempPathFactory) -> Environment:
    made = Environment(tmp_path_factory.mktemp("environment") / "venv")
    made.install(_written(tmp_path_factory.mktemp("guide"), FILES))
    made.install(_written(tmp_path_factory.mktemp("broken"), BROKEN))
    return made


@pytest.fixture
def tally(tmp_path: Path) -> Path:
    file = tmp_path / "harbour.tally"
    limit = "harbour/hall/permanent-link"
    file.write_text(f"tally 1\nA-1;{limit};pass\nhalf a line\nA-2;{limit};fail\n", "utf-8")
    return file


def test_the_guide_shows_every_file() -> None:
    assert sorted(FILES) == [
        "harbour_formats/__init__.py",
        "harbour_formats/columns.py",
        "harbour_formats/limits/hall.json",
        "harbour_formats/rules.py",
        "pyproject.toml",
    ]


def test_what_the_plugin_brings_is_listed(environment: Environment) -> None:
    assert "tally" in environment.run("formats").stdout
    assert "HBR001" in environment.run("rules", "list").stdout
    assert "who held the tester" in environment.run("rules", "show", "HBR001").stdout
    shown = environment.run("limits", "show", "harbour/hall/permanent-link")
    assert shown.returncode == 0
    assert "Harbour hall" in shown.stdout


def test_its_reader_its_rule_and_its_limit_take_part(environment: Environment, tally: Path) -> None:
    done = environment.run("check", tally, "--json")
    audit = json.loads(done.stdout)
    assert [record["label"] for record in audit["records"]] == ["A-1", "A-2"]
    for record in audit["records"]:
        assert record["judgement"] == "unproven"  # nothing was measured
        assert record["limit"]["path"] == "harbour/hall/permanent-link"
        assert "HBR001" in {finding["rule"] for finding in record["findings"]}
    assert [problem["place"] for problem in audit["problems"]] == ["line 3"]


def test_its_writer_writes_what_its_reader_reads(
    environment: Environment, tally: Path, tmp_path: Path
) -> None:
    target = tmp_path / "again.tally"
    environment.run("convert", tally, "--to", "tally", "-o", target)
    expected = tally.read_text("utf-8").replace("half a line\n", "")
    assert target.read_text("utf-8") == expected


def test_a_long_file_is_read_to_its_end(environment: Environment, tmp_path: Path) -> None:
    file, target = tmp_path / "long.tally", tmp_path / "again.tally"
    lines = [f"A-{number:0400};harbour/hall/permanent-link;pass\n" for number in range(200)]
    file.write_text("tally 1\n" + "".join(lines), "utf-8")
    assert file.stat().st_size > 65_536
    environment.run("convert", file, "--to", "tally", "-o", target)
    assert target.read_bytes() == file.read_bytes()


def test_its_curves_are_judged_and_told_in_a_table(
    environment: Environment, tmp_path: Path
) -> None:
    file, target = tmp_path / "export.txt", tmp_path / "table.md"
    head = "COLUMNS tia-568.2-d/cat6a/permanent-link A|3\n"
    file.write_text(
        f"{head}    1.00    1.31    1.30    1.29    1.33\n  500.00   40.25   40.20   99.50   40.1\n"
    )
    (record,) = json.loads(environment.run("check", file, "--json").stdout)["records"]
    worst = {tuple(m["pairs"]): m["worst_value_db"] for m in record["margins"]}
    assert worst == {("1-2",): 40.25, ("3-6",): 40.2, ("4-5",): 99.5, ("7-8",): 40.1}
    assert (record["label"], record["recomputed"]) == ("A|3", "fail")
    environment.run("convert", file, "--to", "markdown", "-o", target)
    *_, row = target.read_text("utf-8").splitlines()
    assert row.startswith("| A&#124;3 | none | unstated | ")
    assert "4-5" in row
    file.write_text(f"{head}    1.00    1.31    1.3O    1.29    1.33\n")
    done = environment.run("check", file, "--json")
    assert "1.3O" in json.loads(done.stdout)["problems"][0]["message"]


def test_broken_plugins_are_listed_with_the_reason_and_stop_nobody(
    environment: Environment, tally: Path
) -> None:
    done = environment.run("doctor", "--json")
    assert done.returncode == 2
    found = json.loads(done.stdout)
    assert "harbour" in found["plugins"]
    reasons = found["plugins_failed"]
    assert {name for name in reasons if name.startswith("broken_")} == {
        "broken_import", "broken_signature", "broken_spelling", "broken_hook", "broken_offer",
        "broken_double",
    }  # fmt: skip
    for name, told in {
        "broken_import": "no_such_library",
        "broken_signature": "colour",
        "broken_spelling": "describe_formatts",
        "broken_hook": "in the hook",
        "broken_double": "'csv' is there already",
    }.items():
        assert told in reasons[name]
    assert "A-1" in environment.run("check", tally).stdout


def test_every_built_in_format_comes_through_the_hooks() -> None:
    from sweepbook import registry

    loaded = registry.load([])
    assert loaded.failures == {}
    assert [f"sweepbook_plugins.{name}" for name in loaded.loaded] == list(registry.BUILTIN)
    offered = [entry.name for part in loaded.manager.hook.describe_formats() for entry in part]
    assert sorted(offered) == sorted(loaded.formats)
    assert "sweepbook_plugins" not in vars(program)
