"""Rows of numbers below titles that are elements or a text themselves."""

import time
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from tests.drafts.drafting import curves, read, written
from tests.drafts.links import KHZ, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
DIGITS = {"1-2": "12", "3-6": "36", "4-5": "45", "7-8": "78"}
LINK = link("L-1", 35.5)
CORE = """
[fields]
link.label = "@name"
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
next = "NEXT"
[words.pairs]
1-2 = "12"
3-6 = "36"
4-5 = "45"
7-8 = "78"
[words.ends]
near = "A"
far = "B"
[crosstalk]
first = "disturbing"
between = "-"
"""
NAME = '"{parameter} {pairs}", "{parameter} {pairs} {end}"'


def titles(one: Link) -> dict[str, list[int]]:
    """The curves by the titles of their columns."""
    words = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT"}
    ends = {None: "", "near": " A", "far": " B"}
    return {
        f"{words[name]} {'-'.join(DIGITS[pair] for pair in pairs)}{ends[end]}": values
        for (name, end, pairs), values in one.curves.items()
        if name in RAW
    }


def rows_of(one: Link) -> list[list[str]]:
    """The cells of each row, the frequency first."""
    return [
        [shifted(khz, 3), *(shifted(values[at], 2) for values in titles(one).values())]
        for at, khz in enumerate(KHZ)
    ]


def export(head: str, rows: list[str]) -> str:
    return f'<job><test name="L-1"><table>{head}{"".join(rows)}</table></test></job>'


def elements(limit: bool = False) -> str:
    """An element a title and a cell."""
    more = ["Limit"] if limit else []
    head = "".join(f"<c>{title}</c>" for title in ["MHz", *titles(LINK), *more])
    rows = ["".join(f"<v>{cell}</v>" for cell in row + ["40"] * limit) for row in rows_of(LINK)]
    return export(f"<columns>{head}</columns>", [f"<row>{row}</row>" for row in rows])


def in_attributes(tag: str, name: str) -> str:
    return elements().replace(f"<{tag}>", f'<{tag} {name}="').replace(f"</{tag}>", '"/>')


def texts(mark: str, end: str = "") -> str:
    """All titles, and all cells of a row, in one text."""
    head = mark.join(["MHz", *titles(LINK)])
    rows = [f"<row>{mark.join(row)}{end}</row>" for row in rows_of(LINK)]
    return export(f"<columns>{head}{end}</columns>", rows)


def dialect(point: str, path: str = "table") -> str:
    return (
        'schema = "urn:sweepbook:dialect-0"\nname = "t"\ntitle = "T"\nformat = "xml"\n'
        f'[xml]\ntest = "/job/test"\n[[xml.curves]]\npath = "{path}"\n'
        f'point = {{ path = "row", frequency = "MHz", value = [{NAME}], {point} }}\n{CORE}'
    )


CELLS = 'titles = "columns/c", cells = "v"'


def record(tmp_path: Path, text: str, of: str) -> tuple[dict[str, Any], list[str]]:
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    (one,), problems = read(tmp_path / "export.xml", of)
    return one.document, [problem.message for problem in problems]


@pytest.mark.parametrize(
    ("text", "point"),
    [
        (elements(), CELLS),
        (in_attributes("c", "t"), 'titles = "columns/c/@t", cells = "v"'),
        (in_attributes("v", "x"), 'titles = "columns/c", cells = "v/@x"'),
        (texts(";"), 'titles = "columns", separator = ";"'),
        (texts("; ", ";"), 'titles = "columns", separator = ";"'),
        (texts("\t"), 'titles = "columns", separator = "\\t"'),
        (texts(" | "), 'titles = "columns", separator = "|"'),
    ],
)  # fmt: skip
def test_every_curve_is_taken_and_nothing_is_left(text: str, point: str, tmp_path: Path) -> None:
    document, messages = record(tmp_path, text, dialect(point))
    assert messages == []
    assert curves(document) == written(LINK, *RAW)
    assert document.get("extra", {}) == {}


def with_axis(row: list[str], number: int) -> str:
    khz, *values = row
    return f'<row at="{khz}">{" ".join(values)}</row>'


def with_own_axes(write: Callable[[list[str], int], str] = with_axis) -> str:
    """The frequency of each row in an attribute, the other columns in its text."""
    head = "".join(f"<c>{title}</c>" for title in titles(LINK))
    return export(f"<columns>{head}</columns>", [*map(write, rows_of(LINK), count())])


OWN_AXES = dialect('titles = "columns/c"').replace('"MHz"', '"@at"', 1)


