"""Lists of frequencies with their values: what cannot be taken apart is told, with its place.

That they read as any other layout does, `test_layouts` shows.
"""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook_plugins.xml import sweeps as xml_sweeps

from .reading import HEAD, read

SAMPLES = (
    HEAD
    + """
[xml]
test = "/r/t"
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}" }
values = "."
sample = "{frequency}:{value}"
"""
)
OWN_FORM = "is not of the form '{frequency}:{value}'; see sample and separator of xml.curves"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1:1.9\n19.4", f"line 3, /r/t[2]/c[@of=IL, @pair=1-2], value 2: '19.4' {OWN_FORM}"),
        ("1:1.9 50:80:7 100:19.4", f"value 2: '50:80:7' {OWN_FORM}"),
        ("1:1.9 100 :19.4", f"value 2: '100' {OWN_FORM}"),
        ("1:1.9 100:", "value 2: the cell is empty where a number"),
        ("1:1.9 x:19.4", "value 2: 'x' is no number"),
    ],
)
def test_a_test_is_lost_and_the_others_stay(text: str, message: str, tmp_path: Path) -> None:
    good = '<t label="A"><c of="IL" pair="1-2">1:1.9 100:19.4</c></t>'
    bad = f'<t label="B"><c of="IL" pair="1-2">{text}</c></t>'
    result = read(tmp_path, f"<r>{good}\n{bad}\n{good}</r>", SAMPLES)
    assert [record.label for record in result.records] == ["A", "A"]
    assert [problem.lost_record for problem in result.problems] == [True]
    assert message in result.problems[0].message


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ('axis = "@axis"', "xml.curves.0.sample: does not go with the rest of this table"),
        ('frequency = "../f"', "xml.curves.0.sample: does not go with the rest of this table"),
        ('run = { start = "@a", step = "@d" }', "xml.curves.0.sample: does not go with"),
        ('sample = "{frequency}{value}"', "xml.curves.0.sample: '{frequency}{value}' does not fit"),
        ('sample = "{value}:{value}"', "does not fit. Form of each piece of `values`"),
    ],
)
def test_a_dialect_that_says_two_things(change: str, message: str) -> None:
    text = (
        SAMPLES.replace('sample = "{frequency}:{value}"\n', "") if "sample" in change else SAMPLES
    )
    with pytest.raises(BadDialect) as caught:
        xml_sweeps.check_dialect(parse(f"{text}{change}\n".encode(), "d.toml"))
    assert message in str(caught.value)
