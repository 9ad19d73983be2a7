"""Rows of single figures below titles that are elements or a text themselves.

What is asked of each export is what was written into it, as plain numbers.
"""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sweepbook.dialect.load import BadDialect
from tests.drafts.drafting import read

CORE = """
[fields]
link.label = "@name"
[words.parameters]
return_loss = "RL"
next = "NEXT"
length = "length"
propagation_delay = "delay"
insertion_loss = "IL"
[words.pairs]
1-2 = "12"
3-6 = "36"
4-5 = "45"
7-8 = "78"
[words.ends]
near = "A"
far = "B"
[words.verdicts]
pass = "ok"
fail = "bad"
[crosstalk]
first = "disturbing"
between = "-"
[units]
length = "m"
delay = "ns"
"""
CURVE = """
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}" }
point = { path = "p", frequency = "@f", value = "." }
"""
MARGINS = [
    ["what", "pair", "side", "margin", "MHz", "verdict"],
    ["NEXT", "12-36", "A", "3.1", "100", "ok"],
    ["NEXT", "36-45", "B", "-0.4", "61.5", "bad"],
    ["RL", "12", "A", "1.8", "240", "ok"],
]
LENGTHS = [["pair", "delay ns", "length m"], ["12", "231", "47.0"], ["36", "233", "47.6"]]

Rows = list[list[str]]
Write = Callable[[str, list[str]], str]


def elements(tag: str, cells: list[str]) -> str:
    return f"<{tag}>{''.join(f'<c>{cell}</c>' for cell in cells)}</{tag}>"


def attributes(tag: str, cells: list[str]) -> str:
    return elements(tag, cells).replace("<c>", '<c is="').replace("</c>", '"/>')


def joined(mark: str, end: str = "") -> Write:
    return lambda tag, cells: f"<{tag}>{mark.join(cells)}{end}</{tag}>"


def export(write: Write, of: str = "worst", table: Rows = MARGINS, more: str = "") -> str:
    rows = "".join(write("r", row) for row in table[1:])
    curve = '<c of="IL" pair="12"><p f="1">1.9</p><p f="2">2.4</p></c>'
    held = f"<{of}>{write('heads', table[0])}{rows}{more}</{of}>"
    return f'<job><test name="L-1">{curve}{held}</test></job>'


NAME = 'name = { what = "{parameter}", pair = "{pairs}", side = "{end}" }'
STATED = f"""{NAME}
worst_margin.margin = "margin"
worst_margin.frequency = ["f", "MHz"]
verdict = "verdict"
"""
VALUES = """name = { pair = "{pairs}" }
value = "{parameter} {unit}"
"""


def dialect(how: str, roles: str = STATED, path: str = "worst", name: str = "") -> str:
    return (
        'schema = "urn:sweepbook:dialect-0"\nname = "t"\ntitle = "T"\nformat = "xml"\n'
        f'[xml]\ntest = "/job/test"\n{CURVE}[[xml.figures]]\npath = "{path}"\n{name}\n'
        f'[xml.figures.row]\npath = "r"\n{how}\n{roles}{CORE}'
    )


def record(tmp_path: Path, text: str, of: str) -> tuple[dict[str, Any], list[str]]:
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    (one,), problems = read(tmp_path / "export.xml", of)
    return one.document, [problem.message for problem in problems]


def items(document: dict[str, Any]) -> set[tuple[Any, ...]]:
    """What is stated: parameter, end, pairs, margin, frequency and verdict."""
    return {
        (
            item["parameter"],
            item.get("end"),
            tuple(item["pairs"]),
            item["worst_margin"]["margin_db"],
            item["worst_margin"]["frequency_mhz"],
            item["verdict"],
        )
        for item in document["stated"]["items"]
    }


