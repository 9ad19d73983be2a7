"""Drafts of rows told by their first cell of which each of one kind holds a whole curve."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

NAMES = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT"}
SIDES = {None: "", "near": "here", "far": "there"}
LINKS = [link("L-1", 35.5), link("L-2", 80.0)]


def export(links: list[Link], before: str, unit: str) -> str:
    frequencies = ";".join(f"{khz}{unit}" for khz in KHZ)
    lines = ["# Lorn 2", f"{before}T;test;link;rule;begun;outcome"]
    lines += [f"{before}C;test;quantity;pair;other;side;{frequencies}"]
    for number, one in enumerate(links, 1):
        lines.append(f"T;{number};{one.label};Cat 6A PL;2026-03-04 14:2{number};PASS")
        for (name, end, pairs), values in one.curves.items():
            if name in NAMES:
                told = [of.replace("-", "") for of in (*pairs, "")][:2]
                named = [str(number), NAMES[name], *told, SIDES[end]]
                lines.append(";".join(["C", *named, *(shifted(value, 2) for value in values)]))
    return "\n".join([*lines, ""])


@pytest.mark.parametrize("before", ["", "# "], ids=["titles", "remarks"])
@pytest.mark.parametrize("unit", [" kHz", ""], ids=["with units", "numbers alone"])
def test_rows_with_a_whole_curve_need_no_change(before: str, unit: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(LINKS, before, unit))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for record, one in zip(records, LINKS, strict=True):
        assert curves(record.document) == written(one, *NAMES)
        assert record.document["stated"]["overall"]["verdict"] == "pass"
