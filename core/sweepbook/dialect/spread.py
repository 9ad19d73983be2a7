"""Tests whose curves are spread over several files, one a parameter or a curve: put together."""

from collections.abc import Iterable, Iterator, Sequence
from functools import partial

from sweepbook.dialect.file_form import SHARED
from sweepbook.dialect.join import MOST_TESTS, Tests, put_together
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.raw import Cell, Fault, RawTest
from sweepbook.source import Source


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
        for item in told(texts(source, dialect), source, dialect):
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
            if known is not item:
                known = put_together(known, item, source, partial(_within, source), dialect.meaning)
            found[text] = known
    yield from found.values()


def with_shared(test: RawTest, source: Source, dialect: Dialect) -> RawTest:
    """A test with what the names of its files share, where the dialect asks for it."""
    around = dialect.around
    if around is not None and SHARED in dialect.meaning.field_keys:
        test.properties.setdefault(SHARED, Cell(around.shared, f"the name {source.file_name}"))
    return test


def told(
    items: Iterable[RawTest | Fault], source: Source, dialect: Dialect
) -> Iterator[RawTest | Fault]:
    """Tests with what the names of their files share, and notes as they are."""
    for item in items:
        yield item if isinstance(item, Fault) else with_shared(item, source, dialect)


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