def test_the_frequency_of_a_row_may_stand_in_its_attribute(tmp_path: Path) -> None:
    document, messages = record(tmp_path, with_own_axes(), OWN_AXES)
    assert messages == []
    assert curves(document) == written(LINK, *RAW)
    assert document.get("extra", {}) == {}


def test_a_row_without_its_frequency_loses_the_test(tmp_path: Path) -> None:
    def third_lacks(row: list[str], number: int) -> str:
        made = with_axis(row, number)
        return made.replace(" at=", " near=") if number == 2 else made

    (tmp_path / "export.xml").write_text(with_own_axes(third_lacks), encoding="utf-8")
    records, problems = read(tmp_path / "export.xml", OWN_AXES)
    assert records == []
    assert "line 1" in problems[0].message


def test_what_else_stands_at_a_row_with_its_frequency_is_kept(tmp_path: Path) -> None:
    def noted(row: list[str], number: int) -> str:
        return with_axis(row, number).replace(" at=", ' by="x" at=')

    document, (message,) = record(tmp_path, with_own_axes(noted), OWN_AXES)
    assert curves(document) == written(LINK, *RAW)
    assert "@by" in message


def test_titles_beside_the_element_with_the_rows(tmp_path: Path) -> None:
    text = elements().replace("<table>", "").replace("</columns>", "</columns><table>")
    point = CELLS.replace("columns/c", "../columns/c")
    document, messages = record(tmp_path, text, dialect(point))
    assert messages == []
    assert curves(document) == written(LINK, *RAW)
    assert document.get("extra", {}) == {}


def test_other_columns_are_kept_with_a_message_unless_declared(tmp_path: Path) -> None:
    document, (message,) = record(tmp_path, elements(limit=True), dialect(CELLS))
    assert "'Limit'" in message
    assert document["extra"]["table/row/Limit"].count("40") == len(KHZ)
    told = dialect(f'{CELLS}, other_columns = "Limit"')
    document, messages = record(tmp_path, elements(limit=True), told)
    assert messages == []
    assert document["extra"]["table/row/Limit"].count("40") == len(KHZ)
    assert curves(document) == written(LINK, *RAW)


def lost(tmp_path: Path, text: str, of: str) -> str:
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    records, (problem,) = read(tmp_path / "export.xml", of)
    assert records == []
    return problem.message


def test_a_row_that_lacks_a_cell_is_never_moved_to_other_titles(tmp_path: Path) -> None:
    cell = f"<v>{rows_of(LINK)[3][5]}</v>"
    text = elements()
    at = text.index(cell, text.index(f"<v>{rows_of(LINK)[3][0]}</v>"))
    told = lost(tmp_path, text[:at] + text[at + len(cell) :], dialect(CELLS))
    assert "row 4: the row has 24 cells where there are 25 titles" in told
    short = texts(";").replace(f";{rows_of(LINK)[3][5]};", ";", 1)
    told = lost(tmp_path, short, dialect('titles = "columns", separator = ";"'))
    assert "24 cells where there are 25 titles" in told


def test_an_empty_cell_is_a_gap_at_its_place(tmp_path: Path) -> None:
    frequency, cell = rows_of(LINK)[3][:2]
    begin = f"<row><v>{frequency}</v>"
    text = elements().replace(f"{begin}<v>{cell}</v>", f"{begin}<v/>")
    assert "<v/>" in text
    of = dialect(CELLS) + '[numbers]\nmissing = [""]\n'
    document, _ = record(tmp_path, text, of)
    whole = written(LINK, "insertion_loss")["insertion_loss", None, ("1-2",)]
    first = document["results"]["sweeps"][0]
    assert [float(value) for value in first["value_db"]] == whole[:3] + whole[4:]


def test_two_columns_of_one_title_are_refused(tmp_path: Path) -> None:
    text = elements().replace("<c>RL 12 A</c>", "<c>IL 12</c>")
    assert "the title 'IL 12' comes twice" in lost(tmp_path, text, dialect(CELLS))


def test_what_titles_is_told_where_nothing_is_known_by_them(tmp_path: Path) -> None:
    text = elements().replace("<c>", "<c>x ")
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    _, problems = read(tmp_path / "export.xml", dialect(CELLS))
    assert any("xml.curves" in problem.message for problem in problems)


def in_row(old: str, new: str) -> str:
    """The export with something else in its fourth row."""
    begin = f"<row><v>{rows_of(LINK)[3][0]}</v>"
    whole = elements()
    at = whole.index(begin)
    end = whole.index("</row>", at) + len("</row>")
    row = whole[at:end]
    assert row.count(old) >= 1
    return whole[:at] + row.replace(old, new, 1) + whole[end:]


CELL = f"<v>{rows_of(LINK)[3][1]}</v>"


