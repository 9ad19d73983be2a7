"""The demo's exports are read whole: every number of the files is in the records, and nothing else.

The files are read a second time here, with the standard library and a few lines of their own.
"""

import csv
import gzip
from collections.abc import Iterator
from decimal import Decimal
from importlib.resources import files
from typing import Any

import pytest

from sweepbook.dialect.load import load_folder
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.record import validate
from sweepbook.record.model import Record, frequency_mhz
from sweepbook.source import Source
from sweepbook_plugins.csv import sweeps as csv_sweeps
from tests.reading import LIBRARY, called

DEMO = files("sweepbook_demo")
EXPORTS = sorted(entry.name for entry in DEMO.joinpath("exports").iterdir() if ".csv" in entry.name)
HERON = {"IL": "insertion_loss", "RL": "return_loss", "NEXT": "next", "FEXT": "fext"} | {
    "ACR-F": "acr_f",
    "PSACR-F": "psacr_f",
    "PSNEXT": "psnext",
}
TOLK = {"damping": "insertion_loss", "echo": "return_loss", "near talk": "next"} | {
    "far talk": "fext",
    "run time": "propagation_delay",
    "sum near talk": "psnext",
}
PAIRS = {"12": "1-2", "36": "3-6", "45": "4-5", "78": "7-8"}
Points = dict[tuple[str, str, float], float | None]


@pytest.fixture(scope="module")
def setting() -> ReadSetting:
    formats = {entry.name: entry for entry in csv_sweeps.describe_formats()}
    return ReadSetting(LIBRARY, load_folder(DEMO.joinpath("dialects"), formats).dialects)


@pytest.mark.parametrize("name", EXPORTS)
def test_an_export_is_read_whole(name: str, setting: ReadSetting) -> None:
    path = DEMO.joinpath("exports").joinpath(name)
    items = list(csv_sweeps.read(Source(path), setting))  # type: ignore[arg-type]
    assert [item for item in items if isinstance(item, ReadProblem)] == []
    documents = [item.document for item in items if isinstance(item, Record)]
    for document in documents:
        assert validate.problems(document) == ()
        assert "extra" not in document
        assert document["resolved"]["limit"]["path"]
        assert document["stated"]["overall"]["verdict"]
    raw = gzip.decompress(path.read_bytes()) if name.endswith(".gz") else path.read_bytes()
    assert points(documents) == (heron if name.startswith("heron") else tolk)(raw.decode())


def points(documents: list[dict[str, Any]]) -> Points:
    """Every point of the records by label, curve and frequency in MHz; None for a gap."""
    found: Points = {}
    for document in documents:
        for entry in document["results"]["sweeps"]:
            axis = frequency_mhz(document, entry["grid"])
            values = iter(entry["value_db" if "value_db" in entry else "delay_ns"].tolist())
            holes = {
                at for gap in entry.get("gaps", []) for at in range(gap["from"], gap["to"] + 1)
            }
            for at, frequency in enumerate(axis.tolist()):
                value = None if at in holes else next(values)
                found[document["link"]["label"], called(entry), frequency] = value
            assert next(values, None) is None
    return found


def heron(text: str) -> Points:
    """The points of a file with one column a curve."""
    rows = list(csv.reader(text.splitlines()))
    first = next(at for at, row in enumerate(rows) if row and row[0] == "MHz")
    label = next(row[1] for row in rows if row and row[0] == "link")
    found: Points = {}
    for row in rows[first + 1 :]:
        for title, cell in zip(rows[first][1:], row[1:], strict=True):
            word, *end, pairs = title.split(" ")
            side = [{"A": "near", "B": "far"}[letter] for letter in end]
            name = " ".join([HERON[word], *side, pairs.replace(">", "/")])
            value = None if cell == "--" else float(cell.removeprefix(">"))
            found[label, name, float(row[0])] = value
    return found


def tolk(written: str) -> Points:
    """The points of a file with one row a point."""
    labels: dict[str, str] = {}
    found: Points = {}
    for test, what, pair, side, khz, reading, text in tolk_rows(written):
        if what == "link":
            labels[test] = text
        if what in TOLK and khz:
            near = {"base": "near", "probe": "far", "": ""}[side]
            far = {"near": "far", "far": "near"}
            end = far[near] if what == "far talk" else near
            pairs = "/".join(PAIRS[each] for each in pair.split("/"))
            name = " ".join(part for part in (TOLK[what], end, pairs) if part)
            value = Decimal(reading.removeprefix("<").replace(",", "."))
            turned = value if what == "run time" else -value
            found[labels[test], name, float(Decimal(khz) / 1000)] = float(turned)
    return found


def tolk_rows(written: str) -> Iterator[list[str]]:
    for line in written.splitlines():
        cells = line.split(";")
        if len(cells) == 7:
            yield cells
