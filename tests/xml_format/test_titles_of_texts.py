"""Rows of numbers below columns that several texts title together, in attributes or elements."""

import re
from collections.abc import Callable
from itertools import groupby
from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from tests.drafts.drafting import curves, read, written

from .test_titled import LINK, RAW, dialect, export, lost, record, rows_of, titles

Parts = list[tuple[str, str]]
CELLS = 'cells = "v"'
ORDER = ["quantity", "pair", "end", "unit"]


def parts_of(title: str) -> Parts:
    """What a column is, by what each text says of it; "RL 12 A" has all three."""
    return [*zip(ORDER, title.split(), strict=False), ("unit", "dB")]


COLUMNS = [[("quantity", "MHz")], *(parts_of(title) for title in titles(LINK))]


def _said_in(parts: Parts) -> str:
    return "".join(f' {name}="{text}"' for name, text in parts)


def attributes(parts: Parts) -> str:
    return f"<c{_said_in(parts)}/>"


def elements(parts: Parts) -> str:
    return f"<c>{''.join(f'<{name}>{text}</{name}>' for name, text in parts)}</c>"


def mixed(parts: Parts) -> str:
    (_, first), *rest = parts
    return f"<c{_said_in(rest)}>{first}</c>"


def table(write: Callable[[Parts], str], columns: list[Parts] = COLUMNS) -> str:
    head = "".join(map(write, columns))
    rows = ["".join(f"<v>{cell}</v>" for cell in row) for row in rows_of(LINK)]
    return export(f"<head>{head}</head>", [f"<row>{row}</row>" for row in rows])


def said(*texts: str, path: str = "head/c") -> str:
    listed = ", ".join(f'"{text}"' for text in texts)
    return f'titles = {{ path = "{path}", texts = [{listed}] }}, {CELLS}'


IN_ATTRIBUTES = ("@quantity", "@pair", "@end")
WAYS = [(attributes, IN_ATTRIBUTES), (elements, ORDER[:3]), (mixed, (".", "@pair", "@end"))]


@pytest.mark.parametrize(("write", "texts"), WAYS)
def test_the_texts_of_a_column_make_one_title(
    write: Callable[[Parts], str], texts: tuple[str, ...], tmp_path: Path
) -> None:
    """What no text of a title is, such as the unit here, is kept."""
    document, messages = record(tmp_path, table(write), dialect(said(*texts)))
    assert messages == []
    assert curves(document) == written(LINK, *RAW)
    (kept,) = document["extra"].values()
    assert set(kept.split()) == {"dB"}


def test_a_unit_in_the_title_is_held_against_the_words(tmp_path: Path) -> None:
    """With it nothing is left over, and a file in another unit is not read as in this one."""
    columns = [[("quantity", "MHz"), ("unit", "MHz")], *COLUMNS[1:]]
    forms = ", ".join(f'"{{parameter}} {{pairs}}{end} {{unit}}"' for end in ("", " {end}"))
    of = dialect(said(*IN_ATTRIBUTES, "@unit"))
    of = of.replace('"{parameter} {pairs}", "{parameter} {pairs} {end}"', forms)
    of = of.replace('frequency = "MHz"', 'frequency = "MHz MHz"')
    document, messages = record(tmp_path, table(attributes, columns), of)
    assert (messages, document.get("extra", {})) == ([], {})
    assert curves(document) == written(LINK, *RAW)
    columns[0] = [("quantity", "MHz"), ("unit", "kHz")]
    told = lost(tmp_path, table(attributes, columns), of)
    assert "no column has the title 'MHz MHz', as that of the frequencies is called" in told
    assert "among 'MHz kHz', 'IL 12 dB'" in told


