"""Which dialect, and which format, a file is: by what it holds, never by its name."""

import gzip
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import pytest

from sweepbook.dialect.load import load_folder, parse
from sweepbook.dialect.model import Dialect
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import ReadSetting, Strength
from sweepbook.record import codec
from sweepbook.source import Source
from sweepbook_plugins.csv import sweeps as csv_sweeps
from sweepbook_plugins.csv.identify import claims
from sweepbook_plugins.json import record as json_record
from tests.guide import blocks
from tests.reading import LIBRARY

from .dialects import CURVES, POINTS, changed
from .reading import read

FORMATS = {entry.name: entry for entry in csv_sweeps.describe_formats()}
DEMO = files("sweepbook_demo")
CURVE_FILE = "Link,A\nMHz,IL 1-2\n1,1.9\n"
POINT_FILE = "Test;What;Pair;End;MHz;dB;Text\n1;Link;;;;;A\n1;IL;1-2;;1;1.9;\n"


def dialects() -> dict[str, Dialect]:
    """All dialects of the demo that are for this reader, of the guide and of these tests."""
    loaded = load_folder(DEMO.joinpath("dialects"), FORMATS)
    assert {"brindlewick-heron-5", "osquary-tolk"} <= loaded.dialects.keys()
    texts = [*(block for block in blocks("toml") if "dialect-0" in block), CURVES, POINTS]
    others = [parse(text.encode(), "test.toml") for text in texts]
    return {**loaded.dialects, **{dialect.name: dialect for dialect in others}}


def samples(folder: Path) -> dict[str, tuple[Path, str | None]]:
    """Files by name, each with the dialect it is of; None for files of no dialect."""
    record = read(folder, CURVE_FILE, CURVES).records[0]
    written = {
        "guide-1.csv": (blocks("csv")[0].encode(), "example-curves"),
        "guide-2.csv": (blocks("csv")[1].encode(), "example-points"),
        "guide-3.csv": (blocks("csv")[2].encode(), "example-sections"),
        "guide-4.csv": (blocks("csv")[3].encode(), "example-rows"),
        "guide-5.csv": (blocks("csv")[4].encode(), "example-beside"),
        "curves.dat": (CURVE_FILE.encode(), "small-curves"),
        "points.json": (POINT_FILE.encode(), "small-points"),
        "points.csv": (gzip.compress(POINT_FILE.encode()), "small-points"),
        "bom.csv": (b"\xef\xbb\xbf" + CURVE_FILE.encode(), "small-curves"),
        "crlf.csv": (CURVE_FILE.replace("\n", "\r\n").encode(), "small-curves"),
        "record.csv": (codec.dumps(record), None),
        "empty.csv": (b"", None),
        "zeros.csv": (bytes(5000), None),
        "noise.csv": (bytes(range(256)) * 300, None),
        "sheet.csv": (b"PK\x03\x04" + bytes(range(256)), None),
        "other.csv": (b"Name,Street\nA,B\n", None),
        "prose.csv": (b"We measured IL 1-2 at 1 MHz; it was 1.9 dB.\n", None),
        "quotes.csv": (b'"""""\n"MHz,"IL 1-2\n', None),
    }
    found: dict[str, tuple[Path, str | None]] = {}
    for name, (content, dialect) in written.items():
        (folder / name).write_bytes(content)
        found[name] = (folder / name, dialect)
    for entry in DEMO.joinpath("exports").iterdir():
        make = {"heron": "brindlewick-heron-5", "tolk": "osquary-tolk"}
        found[entry.name] = (Path(str(entry)), make.get(entry.name.partition("-")[0]))
    return found


def test_each_sample_is_claimed_by_its_own_dialect_and_no_other(tmp_path: Path) -> None:
    setting = ReadSetting(LIBRARY, dialects())
    told = {}
    for name, (path, _) in samples(tmp_path).items():
        names = [claim.dialect.name for claim in claims(Source(path), setting) if claim.dialect]
        told[name] = names
    expected = {
        name: [dialect] if dialect else [] for name, (_, dialect) in samples(tmp_path).items()
    }
    assert len(told) > 20
    assert told == expected


def test_records_are_claimed_by_json_and_nothing_else_is(tmp_path: Path) -> None:
    setting = ReadSetting(LIBRARY, {})
    claimed = {
        name
        for name, (path, _) in samples(tmp_path).items()
        if list(json_record.identify(Source(path), setting))
    }
    assert claimed == {"record.csv"}


def test_a_signature_is_stronger_than_titles(tmp_path: Path) -> None:
    signed = changed(CURVES, 'layout = "curve', 'signature = "Link,A"\nlayout = "curve')
    signed = changed(signed, "small-curves", "signed-curves")
    both = {name: parse(text.encode()) for name, text in {"a": CURVES, "b": signed}.items()}
    path = tmp_path / "x.csv"
    path.write_text(CURVE_FILE, encoding="utf-8")
    setting = ReadSetting(LIBRARY, both)
    found = [(claim.strength, claim.because) for claim in claims(Source(path), setting)]
    assert found == [
        (Strength.STRUCTURE, "line 2 holds its titles"),
        (Strength.SIGNATURE, "it begins with 'Link,A'"),
    ]


def test_all_texts_of_a_signature_must_be_there(tmp_path: Path) -> None:
    texts = 'signature = ["Link,A", "Kind,B"]\nlayout = "curve'
    signed = parse(changed(CURVES, 'layout = "curve', texts).encode())
    path = tmp_path / "x.csv"
    path.write_text(CURVE_FILE, encoding="utf-8")
    assert list(claims(Source(path), ReadSetting(LIBRARY, {"a": signed}))) == []
    path.write_text(f"Kind,B\n{CURVE_FILE}", encoding="utf-8")
    assert len(list(claims(Source(path), ReadSetting(LIBRARY, {"a": signed})))) == 1


def test_a_bad_value_does_not_hide_what_a_file_is(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_text(CURVE_FILE.replace("1.9", "-999999"), encoding="utf-8")
    setting = ReadSetting(LIBRARY, {"a": parse(CURVES.encode())})
    assert len(list(claims(Source(path), setting))) == 1


def test_a_named_dialect_is_never_overruled(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_text(CURVE_FILE, encoding="utf-8")
    setting = ReadSetting(LIBRARY, dialects(), parse(POINTS.encode()))
    items = list(csv_sweeps.read(Source(path), setting))
    assert [isinstance(item, ReadProblem) for item in items] == [True]


def test_without_a_name_the_reader_takes_the_one_that_fits(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_text(CURVE_FILE, encoding="utf-8")
    one = {"small-curves": parse(CURVES.encode()), "small-points": parse(POINTS.encode())}
    setting = ReadSetting(LIBRARY, one)
    assert len(list(csv_sweeps.read(Source(path), setting))) == 1
    twin = parse(changed(CURVES, "small-curves", "twin").encode())
    with pytest.raises(SweepbookError, match="several dialects fit") as caught:
        list(csv_sweeps.read(Source(path), replace(setting, dialects={**one, "twin": twin})))
    assert "small-curves, twin" in caught.value.todo
    with pytest.raises(SweepbookError, match="no dialect fits"):
        list(csv_sweeps.read(Source(path), replace(setting, dialects={})))
