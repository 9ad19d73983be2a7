"""The lines of a retest list: by floor, room and panel, each link with its reason and its hints."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from sweepbook.cli import lines, table
from sweepbook.cli.wording import counted, sentence
from sweepbook.retests.collect import Retest
from sweepbook.retests.suspect import words
from sweepbook.schedule.order import in_order
from sweepbook.schedule.standing import State, settled_under_another_label

if TYPE_CHECKING:
    from sweepbook.schedule.reconcile import Item, Reconciliation

_INDENT = 4


def of(found: Sequence[Retest], tests: str, besides: str = "") -> Iterator[str]:
    """All lines.

    Args:
        found: the list, in its order.
        tests: how many tests were looked at, in words.
        besides: the sentence of what a schedule leaves open besides; "" for none.
    """
    columns = table.terminal_columns()
    for where, group in groupby(found, key=_where):
        yield from table.paragraph(where, columns)
        for retest in group:
            yield from _link(retest, columns)
        yield ""
    said = f"{tests}; to be tested again: {counted(len(found), 'link')}."
    yield from table.paragraph(said, columns)
    if besides:
        yield from table.paragraph(besides, columns)
    if found:
        yield ""
        yield from table.paragraph(lines.CAUTION, columns)


def of_besides(items: Sequence["Item"]) -> str:
    """The sentence of what a schedule leaves open and the list does not have; "" for nothing."""
    counts = Counter(item.state for item in items)
    if not counts:
        return ""
    said = ", ".join(f"{counts[state]} {state.value}" for state in State if counts[state])
    return f"Open besides, by the schedule: {said}. `sweepbook reconcile` lists them."


def of_settled(held: "Reconciliation", found: Sequence[Retest]) -> Iterator[str]:
    """Which links are off the list by a test that has another label in its record."""
    listed = {retest.record_id for retest in found}
    for item in held.items:
        ordered, known = in_order(item.tests) if item.tests else ([], False)
        if not known or any(test.record_id in listed for test in ordered):
            continue
        if settled := settled_under_another_label(ordered):
            said = f"{item.label} is off the list. {settled}"
            yield from table.paragraph(said, table.terminal_columns())


def _where(retest: Retest) -> str:
    """Floor, room and panel: two panels of one name may be in two rooms."""
    floor, panel = retest.floor or "no floor named", retest.panel or "no panel named"
    return ", ".join(filter(None, (floor, retest.space, panel)))


def _link(retest: Retest, columns: int) -> Iterator[str]:
    label = retest.label or "(no label)"
    yield from table.paragraph(f"{label}  {retest.state}", columns, _INDENT)
    for text in (retest.reason, *retest.remarks, *map(words, retest.suspects)):
        yield from table.paragraph(sentence(text), columns, 2 * _INDENT)
