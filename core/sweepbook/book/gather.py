"""Taking exports into a book: each file whole or not at all, and as often as you like."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path

from sweepbook.belonging import Chosen
from sweepbook.book import corrections, index, journal, keep, lock, places, reading_in, store
from sweepbook.book.contents import Contents
from sweepbook.book.events import GATHERED, Reading, Way
from sweepbook.book.layout import PROGRAM, Book
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.identify import UnclaimedSource
from sweepbook.reading import Pipeline, problem_of
from sweepbook.source import Source, UnreadableSource
from sweepbook.text import utf8_safe

BEGUN = "begun"


class Status(StrEnum):
    """What became of one file."""

    GATHERED = "gathered"
    UNCHANGED = "unchanged"
    READ_AGAIN = "read again"
    REFUSED = "refused"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Outcome:
    """One file, dealt with.

    Attributes:
        name: of the file.
        status: gathered for the first time; unchanged since, be its dialect at hand now or not;
            read again another way, so that this reading is now the current one; refused, since
            nobody can read it; or withdrawn, and so left as it is in the book.
        sha256: digest of the file; "" where it could not be opened.
        way: how it was read; None where it was refused.
        records: records that are in it.
        new: those among them that the book did not have.
        dropped: records of the reading before that this one does not give.
        stay: records of the reading before that stay current, since this one gives none at all.
        problems: what could not be taken.
        crashed: whether the reader crashed.
        withdrawn: why the file, or one joined to it, counts no more; "" where it counts.
        withdrawn_sha256: digest of the one that is withdrawn; "" likewise.
        record_ids: of the records that are in it.
        part_of: name of the file of which it is read as a part; "" where it is read by itself.
        same_as: name of a file that this run took in before, of the same bytes; "" where none is.
    """

    name: str
    status: Status
    sha256: str = ""
    way: Way | None = None
    records: int = 0
    new: int = 0
    dropped: int = 0
    stay: int = 0
    problems: tuple[ReadProblem, ...] = ()
    crashed: bool = False
    withdrawn: str = ""
    withdrawn_sha256: str = ""
    record_ids: frozenset[str] = frozenset()
    part_of: str = ""
    same_as: str = ""


def gather(
    book: Book,
    paths: Iterable[Path],
    pipeline: Pipeline,
    again: bool = False,
    on_wait: Callable[[], None] = lambda: None,
) -> Iterator[Outcome]:
    """Take files into the book, one after the other.

    A file's line in the journal is written last. Whoever is killed before it finds the book as it
    was, with a few files in it that the next run completes. Running it twice changes nothing.

    Args:
        book: the book, which is locked meanwhile.
        paths: files and folders.
        pipeline: how to read.
        again: read also what is there already and was read the same way without problems.
        on_wait: called once when somebody else is writing to the book.

    Yields:
        What became of each file, after it.

    Raises:
        SweepbookError: the book is damaged or cannot be written to.
    """
    with lock.held(book.lock, on_wait=on_wait):
        contents = store.contents_of(book)
        if contents.last is None:
            contents.add(journal.append(book.journal, None, BEGUN, _begun(book)))
        corrections.finish(book, contents)
        entries = pipeline.sources(paths)
        run = _Run(book, contents, pipeline, again, [e for e in entries if isinstance(e, Source)])
        for entry in entries:
            if isinstance(entry, ReadProblem):
                yield Outcome(entry.source, Status.REFUSED, problems=(entry,))
            else:
                for outcome in _with_other(run, entry):
                    if outcome.sha256 and outcome.status is not Status.UNCHANGED:
                        run.named.setdefault(outcome.sha256, outcome.name)
                    yield outcome
        places.note(book, contents, run.elsewhere)
        index.write(book, contents)


@dataclass
class _Run:
    """What a run works with.

    Attributes:
        book, contents: the book.
        pipeline: how to read.
        again: whether what was read the same way is read again.
        given: all files of the run.
        done: files that were dealt with as other parts of one before them.
        elsewhere: sources that the book has, and that were given under paths new to it.
        named: the first name of each file that the run took in, by its digest.
    """

    book: Book
    contents: Contents
    pipeline: Pipeline
    again: bool
    given: Sequence[Source]
    done: set[str] = field(default_factory=set)
    elsewhere: list[places.Given] = field(default_factory=list)
    named: dict[str, str] = field(default_factory=dict)


def _with_other(run: _Run, source: Source) -> Iterator[Outcome]:
    """Deal with one file; before it with those that hold the other parts of its tests."""
    if source.place in run.done:
        return
    try:
        if source.sha256 in run.contents.withdrawn:
            run.done.add(source.place)
            yield _left_out(run, source, source.sha256)
            return
        chosen = run.pipeline.choose(source, run.given)
        others = chosen.setting.joined
        _ = source.sha256, [other.sha256 for other in others]
    except SweepbookError as error:
        if isinstance(error, UnclaimedSource) and (known := _known(run, source)):
            run.done.add(source.place)
            yield known
            return
        yield Outcome(source.name, Status.REFUSED, problems=(problem_of(source, error),))
        return
    part = Chosen(chosen.format, replace(chosen.setting, others=(), beside=()), source.name)
    for other in others:
        if other.place not in run.done and other.place != source.place:
            run.done.add(other.place)
            yield _one(run, other, _by_itself(run, other, part))
    run.done.add(source.place)
    yield _one(run, source, chosen)


def _by_itself(run: _Run, other: Source, part: Chosen) -> Chosen:
    """How a file with other parts is read: one for many files may have tests of its own."""
    try:
        own = run.pipeline.choose(other, run.given)
    except SweepbookError:
        return part
    return replace(own, part_of=part.part_of) if own.shared is not None else part


def _known(run: _Run, source: Source) -> Outcome | None:
    """A file that nobody at hand can read, where the book has what was read of it before.

    None where it has no test of it, or where the file shall be read again.
    """
    contents, sha256 = run.contents, source.sha256
    its = [one for one in contents.current.values() if sha256 in one.of[1] or one.sha256 == sha256]
    if not its or run.again:
        return None
    counting = [one for one in its if contents.counts(one.of)]
    if not counting:
        return _left_out(run, source, next(filter(contents.withdrawn.__contains__, its[-1].of[1])))
    _note_place(run, source)
    own = [one for one in counting if one.sha256 == sha256]
    ids = frozenset(listed.record_id for one in own for listed in one.records)
    last = own[-1] if own else contents.readings_of(sha256)[-1][1]  # or it holds other parts only
    return replace(_unchanged(run, source, last), records=len(ids), record_ids=ids)


def _one(run: _Run, source: Source, chosen: Chosen) -> Outcome:
    """Take one file in, and say of which it is a part."""
    return replace(_taken_in(run, source, chosen), part_of=chosen.part_of or "")


def _unchanged(run: _Run, source: Source, before: Reading) -> Outcome:
    """Nothing to be done: what was read stays, be it of this file or one of the same bytes."""
    outcome, first = _outcome(before, Status.UNCHANGED), run.named.get(source.sha256, "")
    return replace(outcome, name=source.name, same_as=first) if first else outcome


def _taken_in(run: _Run, source: Source, chosen: Chosen) -> Outcome:
    """Take one file in."""
    book, contents, pipeline, again = run.book, run.contents, run.pipeline, run.again
    sha256, way = source.sha256, _way(chosen)
    if gone_part := next(filter(contents.withdrawn.__contains__, way.joined), ""):
        return _left_out(run, source, gone_part)
    line, before = contents.latest.get((sha256, way.joined), (0, None))
    if before is not None and before.way == way and not before.problems and not again:
        _note_place(run, source)
        return _unchanged(run, source, before)
    try:
        kept = keep.source(book, source)
        chosen = replace(chosen, setting=keep.joined(book, chosen.setting))
    except UnreadableSource as error:
        return Outcome(source.name, Status.REFUSED, problems=(problem_of(source, error),))
    keep.dialect(book, chosen)
    listed, new, problems, crashed = reading_in.read(book, kept, chosen, pipeline)
    reading = Reading(sha256, kept.name, way, listed, problems)
    if reading == before:
        _note_place(run, source)
        return replace(_unchanged(run, source, reading), crashed=crashed)
    if before is None:
        line, before = _replaced(run, reading)
    body = {**reading.to_json(), "from": _place(source)}
    if before is None:
        contents.add(journal.append(book.journal, contents.last, GATHERED, body))
        return _outcome(reading, Status.GATHERED, new, crashed=crashed)
    body["read_before"] = {
        "line": line,
        "program": before.way.program,
        "reader": before.way.reader,
        "dialect_sha256": before.way.dialect_sha256 or None,
    }
    gone = len({r.record_id for r in before.records} - {r.record_id for r in listed})
    contents.add(journal.append(book.journal, contents.last, GATHERED, body))
    outcome = _outcome(reading, Status.READ_AGAIN, new, crashed)
    return replace(outcome, dropped=gone) if listed or way.part else replace(outcome, stay=gone)


def _left_out(run: _Run, source: Source, sha256: str) -> Outcome:
    """What becomes of a file that counts no more, or whose other parts do not."""
    _note_place(run, source)
    by = run.contents.withdrawn[sha256]
    why = f"{by.who}, {by.when}: {by.why}"
    return Outcome(
        *(source.name, Status.WITHDRAWN, source.sha256), withdrawn=why, withdrawn_sha256=sha256
    )


def _note_place(run: _Run, source: Source) -> None:
    """Note for the journal that a source of the book came from another place too."""
    known, place = run.contents.came_from.get(source.sha256), _place(source)
    if known is not None and places.is_new(place, known, run.book):
        run.elsewhere.append(places.Given(source.sha256, source.name, place))


def _place(source: Source) -> str:
    """The path under which a file was given, as it was typed."""
    return utf8_safe(str(source.folder / source.file_name))


def _replaced(run: _Run, reading: Reading) -> tuple[int, Reading | None]:
    """The reading of the same source with other files joined to it, whose place this one takes.

    It does where one of the two had no other files, or where tests of the same labels came of it
    and one of its files is not given now, or all of them are joined again. Otherwise both stand:
    curves that come with two heads may be one measurement under two labels, and that has to be
    seen.
    """
    given = {_digest(source) for source in run.given}
    labels = {listed.label for listed in reading.records}
    for line, before in run.contents.readings_of(reading.sha256):
        other, joined = set(before.way.joined), set(reading.way.joined)
        shared = labels & {listed.label for listed in before.records}
        if not other or not joined or (shared and (other <= joined or not other <= given)):
            return line, before
    return 0, None


def _digest(source: Source) -> str:
    """Digest of a file; "" of one that cannot be read, which is told elsewhere."""
    try:
        return source.sha256
    except SweepbookError:
        return ""


def _way(chosen: Chosen) -> Way:
    dialect = chosen.setting.dialect
    if dialect is None:
        return Way(chosen.format.name, "", "", PROGRAM)
    joined = tuple(other.sha256 for other in chosen.setting.joined)
    part = bool(chosen.part_of and dialect.join and dialect.join.form)
    return Way(chosen.format.name, dialect.name, dialect.sha256, PROGRAM, joined, part)


def _outcome(reading: Reading, status: Status, new: int = 0, crashed: bool = False) -> Outcome:
    return Outcome(
        name=reading.name,
        status=status,
        sha256=reading.sha256,
        way=reading.way,
        records=len(reading.records),
        new=new,
        problems=reading.problems,
        crashed=crashed,
        record_ids=frozenset(listed.record_id for listed in reading.records),
    )


def _begun(book: Book) -> dict[str, str]:
    return {"program": PROGRAM, "name": book.name}