WANTED = {
    ("next", "near", ("1-2", "3-6"), 3.1, 100, "pass"),
    ("next", "far", ("3-6", "4-5"), -0.4, 61.5, "fail"),
    ("return_loss", "near", ("1-2",), 1.8, 240, "pass"),
}
IN_ELEMENTS = 'titles = "heads/c"\ncells = "c"'
IN_TEXTS = 'titles = "heads"\nseparator = "|"'


@pytest.mark.parametrize(
    ("text", "how"),
    [
        (export(elements), IN_ELEMENTS),
        (export(attributes), 'titles = "heads/c/@is"\ncells = "c/@is"'),
        (export(joined("|")), IN_TEXTS),
        (export(joined(" | ", " |")), IN_TEXTS),
        (export(joined(";")), 'titles = "heads"\nseparator = ";"'),
        (export(joined("\t")), 'titles = "heads"\nseparator = "\\t"'),
        (export(joined(" ")), 'titles = "heads"'),
        (
            re.sub("<r>(.*?)</r>", r'<r all="\1"/>', export(joined("|"))),
            'titles = "heads"\ncells = "@all"\nseparator = "|"',
        ),
        (
            export(joined("|"))
            .replace("<worst><heads>", '<worst cols="')
            .replace("</heads>", '">', 1),
            'titles = "@cols"\nseparator = "|"',
        ),
    ],
)
def test_every_figure_is_taken_and_nothing_is_left(text: str, how: str, tmp_path: Path) -> None:
    document, messages = record(tmp_path, text, dialect(how))
    assert messages == []
    assert items(document) == WANTED
    assert document.get("extra", {}) == {}


def test_titles_that_name_what_is_below_them(tmp_path: Path) -> None:
    text = export(joined("|"), "figures", LENGTHS)
    document, messages = record(tmp_path, text, dialect(IN_TEXTS, VALUES, "figures"))
    assert messages == []
    found = {
        (of["parameter"], *of["pairs"], of.get("length_m", of.get("delay_ns")))
        for of in document["results"]["scalars"]
    }
    assert found == {
        ("length", "1-2", 47.0),
        ("length", "3-6", 47.6),
        ("propagation_delay", "1-2", 231),
        ("propagation_delay", "3-6", 233),
    }
    assert document.get("extra", {}) == {}


def test_what_is_around_the_rows_may_name_them(tmp_path: Path) -> None:
    rows = [[cell for at, cell in enumerate(row) if at != 2] for row in [MARGINS[0], MARGINS[1]]]
    text = export(joined("|"), table=rows).replace("<worst>", '<worst at="B">')
    roles = STATED.replace(', side = "{end}"', "")
    of = dialect(IN_TEXTS, roles, name='name = { "@at" = "{end}" }')
    document, messages = record(tmp_path, text, of)
    assert messages == []
    assert items(document) == {("next", "far", ("1-2", "3-6"), 3.1, 100, "pass")}
    assert document.get("extra", {}) == {}


def test_a_row_and_a_column_that_nothing_is_known_by_are_kept_and_told(tmp_path: Path) -> None:
    table = [[*MARGINS[0], "note"], *([*row, "n"] for row in MARGINS[1:])]
    table.append(["ELFX", "12-36", "A", "2.0", "3", "ok", ""])
    document, messages = record(tmp_path, export(joined("|"), table=table), dialect(IN_TEXTS))
    assert items(document) == WANTED
    assert document["extra"] == {
        "worst/r": "what: ELFX; pair: 12-36; side: A; margin: 2.0; MHz: 3; verdict: ok",
        "worst/r/note": "n\nn\nn",
    }
    rows, columns = messages
    assert "'ELFX 12-36 A'" in rows
    assert "'note'" in columns
    told = dialect(IN_TEXTS + '\nother_columns = "note"')
    document, messages = record(tmp_path, export(joined("|"), table=table), told)
    assert len(messages) == 1
    assert document["extra"]["worst/r/note"] == "n\nn\nn\n"


