"""Elements taken as one before are taken as they are one by one, whatever they hold."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sweepbook.dialect.load import parse
from sweepbook.dialect.raw import Fault, RawTest
from sweepbook.source import Source
from sweepbook_plugins.xml import leaves
from sweepbook_plugins.xml.sweeps import texts

from .reading import HEAD

FIELDS = """[fields]
link.near.termination = "end[@of=A]"
link.far.termination = "end[@of=B]/@name"
link.cable.part = "cable/@part"
link.cable.maker = "cable"
"""
DIALECT = (
    HEAD.replace("[fields]\n", FIELDS)
    + """
[xml]
test = "/r/t"
skip = ["note"]
[[xml.axes]]
path = "axis"
list = "."
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }
point = { path = "p", frequency = "@f", value = "." }
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }
values = "."
[[xml.curves]]
path = "in/d"
name = { "../@of" = "{parameter}", "@pair" = "{pairs}" }
values = "@values"
[[xml.figures]]
path = "f"
name = { "@of" = "{parameter}", "@pair" = "{pairs}" }
value = "."
frequency = "@at"
[[xml.figures]]
path = "f"
name = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }
verdict = "@is"
"""
)
SMALL = parse(DIALECT.encode(), "small.toml")

NAMED = [
    '<c of="IL" pair="1-2">1 2</c>',
    '<c of="NEXT" pair="1-2/3-6" end="A"> 1\n2 </c>',
    '<c of="NEXT" pair="1-2/3-6">1 2</c>',
    '<c of="IL" pair="3-6"> </c>',
    '<c of="IL" pair="3-6" unit="dB">3 4</c>',
    '<c of="IL" pair="4-5"><p f="1">1</p><p f="2">2</p></c>',
    '<c of="?" pair="4-5"><p f="1">1</p><p f="2">2</p></c>',
    '<c of="?" pair="1-2">1 2</c>',
    '<in of="IL"><d pair="7-8" values="1 2"/></in>',
    '<in of="RL"><d pair="7-8" values="1 2">x</d></in>',
    '<f of="Length" pair="1-2">7.5</f>',
    '<f of="Length" pair="1-2" at="3" by="hand">7.5</f>',
    '<f of="Length" pair="3-6" at="3"/>',
    '<f of="Length" pair="4-5" at=" ">1</f>',
    '<f of="NEXT" pair="1-2/3-6" end="A" is="PASS">2</f>',
    '<f of="strange">1</f>',
]
OTHERS = [
    "<axis>1 2</axis>",
    '<end of="A">P-1</end>',
    '<end of="B" name="P-2"/>',
    '<end of="C" name="P-3">x</end>',
    '<cable part="X"> Maker </cable>',
    '<cable part="X" colour="grey"/>',
    '<cable colour="grey"><reel>7</reel></cable>',
    "<who> me </who>",
    "<who/>",
    '<who by="x"/>',
    "<result>PASS</result>",
    "<note>of no account</note>",
    "<other/>",
    "<other>text</other>",
    '<other a="1"><deep/><deep b="2">x</deep></other>',
]


def found(folder: Path, tests: list[list[str]]) -> list[object]:
    """What the reader makes of a file, without what is a function."""
    path = folder / "export.xml"
    inside = "".join(f'<t label="L">{" ".join(pieces)}</t>\n' for pieces in tests)
    path.write_text(f"<r>{inside}</r>")
    return [_plain(item) for item in texts(Source(path), SMALL)]


def _plain(item: RawTest | Fault) -> object:
    if isinstance(item, Fault):
        return str(item)
    curves = [
        (of.name, [*of.frequency], [*of.value], of.place_of(0), of.axis_place_of(0))
        for of in item.curves
    ]
    faults = [*map(str, item.faults), *map(str, item.notes)]
    return item.locator, item.properties, curves, item.figures, item.extra, faults


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(st.sampled_from(NAMED + OTHERS), max_size=9), min_size=1, max_size=4))
def test_what_is_known_of_one_before_changes_nothing(
    tmp_path: Path, tests: list[list[str]]
) -> None:
    leaves.kinds.cache_clear()
    quick = found(tmp_path, tests)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(leaves.Kind, "leaf", lambda self, element: None)
        assert quick == found(tmp_path, tests)
