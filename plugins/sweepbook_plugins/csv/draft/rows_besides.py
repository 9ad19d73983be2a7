"""Rows beside the points of a table: single figures, and rows with a key and a text."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.figure_words import needs_no_pairs, role_of
from sweepbook.draft.parsed import plausible
from sweepbook.draft.reading import Understood
from sweepbook_plugins.csv.draft.text import Cells

if TYPE_CHECKING:
    from sweepbook_plugins.csv.draft.rows import RowsTable

_BARE = ("verdict", "accuracy")

Form = tuple[str, str, int]
"""Role of a figure, text of the column `kind`, position of the column that holds the figure."""


def tables_besides(
    table: "RowsTable", evidence: Evidence, found: Understood, where: str
) -> list[Table]:
    """Rows with single figures, by role and kind, and rows with a key and a text."""
    forms: dict[Form, list[str]] = {}
    dated: set[Form] = set()
    columns: dict[int, None] = {}
    kinds: list[str] = []
    for row in table.others:
        figure = _figure(table, row, found)
        at = _filled(table, row)
        if figure is not None:
            role, template, column = figure
            form = (role, _kind_of(table, row), column)
            known = forms.setdefault(form, [])
            known += [] if template in known else [template]
            if table.roles.frequency is not None and row[table.roles.frequency]:
                dated.add(form)
            if role == "value":
                names = [
                    found.naming.parse_in(table.titles[one], row[one]) for one in table.roles.names
                ]
                keep_figure(evidence, found.naming.together(names).parameter, [row[column]])
            if role == "verdict":
                evidence.verdicts.append(row[column])
        elif table.roles.subject is not None and at is not None:
            evidence.put(row[table.roles.subject], row[at])
            columns[at] = None
            kind = _kind_of(table, row)
            kinds += [kind] if kind and kind not in kinds else []
    tables = [
        _form(table, where, form, templates, found, with_frequency=form in dated)
        for form, templates in forms.items()
    ]
    if columns and table.roles.subject is not None:
        made = Table(f"[{where}.property]")
        if kinds:
            made.add("kind", one_of(kinds))
        made.add("key", table.titles[table.roles.subject])
        made.add("value", one_of([table.titles[at] for at in columns]))
        tables.append(made)
    return tables


def _kind_of(table: "RowsTable", row: Cells) -> str:
    return "" if table.roles.kind is None else row[table.roles.kind]


def _filled(table: "RowsTable", row: Cells) -> int | None:
    """The column that holds what a row beside the points says."""
    columns = [table.roles.value, *table.roles.free]
    return next((at for at in columns if at is not None and row[at]), None)


def _figure(table: "RowsTable", row: Cells, found: Understood) -> tuple[str, str, int] | None:
    """Role, template of the subject and column of a row with a single figure."""
    at, subject = _filled(table, row), table.roles.subject
    if subject is None or at is None:
        return None
    parts = [
        found.naming.parse_in(table.titles[column], row[column]) for column in table.roles.names
    ]
    part = found.naming.parse(row[subject])
    name = found.naming.together(parts)
    role = role_of(part.template, [row[at]])
    if part.parameter is None or role is None:
        return None
    if not plausible(name) and not (needs_no_pairs(role) and not name.pairs):
        return None
    if part.parameter[1] == "wire_map" and role != "verdict":
        return None
    for one in parts:
        found.naming.take(one, name)
    for column, one in zip(table.roles.names, parts, strict=True):
        known = found.templates.setdefault(table.titles[column], [])
        if column != subject and one.template and one.template not in known and not known:
            known.append(one.template)
    return role, part.template, at


def _form(table: "RowsTable", where: str, form: Form, subject: Sequence[str], found: Understood, *,
    with_frequency: bool,
) -> Table:  # fmt: skip
    role, kind, column = form
    made = Table(f"[[{where}.figures]]")
    if kind:
        made.add("kind", kind)
    named = table.named(found, subject)
    if role in _BARE:
        named = {title: of for title, of in named.items() if "{parameter}" in str(of)}
    made.add("name", named)
    made.add(role, table.titles[column])
    if with_frequency and table.roles.frequency is not None and role not in _BARE:
        key = "frequency" if role == "value" else f"{role.partition('.')[0]}.frequency"
        made.add(key, table.titles[table.roles.frequency])
    return made
