"""Elements whose names stand in others, which they refer to by an id."""

import re
from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from tests.drafts.drafting import curves, read, written
from tests.drafts.links import KHZ, shifted

from .test_titled import CORE, DIGITS, LINK

RAW = ("insertion_loss", "return_loss", "next")
WORDS = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT"}
SIDES = {"near": "A", "far": "B"}
KEPT = {f"m{at}": key for at, key in enumerate(k for k in LINK.curves if k[0] in RAW)}
DIALECT = f"""
schema = "urn:sweepbook:dialect-0"
name = "t"
title = "T"
format = "xml"
[xml]
test = "/job/test"
[[xml.axes]]
path = "steps"
list = "."
[[xml.curves]]
path = "curve"
values = "."
[xml.curves.name]
"../meanings/meaning[@id=@of]/@what" = "{{parameter}}"
"../meanings/meaning[@id=@of]/@wires" = "{{pairs}}"
"../meanings/meaning[@id=@of]/@side" = ["{{end}}"]
[[xml.figures]]
path = "worst/case"
worst_margin.margin = "@margin"
worst_margin.frequency = "@at"
[xml.figures.name]
"../../meanings/meaning[@id=@of]/@what" = "{{parameter}}"
"../../meanings/meaning[@id=@of]/@wires" = "{{pairs}}"
"../../meanings/meaning[@id=@of]/@side" = "{{end}}"
{CORE}
"""


def meaning(name: str, parameter: str, end: str | None, pairs: tuple[str, ...]) -> str:
    side = f' side="{SIDES[end]}"' if end else ""
    wires = "-".join(DIGITS[pair] for pair in pairs)
    return f'<meaning id="{name}" what="{WORDS[parameter]}" wires="{wires}"{side}/>'


def export(cases: str = "", told: str | None = None) -> str:
    means = "".join(meaning(name, *key) for name, key in KEPT.items()) if told is None else told
    steps = " ".join(shifted(khz, 3) for khz in KHZ)
    lists = "".join(
        f'<curve of="{name}">{" ".join(shifted(of, 2) for of in LINK.curves[key])}</curve>'
        for name, key in KEPT.items()
    )
    return (
        f'<job><test name="L-1"><meanings>{means}</meanings><steps>{steps}</steps>{lists}'
        f"<worst>{cases}</worst></test></job>"
    )


def test_curves_are_named_by_what_they_refer_to(tmp_path: Path) -> None:
    path = tmp_path / "export.xml"
    path.write_text(export(), encoding="utf-8")
    (record,), problems = read(path, DIALECT)
    assert problems == []
    assert curves(record.document) == written(LINK, *RAW)
    assert record.document.get("extra", {}) == {}


def test_figures_are_named_by_what_they_refer_to(tmp_path: Path) -> None:
    near = next(name for name, key in KEPT.items() if key == ("next", "near", ("1-2", "4-5")))
    path = tmp_path / "export.xml"
    case = f'<case of="{near}" margin="4.25" at="220"/>'
    path.write_text(export(case), encoding="utf-8")
    (record,), problems = read(path, DIALECT)
    assert problems == []
    (item,) = record.document["stated"]["items"]
    assert (item["parameter"], item["pairs"], item["end"]) == ("next", ["1-2", "4-5"], "near")
    assert item["worst_margin"]["margin_db"] == 4.25


def test_an_element_may_have_its_id_in_a_child(tmp_path: Path) -> None:
    path = tmp_path / "export.xml"
    told = re.sub('<meaning id="(m[0-9]+)"(.*?)/>', r"<meaning\2><id>\1</id></meaning>", export())
    path.write_text(told, encoding="utf-8")
    (record,), problems = read(path, DIALECT.replace("[@id=@of]", "[id=@of]"))
    assert problems == []
    assert curves(record.document) == written(LINK, *RAW)
    assert record.document.get("extra", {}) == {}


def test_names_exchanged_are_curves_exchanged(tmp_path: Path) -> None:
    first, second, *rest = KEPT.items()
    swapped = [(first[0], second[1]), (second[0], first[1]), *rest]
    path = tmp_path / "export.xml"
    told = "".join(meaning(name, *key) for name, key in swapped)
    path.write_text(export(told=told), encoding="utf-8")
    (record,), _ = read(path, DIALECT)
    right = written(LINK, *RAW)
    assert curves(record.document) == {
        **right,
        first[1]: right[second[1]],
        second[1]: right[first[1]],
    }


@pytest.mark.parametrize("of", ['of="m99" ', 'of="" ', ""])
def test_what_refers_to_nothing_is_kept_and_told(of: str, tmp_path: Path) -> None:
    """Nor is it taken for an element without an id."""
    means = "".join(meaning(name, *key) for name, key in KEPT.items())
    told = f'{means}<meaning what="RL" wires="12" side="A"/>'
    path = tmp_path / "export.xml"
    path.write_text(export(f'<case {of}margin="4.25" at="220"/>', told), encoding="utf-8")
    (record,), problems = read(path, DIALECT)
    assert "stated" not in record.document or "items" not in record.document["stated"]
    assert "4.25" in str(record.document["extra"])
    assert any("worst/case" in problem.place for problem in problems)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('link.label = "@name"', 'link.label = "a[@id=@of]/@name"'),
        ('margin = "@margin"', 'margin = "../c[@id=@of]/@margin"'),
        ('path = "steps"', 'path = "steps[@id=@of]"'),
    ],
)
def test_only_names_may_refer(old: str, new: str, tmp_path: Path) -> None:
    path = tmp_path / "export.xml"
    path.write_text(export(), encoding="utf-8")
    with pytest.raises(BadDialect, match="which only a path in `name` may"):
        read(path, DIALECT.replace(old, new))


def test_a_text_that_begins_with_the_sign_stands_in_quotes(tmp_path: Path) -> None:
    path = tmp_path / "export.xml"
    text = export().replace('<test name="L-1">', '<test><of is="@x" name="L-1"/>')
    path.write_text(text, encoding="utf-8")
    dialect = DIALECT.replace('link.label = "@name"', "link.label = \"of[@is='@x']/@name\"")
    (record,), problems = read(path, dialect)
    assert problems == []
    assert record.label == "L-1"
