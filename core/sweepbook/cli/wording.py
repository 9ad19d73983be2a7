"""Figures and counts in words, the same wherever they are printed."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook import shown

if TYPE_CHECKING:
    from sweepbook.audit.outcome import Counters
    from sweepbook.judging.assessment import Margin
    from sweepbook.schedule.standing import State

MOST_NAMED = 8


def where(margin: "Margin") -> str:
    """Parameter, pairs and end: "next 3-6/4-5 near"."""
    return " ".join(filter(None, (margin.parameter, "/".join(margin.pairs), margin.end)))


def decibel(value: float | None) -> str:
    """A figure with two decimals, more where two would show 0; "" for none."""
    return "" if value is None else shown.figure(value)


def signed(value: float | None) -> str:
    """A margin with its sign and two decimals, more where two would show 0; "" for none."""
    return "" if value is None else shown.signed(value)


def with_unit(value: float | None, unit: str) -> str:
    """A margin for a narrow column: its sign, three digits and its unit; "" for none."""
    if value is None:
        return ""
    short = {"percent": "%", "faults": ""}.get(unit, unit)
    return f"{value:+.3g} {short}".rstrip()


def margin(value: float | None, unit: str) -> str:
    """A margin in a sentence or list, rounded as everywhere; counted faults are whole."""
    if value is None:
        return ""
    if unit == "faults":
        return f"{value:+g}"
    return f"{shown.signed(value)} {'%' if unit == 'percent' else unit}"


def megahertz(value: float | None) -> str:
    """A frequency as short as it is exact to 10 kHz, "" for none."""
    return "" if value is None else f"{round(value, 2):g}"


def counted(count: int, word: str) -> str:
    """A count with its word, which takes an s unless there is one: "1 test", "2 tests"."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def of_tests(counters: "Counters") -> str:
    """How many tests there are, and in how many records where some came in several exports."""
    more = len(counters.exports)
    said = counted(counters.records - more, "test")
    if not more:
        return said
    again = "1 is another export" if more == 1 else f"{more} are other exports"
    return f"{said} (in {counters.records} records, of which {again})"


def sentence(text: str) -> str:
    """A text that begins with a capital letter and ends in one full stop."""
    return text if not text else f"{text[0].upper()}{text[1:].rstrip('.')}."


def of_repeated(labels: Sequence[str]) -> Iterator[str]:
    """The sentence that tests came again and counted once; nothing where none did.

    Args:
        labels: of the tests that came again, once for each time.
    """
    if not labels:
        return
    distinct = list(dict.fromkeys(label or "(no label)" for label in labels))
    more = f" and {len(distinct) - MOST_NAMED} more" if len(distinct) > MOST_NAMED else ""
    yield (
        f"{counted(len(labels), 'test')} came again, the same in all that was measured and stated, "
        f"and counted once: {', '.join(distinct[:MOST_NAMED])}{more}."
    )


def scheduled(counts: "Mapping[State, int]", named: "Mapping[State, str] | None" = None) -> str:
    """How many links are on a schedule and where they stand, and how many are not on it.

    Args:
        counts: links by where they stand.
        named: other words for some of the states.
    """
    from sweepbook.schedule.standing import State

    words = named or {}
    on = {state: n for state, n in counts.items() if n and state is not State.NOT_SCHEDULED}
    told = ", ".join(f"{n} {words.get(state, state.value)}" for state, n in on.items())
    said = f"{counted(sum(on.values()), 'link')} on the schedule{f': {told}' if told else ''}"
    beside = counts.get(State.NOT_SCHEDULED, 0)
    return f"{said}; besides, {counted(beside, 'link')} not on it" if beside else said


def let_stand(links: int) -> str:
    """The sentence, with a blank before it, that somebody lets so many links stand; "" for none."""
    return f" Let stand, and not open: {counted(links, 'link')}." if links else ""
