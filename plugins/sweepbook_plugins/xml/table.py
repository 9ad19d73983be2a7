"""One element a frequency with the values of several curves in it: the rows of a table, by column.

As with points, rows that are alike but for their texts are taken all at once out of the text of the
table, and looked at one by one where they differ.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from sweepbook_plugins.xml.layout import Held, TableForm
from sweepbook_plugins.xml.paths import Path, Step
from sweepbook_plugins.xml.points import Points, counter, lines_of, refuse_doubles
from sweepbook_plugins.xml.stencil import MARKS, Sought, Stencil, of_element, plain
from sweepbook_plugins.xml.tree import every, is_at, text_at

if TYPE_CHECKING:
    from lxml.etree import _Element

FREQUENCY = "\0"
"""Stands for the column of the frequencies, which no template gives."""
Columns = dict[str, Sequence[str]]


class Rows(NamedTuple):
    """The rows of a table.

    Attributes:
        frequency: n texts; none where the form names no frequency.
        columns: n texts by what names the column, "" where a row has none.
        line_of: line of the row at a position.
        others: what else stands in some of them, as it is called there.
        alone: whether the table holds nothing but these rows.
        tag: name of the rows if nothing in them is left to be looked at, else "".
        why: why there are no columns, where that can be told.
    """

    frequency: Sequence[str]
    columns: Columns
    line_of: Callable[[int], int]
    others: Sequence[str] = ()
    alone: bool = False
    tag: str = ""
    why: str = ""

    def points(self, column: str) -> Points:
        """The points of the curve in a column."""
        return Points(self.frequency, self.columns[column], self.line_of, self.alone, self.tag)


def read(table: "_Element", form: TableForm, held: Held, place: Callable[[], str]) -> Rows:
    """The rows in an element; there may be none.

    Args:
        table: the element.
        form: how its rows are written.
        held: the columns that they may have.
        place: where the element stands, for messages.

    Raises:
        Fault: a row holds one of its values twice.
    """
    if next(table.iterchildren(), None) is None:
        return Rows((), {}, lambda position: 0)
    return _quick(table, form, held) or _one_by_one(table, form, held, place)


def _quick(table: "_Element", form: TableForm, held: Held) -> Rows | None:
    """The rows taken at once; None where they are not alike."""
    from lxml import etree

    step = form.path.steps[0]
    first = next(table.iterchildren(step.tag), None)
    if len(form.path.steps) != 1 or step.conditions or first is None:
        return None
    stencil = of_element(first, _sought(held, form.frequency))
    named_axis = stencil is not None and any(of.what == FREQUENCY for of in stencil.holes)
    if stencil is None or named_axis != bool(form.frequency):
        return None
    text = etree.tostring(table, encoding="unicode", with_tail=False).encode()
    taken = _taken(stencil, text)
    if taken is None:
        return None
    found, count, beside = taken
    alone = not beside.strip()
    if not alone and count != counter(step.tag)(table):
        return None
    frequency = found.pop(FREQUENCY, ())
    return Rows(frequency, found, lines_of(table, step.tag, count), (), alone, step.tag)


@lru_cache(maxsize=64)
def _sought(held: Held, frequency: Path | None) -> Sought:
    """What is looked for in rows: there may be thousands of paths, so they are listed once."""
    axis = {frequency: FREQUENCY} if frequency else {}
    return Sought({**held.columns, **axis}, held.ignored)


def _taken(stencil: Stencil, text: bytes) -> tuple[Columns, int, bytes] | None:
    """The texts of each column, how many there are, and what stands beside the rows.

    None where rows are not all of one form, or one holds a value twice.
    """
    named = [hole.what for hole in stencil.holes if hole.what]
    first, last = stencil.constants[0], stencil.constants[-1]
    begin, end = text.find(first), text.rfind(last) + len(last)
    if len(set(named)) != len(named) or begin < 0 or end <= begin:
        return None
    body = text[begin:end] + stencil.after
    rows = _pattern(stencil).findall(body)
    cells = list(zip(*rows, strict=True)) if len(stencil.holes) > 1 else [tuple(rows)]
    between = len(rows) * (sum(map(len, stencil.constants)) + len(stencil.after))
    if between + sum(sum(map(len, column)) for column in cells) != len(body):
        return None
    found = {
        hole.what: plain(MARKS[:1].join(column))
        for hole, column in zip(stencil.holes, cells, strict=True)
        if hole.what
    }
    return found, len(rows), text[text.index(b">") + 1 : begin] + text[end : text.rindex(b"<")]


def _pattern(stencil: Stencil) -> "re.Pattern[bytes]":
    """One row, and the blanks behind it."""
    pieces = [re.escape(constant) for constant in stencil.constants]
    holes = [rb'([^<>"]*)' if hole.quoted else rb"([^<>]*)" for hole in stencil.holes]
    return re.compile(
        b"".join(map(b"".join, zip(pieces, [*holes, re.escape(stencil.after)], strict=True)))
    )


def _one_by_one(table: "_Element", form: TableForm, held: Held, place: Callable[[], str]) -> Rows:
    """The rows where they differ.

    Raises:
        Fault: one holds one of its values twice.
    """
    rows = every(table, form.path)
    lines = [row.sourceline or 0 for row in rows]
    columns: Columns = {}
    for path in _there(rows, held.columns):
        texts = [text_at(row, path) for row in rows]
        if any(text is not None for text in texts):
            columns[held.columns[path]] = [(text or "").strip() for text in texts]
            refuse_doubles(rows, path, held.columns[path], place)
    frequency: list[str] = []
    if form.frequency:
        frequency = [(text_at(row, form.frequency) or "").strip() for row in rows]
        refuse_doubles(rows, form.frequency, "the frequency", place)
    known = (*held.columns, *held.ignored, *([form.frequency] if form.frequency else []))
    return Rows(frequency, columns, lines.__getitem__, _others(rows, known))


def _there(rows: "Sequence[_Element]", columns: Mapping[Path, str]) -> list[Path]:
    """The columns of which something may stand in a row."""
    attributes = {name for row in rows for name in row.attrib}
    tags = {child.tag for row in rows for child in row}
    return [
        path
        for path in columns
        if (path.steps[0].tag in tags if path.steps else path.attribute in attributes)
    ]


def _others(rows: "Sequence[_Element]", known: Sequence[Path]) -> Sequence[str]:
    """What stands in rows and is no column, as it is called there."""
    attributes = {path.attribute for path in known if not path.steps}
    steps: dict[str, list[Step]] = {}
    for path in known:
        if path.steps:
            steps.setdefault(path.steps[0].tag, []).append(path.steps[0])
    found: dict[str, None] = {}
    for row in rows:
        found |= dict.fromkeys(f"@{name}" for name in row.attrib if name not in attributes)
        for child in row:
            of_tag = steps.get(child.tag, ())
            if isinstance(child.tag, str) and not any(is_at(child, step) for step in of_tag):
                choices = {of.name: child.get(of.name) for step in of_tag for of in step.conditions}
                chosen = "".join(f"[@{name}={text}]" for name, text in choices.items())
                found[f"{child.tag}{chosen}"] = None
    return list(found)
