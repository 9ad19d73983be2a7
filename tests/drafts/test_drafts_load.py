"""A draft is a dialect that loads, whatever export it is of, since a person changes it from there.

`conftest` holds every draft made in this folder to that; here are the files of the guide, and
figures with a column of units that is blank where a row has none.
"""

from pathlib import Path

from sweepbook.draft.document import compose
from sweepbook.registry import load
from sweepbook.source import Source
from tests.guide import blocks

from .drafting import LIBRARY, curves, draft_of, read, refusal, written
from .links import WORDS, link
from .test_tables_joined import CASES, RAW, drafted, files, gathered, stated
from .test_titled import LINKS, elements, export
from .test_titled_figures import LENGTHS, MARGINS, items, length_rows, margin_rows, scalars, table

PAIR = ("12", "36", "45", "78")


def test_files_of_the_guide(tmp_path: Path) -> None:
    """Some are too short for a draft; each of the others is of another layout."""
    draft, made = load().formats["csv"].draft, 0
    assert draft is not None
    for number, text in enumerate(blocks("csv")):
        path = tmp_path / f"{number}.csv"
        path.write_text(text, encoding="utf-8")
        if (tables := draft([Source(path)], LIBRARY)) is not None:
            made += 1
            assert refusal(compose("csv", [path.name], tables)) == "", text
    assert made >= 15


def test_units_that_are_blank_in_a_joined_table(tmp_path: Path) -> None:
    links = [link("C-1", 31.0), link("C-2", 88.5), link("C-3", 12.0)]
    texts = files(links)
    rows = ["Nr;Quantity;Heard;Driven;Side;Value;Unit of value;At kHz;Margin dB"]
    for nr, one in enumerate(links, 611):
        rows += [f"{nr};Length;{pair};;;{one.metres:.1f};m;;" for pair in PAIR]
        rows += [f"{nr};Delay;{pair};;;{one.metres * 5:.0f};ns;;" for pair in PAIR]
        for parameter, end, pairs, margin, khz in CASES:
            told = [WORDS[parameter], *(of.replace("-", "") for of in pairs), ""][:3]
            side = {None: "", "near": "base", "far": "hand"}[end]
            rows.append(";".join([str(nr), *told, side, "", "", str(khz), margin]))
    texts["worst"] = "\n".join([*rows, ""])
    draft = drafted(tmp_path, texts)
    assert '"Unit of value" = ["{unit}", ""]' in draft
    documents = gathered(tmp_path, texts, draft)
    wanted = sorted(
        ((p, end, pairs, float(db), khz / 1000) for p, end, pairs, db, khz in CASES), key=str
    )
    for document, one in zip(documents, links, strict=True):
        assert curves(document) == written(one, *RAW)
        assert stated(document) == wanted
        lengths = [of["length_m"] for of in document["results"]["scalars"] if "length_m" in of]
        assert lengths == [one.metres] * 4


def test_units_that_are_blank_in_xml(tmp_path: Path) -> None:
    titles = ("parameter", "side", "pair", "value", "unit", "frequency MHz", "margin dB", "result")
    rows = [[*of[:3], "", "", *of[3:]] for of in margin_rows(".")]
    for pair, delay, length in length_rows("."):
        rows.append(["delay", "", pair, delay, "ns", "", "", "good"])
        rows.append(["length", "", pair, length, "m", "", "", "good"])
    text = export(elements).replace("</link>", table("all", elements, titles, rows) + "</link>")
    draft = draft_of(tmp_path, text, "export.xml")
    assert '["{unit}", ""]' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        margins = [of for of in record.document["stated"]["items"] if "worst_margin" in of]
        assert sorted(items({"stated": {"items": margins}})) == sorted(MARGINS)
        assert scalars(record.document) == LENGTHS
