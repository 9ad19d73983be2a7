"""What every reader that goes by dialects does: choose one, and make records of raw tests."""

from collections.abc import Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING

from sweepbook.dialect import spread
from sweepbook.dialect.assemble import Assembler
from sweepbook.dialect.join import Other, Tests
from sweepbook.dialect.keys_twice import Again, Items, Keys, joined
from sweepbook.dialect.model import Dialect, Join, OtherFile
from sweepbook.dialect.pieces import whole
from sweepbook.dialect.raw import Fault, NotUnderstood, RawTest
from sweepbook.dialect.settled import Made, settled
from sweepbook.dialect.without_curves import tests_without_curves, with_lacking
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import Claim, ReadSetting
from sweepbook.source import Source, UnreadableSource

if TYPE_CHECKING:
    from sweepbook.record.model import Record

MOST_LOST = 20_000
"""Tests one after the other that may be lost: of a file of nothing else, none is a test."""


def read(
    source: Source, setting: ReadSetting, dialect: Dialect, tests: Tests
) -> "Iterator[Record | ReadProblem]":
    """Make a record of each raw test, and a problem of each note about the file as a whole.

    Args:
        source: the file.
        setting: for its limits.
        dialect: its `format` is the name of the reader.
        tests: the reader's own half: the tests of a source as texts.

    Raises:
        SweepbookError: the dialect joins files, and another one is not at hand.
    """
    join = dialect.join
    others = list(_others(source, setting, join)) if join else []
    begin = partial(_tests, source, setting, dialect, whole(tests))
    make = partial(_made, source, setting, dialect, others)
    yield from settled(begin, make, Keys(others))


def _made(
    source: Source,
    setting: ReadSetting,
    dialect: Dialect,
    taken: Iterable[Other],
    tests: Items,
    again: Again,
) -> Iterator[Made]:
    """What becomes of each test and each note, and of what the other files have left."""
    reader = (setting.alone.dialect if setting.alone else dialect).format
    assembler = Assembler(source, dialect, setting.limits, reader)
    join, others = dialect.join, [other.anew() for other in taken]
    whole_file: RawTest | None = None
    understood = True
    for item in joined(tests, others, again):
        if isinstance(item, Fault):
            yield [ReadProblem(source.name, item.place, item.message, lost_record=False)]
        else:
            whole_file = whole_file or item.whole_file
            understood &= not any(isinstance(fault, NotUnderstood) for fault in item.faults)
            yield assembler.assemble(with_lacking(item, setting.lacking))
            if assembler.lost >= MOST_LOST:
                yield [_given_up(source)]
                return
    own = [other for other in others if join and not join.is_of_many(other.join)]
    for _, test in tests_without_curves(own, source, dialect.meaning, whole_file):
        yield assembler.assemble(test)
    for other in own:
        yield from ([problem] for problem in _left_of(other, source, understood=understood))


def _given_up(source: Source) -> ReadProblem:
    message = (
        f"{MOST_LOST:,} tests one after the other could not be read, and the file is not read "
        "further; see the first problems in it, or cut these tests out."
    )
    return ReadProblem(source.name, "", message)


def left_over(
    source: Source, setting: ReadSetting, join: OtherFile, texts: Tests, shared: Iterable[str]
) -> "Iterator[Record | ReadProblem]":
    """What nothing is joined to in a file with parts of the tests of many others.

    A test without curves is joined to what other such files hold of it, as any is.

    Args:
        source: that file.
        setting: with the dialect that joins it, limits, and the others that are such.
        join: how it is joined, by what the names of the others share.
        texts: its tests as texts.
        shared: what the names of those at hand share.

    Yields:
        A record of each test that names its link, with a note; a problem for the others.

    Raises:
        SweepbookError: one holds more tests than can be kept.
    """
    own, dialect, known = _taken(source, join, texts), setting.dialect, frozenset(shared)
    others = [own]
    if setting.others and dialect is not None and dialect.join is not None:
        besides = zip(dialect.join.of_many_besides(join), setting.others, strict=True)
        others += [_taken(at, of, how) for of, (at, how) in besides]
        order = [of.where for of in dialect.join.others]
        others.sort(key=lambda other: order.index(other.join.where))
    for other in others:
        other.joined |= dict.fromkeys(known, "")
        other.unmet |= known - other.known.keys()
    if dialect is not None:
        assembler = Assembler(source, dialect, setting.limits, join.dialect.format)
        for other, test in tests_without_curves(others, source, dialect.meaning):
            if other is own:
                yield from assembler.assemble(test)
    yield from _left_of(own, source)