def test_a_figure_that_has_no_name_in_its_row_is_kept(tmp_path: Path) -> None:
    table = [[*LENGTHS[0], "RL A"], *([*row, "3.5"] for row in LENGTHS[1:])]
    roles = VALUES + 'worst_margin.margin = "{parameter} {end}"\n'
    document, messages = record(
        tmp_path, export(joined("|"), "figures", table), dialect(IN_TEXTS, roles, "figures")
    )
    assert messages == []
    assert len(document["stated"]["items"]) == 2
    assert document.get("extra", {}) == {}


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ([["a", "b"], ["c", "d"]], "has the title 'what', 'pair', 'side'"),
        ([MARGINS[0], ["X", "12", "A", "1", "2", "ok"]], "by the name 'X 12 A' of these rows"),
    ],
)
def test_rows_of_which_nothing_is_known_stay_as_they_are(
    table: Rows, said: str, tmp_path: Path
) -> None:
    document, (told,) = record(tmp_path, export(joined("|"), table=table), dialect(IN_TEXTS))
    assert said in told
    assert document["extra"]["worst/heads"] == "|".join(table[0])
    assert document["extra"]["worst/r"] == "|".join(table[1])


def test_what_nobody_knows_in_the_rows_of_many_tests_is_told_of_the_first(tmp_path: Path) -> None:
    strange = [*MARGINS, ["X", "12", "A", "1", "2", "ok"]]
    one = export(joined("|"), table=strange)[len("<job>") : -len("</job>")]
    both = one + one.replace("L-1", "L-2")
    (tmp_path / "export.xml").write_text(f"<job>{both}</job>", encoding="utf-8")
    records, (problem,) = read(tmp_path / "export.xml", dialect(IN_TEXTS))
    assert "by the name 'X 12 A' of these rows" in problem.message
    assert [record.label for record in records] == ["L-1", "L-2"]
    assert len({record.document["extra"]["worst/r"] for record in records}) == 1


def test_no_rows_are_no_fault(tmp_path: Path) -> None:
    document, messages = record(tmp_path, export(joined("|"), table=MARGINS[:1]), dialect(IN_TEXTS))
    assert messages == []
    assert "stated" not in document


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("|100|ok", "|ok", "row 1: the row has 5 cells where there are 6 titles"),
        ("what|pair", "pair|pair", "the title 'pair' comes twice"),
    ],
)
def test_cells_are_never_moved_to_other_titles(
    old: str, new: str, said: str, tmp_path: Path
) -> None:
    text = export(joined("|"))
    assert old in text
    (tmp_path / "export.xml").write_text(text.replace(old, new), encoding="utf-8")
    records, (problem,) = read(tmp_path / "export.xml", dialect(IN_TEXTS))
    assert records == []
    assert said in f"{problem.place}: {problem.message}"
    assert "xml.figures.row" in problem.message


def test_what_else_stands_in_a_row_is_kept(tmp_path: Path) -> None:
    text = export(joined("|")).replace("<r>", '<r no="7">', 1)
    document, (told,) = record(tmp_path, text, dialect(IN_TEXTS))
    assert "'@no'" in told
    assert items(document) == WANTED
    assert document["extra"] == {"worst/r/@no": "7"}


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('titles = "heads"\n', "", "titles"),
        ('"{parameter}"', '"{parametr}"', "row.name.what"),
        ('what = "{parameter}", ', "", "nothing holds {parameter}"),
        (STATED.removeprefix(NAME), "\n", "says of no column what figure it holds"),
        ('path = "r"', 'path = "."', "rows are elements inside the element"),
    ],
)
def test_a_dialect_that_cannot_be_is_refused(old: str, new: str, said: str, tmp_path: Path) -> None:
    of = dialect(IN_TEXTS)
    assert old in of
    with pytest.raises(BadDialect, match=r"xml\.figures") as told:
        record(tmp_path, export(joined("|")), of.replace(old, new))
    assert said in str(told.value)
