"""Tests whose curves are spread over several files, one a parameter or a curve: put together."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from sweepbook.dialect.dates import NotADate
from sweepbook.dialect.file_form import SHARED
from sweepbook.dialect.join import MOST_TESTS, Tests, put_together
from sweepbook.dialect.model import Dialect, Meaning
from sweepbook.dialect.raw import Cell, Fault, RawTest
from sweepbook.source import Source

ONE_WORD = (
    "link.label",
    "test.limit",
    "test.configuration",
    "test.near.instrument.serial",
    "test.far.instrument.serial",
    "stated.overall",
)
"""Fields of which a test has one: where two files say two things, neither is taken."""

BEGUN = "test.started"
"""Here two files may say two times, of one test that goes on past midnight at most."""


def tests_of(
    files: Sequence[tuple[Source, Dialect]], key: str, texts: Tests
) -> Iterator[RawTest | Fault]:
    """The tests of files that belong together, and notes about the files as wholes.

    All of them are held in memory, since any file may hold a part of any test.

    Args:
        files: each with the dialect that reads it, which knows what its name says.
        key: key by which tests are joined; "" where each file holds one test.
        texts: the tests of one file as texts.
    """
    found: dict[str, RawTest] = {}
    lead = files[0][0]
    for source, dialect in files:
        alone = source is lead
        met: dict[str, str] = {}
        for item in _told(texts(source, dialect), source, dialect):
            if isinstance(item, Fault):
                yield item if alone else Fault(_within(source, item.place), item.message)
                continue
            cell = item.properties.get(key) if key else None
            text = cell.text.strip() if cell else ""
            if key and not text:
                yield _without_key(item, source, key, alone=alone)
                continue
            if text in met:
                item.faults.insert(0, Fault(item.locator, _twice(text, met[text], source)))
            met.setdefault(text, item.locator)
            if len(found) >= MOST_TESTS:
                message = f"there are more than {MOST_TESTS:,} tests; export in smaller parts"
                yield Fault(_within(source, item.locator), message)
                return
            known = found.get(text)
            if known is None:
                known = item if alone else RawTest("")
            found[text] = known if known is item else _merged(known, item, source, dialect)
    yield from found.values()


def with_shared(test: RawTest, source: Source, dialect: Dialect) -> RawTest:
    """A test with what the names of its files share, where the dialect asks for it."""
    around = dialect.around
    if around is not None and SHARED in dialect.meaning.field_keys:
        test.properties.setdefault(SHARED, Cell(around.shared, f"the name {source.file_name}"))
    return test


def _told(
    items: Iterable[RawTest | Fault], source: Source, dialect: Dialect
) -> Iterator[RawTest | Fault]:
    for item in items:
        yield item if isinstance(item, Fault) else with_shared(item, source, dialect)


def _merged(known: RawTest, item: RawTest, source: Source, dialect: Dialect) -> RawTest:
    """A test with what one more file holds of it, and a fault where they contradict."""
    whole = put_together(known, item, source, lambda place: _within(source, place))
    faults = list(_contradicting(known.properties, item.properties, source, dialect))
    return replace(whole, faults=[*whole.faults, *faults]) if faults else whole


def _contradicting(
    known: Mapping[str, Cell], new: Mapping[str, Cell], source: Source, dialect: Dialect
) -> Iterator[Fault]:
    for path in ONE_WORD:
        for key in dialect.meaning.fields.get(path, ()):
            if key in known and key in new and known[key].text != new[key].text:
                message = (
                    f"{new[key].text!r:.60} stands under {key!r} in {source.name}, and "
                    f"{known[key].text!r:.60} in another file of the test; see join.file and "
                    f"fields.{path}"
                )
                yield Fault(known[key].place, message)
    (first, of), (later, other) = (_day(told, dialect.meaning) for told in (known, new))
    if of and other and abs((of - other).days) > 1:
        yield Fault(
            first.place,
            f"the test began at {later.text!r:.60} by {source.name}, and at {first.text!r:.60} by "
            "another file: these are parts of two tests; put the files of one test together, or "
            f"see join.file and fields.{BEGUN}",
        )


def _day(properties: Mapping[str, Cell], meaning: Meaning) -> tuple[Cell, date | None]:
    """When a test began by one file, as a text, and the day; None where that cannot be told."""
    cells = [properties[key] for key in meaning.fields.get(BEGUN, ()) if key in properties]
    text = " ".join(filter(None, (cell.text.strip() for cell in cells)))
    began = Cell(text, cells[0].place if cells else "")
    try:
        return began, meaning.calendar.day(text)
    except NotADate:
        return began, None


def _without_key(item: RawTest, source: Source, key: str, *, alone: bool) -> Fault:
    told = f"; {item.faults[0]}" if item.faults else ""
    place = item.locator if alone else _within(source, item.locator)
    return Fault(
        place,
        f"nothing stands under {key!r} here, by which tests are joined, and what does is not "
        f"read{told}; see join.key",
    )


def _twice(text: str, first: str, source: Source) -> str:
    if text:
        return f"the key {text!r} stands twice in {source.name}, first in {first}; see join.key"
    return (
        f"{source.name} holds several tests, the first in {first}, and there is no join.key; "
        "which belongs to which cannot be told"
    )


def _within(source: Source, place: str) -> str:
    return f"{source.name}, {place}" if place else source.name
