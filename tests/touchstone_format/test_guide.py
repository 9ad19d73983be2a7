"""The Touchstone example of the guide is run, and every key of the layout is explained there."""

import json
from importlib.resources import files
from pathlib import Path

from tests.guide import GUIDE, examples, keys, mentioned, properties, told

from .making import read

SCHEMA = "touchstone-layout-0.schema.json"


def test_the_example_reads_as_the_guide_says(tmp_path: Path) -> None:
    """Its losses were worked out by hand, from the sums that the guide gives."""
    content, dialect, lines = examples("touchstone")[0]
    result = read(tmp_path, "A-17.s4p", content, dialect)
    assert told(result.document) == lines
    sweeps = result.document["results"]["sweeps"]
    assert {sweep["complex"]["plane"] for sweep in sweeps} == {"contacts of the outlets"}


def test_every_key_stands_in_the_guide() -> None:
    loaded = json.loads(files("sweepbook_schemas").joinpath(SCHEMA).read_text(encoding="utf-8"))
    guide = mentioned(GUIDE.read_text(encoding="utf-8"))
    assert [key for key in sorted(keys(loaded)) if f"`{key}`" not in guide] == []


def test_every_key_has_a_description_that_says_more_than_its_name() -> None:
    loaded = json.loads(files("sweepbook_schemas").joinpath(SCHEMA).read_text(encoding="utf-8"))
    found = properties(loaded, "$")
    assert len(found) > 8
    assert [path for path, node in found if len(node.get("description", "")) < 8] == []
