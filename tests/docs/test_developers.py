"""The example of the guide is a plugin that works."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from sweepbook import registry
from sweepbook.cli import main

ROOT = Path(__file__).parents[2]
EXPORT = ROOT / "demo_data" / "sweepbook_demo" / "exports" / "heron-1A-P1-03.csv"
DIALECT = ROOT / "demo_data" / "sweepbook_demo" / "dialects" / "brindlewick-heron-5.toml"


def test_the_example_of_a_format_writes_what_it_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    examples = re.findall(r"```python\n(.*?)```", text, re.DOTALL)
    assert len(examples) == 1
    (tmp_path / "labels_of_the_guide.py").write_text(examples[0], encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.setattr(registry, "BUILTIN", (*registry.BUILTIN, "labels_of_the_guide"))
    target = tmp_path / "out.txt"
    words = ["convert", str(EXPORT), "--dialect", str(DIALECT), "--to", "labels", "-o", str(target)]
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 0, result.output
    assert target.read_text(encoding="utf-8") == "1A-P1-03\tupheld\n"


def test_every_file_that_the_guide_names_is_there() -> None:
    for page in ("DEVELOPERS.md", "README.md"):
        text = (ROOT / page).read_text(encoding="utf-8")
        for name in re.findall(r"`([\w./-]+/[\w./-]*)`", text):
            places = (ROOT, ROOT / "core" / "sweepbook", ROOT / "schemas" / "sweepbook_schemas")
            assert any((place / name).exists() for place in places), f"{page} names {name}"


def test_every_module_of_the_drafts_stands_in_their_map() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    part = text.partition("## How a draft comes to be")[2].partition("\n## ")[0]
    named = set(re.findall(r"[a-z_]+", " ".join(re.findall(r"`([^`]+)`", part))))
    for folder in ("core/sweepbook", *(f"plugins/sweepbook_plugins/{of}" for of in ("csv", "xml"))):
        for module in (ROOT / folder / "draft").glob("[!_]*.py"):
            assert module.stem in named, f"the map of drafts lacks {folder}/draft/{module.name}"
