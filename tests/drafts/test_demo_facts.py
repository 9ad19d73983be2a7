"""What a draft makes of the facts in the demo's own export, held against the demo's own dialect."""

from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

from tests.program import run

from .drafting import read

EXPORT = "exports/heron-1A-P1-01.csv"
OWN = "dialects/brindlewick-heron-5.toml"


def facts(document: dict[str, Any], *members: str) -> dict[str, Any]:
    """Members of a record; of the far place only what the export says of it alone."""
    link = document["link"]
    place = {
        name: text
        for name, text in link["far"]["place"].items()
        if name not in ("site", "building", "floor")
    }
    far = {**link["far"], "place": place}
    return {**{name: document[name] for name in members}, "link": {**link, "far": far}}


def test_every_fact_of_ends_units_adaptors_and_their_reference_is_taken(tmp_path: Path) -> None:
    with as_file(files("sweepbook_demo")) as demo:
        drafted = run("dialect", "draft", demo / EXPORT)
        assert drafted.exit_code == 0
        (record,), problems = read(demo / EXPORT, drafted.stdout)
        (wanted,), _ = read(demo / EXPORT, (demo / OWN).read_text(encoding="utf-8"))
    assert problems == []
    assert facts(record.document, "test") == facts(wanted.document, "test")
    assert record.document.get("extra", {}) == {}
