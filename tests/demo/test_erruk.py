"""The XML exports, read here by the standard library's parser and compared with the truth."""

import gzip
import json
import math
import xml.etree.ElementTree as ET
from importlib.resources import files

import numpy as np
import pytest
from numpy.typing import NDArray

from sweepbook_demo import erruk
from sweepbook_demo.grid import standard_grid_khz
from sweepbook_demo.make import LINKS, sheet_of

EXPORTS = files("sweepbook_demo") / "exports"
ROLL, GEAR, TRACE = (f"{{urn:thrennoby:{name}:2}}" for name in ("roll", "gear", "trace"))
LISTS, POINTS = "erruk-printworks-1.xml", "erruk-printworks-2.xml.gz"
COUNTS = {"attenuation": 4, "reflection": 8, "back-coupling": 12, "forth-coupling": 12, "travel": 4}


def _root(name: str) -> ET.Element:
    content = (EXPORTS / name).read_bytes()
    content = gzip.decompress(content) if name.endswith(".gz") else content
    assert b"<!DOCTYPE" not in content
    return ET.fromstring(content)


def _entry(root: ET.Element, label: str) -> ET.Element:
    return next(entry for entry in root.iter(f"{ROLL}entry") if entry.get("label") == label)


def _axis(root: ET.Element, name: str | None) -> list[int]:
    axis = next(axis for axis in root.iter(f"{TRACE}axis") if axis.get("id") == name)
    found: list[int] = []
    for run in axis:
        start, step, count = (int(run.attrib[key]) for key in ("start", "step", "count"))
        found += range(start, start + step * count, step)
    return found


def _number(text: str) -> float:
    return float(text.removeprefix("<"))


def _values(trace: ET.Element) -> NDArray[np.float64]:
    points = list(trace)
    texts = [p.text or "" for p in points] if points else (trace.text or "").split()
    return np.array([_number(text) for text in texts])


def _named(entry: ET.Element, **wanted: str) -> ET.Element:
    return next(
        trace
        for trace in entry.iter(f"{TRACE}trace")
        if all(trace.get(key) == value for key, value in wanted.items())
    )


@pytest.mark.parametrize("name", [LISTS, POINTS])
def test_every_trace_has_a_value_at_every_frequency_and_the_sign_of_its_kind(name: str) -> None:
    root = _root(name)
    assert (root.tag, root.get("issue")) == (f"{ROLL}roll", "2")
    for entry in root.iter(f"{ROLL}entry"):
        top = 250_000 if entry.get("label") == "PW-1-05" else 500_000
        grid = (standard_grid_khz(top) * 1000).tolist()
        counted: dict[str, int] = {}
        for trace in entry.iter(f"{TRACE}trace"):
            word = trace.attrib["of"]
            counted[word] = counted.get(word, 0) + 1
            held = [int(p.attrib["hz"]) for p in trace] or _axis(root, trace.get("axis"))
            assert held == grid
            values = _values(trace)
            assert values.size == len(grid)
            positive = word in ("attenuation", "travel")
            assert ((values > 0) if positive else (values < 0)).all(), (word, trace.attrib)
        lost = 1 if entry.get("label") == "PW-1-03" else 0
        assert counted == COUNTS | {"forth-coupling": 12 - lost}


def test_labels_purposes_and_places_are_as_planted() -> None:
    first, second = _root(LISTS), _root(POINTS)
    found = [(e.get("label"), e.get("reason")) for e in first.iter(f"{ROLL}entry")]
    labels = ("PW-1-01", "PW-1-02", "PW-1-03", "PW-1-O4", "PW-1-05", "PW-2-06")
    assert found == [(label, "new") for label in labels]
    assert [(e.get("label"), e.get("reason")) for e in second.iter(f"{ROLL}entry")] == [
        ("PW-1-02", "again")
    ]
    spaces = [space.text for space in first.iter(f"{ROLL}space")]
    assert {"Type & Press", "Café Platen"} < set(spaces)


def test_a_margin_read_by_hand_is_the_true_one() -> None:
    """Insertion loss of PW-1-05 against the recalled Category 6 link limit, written out here."""
    root = _root(LISTS)
    entry = _entry(root, "PW-1-05")
    trace = _named(entry, of="attenuation", pair="4")
    worst = math.inf
    for hz, value in zip(_axis(root, trace.get("axis")), _values(trace), strict=True):
        f = hz / 1e6
        root_f = math.sqrt(f)
        limit = 0.9 * (1.808 * root_f + 0.017 * f + 0.2 / root_f) + 0.06 * root_f
        worst = min(worst, limit + 0.00015 * f**1.5 - value)
    document = json.loads((files("sweepbook_demo") / "truth.json").read_text(encoding="utf-8"))
    link = next(link for link in document["links"] if link["label"] == "PW-1-05")
    true = next(margin for margin in link["margins"] if margin["pairs"] == ["7-8"])
    assert true["parameter"] == "insertion_loss"
    assert worst == pytest.approx(true["margin_db"], abs=1e-4)


def test_the_repair_changed_the_jack_and_nothing_else() -> None:
    """Pairs 1-2 and 7-8 lose the same but for noise and the last digit: the noise is 66 dB below
    what arrives at 500 MHz, worth 0.005 dB, and a digit is 0.01 dB. The jack no longer couples
    3-6 to 4-5, so these lose less than before, and their crosstalk falls.
    """
    before, after = _entry(_root(LISTS), "PW-1-02"), _entry(_root(POINTS), "PW-1-02")
    for pair in "24":
        one = _values(_named(before, of="attenuation", pair=pair))
        two = _values(_named(after, of="attenuation", pair=pair))
        assert not np.array_equal(one, two)
        assert np.abs(one - two).max() < 0.03
    for pair in "13":
        one = _values(_named(before, of="attenuation", pair=pair))
        two = _values(_named(after, of="attenuation", pair=pair))
        assert 0.05 < (one - two)[-1] < 1.0
    bad = {"of": "back-coupling", "end": "tail", "from": "3", "pair": "1"}
    far_before, far_after = (_values(_named(entry, **bad)) for entry in (before, after))
    assert np.mean(far_after - far_before) < -6.0
    begun = [entry.findtext(f"{ROLL}when/{ROLL}begun") for entry in (before, after)]
    zeroed = [
        node.attrib["at"] for entry in (before, after) for node in entry.iter(f"{GEAR}zeroing")
    ]
    order = [zeroed[0], begun[0], zeroed[1], begun[1]]
    assert order == sorted(order, key=str)
    assert len(set(order)) == 4


def test_both_ways_of_writing_a_trace_say_the_same() -> None:
    link = next(link for link in LINKS if link.facts["label"] == "PW-1-05")
    sheet = sheet_of(link)
    lists, points = (ET.fromstring(erruk.write([sheet], points=points)) for points in (False, True))
    pairs = zip(lists.iter(f"{TRACE}trace"), points.iter(f"{TRACE}trace"), strict=True)
    for one, two in pairs:
        assert {**two.attrib, "axis": "f250"} == one.attrib
        assert [p.text for p in two] == (one.text or "").split()
        assert [int(p.attrib["hz"]) for p in two] == _axis(lists, "f250")
