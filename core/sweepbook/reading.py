"""From a path to a stream of records: tell the format, read, and let no fault end the rest."""

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from sweepbook import joining
from sweepbook.another_layout import told_once
from sweepbook.archive import sources_of
from sweepbook.belonging import Belonging, Chosen
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.reading import left_over
from sweepbook.dialect.unfilled import Unfilled
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import ReadSetting
from sweepbook.given import Given
from sweepbook.identify import Identified, UnknownSource, identify
from sweepbook.record.model import Record
from sweepbook.registry import STRICT, Registry
from sweepbook.source import Bounds, Source, UnreadableSource

MOST_PROBLEMS = 200
_NO_DIALECTS = dict[str, Dialect]


@dataclass(frozen=True, slots=True)
class ReaderCrash(ReadProblem):
    """A reader raised what it must not: a fault of the plugin, not of the file."""


@dataclass(frozen=True)
class Pipeline:
    """The way from files to records, as asked for.

    Attributes:
        registry: the plugins.
        setting: limits, dialects to choose from, and the one dialect where the user named one.
        from_format: name of the format where the user named one; no other format is asked then.
        bounds: how far a compressed source may expand.
        unfilled: what the dialects name and no test read so far has.
        groups: which files belong together, where a dialect has tests spread over several.
        given: the files that are to be read, by their names.
        others: gives the dialects at hand besides the one named, by what to write after --dialect.
    """

    registry: Registry
    setting: ReadSetting
    from_format: str | None = None
    bounds: Bounds = field(default_factory=Bounds)
    unfilled: Unfilled = field(default_factory=Unfilled, compare=False)
    groups: joining.Groups = field(default_factory=joining.Groups, compare=False)
    given: Given = field(default_factory=Given, compare=False)
    others: Callable[[], Mapping[str, Dialect]] = field(default=_NO_DIALECTS, compare=False)

    def source(self, path: Path) -> Source:
        """Take a path for a source."""
        return Source(path, self.bounds)

    def sources(self, paths: Iterable[Path]) -> "list[Source | ReadProblem]":
        """Every file of files, folders and archives once, and a problem for what is none."""
        return list(sources_of(paths, self.bounds))

    def choose(self, source: Source, given: Iterable[Source] = ()) -> Chosen:
        """Tell how to read a source.

        Args:
            source: the source.
            given: all files that are to be read, among which the other one is looked for where a
                dialect joins two.

        Raises:
            UnknownSource: it is empty, nobody claims it, several do equally, or no one dialect
                fits.
            UnreadableSource: it cannot be opened.
            SweepbookError: there is no format of the name asked for, or the file that belongs to
                this one is not at hand.
        """
        try:
            return self._chosen(source, given)
        finally:
            source.let_go()

    def _chosen(self, source: Source, given: Iterable[Source]) -> Chosen:
        files = Belonging(self.registry, self.setting, self.groups, self.given, given)
        if part := files.part(source):
            return part
        chosen = self._choose(source)
        dialect = chosen.setting.dialect
        if dialect is None or dialect.join is None:
            return chosen
        return files.with_others(source, chosen, dialect, dialect.join)

    def _choose(self, source: Source) -> Chosen:
        if _is_empty(source):
            raise UnknownSource(
                f"{source.name}: the file is empty.", "Export it from the tester again."
            )
        given = self.setting.dialect
        name = self.from_format or (given.format if given else None)
        if name is None:
            return _claimed(identify(source, self.registry, self.setting), self.setting)
        named = self.registry.reader(name)
        if given or not self.setting.dialects or named.identify is None:
            return Chosen(named, self.setting)
        only = replace(self.registry, formats={named.name: named})
        try:
            return _claimed(identify(source, only, self.setting), self.setting)
        except UnknownSource as error:
            raise UnknownSource(error.message, "Name the one dialect with --dialect.") from error

    def read(self, source: Source, chosen: Chosen) -> Iterator[Record | ReadProblem]:
        """Read one source to its end.

        Yields:
            What the reader yields; where it fails, a problem in place of the rest, and where it
            crashes, a `ReaderCrash`. After 200 problems the others are only counted, but for the
            last, which may say why the file was not read to its end.
        """
        if chosen.part_of:
            yield from self._left_over(source, chosen)
            return
        yield from _let_go(source, self._once(source, self._counted(source, chosen)))

    def _once(
        self, source: Source, items: Iterator[Record | ReadProblem]
    ) -> Iterator[Record | ReadProblem]:
        """Of a file of another layout than the one dialect named is of, say that alone."""
        if self.setting.dialect is None:
            return items
        return told_once(items, source, self.registry, self.setting, self.others)

    def _counted(self, source: Source, chosen: Chosen) -> Iterator[Record | ReadProblem]:
        problems, dialect = 0, chosen.setting.dialect
        last: ReadProblem | None = None
        for item in _isolated(source, chosen):
            if dialect is not None and isinstance(item, Record):
                self.unfilled.see(item, dialect)
            if not isinstance(item, ReadProblem) or isinstance(item, ReaderCrash):
                yield item
                continue
            problems += 1
            if problems <= MOST_PROBLEMS:
                yield item
            else:
                last = item
        if last is not None:
            more = problems - MOST_PROBLEMS - 1
            if more:
                message = f"{more} more problems in this file, not listed."
                yield ReadProblem(source.name, "", message)
            yield last

    def _left_over(self, source: Source, chosen: Chosen) -> Iterator[Record | ReadProblem]:
        """What becomes of a file with parts of tests only: what of it is joined to no group."""
        texts = chosen.format.texts
        if chosen.shared is not None and chosen.other and texts:
            try:
                yield from left_over(source, chosen.setting, chosen.other, texts, chosen.shared)
            except SweepbookError as error:
                yield problem_of(source, error)

    def read_all(self, paths: Iterable[Path]) -> Iterator[Record | ReadProblem]:
        """Read files and folders, one source after the other; a bad one gives a problem."""
        entries = self.sources(paths)
        given = [entry for entry in entries if isinstance(entry, Source)]
        for entry in entries:
            if isinstance(entry, ReadProblem):
                yield entry
            else:
                yield from self.read_source(entry, given)

    def read_source(
        self, source: Source, given: Iterable[Source] = ()
    ) -> Iterator[Record | ReadProblem]:
        """Tell how to read one source and read it; where that cannot be told, give a problem."""
        try:
            chosen = self.choose(source, given)
        except SweepbookError as error:
            yield problem_of(source, error)
            return
        yield from self.read(source, chosen)


