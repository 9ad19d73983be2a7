"""Files that a spreadsheet saved, with as many cells in each line, read as they did before."""

import re
from pathlib import Path
from typing import Any

import pytest

from sweepbook.dialect.load import parse
from sweepbook_plugins.csv.identify import claim_of
from tests.guide import blocks
from tests.made_even import made_even

from .reading import read

SECTIONS = 2
EXAMPLES = [0, 1, SECTIONS, 3, 4, 6, 7]
"""Those whose cells a delimiter parts."""


def without_origin(document: dict[str, Any]) -> dict[str, Any]:
    """What a record says, but for the file that it came from."""
    return {
        key: value
        for key, value in document.items()
        if key not in ("origin", "record_id", "provenance")
    }


@pytest.mark.parametrize("more", [0, 3])
@pytest.mark.parametrize("example", EXAMPLES)
def test_lines_made_even_say_what_they_said(example: int, more: int, tmp_path: Path) -> None:
    content, dialect = blocks("csv")[example], blocks("toml")[example]
    mark = re.search(r'^delimiter = "(.*)"$', dialect, flags=re.MULTILINE)
    even = made_even(content, mark[1] if mark else ",", more)
    assert even != content
    before, after = read(tmp_path, content, dialect), read(tmp_path, even, dialect)
    assert after.problems == before.problems == []
    told = [without_origin(record.document) for record in after.records]
    assert repr(told) == repr([without_origin(record.document) for record in before.records])
    assert claim_of(even.encode(), parse(dialect.encode(), "test.toml")) is not None


def test_what_the_dialect_names_whole_may_have_blank_cells_behind(tmp_path: Path) -> None:
    """A signature, a line to skip, keys with a mark of their own, and a comment."""
    dialect = blocks("toml")[SECTIONS]
    more = 'signature = "Hall tester"\nskip = ["End of export"]\ncomment = "!"\n'
    dialect = dialect.replace('delimiter = ";"\n', f'delimiter = ";"\n{more}')
    dialect = dialect.replace('"=== Link"\n', '"=== Link"\npreamble.separator = ": "\n', 1)
    content = "Hall tester\n" + blocks("csv")[SECTIONS].replace(
        "Operator;J. Okoro", "! a remark\nOperator: J. Okoro"
    )
    for key in ("Norm", "Begun", "Outcome"):
        content = content.replace(f"{key};", f"{key}: ")
    even = made_even(content + "End of export\n", ";")
    result = read(tmp_path, even, dialect)
    assert result.problems == []
    assert [record.label for record in result.records] == ["A-17", "A-18"]
    document = result.records[0].document
    assert document["test"]["operator"] == "J. Okoro"
    assert document["extra"] == {"comments": "! a remark"}
