"""Drafts of XML tables in which several texts title a column together."""

from collections.abc import Callable
from itertools import groupby
from pathlib import Path

import pytest

from sweepbook_plugins.xml.draft.titled import in_one_order

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next")
WORDS = {"insertion_loss": "Attenuation", "return_loss": "Return loss", "next": "NEXT"}
NUMBER = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
SIDES = {None: "", "near": "local", "far": "remote"}

Column = dict[str, str]
Write = Callable[[list[Column]], str]


def columns_of(one: Link) -> list[Column]:
    """What each column says, the frequencies first."""
    found = [{"what": "Frequency", "unit": "MHz"}]
    for parameter, end, pairs in one.curves:
        if parameter in RAW:
            pair = "-".join(NUMBER[pair] for pair in pairs)
            side = {"side": SIDES[end]} if end else {}
            found.append({"what": WORDS[parameter], "pair": pair, **side, "unit": "dB"})
    return found


def attributes(column: Column) -> str:
    return "".join(f' {name}="{text}"' for name, text in column.items())


def in_attributes(columns: list[Column]) -> str:
    return "".join(f"<c{attributes(column)}/>" for column in columns)


def counted(columns: list[Column]) -> str:
    """With a number for each column that says nothing of it."""
    return in_attributes([{"no": str(at), **column} for at, column in enumerate(columns, 1)])


def without_units(columns: list[Column]) -> str:
    rest = [{name: text for name, text in of.items() if name != "unit"} for of in columns]
    return in_attributes(rest)


def in_elements(columns: list[Column]) -> str:
    told = ("".join(f"<{name}>{text}</{name}>" for name, text in of.items()) for of in columns)
    return "".join(f"<c>{of}</c>" for of in told)


def in_its_own_text(columns: list[Column]) -> str:
    rest = [{name: text for name, text in of.items() if name != "what"} for of in columns]
    return "".join(
        f"<c{attributes(one)}>{of['what']}</c>" for one, of in zip(rest, columns, strict=True)
    )


def in_groups(columns: list[Column]) -> str:
    """What is measured stands around the columns of one kind."""
    found = ""
    for what, some in groupby(columns, lambda column: column["what"]):
        rest = [{name: text for name, text in of.items() if name != "what"} for of in some]
        found += f'<g of="{what}">{in_attributes(rest)}</g>'
    return found


def table(one: Link, write: Write) -> str:
    keys = [key for key in one.curves if key[0] in RAW]
    rows = (
        [shifted(khz, 3), *(shifted(one.curves[key][at], 2) for key in keys)]
        for at, khz in enumerate(KHZ)
    )
    lines = "".join(f"<line>{' '.join(row)}</line>" for row in rows)
    return f"<table><heads>{write(columns_of(one))}</heads>{lines}</table>"


def export(write: Write, links: list[Link] = LINKS) -> str:
    lines = ["<survey>"]
    for one in links:
        lines.append(f'<link name="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>')
        lines.append("<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>")
        lines.append(f"{table(one, write)}</link>")
    return "\n".join([*lines, "</survey>\n"])


@pytest.mark.parametrize(
    "write",
    [in_attributes, counted, without_units, in_elements, in_its_own_text, in_groups],
    ids=lambda write: write.__name__,
)
@pytest.mark.parametrize("links", [LINKS, LINKS[:1]], ids=["two tests", "one"])
def test_the_draft_needs_no_change(write: Write, links: list[Link], tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(write, links), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert len(records) == len(links)
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert record.document["stated"]["overall"]["verdict"] == "pass"
        left = {key for key in record.document.get("extra", {}) if "/heads/" in key}
        assert left <= {"table/heads/c/@no"}


def by_parameter(one: Link) -> str:
    """A table for each parameter; what its columns say differs, and rows say their frequency."""
    tables = ""
    for parameter, word in WORDS.items():
        keys = [key for key in one.curves if key[0] == parameter]
        heads = ""
        for _, end, pairs in keys:
            name = "pairs" if len(pairs) > 1 else "pair"
            side = f' side="{SIDES[end]}"' if end else ""
            heads += f'<c {name}="{"/".join(NUMBER[pair] for pair in pairs)}"{side}/>'
        points = zip(KHZ, zip(*(one.curves[key] for key in keys), strict=True), strict=True)
        rows = "".join(
            f'<line f_kHz="{khz}">{" ".join(shifted(value, 2) for value in values)}</line>'
            for khz, values in points
        )
        tables += f'<table of="{word}"><heads>{heads}</heads>{rows}</table>'
    return tables


def test_columns_of_several_kinds_of_table_are_said_alike(tmp_path: Path) -> None:
    made = export(in_attributes)
    for one in LINKS:
        made = made.replace(table(one, in_attributes), by_parameter(one))
    draft = draft_of(tmp_path, made, "export.xml")
    assert draft.count("[[xml.curves]]") == 1
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert "extra" not in record.document


@pytest.mark.parametrize(
    ("lists", "merged"),
    [
        ([["a"], ["a", "c"], ["b", "c"]], ["a", "b", "c"]),
        ([["a", "b"], ["b", "a"]], None),
        ([["x"], ["y"]], ["x", "y"]),
    ],
)
def test_texts_are_put_in_one_order(lists: list[list[str]], merged: list[str] | None) -> None:
    assert in_one_order(lists) == merged
