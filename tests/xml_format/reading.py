"""Reads small XML files by small dialects, for the tests beside it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweepbook.dialect.load import parse
from sweepbook.dialect.model import Dialect
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.limits.library import Library
from sweepbook.record import validate
from sweepbook.record.model import Record, frequency_mhz
from sweepbook.source import Source
from sweepbook_plugins import xml_sweeps

LIBRARY = Library.load()

HEAD = """
schema = "urn:sweepbook:dialect-0"
name = "small"
title = "Small"
format = "xml"
[fields]
link.label = "@label"
test.operator = "who"
stated.overall = "result"
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
next = "NEXT"
fext = "FEXT"
length = "Length"
[words.ends]
near = "A"
far = "B"
[words.verdicts]
pass = "PASS"
[crosstalk]
first = "disturbing"
between = "/"
far_end = "receiving"
[numbers]
missing = ["--"]
at_least = ">{}"
"""

POINTS = (
    HEAD
    + """
[xml]
test = "/r/t"
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }
point = { path = "p", frequency = "@f", value = "." }
"""
)

LISTS = (
    HEAD
    + """
[xml]
test = "/r/t"
[[xml.axes]]
path = "/r/axis"
id = "@id"
list = "."
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }
values = "."
axis = "@axis"
"""
)

CURVE = '<c of="IL" pair="1-2"><p f="1">1.9</p><p f="100">19.4</p></c>'
TEST = f'<t label="A">{CURVE}</t>'


@dataclass(frozen=True)
class Result:
    """What reading a file gave."""

    records: list[Record]
    problems: list[ReadProblem]

    @property
    def document(self) -> dict[str, Any]:
        """The only record, of a file that was read without a problem."""
        assert self.problems == []
        assert len(self.records) == 1
        document = self.records[0].document
        assert validate.problems(document) == ()
        return document

    @property
    def lost(self) -> str:
        """The message of the only problem, of a file without a record."""
        assert self.records == []
        assert [problem.lost_record for problem in self.problems] == [True]
        return self.problems[0].message


def read(
    folder: Path, content: str | bytes, dialect: str | Dialect, name: str = "export.xml"
) -> Result:
    """Write a file, read it by a dialect, and sort what comes."""
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    chosen = parse(dialect.encode(), "test.toml") if isinstance(dialect, str) else dialect
    xml_sweeps.check_dialect(chosen)
    items = list(xml_sweeps.read(Source(path), ReadSetting(LIBRARY, {}, chosen)))
    return Result(
        [item for item in items if isinstance(item, Record)],
        [item for item in items if isinstance(item, ReadProblem)],
    )


def sweep(document: dict[str, Any], name: str) -> dict[str, Any]:
    """A sweep by its name, e.g. "next near 1-2/3-6"."""
    found: list[dict[str, Any]] = [
        entry for entry in document["results"]["sweeps"] if called(entry) == name
    ]
    assert len(found) == 1, [called(entry) for entry in document["results"]["sweeps"]]
    return found[0]


def called(entry: dict[str, Any]) -> str:
    """What a sweep, scalar or stated item is of."""
    parts = (entry["parameter"], entry.get("end"), "/".join(entry.get("pairs", [])))
    return " ".join(part for part in parts if part)


def axis(document: dict[str, Any], entry: dict[str, Any]) -> list[float]:
    """Frequencies of a sweep in MHz."""
    return [float(value) for value in frequency_mhz(document, entry["grid"])]
