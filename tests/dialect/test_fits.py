"""What no record takes stays at the door: the test is read, and the message names the key.

What a record takes is as `record-1.md` says: an NVP above 0 and at most 1, since no signal
outruns light; contacts by number.
"""

from pathlib import Path
from typing import Any

import pytest

from sweepbook.dialect.load import parse
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.limits.library import Library
from sweepbook.record import validate
from sweepbook.record.model import Record
from sweepbook.registry import load
from sweepbook.source import Source
from tests.csv_format.dialects import LEAST, changed

LIBRARY = Library.load()
FIELDS = """
link.cable.nvp = "NVP %"
test.ambient_c = "Ambient"
results.wire_map.pins = "Wires"
"""
DIALECT = changed(LEAST, 'link.label = "Link"', f'link.label = "Link"{FIELDS}')
ROWS = "\nMHz;IL 1-2\n1;1.5\n2;1.9\n"


def _read(folder: Path, line: str, dialect: str = DIALECT) -> tuple[Any, list[str]]:
    """The document of the one test, None where it is lost, and what is said of it."""
    path = folder / "export.csv"
    path.write_text(f"Link;L-1\n{line}\n{ROWS}")
    chosen = parse(dialect.encode(), "least.toml")
    entry = load().formats[chosen.format]
    assert entry.read is not None
    items = list(entry.read(Source(path), ReadSetting(LIBRARY, {}, chosen)))
    records = [item.document for item in items if isinstance(item, Record)]
    assert all(validate.problems(document) == () for document in records)
    told = [f"{of.place}: {of.message}" for of in items if isinstance(of, ReadProblem)]
    return (records[0] if records else None), told


@pytest.mark.parametrize(
    ("line", "key", "said"),
    [
        ("NVP %;70", "NVP %", ("'70'", "above 0 and at most 1", "(%)", "units.nvp")),
        ("NVP %;0", "NVP %", ("above 0", "units.nvp")),
        ("Ambient;212", "Ambient", ("at least -60 and at most 100", "(F)", "units.temperature")),
    ],
)
def test_a_figure_beyond_the_record_goes_to_extra(
    tmp_path: Path, line: str, key: str, said: tuple[str, ...]
) -> None:
    document, (told,) = _read(tmp_path, line)
    assert document["extra"] == {key: line.partition(";")[2]}
    assert told.startswith("line 2")
    assert all(words in told for words in said)


@pytest.mark.parametrize(("text", "decimals"), [("70", 2), ("68.5 %", 3), ("100", 2)])
def test_an_nvp_in_percent_is_a_part_of_the_speed_of_light(
    tmp_path: Path, text: str, decimals: int
) -> None:
    document, told = _read(tmp_path, f"NVP %;{text}", f'{DIALECT}[units]\nnvp = "%"\n')
    assert told == []
    assert document["link"]["cable"] == {
        "nvp": float(text.removesuffix(" %")) / 100.0,
        "nvp_decimals": decimals,
    }


@pytest.mark.parametrize("text", ["1-1 2-x", "1-1 2-100", "1-1 2-0", "1-1 2-"])
def test_a_wire_map_that_is_no_list_of_contacts_is_kept_as_stated(
    tmp_path: Path, text: str
) -> None:
    document, (told,) = _read(tmp_path, f"Wires;{text}")
    assert document["results"]["wire_map"] == {"as_stated": text}
    assert "wire_map.open" in told


def test_the_net_below_tells_place_and_key_in_place_of_a_record(tmp_path: Path) -> None:
    """No record has a frequency below zero, and no member says so at the door."""
    figures = """[figures]
worst_margin.margin = "Margin {parameter} {pairs}"
worst_margin.frequency = "At {parameter} {pairs}"
"""
    line = "Margin IL 1-2;3.1\nAt IL 1-2;-5"
    document, (told,) = _read(tmp_path, line, DIALECT + figures)
    assert document is None
    assert told.startswith("lines 1-")
    assert "$.stated.items[0].worst_margin.frequency_mhz: -5.0 is less than" in told
    assert "see figures ('insertion_loss 1-2'). Dialect: least." in told
