"""The first sheet: what the job is, what its tests come to, and what is still open."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook_plugins.xlsx import words
from sweepbook_plugins.xlsx.filling import Totals
from sweepbook_plugins.xlsx.layout import lines
from sweepbook_plugins.xlsx.look import LINE_HEIGHT, Kind
from sweepbook_plugins.xlsx.rows import Rows, blank_cell, number_cell, text_cell
from sweepbook_plugins.xlsx.styles import Styles
from sweepbook_plugins.xlsx.table import paper

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.schedule.reconcile import Reconciliation

NAME = "Summary"
WIDTHS = (34, 10, 100)
ONE_PAGE = 80
"""Rows that can still be read on one page, so that no heading stands alone at its foot."""
_SEVERITIES = ("error", "warning", "note")
_PLACE = ("building", "floor", "space")
_NOT_RUN = "Answers that rules did not give; none of them counts as passed. See the sheet Findings."


class Row(NamedTuple):
    """A name, a number or text, and what it means; a row of a name alone is a heading."""

    name: str
    number: int | None = None
    text: str = ""
    kind: Kind = Kind.PROSE


def write_summary(
    sheet: Any,  # noqa: ANN401
    styles: Styles,
    delivery: "Delivery",
    totals: Totals,
    more: Mapping[str, int],
) -> None:
    """Write the sheet, which stands first and is written last.

    Args:
        sheet: xlsxwriter's, still empty.
        styles: formats of the workbook.
        delivery: its entries have been walked.
        totals: what they came to.
        more: tables that take more than one sheet, and how many.
    """
    for at, width in enumerate(WIDTHS):
        kind = Kind.COUNT if at == 1 else Kind.PROSE
        sheet.set_column(at, at, width, styles.format(kind))
    told = [*_rows(delivery, totals, more)]
    paper(sheet, pages=1 if len(told) < ONE_PAGE else 0)
    sheet.freeze_panes(1, 0)
    rows = Rows(sheet, len(WIDTHS))
    rows.add(1, [text_cell("A", styles.title, delivery.about.title)], 2 * LINE_HEIGHT)
    for number, row in enumerate(told, 2):
        tall = max(lines(row.name, WIDTHS[0]), lines(row.text, WIDTHS[2]))
        heading = row.number is None and not row.text
        rows.add(number, _cells(row, number, styles), LINE_HEIGHT * (tall + heading) + 2)


def _cells(row: Row, number: int, styles: Styles) -> Iterator[str]:
    if row.number is None and not row.text:
        yield text_cell("A", styles.heading, row.name)
        yield blank_cell("B", styles.heading)
        yield blank_cell("C", styles.heading)
        return
    word = row.name if row.kind is Kind.WORD else ""
    yield text_cell("A", styles.number(row.kind, word), row.name)
    if row.number is not None:
        yield number_cell("B", styles.number(Kind.COUNT), row.number)
    if row.text:
        yield text_cell("C", styles.number(Kind.PROSE), row.text)


def goes_on(name: str, sheets: int) -> str:
    """Where a table of that many sheets goes on, in a sentence."""
    last = "" if sheets == 2 else f" to {name} {sheets}"
    return f"it goes on in the sheet{'s' if last else ''} {name} 2{last}, behind the others."


def _rows(delivery: "Delivery", totals: Totals, more: Mapping[str, int]) -> Iterator[Row]:
    yield Row("Caution", None, words.CAUTION)
    told = [Row(title, None, text) for title, text in delivery.about.job.in_words()]
    if told:
        yield Row("Job")
        yield from told
    yield Row("Tests")
    yield from _of_tests(delivery, totals)
    yield Row("Open")
    yield from _open(delivery, totals)
    if totals.held is not None:
        yield Row("Closed by the schedule")
        yield from _states(totals.held, are_open=False)
    yield Row("Findings")
    weights = dict(words.WEIGHTS)
    for name in _SEVERITIES:
        yield Row(name, totals.findings[name], weights[name], Kind.WORD)
    yield Row("accepted", totals.accepted, "Findings that somebody has looked at and lets stand.")
    if totals.not_run:
        yield Row("without an answer", totals.not_run, _NOT_RUN)
    if more:
        yield Row("Tables with more rows than a sheet takes")
        for name, sheets in more.items():
            yield Row(name, None, f"{sheets} sheets: {goes_on(name, sheets)}")
    if totals.held is not None:
        yield Row("Links by place")
        yield from _by_place(totals)


def _of_tests(delivery: "Delivery", totals: Totals) -> Iterator[Row]:
    yield Row("All tests", totals.tests, f"Made with {_many(totals.instruments, 'instrument')}.")
    for name, meaning in words.JUDGEMENTS:
        yield Row(name, totals.judgements[name], meaning, Kind.WORD)
    if totals.exported:
        yield Row("Other exports", totals.exported, words.EXPORTS)
    if gone := delivery.about.options.get("withdrawn"):
        yield Row("Withdrawn", None, f"Not counted here: {gone}.")
    failed = totals.sweeps["fail"]
    yield Row("Failed by the sweeps", failed, "Whatever was stated: see Sweeps say in Links.")
    yield Row("Marginal passes", totals.marginal, delivery.about.job.on_marginal)
    if totals.corrected:
        yield Row("Corrected", totals.corrected, "Beside the evidence: see the sheet Corrections.")


def _open(delivery: "Delivery", totals: Totals) -> Iterator[Row]:
    """What somebody still has to do something about."""
    states = sorted(totals.retests.items())
    said = ", ".join(f"{count} {state}" for state, count in states)
    text = f"{said}. See the sheet To retest." if said else "No link has to be tested again."
    yield Row("Links to test again", totals.retests.total(), text)
    if totals.held is not None:
        scheduled = len(totals.held.schedule.links)
        text = f"Of {_many(scheduled, 'link')} on the schedule, and tests that are not on it."
        yield Row("Open by the schedule", len(totals.held.open), text)
        if accepted := len(totals.held.let_stand):
            stand = totals.held.counts_let_stand().items()
            said = ", ".join(f"{count} {state.value}" for state, count in stand if count)
            yield Row("Let stand", accepted, f"{said}. {words.LET_STAND}")
        yield from _states(totals.held, are_open=True)
        faults = len(totals.held.schedule.faults)
        if faults:
            yield Row("Rows not taken", faults, "Rows of the schedule that say too little.")
    else:
        yield Row("Untested links", None, "Not known: no schedule was given to hold tests against.")
    unread = len(delivery.problems)
    yield Row("Could not be read", unread, "See the sheet About." if unread else words.ALL_READ)


def _states(held: "Reconciliation", *, are_open: bool) -> Iterator[Row]:
    """Links by where they stand, those let stand left out: of states that are open, or others."""
    stand = held.counts_let_stand()
    for state, every in held.counts().items():
        count = every - stand[state]
        if count and state.open is are_open:
            yield Row(state.value, count, "See the sheet Schedule.", Kind.WORD)


def _by_place(totals: Totals) -> Iterator[Row]:
    """Links and open ones by building, floor and space."""
    links: Counter[str] = Counter()
    still: Counter[str] = Counter()
    stand: Counter[str] = Counter()
    for item in totals.held.items if totals.held else ():
        levels = dict(item.place)
        place = " / ".join(filter(None, (levels.get(level) for level in _PLACE)))
        links[place or "no place named"] += 1
        still[place or "no place named"] += item.open
        stand[place or "no place named"] += item.accepted is not None
    for place, count in links.items():
        closed = count - still[place] - stand[place]
        more = f", {stand[place]} let stand" if stand[place] else ""
        yield Row(place, count, f"{closed} closed, {still[place]} open{more}.")


def _many(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
