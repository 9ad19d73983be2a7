"""Whatever an export calls things, the draft for it is one that the reader takes."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.dialect.load import parse
from sweepbook.registry import load

from .drafting import draft_of, read
from .links import blocks, elements, link, lists, long, wide
from .odd_files import (
    all_numbers,
    ends_by_elements,
    in_attributes,
    one_table,
    with_a_closing_line,
    with_limits,
    with_marks,
)

ONE = link("A-07", 52.4)
TWO = [ONE, link("A-08", 20.0)]
ALL = ("insertion_loss", "return_loss", "next", "fext")
LAYOUTS: dict[str, Callable[[], str]] = {
    "wide.csv": lambda: wide(ONE, *ALL),
    "long.csv": lambda: long(TWO, lambda _, end: end),
    "blocks.csv": lambda: blocks(TWO),
    "limits.csv": lambda: with_limits(ONE),
    "marks.csv": lambda: with_marks(TWO),
    "table.csv": lambda: one_table(TWO),
    "closing.csv": lambda: with_a_closing_line(ONE),
    "rows under headings.csv": lambda: headed(),
    "lists.xml": lambda: lists(TWO),
    "elements.xml": lambda: elements(ONE),
    "attributes.xml": lambda: in_attributes(ONE),
    "numbers.xml": lambda: all_numbers(TWO),
    "ends.xml": lambda: ends_by_elements(ONE),
}
NAMES = re.compile(
    r"(?<![A-Za-z])(attenuation|insertionloss|returnloss|RL|IL|NEXT|FEXT|ACR-F|dimness|echo)(?![A-Za-z])",
    re.IGNORECASE,
)
UNHEARD = {"L": "Murrel", "S": "Tennick", "T": "Oddle", "F": "Vesk", "O": "Brannel", "N": "Quill"}


def headed() -> str:
    """Tests one after another, a table of points below each heading; which word says the pairs."""
    lines = ["Quernstone survey"]
    for one in TWO:
        lines += ["BEGIN", f"Circuit;{one.label}", "Outcome;PASS"]
        for parameter in ("insertion_loss", "next"):
            lines += [f"-- {parameter.replace('insertion_loss', 'IL').upper()}", "Von;Nach;kHz;dB"]
            for (name, end, pairs), values in one.curves.items():
                if name == parameter and end != "far":
                    first, second = (*(pair.replace("-", "") for pair in pairs), "")[:2]
                    lines += [
                        f"{first};{second};{n + 1}000;{v / 100}" for n, v in enumerate(values)
                    ]
    return "\n".join(lines) + "\n"


CHANGES: dict[str, Callable[[str], str]] = {
    "names that no trade has": lambda text: NAMES.sub(
        lambda match: UNHEARD.get(match[1][-1].upper(), match[1][::-1]), text
    ),
    "one name for all": lambda text: NAMES.sub("Thing", text),
    "pins with a plus sign": lambda text: re.sub(
        r"(?<![\w.])([1347])-?([2568])(?![\w.])", r"\1+\2", text
    ),
    "no label": lambda text: re.sub("(?i)label|circuit|outlet|cableid|cable-id", "zzz", text),
}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_draft_is_accepted_by_its_own_reader(tmp_path: Path, layout: str) -> None:
    """The order of two pairs alone may wait for a person: it changes verdicts."""
    formats = load().formats
    texts = {change(LAYOUTS[layout]()) for change in CHANGES.values()}
    for text in texts:
        draft = draft_of(tmp_path, text, f"export.{layout.rpartition('.')[2]}")
        settled = draft.replace('\nfirst = "TO-BE-SETTLED"\n', '\nfirst = "disturbing"\n')
        dialect = parse(settled.encode(), "draft.toml")
        check = formats[dialect.format].check_dialect
        assert check is not None
        check(dialect)


def test_pins_with_a_plus_sign_are_pairs(tmp_path: Path) -> None:
    text = re.sub(r"(?<=,)(\d)-(\d)(?=,)", r"\1+\2", long(TWO, lambda _, end: end))
    draft = draft_of(tmp_path, text)
    assert '\n4-5 = "4+5"\n' in draft
    assert '\n7-8 = "7+8"\n' in draft


def test_tests_are_told_apart_by_their_first_lines_and_not_by_a_column(tmp_path: Path) -> None:
    text = CHANGES["names that no trade has"](headed())
    draft = draft_of(tmp_path, text)
    assert '\ntest = "Von"' not in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-07", "A-08"]
    found = {sweep["parameter"] for sweep in records[0].document["results"]["sweeps"]}
    assert found == {"insertion_loss", "next"}, "told by the course of the curves"


def test_where_no_word_is_known_the_place_for_it_is_told(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, CHANGES["one name for all"](ends_by_elements(ONE)), "export.xml")
    above = draft[: draft.index('\npath = "{end}End/{parameter}"')].rpartition("[[xml.curves]]")[2]
    assert "COULD NOT TELL: no known word says what is measured here" in above
