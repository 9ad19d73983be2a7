"""Exports to curves and to records, by reader and layout.

To curves: names, properties and figures as texts, and every curve as doubles held against physics.
To records: the format and the dialect told from the first bytes as `gather` does it, and all the
rest: the fields, the look-up of the limit, the check by the schema. With their identity: its
canonical text and digest as well, which are for the book. The floor knows of no name and no record.
"""

import io
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from unittest import mock

import numpy as np
import pandas as pd
from lxml import etree

from sweepbook.cli.asked import Asked
from sweepbook.cli.desk import Desk
from sweepbook.dialect import sweeps
from sweepbook.dialect.raw import RawTest
from sweepbook.record import identity
from sweepbook.source import Source
from tests.benchmarks.material import Material
from tests.benchmarks.measure import Row, beside
from tests.program import DEMO

ROUNDS = 11
"""Turns of each: beside other work the medians of five were a fifth apart from run to run."""

DIALECTS = DEMO / "dialects"
PANDAS = "pandas C engine, the table alone"


def rows(material: Material) -> Iterator[Row]:
    """One row a layout, over all the demo's files of it, those of XML made long."""
    tolk, heron = material.exports["tolk"], material.exports["heron"]
    dialect = DIALECTS / "osquary-tolk.toml"
    yield from _beside("CSV, a row a point", tolk, dialect, PANDAS, _points)
    dialect = DIALECTS / "brindlewick-heron-5.toml"
    yield from _beside("CSV, a column a curve", heron, dialect, PANDAS, _columns)
    turned, dialect = material.curves_in_rows
    yield from _beside("CSV, a curve in each row", turned, dialect, f"{PANDAS}, turned", _rows)
    lists, points = material.long_exports
    dialect = DIALECTS / "thrennoby-erruk-3.toml"
    lxml = "lxml parse + numbers by simdjson"
    yield from _beside("XML, lists of values", [lists], dialect, lxml, _lists)
    yield from _beside("XML, an element a point", [points], dialect, "lxml iterparse", _elements)


Prepared = Callable[[], object]


def _beside(
    what: str,
    paths: Sequence[Path],
    dialect: Path,
    floor: str,
    prepare: Callable[[bytes], Prepared],
) -> Iterator[Row]:
    desk = Desk(Asked(dialects=(str(dialect),)))
    (one,) = desk.dialects.values()
    texts, meaning, pipeline = desk.registry.reader(one.format).texts, one.meaning, desk.pipeline
    assert texts is not None
    floors = [prepare(path.read_bytes()) for path in paths]

    def least() -> None:
        for one_floor in floors:
            one_floor()

    def curves() -> None:
        for test in (test for path in paths for test in texts(Source(path), one)):
            if isinstance(test, RawTest):
                sweeps.build(
                    test.curves, meaning.numbers, lambda name: name.parameter in meaning.negative
                )

    def identified() -> None:
        for path in paths:
            assert list(pipeline.read_source(Source(path)))

    def records() -> None:
        with mock.patch.object(identity, "record_id", lambda _: f"sb0-{0:064}"):
            identified()

    for where, ours in (
        ("curves", curves),
        ("records", records),
        ("records with their identity", identified),
    ):
        yield beside(f"{what}, to {where}", ours, floor, least, ROUNDS)


def _points(raw: bytes) -> Prepared:
    """The table of a Tolk export, which goes to the end of the file."""
    table = raw[raw.index(b"\ntest;what") + 1 :]
    return lambda: pd.read_csv(io.BytesIO(table), sep=";", decimal=",", low_memory=False)


def _columns(raw: bytes) -> Prepared:
    """The lines that are as wide as the widest: titles and rows of the curves."""
    lines = raw.splitlines()
    most = max(line.count(b",") for line in lines)
    table = b"\n".join(line for line in lines if line.count(b",") == most)
    return lambda: pd.read_csv(io.BytesIO(table))


def _rows(raw: bytes) -> Prepared:
    """The same numbers with a column a curve: pandas takes ten times as long for wide tables."""
    lines = [line.split(b",") for line in raw.splitlines()]
    most = max(map(len, lines))
    rows = zip(*[line for line in lines if len(line) == most], strict=True)
    return _columns(b"\n".join(map(b",".join, rows)))


def _lists(raw: bytes) -> Prepared:
    """The whole tree, and the text of every trace as doubles; clipped values as plain ones."""
    import simdjson

    def numbers(text: bytes) -> object:
        array = simdjson.Parser().parse(b"[" + b",".join(text.split()) + b"]")
        assert isinstance(array, simdjson.Array)
        return np.frombuffer(array.as_buffer(of_type="d"))

    plain = raw.replace(b"&lt;", b"")

    def parsed() -> object:
        texts = (trace.text for trace in etree.fromstring(plain).iterfind(".//{*}trace"))
        return [numbers(text.encode()) for text in texts if text.strip()]

    return parsed


def _elements(raw: bytes) -> Prepared:
    """Every element once, and its memory given back."""

    def iterated() -> None:
        for _, element in etree.iterparse(io.BytesIO(raw)):
            element.clear()

    return iterated
