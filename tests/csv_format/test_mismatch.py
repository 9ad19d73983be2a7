"""Keys of a dialect that lead nowhere are told, with what they may have been meant for."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook.dialect.mismatch import hold_limits
from sweepbook.limits.library import Library

from .dialects import LEAST, changed
from .reading import read

FIELDS = """
test.limit = "LIMIT"
test.near.instrument.serial = "Serial 1"
[limits]
"tia-568.2-d/cat6a/channel" = "6A"
"""
DIALECT = changed(LEAST, 'link.label = "Link"', f'link.label = "Link"{FIELDS}')
ROWS = "\nMHz;IL 1-2\n1;1.5\n2;1.9\n"


@pytest.mark.parametrize(
    ("declared", "written"), [("LIMIT", "Limit"), ("Limt", "Limit"), ("AskedLimit", "Asked limit")]
)
def test_a_key_that_is_not_there_is_told_beside_the_one_that_is_left(
    tmp_path: Path, declared: str, written: str
) -> None:
    dialect = DIALECT.replace("LIMIT", declared)
    result = read(tmp_path, f"Link;7\n{written};6A\nSerial 1;8\n{ROWS}", dialect)
    (record,), (problem,) = result.records, result.problems
    assert record.document["extra"] == {written: "6A"}
    assert not problem.lost_record
    assert repr(declared) in problem.message
    assert repr(written) in problem.message
    assert "fields.test.limit" in problem.message


@pytest.mark.parametrize("left", ["Serial 2", "Serial number of the reel", "Operator"])
def test_another_key_is_not_taken_for_a_misspelt_one(tmp_path: Path, left: str) -> None:
    result = read(tmp_path, f"Link;7\nLIMIT;6A\n{left};8\n{ROWS}", DIALECT)
    assert result.problems == []
    assert result.records[0].document["extra"] == {left: "8"}


def test_a_limit_table_that_there_is_not_is_told_with_those_near_it() -> None:
    wrong = DIALECT.replace("cat6a/channel", "cat6a/chanel")
    with pytest.raises(BadDialect) as caught:
        hold_limits(parse(wrong.encode(), "wrong.toml"), Library.load())
    assert "tia-568.2-d/cat6a/chanel" in str(caught.value)
    assert "near it: tia-568.2-d/cat6a/channel" in str(caught.value)
    hold_limits(parse(DIALECT.encode(), "right.toml"), Library.load())
