"""The arrows between the packages run one way, and a command loads only what it needs."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from sweepbook.registry import BUILTIN
from tests.program import DEMO, DIALECTS

ROOT = Path(__file__).parents[2]
HEAVY = {
    "jinja2",
    "jsonschema",
    "jsonschema_rs",
    "lxml",
    "numpy",
    "orjson",
    "pandas",
    "pluggy",
    "rfc8785",
    "simdjson",
    "sqlalchemy",
    "xlsxwriter",
    "importlib.metadata",
}


def _imported(path: Path) -> Iterator[str]:
    """Modules that a file imports, anywhere in it, relative ones left out."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module


def _arrows(root: str) -> set[tuple[str, str]]:
    """(file, package of ours) for every import between the packages."""
    arrows = set()
    for path in (ROOT / root).rglob("*.py"):
        for module in _imported(path):
            package = module.partition(".")[0]
            if (
                package.startswith("sweepbook")
                and package != path.relative_to(ROOT / root).parts[0]
            ):
                arrows.add((path.relative_to(ROOT).as_posix(), package))
    return arrows


def test_core_imports_no_plugin_and_not_the_demo() -> None:
    assert _arrows("core") == set()


def test_plugins_import_core_alone() -> None:
    assert {package for _, package in _arrows("plugins")} <= {"sweepbook"}


def test_schemas_and_the_demo_import_nothing_of_ours() -> None:
    assert _arrows("schemas") | _arrows("demo_data") == set()


def test_the_walk_over_imports_sees_an_import_inside_a_function(tmp_path: Path) -> None:
    path = tmp_path / "x.py"
    path.write_text("def f():\n    from sweepbook_plugins.csv import x\n")
    assert list(_imported(path)) == ["sweepbook_plugins.csv"]


def test_every_built_in_plugin_is_a_module_with_hooks_and_every_such_module_is_listed() -> None:
    root = ROOT / "plugins"
    with_hooks = {
        ".".join(path.relative_to(root).with_suffix("").parts)
        for path in root.rglob("*.py")
        if "sweepbook.hookspecs" in set(_imported(path))
    }
    assert with_hooks == set(BUILTIN)


def _loaded_by(*arguments: str) -> set[str]:
    """Modules in memory after the program ran with these arguments."""
    code = (
        "import sys\n"
        "from sweepbook.cli import main\n"
        f"code = main.main({list(arguments)!r}, standalone_mode=False)\n"
        "print('\\n'.join(sys.modules), file=sys.stderr)\n"
        "sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    return set(done.stderr.split())


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["check", "--help"]])
def test_help_loads_neither_heavy_libraries_nor_plugins(arguments: list[str]) -> None:
    loaded = _loaded_by(*arguments)
    assert "sweepbook.cli.program" in loaded
    assert loaded & HEAVY == set()
    assert not [name for name in loaded if name.startswith(("sweepbook_", "sweepbook.limits"))]


def test_the_list_of_formats_loads_no_reader() -> None:
    """What a format does is imported when it is done: a list of names need not wait for it."""
    loaded = _loaded_by("formats")
    ours = {name for name in loaded if name.startswith("sweepbook_plugins.")}
    packages = {name.rpartition(".")[0] for name in BUILTIN}
    assert ours <= {*BUILTIN, *packages, "sweepbook_plugins.json.stream"}
    assert not [
        name for name in loaded if name.startswith(("sweepbook.dialect", "sweepbook.rules"))
    ]


def test_listing_formats_loads_no_heavy_libraries() -> None:
    """Plugins are found by this one; a file is opened by nobody, and nothing is written."""
    loaded = _loaded_by("formats")
    assert loaded & HEAVY == {"pluggy"}
    assert loaded & {"sweepbook.source", "sweepbook.files", "hashlib", "zipfile"} == set()


def test_a_check_as_a_document_loads_no_table() -> None:
    loaded = _loaded_by("check", str(DEMO / "exports" / "heron-1A-P1-01.csv"), *DIALECTS, "--json")
    assert "sweepbook.audit.document" in loaded
    assert not loaded & {"sweepbook.cli.lines", "sweepbook.cli.table"}


def test_explaining_a_rule_of_the_catalogue_loads_no_plugins() -> None:
    loaded = _loaded_by("rules", "show", "SCH001")
    assert loaded & HEAVY == set()
    assert not [name for name in loaded if name.startswith("sweepbook_plugins")]


@pytest.mark.parametrize(
    "package", ["jinja2", "jsonschema", "lxml", "pandas", "sqlalchemy", "xlsxwriter"]
)
def test_no_module_of_core_or_plugins_imports_a_heavy_library_at_its_top(package: str) -> None:
    guilty = []
    for root in ("core", "plugins"):
        for path in (ROOT / root).rglob("*.py"):
            tree = ast.parse(path.read_text(encoding="utf-8"))
            names = {
                name.partition(".")[0]
                for node in tree.body
                for name in (
                    [alias.name for alias in node.names]
                    if isinstance(node, ast.Import)
                    else [node.module or ""]
                    if isinstance(node, ast.ImportFrom)
                    else []
                )
            }
            if package in names:
                guilty.append(path.name)
    assert guilty == []