def _left_of(other: Other, source: Source, *, understood: bool = True) -> Iterator[ReadProblem]:
    own = f"{source.name}, " if other.source is source else ""
    for note in (*other.notes, *other.unused()):
        place = note.place.removeprefix(own)
        yield ReadProblem(source.name, place, note.message, lost_record=False)
    for left in other.left(understood=understood):
        yield ReadProblem(source.name, left.place.removeprefix(own), left.message)


def _tests(
    source: Source, setting: ReadSetting, dialect: Dialect, tests: Tests
) -> Iterator[RawTest | Fault]:
    """The tests of a source, put together with what other files with curves hold of them."""
    if setting.alone:
        return spread.told(tests(source, setting.alone.dialect), source, dialect)
    if dialect.join is None or dialect.join.form is None:
        return iter(tests(source, dialect))
    files = ((source, dialect), *setting.beside)
    return spread.tests_of(files, dialect.join.key, tests)


def _others(source: Source, setting: ReadSetting, join: Join) -> Iterator[Other]:
    """The other files of a join, read whole.

    Raises:
        SweepbookError: one is not at hand, or holds more tests than can be kept.
    """
    if len(setting.others) < len(join.others):
        names = ", ".join(other.name for other in join.others)
        raise SweepbookError(
            f"{source.name}: the other files with parts of these tests, {names}, are not at hand.",
            "Give all files, or their folder; see join.other.",
        )
    for other, (of, texts) in zip(join.others, setting.others, strict=True):
        yield _taken(of, other, texts)


def _taken(source: Source, join: OtherFile, texts: Tests) -> Other:
    other = Other(source, join)
    try:
        other.take(whole(texts)(source, join.dialect))
    except Fault as fault:
        raise SweepbookError(f"{fault.message}.", "Export in smaller parts.") from fault
    return other


def broken_off(error: UnreadableSource) -> Fault:
    """The fault of a file that cannot be read to its end."""
    todo = error.todo[:1].lower() + error.todo[1:].rstrip(".")
    return Fault("", f"the file cannot be read to its end: {error.what.rstrip('.')}; {todo}")


def chosen(source: Source, setting: ReadSetting, reader: str, claims: Iterable[Claim]) -> Dialect:
    """The dialect that was given, else the only one with the strongest claim.

    Args:
        source: the file.
        setting: the dialect given, and those to choose from.
        reader: name of the format.
        claims: the reader's claims on the source, asked only where no dialect was given.

    Raises:
        SweepbookError: no dialect was given, and none or several fit.
    """
    if setting.dialect is not None:
        return setting.dialect
    found = list(claims)
    strongest = max((claim.strength for claim in found), default=None)
    best = [claim.dialect for claim in found if claim.strength is strongest and claim.dialect]
    if len(best) == 1:
        return best[0]
    names = sorted(
        dialect.name for dialect in (best or setting.dialects.values()) if dialect.format == reader
    )
    how = "several dialects fit" if best else "no dialect fits"
    listed = (
        ", ".join(names) or "there is none; `sweepbook formats --guide` prints how to write one"
    )
    raise SweepbookError(
        f"{source.name}: {how} this file.", f"Name a dialect with --dialect: {listed}."
    )
