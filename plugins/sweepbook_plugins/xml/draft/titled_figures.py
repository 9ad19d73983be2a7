"""Rows below titles that state single figures, in XML nobody has described yet."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.document import ASSUMED, PARAMETER, Line, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.figure_columns import figure_tables
from sweepbook.draft.parsed import tells
from sweepbook.draft.reading import Understood
from sweepbook_plugins.xml.draft.around import Place, said_of
from sweepbook_plugins.xml.draft.steps import found_steps
from sweepbook_plugins.xml.draft.titled_rows import How, Titled
from sweepbook_plugins.xml.draft.tree import Tree, chain, local_name

if TYPE_CHECKING:
    from lxml.etree import _Element

_STEP = "\0"
"""Stands for the title of a column with the name of an element that is a parameter."""


@dataclass
class _Kind:
    """Rows of one path that are written alike.

    Attributes:
        path: of the elements around them.
        how: how they are written.
        outer: paths of what names these elements.
        rows: the texts of these paths, and the cells.
        tests: the test of each row.
        held: the elements with rows and titles, and all in these.
    """

    path: str
    how: How
    outer: Sequence[str]
    rows: list[list[str]] = field(default_factory=list)
    tests: "list[_Element]" = field(default_factory=list)
    held: "set[_Element]" = field(default_factory=set)


class TitledFigures(NamedTuple):
    """What is made of rows below titles.

    Attributes:
        tables: the forms of them.
        taken: elements that hold them, and so are no keys.
        named: paths from a test and attributes there that name them, and so are no keys either.
    """

    tables: list[Table]
    taken: "set[_Element]"
    named: set[tuple[str, str]]


def forms(
    found: Sequence[tuple[Tree, Sequence[Titled]]], numbers: set[Place], understood: Understood,
    evidence: Evidence,
) -> TitledFigures:  # fmt: skip
    """The tables `xml.figures` for rows below titles of which something is known.

    Args:
        found: the rows, with their file.
        numbers: places in tests where numbers stand.
        understood: what names are made of; takes their words.
        evidence: takes the texts of verdicts and figures.
    """
    kinds: dict[tuple[str, How, tuple[str, ...]], _Kind] = {}
    for tree, rows in found:
        for one in rows:
            line = chain(one.element, one.test)
            steps, tagged = found_steps(tree, line, understood)
            slots = _slots(tree, one, numbers, understood)
            if tagged:
                slots[_STEP] = local_name(line[-1])
            key = ("/".join(steps), one.how, tuple(slots))
            kind = kinds.setdefault(key, _Kind(*key))
            kind.rows += [[*slots.values(), *row] for row in one.rows]
            kind.tests += [one.test] * len(one.rows)
            kind.held |= one.held
    made = {key: list(_forms(kind, understood, evidence)) for key, kind in kinds.items()}
    known = [kinds[key] for key, some in made.items() if some]
    return TitledFigures(
        _once([table for some in made.values() for table in some]),
        {of for kind in known for of in kind.held},
        {
            (kind.path, slot.removeprefix("@"))
            for kind in known
            for slot in (*kind.outer, kind.how.titles.path)
            if slot.startswith("@")
        },
    )


def _once(tables: "list[Table]") -> "list[Table]":
    """Forms of an element and its rows, but verdicts that a form named by fewer columns takes too.

    Such a form reads the rows of the other one as well, and each would be read twice.
    """
    forms = [(tables[at], tables[at + 1]) for at in range(0, len(tables), 2)]
    shapes = [_verdicts(*form) for form in forms]
    return [
        table
        for form, mine in zip(forms, shapes, strict=True)
        if mine is None
        or not any(of and of[0] == mine[0] and of[1].items() < mine[1].items() for of in shapes)
        for table in form
    ]


def _verdicts(element: Table, row: Table) -> "tuple[object, dict[str, object]] | None":
    """What is alike in forms of the same verdicts, and the columns that name them; else None."""
    lines = {line.key: line.value for line in row.lines}
    names = lines.pop("name", {})
    outer = [(line.key, line.value) for line in element.lines]
    alike = set(lines) <= {"path", "titles", "cells", "separator", "verdict"}
    if "verdict" not in lines or not alike or not isinstance(names, dict):
        return None
    return (outer, lines), names


def _slots(tree: Tree, one: Titled, numbers: set[Place], understood: Understood) -> dict[str, str]:
    """The texts that may name rows together, by the path from the element around them."""
    said = said_of(tree, one.element, one.test, numbers).items()
    slots = {slot: text for slot, text in said if slot != one.how.titles.path}
    parsed = {slot: understood.naming.parse_in(slot, text) for slot, text in slots.items()}
    return {slot: text for slot, text in slots.items() if tells(parsed[slot])}


def _forms(kind: _Kind, found: Understood, evidence: Evidence) -> Iterator[Table]:
    """The forms of rows of one kind, two tables each: of the element and of its rows."""
    titles = [*kind.outer, *kind.how.called]
    made = []
    for form in figure_tables(titles, kind.rows, evidence, found, "rows", kind.tests):
        lines = {line.key: line for line in form.lines}
        name = lines.pop("name", None)
        names = name.value if name and isinstance(name.value, Mapping) else {}
        if form.name != "[rows]" and "kind" not in lines:
            roles = [line for line in lines.values() if line.value not in kind.outer]
            made += [(names, roles)] if roles else []
    used = {title for names, _ in made for title in names}
    others = [of for of in kind.how.called if of not in used and not _is_figure(of, made, found)]
    for names, roles in made:
        element = Table("[[xml.figures]]")
        element.add("path", kind.path or ".")
        outer = {slot: of for slot, of in names.items() if slot in kind.outer and slot != _STEP}
        if outer:
            element.add("name", outer)
        yield element
        inner = {title: of for title, of in names.items() if title not in kind.outer}
        yield _row(kind.how, inner, roles, others)


def _is_figure(title: str, made: "Sequence[tuple[object, list[Line]]]", found: Understood) -> bool:
    """Whether a column holds a figure of one of the forms."""
    template = found.naming.parse(title).template
    wanted = [of for _, roles in made for line in roles for of in _texts(line.value)]
    return title in wanted or template in wanted or PARAMETER in wanted


def _texts(value: object) -> list[str]:
    return [str(of) for of in value] if isinstance(value, list) else [str(value)]


def _row(
    how: How, names: Mapping[str, object], roles: "Sequence[Line]", others: Sequence[str]
) -> Table:
    """The table `xml.figures.row` of a form."""
    row = Table("[xml.figures.row]")
    row.add("path", how.row)
    row.add("titles", how.titles.said())
    if how.cells:
        row.add("cells", how.cells)
    if how.separator:
        row.add("separator", how.separator)
    if others:
        note = Note(ASSUMED, "no figures of these forms, so extra keeps them")
        row.add("other_columns", one_of(others), note)
    if names:
        row.add("name", names)
    row.lines += roles
    return row