@pytest.mark.parametrize(
    ("text", "key", "kept"),
    [
        (in_row("<row>", "<row bad='yes'>"), "table/row/@bad", "yes"),
        (in_row(CELL, CELL.replace("<v>", "<v unit='dB/100'>")), "table/row/v/@unit", "dB/100"),
        (in_row("</row>", "<note>invalid</note></row>"), "table/row/note", "invalid"),
        (in_row(CELL, CELL.replace("</v>", "<v>2</v></v>")), "table/row/v/v", "2"),
        (in_row("</row>", "see below</row>"), "table/row", "see below"),
    ],
)
def test_all_else_in_a_row_is_kept_with_a_message(
    text: str, key: str, kept: str, tmp_path: Path
) -> None:
    document, messages = record(tmp_path, text, dialect(CELLS))
    assert curves(document) == written(LINK, *RAW)
    assert document["extra"] == {key: kept}
    if not key.endswith("row"):
        (told,) = messages
        assert repr(key.rpartition("/")[2]) in told
        assert "kept in extra" in told


def test_all_else_in_a_row_of_one_text_is_kept(tmp_path: Path) -> None:
    point = 'titles = "columns", separator = ";"'
    text = texts(";").replace("</row>", "<note>BAD</note></row>", 1).replace("<row>", "<row x='1'>")
    document, (told,) = record(tmp_path, text, dialect(point))
    assert curves(document) == written(LINK, *RAW)
    assert document["extra"]["table/row/note"] == "BAD"
    assert document["extra"]["table/row/@x"].count("1") == len(KHZ)
    assert "'note'" in told
    assert "'@x'" in told


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            in_row(CELL, CELL.replace("v>", "x>")),
            "24 cells where there are 25 titles",
        ),
        (
            in_row(CELL, CELL.replace("v>", "x>") + "<v>7</v>"),
            f"<x> stands where a cell might, and holds {rows_of(LINK)[3][1]!r}",
        ),
        (in_row("<row>", "<row><x>9</x>"), "<x> stands where a cell might, and holds '9'"),
        (in_row(CELL, "<v>1<b/>9</v>"), "the text of a cell goes on behind <b> in it"),
    ],
)
def test_what_stands_in_the_place_of_a_cell_loses_the_test(
    text: str, said: str, tmp_path: Path
) -> None:
    told = lost(tmp_path, text, dialect(CELLS))
    assert said in told
    assert "xml.curves.point with its titles, cells" in told


def test_rows_that_all_begin_with_another_element_are_read(tmp_path: Path) -> None:
    text = elements().replace("<row>", "<row><nr>4</nr>")
    document, (told,) = record(tmp_path, text, dialect(CELLS))
    assert "'nr'" in told
    assert curves(document) == written(LINK, *RAW)
    assert document["extra"]["table/row/nr"].count("4") == len(KHZ)
    bare = text.replace("<nr>4</nr>", "", 2)
    assert "stands where a cell might" in lost(tmp_path, bare, dialect(CELLS))


def test_what_means_nothing_may_stand_among_cells(tmp_path: Path) -> None:
    text = in_row(CELL, f"<x>|</x>{CELL}")
    of = dialect(CELLS).replace('test = "/job/test"', 'test = "/job/test"\nskip = "table/row/x"')
    document, messages = record(tmp_path, text, of)
    assert messages == []
    assert curves(document) == written(LINK, *RAW)
    assert "extra" not in document


def test_columns_of_one_title_are_refused_unless_they_are_no_curves(tmp_path: Path) -> None:
    text = elements(limit=True).replace("<c>RL 12 A</c>", "<c>Limit</c>")
    assert "the title 'Limit' comes twice" in lost(tmp_path, text, dialect(CELLS))
    document, messages = record(tmp_path, text, dialect(f'{CELLS}, other_columns = "Limit"'))
    assert messages == []
    kept = document["extra"]["table/row/Limit"].splitlines()
    shown = [row[1 + list(titles(LINK)).index("RL 12 A")] for row in rows_of(LINK)]
    assert kept == [*shown, *["40"] * len(KHZ)]
    assert curves(document).keys() == written(LINK, *RAW).keys() - {
        ("return_loss", "near", ("1-2",))
    }


def test_very_many_titles_are_compared_soon(tmp_path: Path) -> None:
    """Not each with each: of so many that takes some ten seconds."""
    many = "".join(f"<c>x{at}</c>" for at in range(30_000))
    row = "<v>1</v>" * 30_000
    text = export(f"<columns>{many}</columns>", [f"<row>{row}</row>"])
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    begun = time.process_time()
    read(tmp_path / "export.xml", dialect(CELLS))
    assert time.process_time() - begun < 5.0
