"""What is settled stays: schemas of record and audit, text, words; the draft is still read."""

import hashlib
from importlib.resources import files
from pathlib import Path

import pytest

from sweepbook.record import codec, schema
from sweepbook.record.validate import problems
from tests.program import run

from .test_specification import block

SETTLED = {
    "audit-1.schema.json": "207fcb94e26074150e038b5856835192150f91ba2e7c94395af9588b2b6f6280",
    "record-1.schema.json": "68a4651c02ca59ca2202896c28d988c34bca795dd65784cf32cda89745309132",
    "record-1.md": "3d8c31f8b716e9f7fad52b4e3e8a3dc1cd279386bbd9085bdfcc2110f85b6921",
    "vocabulary-1.json": "81975d2fa6eadfbddd6669e19ef5e9938ad30f2c7e335fac4c45625d16614cce",
    "vocabulary-1.schema.json": "da58359b73b6ffc0bf0742f98a0b0b64a458efbec9df4a8768d189f96d08c0ef",
}
"""SHA-256 of each file as it was settled. What has to change gets a new version and a new file."""

DRAFT = block("json").replace(schema.NAME, "urn:sweepbook:record-0").encode()


@pytest.mark.parametrize("name", SETTLED)
def test_a_settled_file_is_never_edited(name: str) -> None:
    found = files("sweepbook_schemas").joinpath(name).read_text("utf-8").encode()
    assert hashlib.sha256(found).hexdigest() == SETTLED[name]


def test_a_record_of_the_draft_follows_the_schema_and_keeps_its_name_and_identity() -> None:
    record = codec.loads(DRAFT)
    assert problems(record.document) == ()
    assert codec.dumps(record) == DRAFT
    assert record.record_id == codec.loads(block("json").encode()).record_id


def test_a_record_of_the_draft_is_gathered_and_given_back_as_it_came(tmp_path: Path) -> None:
    book, given, back = tmp_path / "book", tmp_path / "draft.json", tmp_path / "back.json"
    given.write_bytes(DRAFT)
    run("gather", book, given)
    assert run("doctor", book).exit_code == 0
    run("convert", given, "--to", "json", "-o", back)
    assert back.read_bytes() == DRAFT
