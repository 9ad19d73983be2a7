"""Every identifier over every format's samples: a file is claimed by its own and no other."""

import gzip
import random
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import pytest

from sweepbook.dialect.load import load_folder, parse
from sweepbook.dialect.model import Dialect
from sweepbook.formats import ReadSetting, Strength
from sweepbook.identify import UnknownSource, identify
from sweepbook.record import codec
from sweepbook.record.model import Record
from sweepbook.registry import Registry, load
from sweepbook.source import Source
from tests.guide import examples
from tests.reading import LIBRARY

DEMO = files("sweepbook_demo")
REGISTRY = load([])
READERS = [
    name for name, entry in REGISTRY.formats.items() if entry.read is not None and entry.identify
]
BY_DIALECT = ("csv", "xml", "touchstone")
ENDINGS = ("csv", "txt", "xml", "json", "s4p", "ts", "xlsx", "bin")
BOM = b"\xef\xbb\xbf"

TOUCHSTONE_1 = b"! by hand\n# MHz S RI R 50\n1 0.1 0.0\n2 0.1 0.0\n"
TOUCHSTONE_2 = b"! by hand\n[Version] 2.0\n# MHz S RI R 50\n[Number of Ports] 1\n"

NOBODY: dict[str, bytes] = {
    "blanks": b" \n\t\n",
    "bom": BOM,
    "zeros": bytes(4_096),
    "noise": random.Random(5).randbytes(70_000),
    "letters": bytes(random.Random(6).choices(b"abcdefghij \n", k=70_000)),
    "long-line": b"1," * 50_000,
    "prose": b"We measured IL 1-2 at 1 MHz; it was 1.9 dB.\n",
    "hash-csv": b"# export of 2026\nMHz,IL\n1,1.9\n",
    "hash-csv-units": b"# MHz dB\n1,1.9\n2,2.1\n",
    "hash-csv-options": b"# MHz S RI R 50\nfrequency,loss\n1,1.9\n",
    "hash-csv-data": b"# MHz S RI R 50\n1,0.1,0.2\n",
    "hash-csv-semicolons": b"#\n1;0,1;0,2\n",
    "hash-script": b"#!/bin/sh\nexit 1\n",
    "hash-alone": b"#\n",
    "hash-even": b"#\n1 2\n3 4\n",
    "options-alone": b"! x\n# MHz S RI R 50\n",
    "bang-csv": b"! Link: A\n! x\nMHz,IL\n1,1.9\n",
    "ini": b"[Version]\nSignature=x\n",
    "ini-numbers": b"[Data]\n1 2 3\n",
    "xml-comment": b"<?xml version='1.0'?><!-- # MHz S RI R 50 --><other/>",
    "xml-comment-lines": b"<!--\n# MHz S RI R 50\n1 2 3\n-->\n<other/>",
    "xml-other": b"<report><x/></report>",
    "xml-broken": b"<?xml version='1.0'?><report",
    "doctype": b"<!DOCTYPE r [<!ENTITY a 'b'>]><r>&a;</r>",
    "html": b"<!doctype html><title># MHz S RI R 50</title>",
    "json-array": b"[1, 2, 3]",
    "json-object": b'{"schema": "urn:other", "record": 1}',
    "json-text": b'"urn:sweepbook:record-1"',
    "json-numbers": b"1\n2\n3\n",
    "json-schema-in-csv": b'note,"""schema"": ""urn:sweepbook:record-1"""\n1,2\n',
    "numbers": b"1 0.1 0.0\n2 0.1 0.0\n",
    "sheet": b"PK\x03\x04" + bytes(range(256)),
    "database": b"SQLite format 3\x00" + bytes(200),
    "utf-16": "# MHz S RI R 50\n1 0.1 0.0\n".encode("utf-16"),
    "quotes": b'"""""\n"MHz,"IL 1-2\n',
}
REFUSED = {"xml": {"doctype"}}
"""Of these, which are a format's, and never read."""


def dialects() -> dict[str, Dialect]:
    """All dialects of the demo and of the guide."""
    loaded = load_folder(DEMO.joinpath("dialects"), REGISTRY.formats)
    assert not loaded.failures
    guide = [parse(one.dialect.encode()) for of in BY_DIALECT for one in examples(of)]
    return {**loaded.dialects, **{dialect.name: dialect for dialect in guide}}


