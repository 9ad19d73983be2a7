"""The demo's XML exports are read whole: every number is in the records, and nothing is made up.

The files are read a second time here, with the standard library's own XML parser.
"""

import gzip
import xml.etree.ElementTree as ET
from decimal import Decimal
from importlib.resources import files
from typing import Any

import pytest

from sweepbook.dialect.load import load_folder
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.record import validate
from sweepbook.record.model import Record, frequency_mhz
from sweepbook.registry import load
from sweepbook.source import Source
from sweepbook_plugins.xml import sweeps as xml_sweeps
from tests.reading import LIBRARY, called

DEMO = files("sweepbook_demo")
EXPORTS = ["erruk-printworks-1.xml", "erruk-printworks-2.xml.gz"]
WORDS = {"attenuation": "insertion_loss", "reflection": "return_loss", "back-coupling": "next"} | {
    "forth-coupling": "fext",
    "travel": "propagation_delay",
}
PAIRS = {"1": "4-5", "2": "1-2", "3": "3-6", "4": "7-8"}
SPACE = {"r": "urn:thrennoby:roll:2", "t": "urn:thrennoby:trace:2"}
CHARGE = {"g:handset[@end=head]/@charge", "g:handset[@end=tail]/@charge"}
Points = dict[tuple[str, str, float], float]


@pytest.mark.parametrize("name", EXPORTS)
def test_an_export_is_read_whole(name: str) -> None:
    dialects = load_folder(DEMO.joinpath("dialects"), load(()).formats).dialects
    path = DEMO.joinpath("exports").joinpath(name)
    items = list(xml_sweeps.read(Source(path), ReadSetting(LIBRARY, dialects)))  # type: ignore[arg-type]
    assert [item for item in items if isinstance(item, ReadProblem)] == []
    documents = [item.document for item in items if isinstance(item, Record)]
    for document in documents:
        assert validate.problems(document) == ()
        assert document["extra"].keys() - {"note"} == CHARGE
        assert document["resolved"]["limit"]["path"]
        assert document["stated"]["overall"]["verdict"]
    raw = path.read_bytes()
    assert found(documents) == expected(gzip.decompress(raw) if name.endswith(".gz") else raw)


def found(documents: list[dict[str, Any]]) -> Points:
    """Every point of the records by label, curve and frequency in MHz."""
    points: Points = {}
    for document in documents:
        for entry in document["results"]["sweeps"]:
            axis = frequency_mhz(document, entry["grid"]).tolist()
            values = entry["value_db" if "value_db" in entry else "delay_ns"].tolist()
            name = called(entry)
            for frequency, value in zip(axis, values, strict=True):
                points[document["link"]["label"], name, frequency] = value
    return points


def expected(raw: bytes) -> Points:
    """The same out of the file, by another parser and a few lines."""
    root = ET.fromstring(raw)
    axes = {}
    for axis in root.findall("t:axis", SPACE):
        axes[axis.attrib["id"]] = [
            int(run.attrib["start"]) + step * int(run.attrib["step"])
            for run in axis.findall("t:run", SPACE)
            for step in range(int(run.attrib["count"]))
        ]
    points: Points = {}
    for entry in root.findall("r:entry", SPACE):
        for trace in entry.findall("t:trace", SPACE):
            of = trace.attrib
            end = {"head": "near", "tail": "far"}.get(of.get("end", ""), "")
            pairs = "/".join(PAIRS[of[word]] for word in ("from", "pair") if word in of)
            name = " ".join(part for part in (WORDS[of["of"]], end, pairs) if part)
            sign = 1 if of["of"] in ("attenuation", "travel") else -1
            for hertz, text in pairs_of(trace, axes):
                value = sign * Decimal(text.removeprefix("<"))
                points[entry.attrib["label"], name, float(Decimal(hertz) / 1_000_000)] = float(
                    value
                )
    return points


def pairs_of(trace: ET.Element, axes: dict[str, list[int]]) -> list[tuple[int, str]]:
    """Frequency in Hz and text of each point of a trace."""
    if "axis" in trace.attrib:
        return list(zip(axes[trace.attrib["axis"]], (trace.text or "").split(), strict=True))
    return [(int(point.attrib["hz"]), point.text or "") for point in trace]
