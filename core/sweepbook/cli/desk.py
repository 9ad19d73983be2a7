"""What a command works with: plugins, limits, dialects, and the stream of records asked for."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, partial
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from sweepbook.cli.asked import NOTHING, Asked
from sweepbook.cli.wording import of_repeated
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.text import printable

if TYPE_CHECKING:
    from sweepbook.audit.context import Context
    from sweepbook.audit.run import Assessed, Run
    from sweepbook.cli.whereabouts import Whereabouts
    from sweepbook.cli.workers import Besides
    from sweepbook.delivery import Recount
    from sweepbook.dialect.model import Dialect
    from sweepbook.judging.assessment import Assessment
    from sweepbook.limits.library import Library
    from sweepbook.people.names import People
    from sweepbook.reading import Pipeline
    from sweepbook.record.model import Record
    from sweepbook.registry import Registry
    from sweepbook.rules.model import Entry
    from sweepbook.source import Source


Found = TypeVar("Found", bound="Record | Assessed")
OfBook = Callable[[Path], "Iterator[Found | ReadProblem]"]
"""Gives what is current in a book."""


@dataclass
class Desk:
    """The tools, each fetched when it is first needed.

    Attributes:
        asked: what the command line asked for.
        paths: what is read or written; the limit tables of books among them are at hand too.
        reader_crashes: readers that crashed so far.
        repeated: labels of tests that came again from another of the places read.
        alone: whether one dialect reads every file, asked for or not.
    """

    asked: Asked = NOTHING
    paths: tuple[Path, ...] = ()
    reader_crashes: int = 0
    repeated: list[str] = field(default_factory=list)
    alone: bool = False

    @cached_property
    def registry(self) -> "Registry":
        """The plugins; one that cannot be loaded is named on stderr."""
        from sweepbook import registry

        found = registry.load()
        for name, why in found.failures.items():
            click.echo(
                f"Warning: the plugin {printable(name)} is not in use: {printable(why)}\n"
                "         Update or remove it; `sweepbook doctor` lists the plugins.",
                err=True,
            )
        return found

    @cached_property
    def library(self) -> "Library":
        """The limit tables, those of plugins included."""
        return self.context.library

    @cached_property
    def context(self) -> "Context":
        """What records are judged by, as asked for."""
        from sweepbook.cli.judged_by import context_of

        return context_of(self.asked, self.paths, self.registry)

    @cached_property
    def rules(self) -> "dict[str, Entry]":
        """What the catalogue and the plugins say about their rules, by id, without loading them."""
        from sweepbook.rules.catalogue import built_in_entries

        contributed = (rule.entry for rule in self.registry.rules)
        entries = sorted((*built_in_entries(), *contributed), key=lambda entry: entry.id)
        return {entry.id: entry for entry in entries}

    def rule(self, rule: str) -> "Entry | None":
        """What is said about one rule, None where there is none; plugins are asked last."""
        from sweepbook.rules.catalogue import built_in_entries

        built_in = next((entry for entry in built_in_entries() if entry.id == rule), None)
        return built_in or self.rules.get(rule)

    @cached_property
    def people(self) -> "People":
        """The names of people that lie in the books named."""
        from sweepbook.book import people
        from sweepbook.book.layout import open_book
        from sweepbook.inputs import is_book
        from sweepbook.people.names import People

        return People.together(people.load(open_book(path)) for path in filter(is_book, self.paths))

    @cached_property
    def withdrawn(self) -> frozenset[str]:
        """Digests of the sources that count no more in the books named."""
        from sweepbook.book.layout import open_book
        from sweepbook.book.withdraw import digests
        from sweepbook.inputs import is_book

        found = (digests(open_book(path)) for path in self.paths if is_book(path))
        return frozenset().union(*found)

    @property
    def withdrawn_words(self) -> str:
        """What of the books named is withdrawn, when and why; "" for nothing."""
        return self.context.options.get("withdrawn", "")

    def labels_at_rest(self) -> set[str]:
        """Labels of tests in the books named that count no more, for comparison.

        They are in the one form of the job first; see `record.links.plain_label`.
        """
        from sweepbook.book.layout import open_book
        from sweepbook.book.store import contents_of
        from sweepbook.inputs import is_book
        from sweepbook.record.links import plain_label

        if not self.withdrawn_words:
            return set()
        books = (contents_of(open_book(path)) for path in self.paths if is_book(path))
        labels = {one.label for contents in books for one in contents.at_rest().values()}
        return {plain_label(self.shown_label(label)) for label in labels}

    @property
    def recounts(self) -> "list[Recount]":
        """When tests in the books named ceased to count, or began to count again."""
        from sweepbook.book.layout import open_book
        from sweepbook.book.recounted import records, told_by_time
        from sweepbook.delivery import Recount
        from sweepbook.inputs import is_book

        books = [open_book(path) for path in self.paths if is_book(path)]
        found = [
            Recount(told.when, told.words, partial(self._spelled, records, book, told.records))
            for book in books
            for told in told_by_time(book, self.shown_label)
        ]
        return sorted(found, key=lambda one: one.when)  # of one second, as the journal has them

    def _spelled(self, give: "Callable[..., Iterator[Record]]", *of: object) -> "Iterator[Record]":
        return map(self.context.spelled, give(*of))

    @cached_property
    def pipeline(self) -> "Pipeline":
        """The way from files to records, as asked for."""
        from sweepbook.cli.dialects import beside, hold_format
        from sweepbook.formats import ReadSetting
        from sweepbook.reading import Pipeline

        setting = ReadSetting(replace(self.library, called={}), self.dialects)
        if self.alone or len(self.asked.dialects) == 1:
            (dialect,) = self.dialects.values()
            setting = replace(setting, dialect=dialect)
        if self.asked.from_format is not None:
            self.registry.reader(self.asked.from_format)  # a wrong name is told before any file
            hold_format(self.asked.from_format, self.dialects if self.asked.dialects else {})
        others = cache(lambda: self.installed_dialects | beside(self.asked.dialects, self.registry))
        return Pipeline(self.registry, setting, self.asked.from_format, others=others)

    def read_by(self, dialect: "Dialect") -> None:
        """Read every file with a dialect, as if it alone had been asked for."""
        self.dialects = {dialect.name: dialect}
        self.alone = True

    @cached_property
    def dialects(self) -> "dict[str, Dialect]":
        """The dialects asked for; where none are, all that plugins bring."""
        from sweepbook.cli.dialects import named

        if not self.asked.dialects:
            return self.installed_dialects
        return named(self.asked.dialects, self.installed_dialects, self.registry, self.library)

    @cached_property
    def installed_dialects(self) -> "dict[str, Dialect]":
        """The dialects that plugins bring, by name; a bad one is named on stderr."""
        from sweepbook.cli.dialects import installed

        return installed(self.registry)

    def run(self) -> "Run":
        """A fresh run over records."""
        from sweepbook.audit.run import Run

        return Run(self.context, recall=self.whereabouts.recall)

    @cached_property
    def whereabouts(self) -> "Whereabouts":
        """Where the records lie that were read so far."""
        from sweepbook.cli.whereabouts import Whereabouts

        return Whereabouts()

    def items(self, paths: Sequence[Path]) -> "Iterator[Record | ReadProblem]":
        """The records of books and files, in the order in which they are named, each once.

        Raises:
            SweepbookError: there is nothing in them at all.
        """
        return self._once(paths, self._records)

    def assessments(self, run: "Run", paths: Sequence[Path]) -> "Iterator[Assessment]":
        """The same, assessed; see `assessed`."""
        return (one.assessment for one in self.assessed(run, paths))

    def assessed(
        self, run: "Run", paths: Sequence[Path], besides: "Besides | None" = None
    ) -> "Iterator[Assessed]":
        """The same, assessed; by several processes where they were asked for, or are worth it.

        Args:
            run: counts what is found, and is closed by whoever asks.
            paths: books, files and folders to read.
            besides: what other processes do with each record besides.

        Raises:
            SweepbookError: there is nothing in them at all.
        """
        if self.asked.workers == 1:
            return run.through(self.items(paths))
        from sweepbook.cli import workers

        of_book = partial(workers.assessed, self, besides or workers.NOTHING_BESIDES)
        return run.through(self._once(paths, of_book))

    def _once(
        self, paths: Sequence[Path], of_book: "OfBook[Found]"
    ) -> "Iterator[Found | Record | ReadProblem]":
        from sweepbook.cli.emptiness import nothing_in
        from sweepbook.cli.whereabouts import record_of
        from sweepbook.inputs import is_book

        if all(map(is_book, paths)) and (self.asked.from_format or self.asked.dialects):
            raise SweepbookError(
                "--from and --dialect say how exports are read, and a book has been read already.",
                "Leave them out, or read its exports again: sweepbook gather BOOK EXPORTS "
                "--dialect FILE.",
            )
        nothing, seen = True, set[tuple[str, ...]]()
        for item in self._items(paths, of_book):
            nothing = False
            if isinstance(item, ReadProblem):
                yield item
            elif (key := _identity(item)) in seen:
                self.repeated.append(record_of(item).label)
            else:
                seen.add(key)
                yield item
        if nothing:
            raise nothing_in(paths)

    def _items(
        self, paths: Sequence[Path], of_book: "OfBook[Found]"
    ) -> "Iterator[Found | Record | ReadProblem]":
        from sweepbook.cli.whereabouts import from_book
        from sweepbook.inputs import is_book

        given: set[Path] = set()
        for book, group in groupby(paths, key=is_book):
            if book:
                for folder in group:
                    if folder.resolve() in given:
                        continue
                    given.add(folder.resolve())
                    noted = self.whereabouts.noted
                    yield from noted(of_book(folder), partial(from_book, folder))
                continue
            entries = self.pipeline.sources(group)
            sources = [entry for entry in entries if not isinstance(entry, ReadProblem)]
            for entry in entries:
                if isinstance(entry, ReadProblem):
                    yield entry
                else:
                    yield from self._of_source(entry, sources)

    def _of_source(
        self, source: "Source", given: "Sequence[Source]"
    ) -> "Iterator[Record | ReadProblem]":
        from sweepbook.cli.whereabouts import from_source

        read = self._counted(self.pipeline.read_source(source, given))
        again = partial(from_source, self.pipeline, source, given)
        return self.whereabouts.noted(read, again)

    def closing(self) -> int:
        """Tell on stderr what is to be known of the reading, and identifiers that crashed.

        Returns:
            how many plugins crashed at work.
        """
        remarks = list(of_repeated(self.repeated))
        if "context" in self.__dict__ and (gone := self.context.options.get("withdrawn")):
            remarks.append(f"Withdrawn, and not counted here: {gone}.")
        if "pipeline" in self.__dict__:
            remarks += self.pipeline.unfilled.remarks()
        for remark in remarks:
            click.echo(f"To know: {printable(remark)}", err=True)
        for crash in self.registry.crashes:
            click.echo(f"Warning: a plugin crashed: {printable(crash)}", err=True)
        return len(self.registry.crashes) + self.reader_crashes

    def exit_code(self, run: "Run", *, fail_on_failed: bool = False) -> int:
        """What a check amounts to; a plugin that is not in use may have had rules to ask."""
        from sweepbook.audit import outcome

        run.close()
        run.counters.plugins_failed = self.closing() + len(self.registry.failures)
        return int(outcome.exit_code(run.counters, fail_on_failed=fail_on_failed))

    def _records(self, folder: Path) -> "Iterator[Record | ReadProblem]":
        """Everything that is current in a book, as corrected."""
        from sweepbook.book import corrections
        from sweepbook.book.layout import open_book

        return corrections.records(open_book(folder), self.shown_label)

    def shown_label(self, label: str) -> str:
        """A label in the one form of the job."""
        project = self.context.project
        return project.spellings.label(label) if project else label

    def _counted(self, items: "Iterable[Record | ReadProblem]") -> "Iterator[Record | ReadProblem]":
        from sweepbook.reading import ReaderCrash

        for item in items:
            self.reader_crashes += isinstance(item, ReaderCrash)
            yield item


def _identity(found: "Record | Assessed") -> tuple[str, ...]:
    """What tells tests apart: the evidence, and what was corrected beside it."""
    from sweepbook.cli.whereabouts import record_of

    record = record_of(found)
    corrected = record.corrected
    changes = corrected.applied if corrected else ()
    return record.record_id, *(text for one in changes for text in (one.field, one.new))
