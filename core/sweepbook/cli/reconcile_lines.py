"""The lines of a reconciliation: what is open, by state; totals by space; a sentence at the end."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from shlex import quote
from typing import TYPE_CHECKING

from sweepbook.cli import lines, table
from sweepbook.cli.wording import counted, let_stand, scheduled
from sweepbook.schedule.place import levels_apart
from sweepbook.schedule.reconcile import Item, Reconciliation
from sweepbook.schedule.standing import State
from sweepbook.schedule.told import in_words
from sweepbook.text import natural_key, printable

if TYPE_CHECKING:
    from sweepbook.schedule.label_scheme import LabelScheme
    from sweepbook.schedule.model import Fault, Schedule

_INDENT = 4
_MOST_FAULTS = 200
_SPACE = ("building", "floor", "space")
_TOTALS = {State.UNASKED: "passed by whatever limit they were tested to (none was asked for)"}


def of(result: Reconciliation, every: bool, not_known: Sequence["Fault"] = ()) -> Iterator[str]:
    """All lines.

    Args:
        result: what to tell.
        every: whether links that passed are listed too.
        not_known: what the schedule asks for that leads to no limit table.
    """
    about = [*of_schedule(result.schedule, not_known)]
    standing = _standing(result, every)
    if not about:
        next(standing, "")  # the blank line above the first state
    yield from about
    yield from standing


def _standing(result: Reconciliation, every: bool) -> Iterator[str]:
    """Where each link stands, totals and the sentence at the end, with a blank line before each."""
    columns = table.terminal_columns()
    for state in State:
        items = [item for item in result.items if item.state is state]
        if items and (every or state.open):
            yield ""
            yield f"{state.value} ({len(items)})"
            for item in items:
                yield from _item(item, columns)
    remarked = [item for item in result.items if item.remarks and not item.state.open]
    if remarked and not every:
        yield ""
        yield f"passed, with a remark ({len(remarked)})"
        for item in remarked:
            yield from _item(item, columns)
    yield ""
    yield from _totals(result.items, columns)
    yield ""
    yield from table.paragraph(_sentence(result), columns)
    if result.open:
        yield ""
        yield from table.paragraph(lines.CAUTION, columns)


def of_schedule(schedule: "Schedule", not_known: Sequence["Fault"]) -> Iterator[str]:
    """That a schedule asks for no limit, or for one that is not known; rows that were not taken."""
    if not schedule.asks_for_limits:
        said = printable(_without_limits(schedule))
        yield from table.paragraph(said, table.terminal_columns())
    yield from of_faults(schedule.name, (*not_known, *schedule.faults))


def of_faults(name: str, faults: Iterable["Fault"]) -> Iterator[str]:
    """What is wrong with lines of a schedule; of very many the first ones, and how many more."""
    listed = list(faults)
    said = [f"{name}, line {fault.line}: {fault.message}" for fault in listed[:_MOST_FAULTS]]
    if len(listed) > _MOST_FAULTS:
        said.append(f"{name}: {len(listed) - _MOST_FAULTS} more rows like these, not listed.")
    for one in said:
        yield from table.paragraph(printable(one), table.terminal_columns())


def _without_limits(schedule: "Schedule") -> str:
    said = (
        f"{schedule.name} asks for no limit that is known as one, so links pass by whatever limit "
        "they were tested to."
    )
    if not schedule.unused:
        return said
    *_, last = listed = [repr(title) for title in schedule.unused]
    titles = f"{', '.join(listed[:-1])} or {last}" if len(listed) > 1 else last
    example = schedule.unused[0] if len(listed) == 1 else "TITLE"
    return f'{said} If it stands in {titles}, say so: --column "limit={example}".'


def of_misfits(scheme: "LabelScheme", labels: Iterable[str]) -> Iterator[str]:
    """How many labels do not fit a label scheme, and why the first of them does not."""
    told = {label: why for label in labels if label and (why := scheme.misfit(label))}
    if not told:
        return
    first, *others = sorted(told, key=lambda label: (natural_key(label), label))
    said = told[first]
    if others:
        verb = "does" if len(others) == 1 else "do"
        said += f" {counted(len(others), 'other label')} {verb} not fit it either."
    said += " It tells no ends of these links."
    yield from table.paragraph(printable(said), table.terminal_columns())


def of_dropped(scheme: "LabelScheme", items: Iterable[Item]) -> Iterator[str]:
    """Of how many links a label scheme adds nothing to the place, and why, by the first of them.

    A place that it tells in part otherwise than the schedule or the tests is another place.
    """
    told: dict[str, str] = {}
    for item in items:
        ends, known = scheme.ends(item.label), dict(item.place)
        place = ends[0].place if ends else {}
        apart = levels_apart(known, place)
        if apart and place.keys() - known.keys():
            told[item.label] = " and ".join(
                f"{level} {place[level]}, where schedule or test name {known[level]}"
                for level in apart
            )
    if told:
        first = min(told, key=lambda label: (natural_key(label), label))
        lacking = f"{counted(len(told), 'link')}, {first}{' the first' if len(told) > 1 else ''}"
        said = (
            f"The label scheme {scheme.name} adds nothing to the place of {lacking}: it tells "
            f"{told[first]}. A spelling is brought to one name under [places] in project.toml."
        )
        yield from table.paragraph(printable(said), table.terminal_columns())


def _item(item: Item, columns: int) -> Iterator[str]:
    place = " / ".join(text for level, text in item.place if level != "site")
    yield from table.paragraph(f"{item.label}  {place}".rstrip(), columns, _INDENT)
    rule, remarks = item.rule, item.remarks
    said = (
        *_said(rule, in_words(item.reason, item.accepted)),
        *(line for one in remarks for line in _said(one.rule, one.words)),
        *(_suggested(item, *miss) for miss in item.near_misses),
    )
    for text in said:
        yield from table.paragraph(text, columns, 2 * _INDENT)


def _said(rule: str, text: str) -> Iterator[str]:
    """A sentence, and the rule by which it may be let stand."""
    if text:
        yield f"{rule}: {text}" if rule else text


def _suggested(item: Item, label: str, how: str) -> str:
    """A label near to that of a link, and the command by which the test gets the link's own."""
    wrong, right = (label, item.label) if item.scheduled else (item.label, label)
    command = f"sweepbook correct BOOK {quote(wrong)} label {quote(right)}"
    said = f"Near it: {label}, the same but for {how}."
    return f"{said} If both are one link, and the schedule has it right: {command}"