def test_a_text_around_several_columns_titles_each(tmp_path: Path) -> None:
    groups = groupby(COLUMNS, lambda parts: parts[0][1])
    head = "".join(
        f'<g of="{quantity}">{"".join(attributes(rest) for _, *rest in columns)}</g>'
        for quantity, columns in groups
    )
    text = re.sub("<head>.*</head>", f"<head>{head}</head>", table(attributes))
    document, messages = record(
        tmp_path, text, dialect(said("../@of", "@pair", "@end", path="head/g/c"))
    )
    assert messages == []
    assert curves(document) == written(LINK, *RAW)


def test_columns_that_the_texts_do_not_tell_apart_are_refused(tmp_path: Path) -> None:
    text = table(attributes)
    told = lost(tmp_path, text, dialect(said("@quantity", "@pair")))
    assert "the title 'RL 12' comes twice" in told
    one = lost(tmp_path, text, dialect(f'titles = "head/c/@quantity", {CELLS}'))
    assert "xml.curves.point.titles = { path, texts } makes one title of all" in one
    none = lost(tmp_path, text, dialect(f'titles = "head/c", {CELLS}'))
    assert "none of its 25 columns has a text where xml.curves.point.titles names one" in none


def test_columns_change_places_with_their_texts(tmp_path: Path) -> None:
    """The ends of two columns exchanged are the ends of two curves exchanged, and no others."""
    columns = [*COLUMNS]
    near, far = (columns.index(parts_of(f"RL 12 {end}")) for end in "AB")
    columns[near], columns[far] = columns[far], columns[near]
    document, _ = record(tmp_path, table(attributes, columns), dialect(said(*IN_ATTRIBUTES)))
    right = written(LINK, *RAW)
    one, other = (("return_loss", end, ("1-2",)) for end in ("near", "far"))
    assert curves(document) == {**right, one: right[other], other: right[one]}


@pytest.mark.parametrize(
    ("titles_of", "why"),
    [
        ('{ path = "head/c/@pair", texts = "@end" }', "the path of elements belongs here"),
        ('{ path = "head/c" }', "texts"),
        ('{ path = "head/c", texts = [] }', "texts"),
        ('{ path = "head/c", texts = "@a@b" }', "xml.curves[1].point.titles.texts"),
    ],
)
def test_what_cannot_title_columns_is_refused_with_its_key(
    titles_of: str, why: str, tmp_path: Path
) -> None:
    (tmp_path / "export.xml").write_text(table(attributes), encoding="utf-8")
    with pytest.raises(BadDialect) as refused:
        read(tmp_path / "export.xml", dialect(f"titles = {titles_of}, {CELLS}"))
    assert why in str(refused.value)


def test_figures_in_rows_below_such_titles(tmp_path: Path) -> None:
    """Two pairs with a length and a delay each, as plain numbers."""
    columns = [[("is", "pair")], [("is", "length"), ("in", "m")], [("is", "delay"), ("in", "ns")]]
    rows = ["<row>12;61.9;297</row>", "<row>36;62.2;299</row>"]
    text = export(f"<head>{''.join(map(attributes, columns))}</head>", rows)
    form = (
        '[[xml.figures]]\npath = "table"\n[xml.figures.row]\npath = "row"\nseparator = ";"\n'
        'titles = { path = "head/c", texts = ["@is", "@in"] }\n'
        'name = { pair = "{pairs}" }\nvalue = "{parameter} {unit}"\n[fields]'
    )
    words = '[words.parameters]\nlength = "length"\npropagation_delay = "delay"'
    of = dialect(CELLS + ', titles = "none"', "none").replace("[fields]", form)
    of = of.replace("[words.parameters]", words) + '[units]\nlength = "m"\ndelay = "ns"\n'
    document, messages = record(tmp_path, text, of)
    assert (messages, document.get("extra", {})) == ([], {})
    assert [
        (one["parameter"], one["pairs"], one.get("length_m", one.get("delay_ns")))
        for one in document["results"]["scalars"]
    ] == [
        ("length", ["1-2"], 61.9),
        ("propagation_delay", ["1-2"], 297),
        ("length", ["3-6"], 62.2),
        ("propagation_delay", ["3-6"], 299),
    ]
