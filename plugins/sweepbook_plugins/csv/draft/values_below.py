"""Lines of titles with the line of their values below, which are keys and no table."""

from collections.abc import Mapping, Sequence

from sweepbook.draft import wires_told
from sweepbook.draft.fields import guess
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.csv.draft.named_cells import names_in
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Cells, Text

_LEAST_TITLES = 3
_CONTACTS = 8


def with_values_below(
    text: Text, shape: Shape, loose: Sequence[int]
) -> dict[int, Sequence[tuple[str, str]]]:
    """What lines of titles say with that of their values below, () for this one, by position.

    The names within the other lines, where cells are parted, go into the shape too.
    """
    following, rows = set(loose), text.rows
    titles = [at for at in loose if at + 1 in following and have_values_below(rows, at)]
    found: dict[int, Sequence[tuple[str, str]]] = {at + 1: () for at in titles}
    found |= {at: [*zip(rows[at], rows[at + 1], strict=True)] for at in titles}
    shape.titles = list(dict.fromkeys(rows[at][0] for at in titles))
    if shape.mixed or not shape.separator:
        shape.names = names_in([rows[at] for at in loose if at not in found])
    return found


def have_values_below(rows: Sequence[Cells], at: int) -> bool:
    """Whether the cells of a line are titles, and the next line alone holds their values."""
    titles = rows[at]
    if len(titles) < _LEAST_TITLES or len(rows[at + 1]) != len(titles):
        return False
    if not all(titles) or len(set(titles)) < len(titles):
        return False
    if len(rows[at + 2 : at + 3]) and len(rows[at + 2]) == len(titles):
        return False
    pairs = {key: [value] for key, value in zip(titles, rows[at + 1], strict=True)}
    if any(map(is_numeric, titles)):
        return any(map(verdict_of, rows[at + 1])) and _hold_wires(pairs)
    told = {one.path for one in guess(pairs, None) if not one.by_text}
    return ("link.label" in told and len(told) > 1) or _hold_wires(pairs)


def _hold_wires(pairs: Mapping[str, Sequence[str]]) -> bool:
    """Whether titles are those of contacts, a contact below each."""
    wires = wires_told.find(pairs, None)
    return wires is not None and len(wires.used) >= _CONTACTS
