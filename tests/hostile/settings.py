"""Schedules, project files, dialects, label schemes and limit tables made to harm."""

import json
from collections.abc import Callable
from importlib.resources import files
from typing import Any
from zipfile import ZipFile

from tests.program import DEMO

from .exports import Files
from .zipped import zipped

SCHEDULE = (DEMO / "schedule.csv").read_text()
_TITLES = SCHEDULE.partition("\n")[0].encode() + b"\n"
_SHEET = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_PARTS = {
    "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-'
    'officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/s.xml" ContentType='
    '"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>',
    "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}/relationships"><Relationship Id="r1" '
    f'Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
    "xl/workbook.xml": f'<workbook xmlns="{_SHEET}" xmlns:r="{_OFFICE}"><sheets>'
    '<sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>',
    "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">'
    f'<Relationship Id="r1" Type="{_OFFICE}/worksheet" Target="s.xml"/></Relationships>',
}


def _cell(place: str, text: str) -> str:
    return f'<c r="{place}" t="inlineStr"><is><t>{text}</t></is></c>'


def workbook(rows: str, before: str = "", size: str = "") -> bytes:
    """A workbook of one sheet: titles, and rows as XML below them."""
    head = f'<row r="1">{_cell("A1", "label")}{_cell("B1", "limit")}</row>'
    sheet = (
        f'{before}<worksheet xmlns="{_SHEET}">{size}<sheetData>{head}{rows}</sheetData></worksheet>'
    )
    parts = {**_PARTS, "xl/s.xml": sheet}

    def fill(archive: ZipFile) -> None:
        for name, text in parts.items():
            archive.writestr(name, text)

    return zipped(fill)


def _laughs() -> str:
    more = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 20}">' for n in range(1, 8))
    return f'<!DOCTYPE a [<!ENTITY l0 "{"x" * 100}">{more}]>'


def _row(number: int, place: str, text: str) -> str:
    return f'<row r="{number}">{_cell(place, text)}</row>'


SCHEDULES: Files = {
    "quote.csv": lambda: SCHEDULE.replace("1A-P1-01", '"1A-P1-01', 1).encode(),
    "line.csv": lambda: SCHEDULE.encode() + b"x" * 5_000_000,
    "columns.csv": lambda: SCHEDULE.encode() + b"," * 1_000_000,
    "titles.csv": lambda: b",".join(b"label %d" % n for n in range(100_000)),
    "rows.csv": lambda: _TITLES + b"\n" * 1_200_000,
    "large.csv": lambda: _TITLES + b"x" * (65 << 20),
    "nothing.csv": lambda: b"",
    "nothing.xlsx": lambda: b"",
    "far-row.xlsx": lambda: workbook(_row(100_000_000, "A100000000", "x")),
    "far-column.xlsx": lambda: workbook(_row(2, "ZZZ2", "x")),
    "size.xlsx": lambda: workbook("", size='<dimension ref="A1:XFD1048576"/>'),
    "bomb.xlsx": lambda: workbook(_row(2, "A2", "x" * 50_000_000)),
    "cells.xlsx": lambda: workbook('<row><c t="inlineStr"><is><t>x</t></is></c></row>' * 200_000),
    "laughs.xlsx": lambda: workbook(_row(2, "A2", "&l7;"), _laughs()),
    "outside.xlsx": lambda: workbook(
        _row(2, "A2", "&a;"), '<!DOCTYPE a [<!ENTITY a SYSTEM "file:///etc/passwd">]>'
    ),
    "depth.xlsx": lambda: workbook("<a>" * 50_000),
    "cut.xlsx": lambda: workbook("")[:-30],
}
TOMLS: Files = {
    "depth": lambda: b"a=" + b"[" * 50_000 + b"]" * 50_000,
    "dots": lambda: b".".join([b"a"] * 200_000) + b"=1",
    "tables": lambda: b"a=" + b"{a=" * 3_000 + b"1" + b"}" * 3_000,
    "digits": lambda: b"a=" + b"9" * 500_000,
    "hexadecimal": lambda: b"a=0x" + b"f" * 50_000,
    "nul": lambda: b'a="\0"',
    "keys": lambda: b"".join(b'"\\u001b%d"=1\n' % n for n in range(20_000)),
    "latin": lambda: b'a="\xe9"',
    "large": lambda: b"#" + b"x" * (5 << 20),
    "template": lambda: (
        b'schema="urn:sweepbook:label-scheme-0"\nname="x"\n[[labels]]\ntemplate="'
        + b"{a}-" * 5_000
        + b'"\n'
    ),
}
LIMIT = json.loads(
    files("sweepbook_schemas").joinpath("limits/tia-568.2-d/cat6a/permanent-link.json").read_bytes()
) | {"path": "own/x", "title": "Own"}
_LOSS = LIMIT["parameters"]["insertion_loss"]


def _limit(change: str, value: object, of: dict[str, Any]) -> Callable[[], bytes]:
    """A good limit table with one member changed for as long as it is written."""

    def made() -> bytes:
        before = of[change]
        of[change] = value
        try:
            return json.dumps(LIMIT).encode().replace(b'"1e999"', b"1e999")
        finally:
            of[change] = before

    return made


_STEP = LIMIT["steps"]["ranges"][0]
_FAR = {"what": "x", "weight": 1e-300, "a": 1e6, "b": -20, "f0_mhz": 1e-300}
LIMITS: Files = {
    "step": _limit("largest_step_mhz", "1e999", _STEP),
    "no value": _limit("shape", {"kind": "voltage_sum", "lines": [_FAR]}, _LOSS["segments"][0]),
    "terms": _limit(
        "shape",
        {
            "kind": "sum",
            "parts": [{"what": "x", "times": 1, "terms": [{"c": 1, "p": 0}] * 40_000}],
        },
        _LOSS["segments"][0],
    ),
    "segments": _limit("segments", _LOSS["segments"] * 5_000, _LOSS),
    "wires": _limit("expected", {str(n): "1" for n in range(1, 40_000)}, LIMIT["wire_map"]),
    "words": lambda: json.dumps(
        LIMIT | {"parameters": {f"p{n}": {"title": "x" * 50} for n in range(5_000)}}
    ).encode(),
    "depth": lambda: b"[" * 100_000,
    "nan": lambda: b'{"schema": NaN}',
    "digits": lambda: b'{"a":' + b"9" * 10_000 + b"}",
    "keys": lambda: b"{" + b",".join(b'"\\u001b%d":1' % n for n in range(50_000)) + b"}",
    "large": lambda: b"[" + b"{}," * 2_000_000 + b"{}]",
}
