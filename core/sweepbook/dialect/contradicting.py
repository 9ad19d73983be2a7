"""What two files or parts say of one test where only one of them can be right."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date

from sweepbook.dialect.dates import NotADate
from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.dialect.wires import FAR, NEAR, PINS

_AS_STATED: Mapping[str, str] = {}

ONE_WORD: Mapping[str, Callable[[Meaning], Mapping[str, str]]] = {
    "link.label": lambda _: _AS_STATED,
    "test.limit": lambda meaning: meaning.limits,
    "test.configuration": lambda meaning: meaning.words.configurations,
    "test.near.instrument.serial": lambda _: _AS_STATED,
    "test.far.instrument.serial": lambda _: _AS_STATED,
    "stated.overall": lambda meaning: meaning.words.verdicts,
    PINS: lambda _: _AS_STATED,
    NEAR: lambda _: _AS_STATED,
    FAR: lambda _: _AS_STATED,
}
"""Fields of which a test has one, with what the texts of each mean, where that is declared."""

BEGUN = "test.started"
"""Here two files may say two times, of one test that goes on past midnight at most."""

_TIMES = (BEGUN, "test.ended")
"""Fields of which each file of a test may have its own."""

_SHOWN = 60
"""Characters of a text that are shown."""


def says_something(key: str, cell: Cell, meaning: Meaning) -> bool:
    """Whether a cell holds more than blanks or words for no value; in a wire map some say open."""
    silent = {"", *meaning.numbers.missing}
    silent -= meaning.wires.open if key in meaning.wire_keys else frozenset()
    return any(text.strip() not in silent for text in cell.texts)


def contradictions(
    known: Mapping[str, Cell],
    new: Mapping[str, Cell],
    place: Callable[[str], str],
    meaning: Meaning,
) -> Iterator[Fault]:
    """A fault for each text that cannot be true of a test together with what is known of it.

    Args:
        known: texts of the test by key.
        new: those of another file, or of another part of the same.
        place: makes a place of theirs one that names the file.
        meaning: what the keys and the texts mean.
    """
    for path, key, words in _of_one_word(new.keys() & known.keys(), meaning):
        one, other = known[key], new[key]
        if _differ(key, one, other, words, meaning):
            yield Fault(
                one.place,
                f"{_shown(one)} stands under {key!r} here, and {_shown(other)} in "
                f"{place(other.place)}, which is joined to it; see join, pieces_by and {path}",
            )
    (first, of), (later, day) = (_day(told, meaning) for told in (known, new))
    if of and day and abs((of - day).days) > 1:
        yield Fault(
            first.place,
            f"the test began at {_shown(first)} here, and at {_shown(later)} by "
            f"{place(later.place)}: these are parts of two tests; put the files of one test "
            f"together, or see join and fields.{BEGUN}",
        )


def differences(
    known: Mapping[str, Cell],
    new: Mapping[str, Cell],
    place: Callable[[str], str],
    meaning: Meaning,
) -> Iterator[Fault]:
    """A line for each field of which two files say different things, and either may be right.

    Args:
        known: texts of the test by key.
        new: those of another file, or of another part of the same.
        place: makes a place of theirs one that names the file.
        meaning: what the keys and the texts mean.
    """
    told = {key for path in (*ONE_WORD, *_TIMES) for key in meaning.fields.get(path, ())}
    fill = replace(meaning, join_keys=frozenset()).field_keys - told
    for key in sorted(new.keys() & known.keys() & fill):
        one, other = known[key], new[key]
        if _differ(key, one, other, _AS_STATED, meaning):
            yield Fault(
                one.place,
                f"{_shown(one)} stands under {key!r} here, and {_shown(other)} in "
                f"{place(other.place)}, which is joined to it; the first is taken, and the other "
                "kept in extra; see join, pieces_by and fields",
            )


def _of_one_word(keys: set[str], meaning: Meaning) -> Iterator[tuple[str, str, Mapping[str, str]]]:
    """The dialect's key, the key of the source and what its texts mean, for those in both."""
    for path, words in ONE_WORD.items():
        for key in meaning.fields.get(path, ()):
            if key in keys:
                yield f"fields.{path}", key, words(meaning)
    for key in sorted(keys & meaning.figure_keys.keys() - meaning.field_keys):
        if any(role == "verdict" for role, _ in meaning.figure_keys[key]):
            yield "figures.verdict", key, meaning.words.verdicts


def _differ(key: str, one: Cell, other: Cell, words: Mapping[str, str], meaning: Meaning) -> bool:
    """Whether two cells under one key both say something, and not the same."""
    both = all(says_something(key, cell, meaning) for cell in (one, other))
    return both and _meant(one, words) != _meant(other, words)


def _meant(cell: Cell, words: Mapping[str, str]) -> tuple[str, ...]:
    texts = (text.strip() for text in cell.texts)
    return tuple(words.get(text, text) for text in texts)


def _shown(cell: Cell) -> str:
    text = " / ".join(cell.texts)
    return repr(text if len(text) <= _SHOWN else f"{text[:_SHOWN]}...")


def _day(properties: Mapping[str, Cell], meaning: Meaning) -> tuple[Cell, date | None]:
    """When a test began by one file, as a text, and the day; None where that cannot be told."""
    cells = [properties[key] for key in meaning.fields.get(BEGUN, ()) if key in properties]
    text = " ".join(filter(None, (cell.text.strip() for cell in cells)))
    began = Cell(text, cells[0].place if cells else "")
    try:
        return began, meaning.calendar.day(text)
    except NotADate:
        return began, None
