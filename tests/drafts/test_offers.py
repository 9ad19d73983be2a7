"""What a trial offers for what is stated and was left over: written as told, it is taken."""

import json
from pathlib import Path

import pytest

from tests.csv_format import reading as of_csv
from tests.csv_format.dialects import CURVES
from tests.program import run
from tests.reading import Result, called
from tests.xml_format import reading as of_xml
from tests.xml_format.reading import CURVE, POINTS

MARGINS = """
[[xml.figures]]
path = "case"
name = { "@of" = "{parameter}", "@pair" = "{pairs}" }
worst_margin.margin = "@dB"
"""
CASE = '<case of="IL" pair="{}" dB="3.1" judged="PASS"/>'


def offered(folder: Path, name: str, dialect: str) -> list[str]:
    """What a trial says of what is stated and was left over."""
    (folder / "d.toml").write_text(dialect, encoding="utf-8")
    said = json.loads(run("dialect", "try", folder / "d.toml", folder / name, "--json").stdout)
    return [of["what"] for of in said["changes"] if "stated" in of["what"]]


def verdicts(result: Result) -> list[str]:
    items = result.document["stated"]["items"]
    return [called(item) for item in items if "verdict" in item]


@pytest.mark.parametrize(
    ("pairs", "lines", "of"),
    [
        (
            ("1-2",),
            'add [[xml.figures]] with path = "case", name = { "@of" = "{parameter}" }, verdict = ',
            ["insertion_loss"],
        ),
        (
            ("1-2", "3-6"),
            'add verdict = "@judged" to [[xml.figures]] with path = "case", or',
            ["insertion_loss 1-2", "insertion_loss 3-6"],
        ),
    ],
)
def test_a_verdict_beside_margins_is_offered_as_it_is_meant(
    pairs: tuple[str, ...], lines: str, of: list[str], tmp_path: Path
) -> None:
    content = f'<r><t label="A">{CURVE}{"".join(map(CASE.format, pairs))}</t></r>'
    dialect = POINTS + MARGINS
    of_xml.read(tmp_path, content, dialect)
    (told,) = offered(tmp_path, "export.xml", dialect)
    assert lines in told
    assert told.endswith('or skip = "case/@judged" in [xml] if they mean nothing')
    written = 'verdict = "@judged"\n'
    if len(pairs) == 1:
        written = f'[[xml.figures]]\npath = "case"\nname."@of" = "{{parameter}}"\n{written}'
    assert verdicts(of_xml.read(tmp_path, content, dialect + written)) == of
    assert offered(tmp_path, "export.xml", dialect + written) == []
    skipped = dialect.replace("[xml]", '[xml]\nskip = "case/@judged"')
    assert offered(tmp_path, "export.xml", skipped) == []


def test_a_verdict_on_curves_is_offered_by_what_names_them(tmp_path: Path) -> None:
    judged = CURVE.replace(" pair", ' ok="PASS" pair')
    content = f'<r><t label="A">{judged}</t></r>'
    of_xml.read(tmp_path, content, POINTS)
    (told,) = offered(tmp_path, "export.xml", POINTS)
    assert 'with path = "c", name = { "@of" = "{parameter}", "@pair" = "{pairs}"' in told
    assert 'verdict = "@ok"' in told


def test_a_verdict_beside_the_wires_is_that_of_the_wire_map_and_told_once(tmp_path: Path) -> None:
    wires = "<w><far>1 2 3 4 5 6 7 8</far><ok>{}</ok></w>"
    tests = "".join(f'<t label="A">{CURVE}{wires.format(word)}</t>' for word in ("PASS", "FAIL"))
    dialect = POINTS.replace('pass = "PASS"', 'pass = "PASS"\nfail = "FAIL"').replace(
        "[words.par",
        'results.wire_map.far = "w/far"\n[wire_map]\nbetween_wires = " "\n[words.par',
    )
    (tmp_path / "export.xml").write_text(f"<r>{tests}</r>", encoding="utf-8")
    (told,) = [of for of in offered(tmp_path, "export.xml", dialect) if "w/ok" in of]
    assert 'add verdict = "{parameter}/ok" in [figures] and wire_map = "w" in [words.par' in told
    taken = dialect.replace("[words.parameters]", '[words.parameters]\nwire_map = "w"')
    taken += '[figures]\nverdict = "{parameter}/ok"\n'
    assert [of for of in offered(tmp_path, "export.xml", taken) if "w/ok" in of] == []


ROWS = """
schema = "urn:sweepbook:dialect-0"
name = "pages"
title = "Pages"
format = "csv"
csv.layout = "sections"
csv.sections = [
    { rows = { kind = "Pair", other_kinds = "Sum", figures = [
        { kind = ["1-2", "3-6"], name.Pair = "{pairs}", value = "{parameter}" }, MORE ] } },
    { heading = "SWEEP", curves = { frequency = "MHz", name = ["{parameter} {pairs}"] } },
]
fields.link.label = "Link"
words.parameters = { insertion_loss = "IL", propagation_delay = "Delay", length = "Length" }
words.verdicts = { pass = "ok", none = "-" }
"""
SUMMED = "Link,A\nPair,Delay,Length\n1-2,169,35\n3-6,170,36\nSum,ok,-\nSWEEP\nMHz,IL 1-2\n1,1.9\n"


def test_a_row_of_verdicts_below_the_pairs_is_offered_as_a_form(tmp_path: Path) -> None:
    of_csv.read(tmp_path, SUMMED, ROWS.replace("MORE", ""))
    (told,) = offered(tmp_path, "export.csv", ROWS.replace("MORE", ""))
    assert "Sum has 'ok' (1); add [[csv.sections.rows.figures]] with" in told
    assert 'with kind = "Sum", verdict = "{parameter}"' in told
    written = ROWS.replace("MORE", '{ kind = "Sum", verdict = "{parameter}" }')
    assert verdicts(of_csv.read(tmp_path, SUMMED, written)) == ["propagation_delay"]
    assert offered(tmp_path, "export.csv", written) == []


@pytest.mark.parametrize(("key", "text"), [("RL margin pair", "2"), ("RL margin at", "A")])
def test_which_pair_or_end_a_margin_is_of_is_no_margin(key: str, text: str, tmp_path: Path) -> None:
    dialect = CURVES.replace("[words.ends]", '[words.pairs]\n1-2 = "1"\n3-6 = "2"\n[words.ends]')
    content = f"Link,A\nRL margin,3.1\n{key},{text}\nMHz,IL 1\n1,1.9\n2,2.7\n"
    (tmp_path / "e.csv").write_text(content, encoding="utf-8")
    (tmp_path / "d.toml").write_text(dialect, encoding="utf-8")
    said = " ".join(run("dialect", "try", tmp_path / "d.toml", tmp_path / "e.csv").stdout.split())
    assert f"'{key}' reads as" not in said
    assert f"left over, so that nothing is held against them: {key} " not in said
    assert "'RL margin' reads as return loss: add worst_margin.margin" in said
