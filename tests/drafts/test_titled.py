"""Drafts of XML tables whose columns are titled by elements or texts of their own."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.program import run

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next")
NUMBER = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
WORDS = {"insertion_loss": "Attenuation", "return_loss": "RL", "next": "NEXT"}
SIDES = {None: "", "near": ' side="local"', "far": ' side="remote"'}

Write = Callable[[str, list[str]], str]


def elements(tag: str, cells: list[str]) -> str:
    return f"<{tag}>{''.join(f'<c>{cell}</c>' for cell in cells)}</{tag}>"


def joined(mark: str) -> Write:
    return lambda tag, cells: f"<{tag}>{mark.join(cells)}</{tag}>"


def in_attribute(tag: str, cells: list[str]) -> str:
    return elements(tag, cells).replace("<c>", '<c is="').replace("</c>", '"/>')


def table(one: Link, parameter: str, end: str | None, write: Write, limit: bool, mark: str) -> str:
    """The curves of a parameter at an end, a column each."""
    keys = [key for key in one.curves if key[:2] == (parameter, end)]
    called = ["Pair " + "-".join(NUMBER[pair] for pair in pairs) for *_, pairs in keys]
    more = ["40"] * limit
    head = write("heads", ["MHz", *called, *["Limit"] * limit])
    rows = [
        [shifted(khz, 3, mark), *(shifted(one.curves[key][at], 2, mark) for key in keys), *more]
        for at, khz in enumerate(KHZ)
    ]
    lines = "".join(write("line", row) for row in rows)
    return f'<table of="{WORDS[parameter]}"{SIDES[end]}>{head}{lines}</table>'


def export(write: Write, limit: bool = False, mark: str = ".") -> str:
    """Several tests, each with a table a parameter and end."""
    lines = ["<survey>"]
    for one in LINKS:
        lines.append(f'<link name="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>')
        lines.append("<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>")
        for parameter, ends in (("insertion_loss", (None,)), ("return_loss", ("near", "far")),
                                ("next", ("near", "far"))):  # fmt: skip
            lines += [table(one, parameter, end, write, limit, mark) for end in ends]
        lines.append("</link>")
    return "\n".join([*lines, "</survey>\n"])


@pytest.mark.parametrize(
    ("write", "mark"),
    [
        (elements, "."),
        (elements, ","),
        (in_attribute, "."),
        (joined(";"), "."),
        (joined("; "), ","),
        (joined("\t"), ","),
        (joined("|"), "."),
        (joined(", "), "."),
    ],
)
@pytest.mark.parametrize("limit", [False, True])
def test_the_draft_needs_no_change(write: Write, mark: str, limit: bool, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(write, limit, mark), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert len(records) == len(LINKS)
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_without_titles_nobody_can_know_which_column_is_which(tmp_path: Path) -> None:
    text = re.sub("<heads>.*?</heads>", "", export(joined(";")))
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    result = run("dialect", "draft", tmp_path / "export.xml")
    assert result.exit_code == 3
    assert "No table of sweeps was found" in result.output