def record() -> bytes:
    origin = [{"sha256": "0" * 64, "name": "x", "locator": ""}]
    return codec.dumps(Record.build(link={"label": "A"}, test={}, results={}, origin=origin))


def samples() -> dict[str, tuple[bytes, str, str]]:
    """Content, format and dialect by name; no dialect, or nothing at all, where there is none."""
    found = {name: (content, "", "") for name, content in NOBODY.items()}
    for reader in BY_DIALECT:
        for number, one in enumerate(examples(reader)):
            chosen = parse(one.dialect.encode())
            if chosen.join:
                continue  # it claims files of certain names, or the example has several files
            sample = (one.content.encode(), reader, chosen.name)
            found[f"guide-{reader}-{number}"] = sample
    made = {"heron": ("csv", "brindlewick-heron-5"), "tolk": ("csv", "osquary-tolk")}
    made["erruk"] = ("xml", "thrennoby-erruk-3")
    seen = set()
    for entry in sorted(DEMO.joinpath("exports").iterdir(), key=lambda entry: entry.name):
        make = entry.name.partition("-")[0]
        if make not in seen or entry.name.endswith(".gz"):
            found[entry.name] = (entry.read_bytes(), *made[make])
        seen.add(make)
    found["record"] = (record(), "json", "")
    found["records"] = (b"[" + record() + b"]", "json", "")
    found["ports-1"] = (TOUCHSTONE_1, "touchstone", "")
    found["ports-2"] = (TOUCHSTONE_2, "touchstone", "")
    for name in [name for name, sample in found.items() if sample[1] and ".gz" not in name]:
        content, reader, dialect = found[name]
        found[f"{name}-packed"] = (gzip.compress(content, 1), reader, dialect)
        found[f"{name}-bom"] = (BOM + content, reader, dialect)
        if name.startswith(("guide", "ports")):
            found[f"{name}-crlf"] = (content.replace(b"\n", b"\r\n"), reader, dialect)
    return found


SAMPLES = samples()
SETTING = ReadSetting(LIBRARY, dialects())


@pytest.fixture(scope="module")
def sources(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Source]:
    folder = tmp_path_factory.mktemp("samples")
    found = {}
    for position, (name, (content, _, _)) in enumerate(SAMPLES.items()):
        path = folder / f"{position}.{ENDINGS[position % len(ENDINGS)]}"
        path.write_bytes(content)
        found[name] = Source(path)
    return found


@pytest.mark.parametrize("reader", READERS)
def test_an_identifier_claims_its_own_files_and_no_other(
    reader: str, sources: dict[str, Source]
) -> None:
    asked = REGISTRY.formats[reader].identify
    assert asked is not None
    claims = {name: list(asked(source, SETTING)) for name, source in sources.items()}
    told = {
        name: [
            claim.dialect.name if claim.dialect else ""
            for claim in found
            if claim.strength is not Strength.REFUSED
        ]
        for name, found in claims.items()
    }
    refused = {
        name
        for name, found in claims.items()
        if any(claim.strength is Strength.REFUSED for claim in found)
    }
    assert refused == REFUSED.get(reader, set())
    expected = {
        name: [dialect] if of == reader else [] for name, (_, of, dialect) in SAMPLES.items()
    }
    assert told == expected
    assert any(told.values())


def test_all_readers_are_asked_and_one_wins_whatever_the_name_ends_in(
    sources: dict[str, Source], tmp_path: Path
) -> None:
    assert {"csv", "json", "touchstone", "xml"} <= set(READERS)
    strict = replace(REGISTRY, crashes=[])
    for name, (content, reader, dialect) in SAMPLES.items():
        for ending in ENDINGS if len(content) < 100_000 else ENDINGS[:1]:
            path = tmp_path / f"{name}.{ending}"
            path.write_bytes(content)
            assert winner(path, strict) == (reader, dialect), f"{name}.{ending}"
    assert strict.crashes == []
    assert len(sources) > 60


def winner(path: Path, registry: Registry) -> tuple[str, str]:
    """Format and dialect of the winning claim; nothing where nobody knows the file."""
    try:
        found = identify(Source(path), registry, SETTING)
    except UnknownSource as error:
        refused = any(path.stem in names for names in REFUSED.values())
        assert refused or "no format or dialect knows this file" in error.message
        return "", ""
    return found.format.name, found.claim.dialect.name if found.claim.dialect else ""
