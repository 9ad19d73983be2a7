"""Wire maps in XML: a text, two texts, or an element for each wire.

The wires are those that a person reads in the elements; a link with the pairs 3-6 and 4-5 swapped
at one end is as common a mistake as there is (common practice, no source).
"""

from pathlib import Path
from typing import Any

import pytest

from .reading import CURVE, POINTS, read

CROSSED = [[near, far] for near, far in zip("12345678", "12453678", strict=True)]


def _wire_map(folder: Path, inside: str, fields: str, table: str = "") -> tuple[Any, list[str]]:
    """The wire map of the one test, and what is said of it."""
    dialect = POINTS.replace('test.operator = "who"', fields)
    dialect = f"{dialect}\n[wire_map]\n{table}\n"
    result = read(folder, f'<r><t label="A">{inside}{CURVE}</t></r>', dialect)
    (record,) = result.records
    assert "extra" not in record.document
    return record.document["results"].get("wire_map"), [of.message for of in result.problems]


FORMS = {
    "one text": (
        "<wiring>1 to 1, 2 to 2, 3 to 4, 4 to 5, 5 to 3, 6 to 6, 7 to 7, 8 to 8, screen to screen"
        "</wiring>",
        'results.wire_map.pins = "wiring"',
        'between_ends = " to "\nbetween_wires = ", "',
    ),
    "two texts": (
        "<wiring><here>1 2 3 4 5 6 7 8 S</here><there>1 2 4 5 3 6 7 8 S</there></wiring>",
        'results.wire_map.near = "wiring/here"\nresults.wire_map.far = "wiring/there"',
        "",
    ),
    "two attributes of a wire": (
        "<wiring>"
        + "".join(f'<wire tester="{near}" partner="{far}"/>' for near, far in CROSSED)
        + '<wire tester="S" partner="S"/></wiring>',
        'results.wire_map.near = "wiring/wire/@tester"\n'
        'results.wire_map.far = "wiring/wire/@partner"',
        "",
    ),
    "two children of a wire": (
        "<wiring>"
        + "".join(f"<wire><a><n>{near}</n></a><b>{far}</b></wire>" for near, far in CROSSED)
        + "<wire><a><n>G</n></a><b>G</b></wire></wiring>",
        'results.wire_map.near = "wiring/wire/a/n"\nresults.wire_map.far = "wiring/wire/b"',
        "",
    ),
    "an attribute and a text": (
        "<wiring>"
        + "".join(f'<wire tester="{near}">{far}</wire>' for near, far in CROSSED)
        + '<wire tester="shield">shield</wire></wiring>',
        'results.wire_map.near = "wiring/wire/@tester"\nresults.wire_map.far = "wiring/wire"',
        "",
    ),
    "an element a contact, end by end": (
        f"<wiring><near>{''.join(f'<c>{near}</c>' for near, _ in CROSSED)}<c>S</c></near>"
        f"<far>{''.join(f'<c>{far}</c>' for _, far in CROSSED)}<c>S</c></far></wiring>",
        'results.wire_map.near = "wiring/near/c"\nresults.wire_map.far = "wiring/far/c"',
        "",
    ),
    "a text a wire": (
        f"<wiring>{''.join(f'<w>{near}:{far}</w>' for near, far in CROSSED)}<w>S:S</w></wiring>",
        'results.wire_map.pins = "wiring/w"',
        'between_ends = ":"',
    ),
    "an element a wire of its own name": (
        f"<wiring>{''.join(f'<pin{near}>{far}</pin{near}>' for near, far in CROSSED)}"
        "<pinS>S</pinS></wiring>",
        "results.wire_map.far = [" + ", ".join(f'"wiring/pin{near}"' for near in "12345678S") + "]",
        "",
    ),
}


@pytest.mark.parametrize("name", FORMS)
def test_each_form_is_read(name: str, tmp_path: Path) -> None:
    found, told = _wire_map(tmp_path, *FORMS[name])
    assert told == []
    assert found["pins"] == CROSSED
    assert found["screen"] == "continuous"


ENDS = (
    'results.wire_map.near = "wiring/wire/@tester"\nresults.wire_map.far = "wiring/wire/@partner"'
)


def _wires(*missing: str) -> str:
    """Eight straight wires, some without one of their contacts: "3 far"."""
    ends = {"near": "tester", "far": "partner"}
    wires = [
        "".join(f' {ends[end]}="{n}"' for end in ends if f"{n} {end}" not in missing)
        for n in "12345678"
    ]
    return f"<wiring>{''.join(f'<wire{wire}/>' for wire in wires)}</wiring>"


def test_wires_without_a_contact_keep_their_places(tmp_path: Path) -> None:
    """Lists of what there is would have both ends 1 2 4 5 .. in step, and each wire straight."""
    inside = _wires("3 far", "6 near")
    found, (told,) = _wire_map(tmp_path, inside, ENDS)
    assert set(found) == {"as_stated"}
    assert 'add "" to wire_map.open' in told
    found, told_now = _wire_map(tmp_path, inside, ENDS, 'open = ""')
    assert told_now == []
    assert ["3", None] in found["pins"]
    assert [None, "6"] in found["pins"]
    assert sum(None not in wire for wire in found["pins"]) == 6


def test_contacts_that_nothing_leads_to_each_other_lose_the_test(tmp_path: Path) -> None:
    """In all there are as many near contacts as far ones, and lists of them would be in step."""
    pairs = "<pair><n>1</n><n>2</n><f>1</f></pair><pair><n>3</n><f>2</f><f>3</f></pair>"
    fields = 'results.wire_map.near = "wiring/pair/n"\nresults.wire_map.far = "wiring/pair/f"'
    dialect = POINTS.replace('test.operator = "who"', fields)
    inside = f'<r><t label="A"><wiring>{pairs}</wiring>{CURVE}</t></r>'
    result = read(tmp_path, inside, dialect)
    assert result.records == []
    (told,) = result.problems
    assert "2 near and 1 far contacts" in told.message


def test_a_list_of_seven_elements_is_told(tmp_path: Path) -> None:
    inside = f"<wiring>{''.join(f'<to>{n}</to>' for n in '1234567')}</wiring>"
    found, (told,) = _wire_map(tmp_path, inside, 'results.wire_map.far = "wiring/to"')
    assert found == {"as_stated": "1 2 3 4 5 6 7"}
    assert "7 far contacts" in told
