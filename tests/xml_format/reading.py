"""Reads small XML files by small dialects, for the tests beside it."""

from pathlib import Path

from sweepbook.dialect.model import Dialect
from sweepbook_plugins.xml import sweeps as xml_sweeps
from tests.reading import Result, read_by

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


def read(
    folder: Path, content: str | bytes, dialect: str | Dialect, name: str = "export.xml"
) -> Result:
    """Write a file, read it by a dialect, and sort what comes."""
    return read_by(xml_sweeps.read, xml_sweeps.check_dialect, folder / name, content, dialect)
