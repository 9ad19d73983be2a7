"""Drafts of XML whose margins stand in a file of their own, an element each that names its test."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from sweepbook.record.model import Record
from tests.joined.test_join import pipeline
from tests.program import run

from .drafting import curves, written
from .links import KHZ, WORDS, Key, Link, link, shifted

LINKS = {
    "t-8101": link("HV-01", 31.0),
    "t-8107": link("HV-02", 52.5),
    "t-8112": link("HX-01", 77.0),
}
"""By what their curves are called."""
RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": "<side>local</side>", "far": "<side>remote</side>"}
WORST: list[tuple[Key, int]] = [
    (("return_loss", "near", ("1-2",)), 3),
    (("next", "far", ("1-2", "3-6")), 5),
]
"""What a margin is of, and the place of its frequency."""


def named(parameter: str, end: str | None, pairs: Sequence[str]) -> str:
    return f"<what>{WORDS[parameter]}</what><pair>{'/'.join(pairs)}</pair>{SIDES[end]}"


def traces(key: str, one: Link) -> str:
    """The curves of a test."""
    axis = " ".join(map(str, KHZ))
    lines = [f'<traces id="{key}"><axis unit="kHz">{axis}</axis>']
    for name, values in one.curves.items():
        if name[0] in RAW:
            text = " ".join(shifted(of, 2) for of in values)
            lines.append(f"<trace>{named(*name)}<values>{text}</values></trace>")
    return "\n".join([*lines, "</traces>\n"])


def log() -> str:
    """Which link a file of curves is of."""
    rows = [
        f"<survey><repère>{one.label}</repère><curves>{key}</curves><outcome>pass</outcome>"
        "<norm>TIA-568.2-D Cat 6A PL</norm></survey>"
        for key, one in LINKS.items()
    ]
    return "\n".join(["<log>", *rows, "</log>\n"])


def margins(keys: Sequence[str], told: str) -> str:
    """An element a margin.

    Args:
        keys: tests that have some.
        told: how an element says of which test it is, with {} for the key.
    """
    opening, _, inner = told.partition(">")
    rows = [
        f"{opening.format(key)}>{inner.format(key)}{named(*name)}"
        f"<db>{shifted(10 + 7 * row + number, 1)}</db><khz>{KHZ[at]}</khz></margin>"
        for row, key in enumerate(keys)
        for number, (name, at) in enumerate(WORST)
    ]
    return "\n".join(["<margins>", *rows, "</margins>\n"])


def stated(document: dict[str, Any]) -> list[tuple[object, ...]]:
    """The margins that a record states: of what, how much, and where."""
    return [
        (
            *(of["parameter"], of.get("end"), (*of["pairs"],)),
            *(of["worst_margin"]["margin_db"], of["worst_margin"]["frequency_mhz"]),
        )
        for of in document["stated"].get("items", [])
    ]


def drafted(folder: Path, told: str, keys: Sequence[str]) -> tuple[str, list[Any]]:
    (folder / "traces").mkdir()
    for key, one in LINKS.items():
        (folder / "traces" / f"{key}.xml").write_text(traces(key, one), encoding="utf-8")
    (folder / "log.xml").write_text(log(), encoding="utf-8")
    (folder / "margins.xml").write_text(margins(keys, told), encoding="utf-8")
    paths = sorted(folder.rglob("*.xml"))
    draft = run("dialect", "draft", *paths).stdout
    return draft, list(pipeline(folder, draft).read_all([folder]))


@pytest.mark.parametrize("count", [3, 2])
@pytest.mark.parametrize("told", ['<margin curves="{}">', "<margin><run>{}</run>"])
def test_margins_go_to_the_test_that_each_names(told: str, count: int, tmp_path: Path) -> None:
    draft, items = drafted(tmp_path, told, list(LINKS)[:count])
    assert [item.label for item in items if isinstance(item, Record)] == [
        one.label for one in LINKS.values()
    ], draft
    assert len(items) == len(LINKS), items
    for row, (item, one) in enumerate(zip(items, LINKS.values(), strict=True)):
        assert curves(item.document) == written(one, *RAW)
        expected = [
            (*name, (10 + 7 * row + number) / 10, KHZ[at] / 1000)
            for number, (name, at) in enumerate(WORST)
        ]
        assert stated(item.document) == (expected if row < count else [])


def test_what_names_no_test_joins_nothing(tmp_path: Path) -> None:
    draft, _ = drafted(tmp_path, '<margin curves="{}">', ["u-1", "u-2", "u-3"])
    assert "pieces_by" not in draft
    assert "margins.xml" in draft.partition("[xml]\n")[0].partition("format =")[2]
