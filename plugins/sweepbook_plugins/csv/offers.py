"""Lines of a dialect for text tables that would take what is stated where nothing takes it yet."""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from sweepbook.dialect.words import as_list
from sweepbook.draft.document import one_of, quoted, value_text

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect


def offer(dialect: "Dialect", key: str, role: str, of_parameter: bool) -> tuple[str, str]:
    """What to write for a row of another kind below the figures of pairs; "" for any other key.

    Args:
        dialect: as read.
        key: of `extra`, which begins with the kind of the row.
        role: "verdict" or "worst_margin.margin".
        of_parameter: whether it is of a parameter as a whole; such a row always is.
    """
    for where, rows in _rows(dialect.layout):
        kind = next((of for of in as_list(rows.get("other_kinds", [])) if of == key), None)
        columns = [of for form in rows.get("figures", ()) for of in as_list(form.get("value", []))]
        if kind is not None and (named := [of for of in columns if "{parameter}" in of]):
            told = f"kind = {quoted(kind)}, {role} = {value_text(one_of(named))}"
            return f"add [[{where}.figures]] with {told}", ""
    return "", ""


def _rows(layout: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The forms of rows of a dialect, each with its table."""
    if "rows" in layout:
        yield "csv.rows", layout["rows"]
    for section in layout.get("sections", ()):
        if "rows" in section:
            yield "csv.sections.rows", section["rows"]