def _totals(items: Sequence[Item], columns: int) -> Iterator[str]:
    """Links, passed and open by building, floor and space."""
    links: Counter[tuple[str, ...]] = Counter()
    still: Counter[tuple[str, ...]] = Counter()
    stand: Counter[tuple[str, ...]] = Counter()
    for item in items:
        levels = dict(item.place)
        space = tuple(levels.get(level, "") for level in _SPACE)
        links[space] += 1
        still[space] += item.open
        stand[space] += item.state.open and not item.open
    titles = (*_SPACE, "passed", "open", *(("let stand",) if stand.total() else ()))
    rows = [
        (*space, *map(str, (links[space] - still[space] - stand[space], still[space])),
         *((str(stand[space]),) if stand.total() else ()))
        for space in sorted(links, key=lambda key: [natural_key(part) for part in key])
    ]  # fmt: skip
    layout = table.fitted(titles, rows, columns)
    yield from table.heading(layout)
    for row in rows:
        yield from table.row(row, layout)


def _sentence(result: Reconciliation) -> str:
    counts = result.counts()
    text = f"{scheduled(counts, _TOTALS)}."
    text += let_stand(len(result.let_stand))
    if result.exported:
        again = counted(result.exported, "record")
        text += f" Counted with the test that they are another export of: {again}."
    if result.schedule.faults:
        text += f" {counted(len(result.schedule.faults), 'row')} of it could not be taken."
    if result.schedule.again:
        text += f" Titles that come again were passed over: {result.schedule.again}."
    if result.schedule.unused:
        text += f" Columns not used: {', '.join(result.schedule.unused)}."
    if result.open or result.schedule.faults:
        return text
    return f"{text} Nothing {'else ' if counts[State.UNASKED] else ''}is open."