def _let_go(
    source: Source, items: Iterator[Record | ReadProblem]
) -> Iterator[Record | ReadProblem]:
    """Pass on what is read, and let go of the source's first bytes in the end."""
    try:
        yield from items
    finally:
        source.let_go()


def problem_of(source: Source, error: SweepbookError) -> ReadProblem:
    """The problem that stands for a whole source that cannot be read."""
    message = error.message.removeprefix(f"{source.name}: ").removeprefix(f"{source.path}: ")
    return ReadProblem(source.name, "", f"{message} {error.todo}")


def _is_empty(source: Source) -> bool:
    """Whether there is nothing in a file; one that is damaged is for its reader to read into."""
    try:
        return not source.head
    except UnreadableSource:
        return False


def _claimed(found: Identified, setting: ReadSetting) -> Chosen:
    """What the winning claim says to do."""
    return Chosen(found.format, replace(setting, dialect=found.claim.dialect))


def _isolated(source: Source, chosen: Chosen) -> Iterator[Record | ReadProblem]:
    """Run the reader; what it raises becomes the last item."""
    read = chosen.format.read
    if read is None:
        return
    try:
        for item in read(source, chosen.setting):
            if not isinstance(item, Record | ReadProblem):
                raise TypeError(f"yielded {type(item).__name__}, not a record or a problem")
            yield item
    except SweepbookError as error:
        yield problem_of(source, error)
    except Exception as error:  # a plugin may raise anything
        if os.environ.get(STRICT) == "1":
            raise
        yield ReaderCrash(
            source.name,
            "",
            f"The reader {chosen.format.name!r} crashed ({type(error).__name__}: {error}). "
            f"What it read before is kept; set {STRICT}=1 to see where, and tell its author.",
        )
