"""The XML examples of the guide are run, and every key of the layout is explained there."""

import json
from importlib.resources import files
from pathlib import Path

import pytest

from tests.guide import GUIDE, examples, keys, mentioned, properties, told

from .reading import read

SCHEMA = "xml-layout-0.schema.json"
EXAMPLES = [0, 1, 2, 3, 4]


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_reads_as_the_guide_says(example: int, tmp_path: Path) -> None:
    every = [of for of in examples("xml") if "\n[join]\n" not in of.dialect]
    content, dialect, lines = every[example]
    result = read(tmp_path, content, dialect)
    assert result.problems == []
    assert len(every) == len(EXAMPLES)
    assert told(result.document) == lines


def test_every_key_stands_in_the_guide() -> None:
    loaded = json.loads(files("sweepbook_schemas").joinpath(SCHEMA).read_text(encoding="utf-8"))
    guide = mentioned(GUIDE.read_text(encoding="utf-8"))
    assert [key for key in sorted(keys(loaded)) if f"`{key}`" not in guide] == []


def test_every_key_has_a_description_that_says_more_than_its_name() -> None:
    loaded = json.loads(files("sweepbook_schemas").joinpath(SCHEMA).read_text(encoding="utf-8"))
    found = properties(loaded, "$")
    assert [path for path, node in found if len(node.get("description", "")) < 8] == []
