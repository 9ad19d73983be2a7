"""All limit tables at hand, by path, and by the names that people and testers give them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches
from functools import cache, lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Literal

from sweepbook.cached import cached_property
from sweepbook.errors import SweepbookError
from sweepbook.limits.basing import Document
from sweepbook.limits.loading import Loaded, Source, json_files, load_all
from sweepbook.limits.model import LimitTable
from sweepbook.limits.names import Match, Spellings, match, name_letters, spellings, without_plus
from sweepbook.limits.not_usable import meant

_MOST_NAMES = 1000
"""Names whose tables are kept; a book of one job uses a handful."""


class UnknownLimit(SweepbookError):
    """No table goes by this name."""


class AmbiguousLimit(SweepbookError):
    """Several tables go by this name; `candidates` are their paths."""

    def __init__(self, spelling: str, candidates: tuple[str, ...]) -> None:
        self.candidates = candidates
        super().__init__(
            f"{spelling!r} may mean {', '.join(candidates)}.",
            "Say which, by its path.",
        )


@dataclass(frozen=True, slots=True)
class Resolved:
    """What a spelling led to.

    Attributes:
        path: of the table.
        how: how it was found, in words.
        by: "path"; "name", where the spelling names the edition; or "date", where it does not and
            the day of the test, or the newest at hand, chose it.
    """

    path: str
    how: str
    by: Literal["path", "name", "date"]


@dataclass(frozen=True)
class Library:
    """The tables by path, in the order of their paths.

    Attributes:
        tables: by path.
        documents: the same as whole documents, for a table to be based on.
        files: the bytes of their files, as they came.
        called: what a job means by spellings of its own, these in lower case with single blanks.
        called_by: who says so: the project file.
    """

    tables: Mapping[str, LimitTable]
    documents: Mapping[str, Document] = field(default_factory=dict)
    files: Mapping[str, bytes] = field(default_factory=dict)
    called: Mapping[str, str] = field(default_factory=dict)
    called_by: str = ""

    @staticmethod
    def load(folders: Iterable[Traversable] = (), tables: Iterable[Traversable] = ()) -> "Library":
        """Read the tables that come with the program, those of further folders, and single files.

        Args:
            folders: each holds limit tables as `limits/**/*.json`; one without is passed over.
            tables: files of one table each.

        Raises:
            LimitFault: a file is no usable limit table.
            SweepbookError: two files give the same path, or a file cannot be read.
        """
        collected = []
        for place in folders:
            collected += [Source(file) for file in json_files(place.joinpath("limits"))]
        collected += [Source(file) for file in tables]
        return Library._of(load_all(collected, _of_the_program()))

    @staticmethod
    def kept(folder: Traversable) -> tuple["Library", tuple[str, ...]]:
        """The tables that were put aside in a folder, and no others; those in folders of it too.

        Returns:
            The library, and for each file that is no usable limit table, or has the path of
            another one, a sentence that says why.

        Raises:
            OSError: a file cannot be read.
        """
        shipped = {file.read_bytes() for file in json_files(_shipped())}
        waiting = [Source(file, file.read_bytes() in shipped) for file in json_files(folder)]
        loaded = load_all([source for source in waiting if source.trusted])
        waiting = [source for source in waiting if not source.trusted]
        faults: list[str] = []
        while waiting:  # a table may be based on one that comes later
            left, faults = [], []
            for source in waiting:
                try:
                    loaded = load_all([source], loaded)
                except SweepbookError as error:
                    left.append(source)
                    faults.append(error.message)
            if len(left) == len(waiting):
                break
            waiting = left
        return Library._of(loaded), tuple(faults)

    @staticmethod
    def _of(loaded: Loaded) -> "Library":
        return Library(loaded.tables, loaded.documents, loaded.files)

    def calling(self, names: Mapping[str, str], by: str) -> "Library":
        """The library with what a job means by spellings of its own.

        Raises:
            UnknownLimit: a name leads to no table.
        """
        for name in names.values():
            if not self.knows(name):
                self.resolve(name)
        return replace(self, called=names, called_by=by)

    def knows(self, name: str) -> bool:
        """Whether a name leads to a table, or to several of which a record's words may choose."""
        try:
            self.resolve(name)
        except AmbiguousLimit:
            return True
        except UnknownLimit:
            return False
        return True

    def own_name(self, spelling: str) -> str | None:
        """What a job means by a spelling of its own; None where it says nothing of it."""
        name = self.called.get(" ".join(spelling.casefold().split())) if self.called else None
        return None if name == spelling else name

    def adding(self, file: Traversable) -> tuple["Library", str]:
        """The library with one more table, and the path of that.

        Args:
            file: of one limit table, which may be based on a table of this library.

        Raises:
            LimitFault: the file is no usable limit table.
            SweepbookError: its path is in use, or it cannot be read.
        """
        loaded = load_all([Source(file)], Loaded(self.tables, self.documents, self.files))
        (path,) = loaded.tables.keys() - self.tables.keys()
        return Library._of(loaded), path

    def based_on(self, path: str) -> dict[str, str]:
        """The tables that a table is based on, nearest first: their digests by their paths."""
        found: dict[str, str] = {}
        table = self.tables.get(path)
        while table is not None and table.based_on not in found:
            table = self.tables.get(table.based_on)
            if table is not None:
                found[table.path] = table.sha256
        return found

    def paths(self) -> tuple[str, ...]:
        """Every path, sorted."""
        return tuple(self.tables)

    def table(self, path: str) -> LimitTable:
        """One table.

        Raises:
            UnknownLimit: there is none of this path.
        """
        if path not in self.tables:
            raise self._unknown(path)
        return self.tables[path]

    def resolve(
        self, spelling: str, tested_on: date | None = None, configuration: str | None = None
    ) -> Resolved:
        """Find the table that a spelling means.

        Args:
            spelling: a path, a title, or a name as people write it, in any order and case.
            tested_on: day of the test; a spelling without edition means the newest edition of or
                before that year, and without a day the newest at hand.
            configuration: the configuration that the record states beside the limit; it narrows a
                spelling that names none.

        Raises:
            UnknownLimit: no table goes by it, or none of that time.
            AmbiguousLimit: several do.
        """
        own = self.own_name(spelling)
        if own is not None:
            found = self._resolve(own, tested_on, configuration)
            how = f"{self.called_by} takes {spelling!r} for {own!r}: {found.how}"
            return replace(found, how=how)
        return self._resolve(spelling, tested_on, configuration)

    def _resolve(
        self, spelling: str, tested_on: date | None, configuration: str | None
    ) -> Resolved:
        if spelling in self.tables:
            return Resolved(spelling, "stated as a path", "path")
        found = self._matches(spelling)
        if not found:
            said = name_letters(spelling)
            same = [path for path in self.tables if name_letters(path) == said]
            if len(same) == 1:
                return Resolved(same[0], "a path in another spelling", "path")
            titled = [
                path for path, table in self.tables.items() if name_letters(table.title) == said
            ]
            if len(titled) == 1:
                return Resolved(titled[0], "stated by its title", "name")
            raise self._unknown(spelling)
        asked = spelling, tested_on, configuration
        if asked not in self._chosen:
            if len(self._chosen) >= _MOST_NAMES:
                self._chosen.clear()
            self._chosen[asked] = _choose(spelling, found, tested_on, configuration)
        return self._chosen[asked]

    @cached_property
    def _chosen(self) -> "dict[tuple[str, date | None, str | None], Resolved]":
        """What names meant on a day under a configuration; the tests of a job share all three."""
        return {}

    def _matches(self, spelling: str) -> "list[tuple[LimitTable, Match]]":
        """The tables whose spellings a name is made of; kept, since a job uses few names."""
        if spelling not in self._matched:
            if len(self._matched) >= _MOST_NAMES:
                self._matched.clear()
            self._matched[spelling] = [
                (t, m) for t, s in self._spellings if (m := match(spelling, s)) is not None
            ]
        return self._matched[spelling]

    @cached_property
    def _matched(self) -> "dict[str, list[tuple[LimitTable, Match]]]":
        return {}

    @cached_property
    def _spellings(self) -> tuple[tuple[LimitTable, Spellings], ...]:
        return tuple((table, spellings(table)) for table in self.tables.values())

    def near(self, spelling: str) -> list[str]:
        """The paths that a spelling comes close to, the closest first; three at most."""
        return _close(spelling.casefold(), self.paths())

    def _unknown(self, spelling: str) -> UnknownLimit:
        doubtful = meant(spelling)
        if doubtful is not None:
            return UnknownLimit(
                f"{spelling!r} means {doubtful.title}, whose limits are too doubtful to judge by. "
                f"Missing: {doubtful.missing}",
                "Judge by another limit with `--against`, or give the limits as your contract "
                "states them in a file of your own, with `--limits`.",
            )
        near = self.near(spelling)
        hint = f"Perhaps {', '.join(near)} is meant. " if near else ""
        plain = [table.path for table, _ in self._matches(without_plus(spelling))]
        if plain:
            hint = f"By its plus it is another limit than {', '.join(plain)}. "
        return UnknownLimit(
            f"No limit table goes by {spelling!r}.",
            f"{hint}`sweepbook limits list` shows every table with its path; map the spelling to "
            "one in the dialect, or state the path.",
        )


def _shipped() -> Traversable:
    """The folder of the tables that come with the program."""
    return files("sweepbook_schemas").joinpath("limits")


@cache
def _of_the_program() -> Loaded:
    """The tables that come with the program, which do not change while it runs."""
    return load_all(Source(file, trusted=True) for file in json_files(_shipped()))


@lru_cache(maxsize=256)
def _close(spelling: str, paths: tuple[str, ...]) -> list[str]:
    return get_close_matches(spelling, paths, n=3, cutoff=0.5)


def _choose(
    spelling: str,
    found: list[tuple[LimitTable, Match]],
    tested_on: date | None,
    configuration: str | None,
) -> Resolved:
    how = [f"spelling {spelling!r}"]
    if configuration and not any(m.names_configuration for _, m in found):
        narrowed = [(t, m) for t, m in found if t.configuration == configuration]
        if narrowed and len(narrowed) < len(found):
            found = narrowed
            how.append(f"configuration {configuration} as the record states it")
    by: Literal["name", "date"] = "name"
    if not any(m.names_edition for _, m in found):
        by = "date"
        found, words = _by_date(spelling, found, tested_on)
        how.append(words)
    if len(found) > 1:
        raise AmbiguousLimit(spelling, tuple(table.path for table, _ in found))
    table = found[0][0]
    if table.configuration_note:
        how.append(table.configuration_note)
    return Resolved(table.path, "; ".join(how), by)


def _by_date(
    spelling: str, found: list[tuple[LimitTable, Match]], tested_on: date | None
) -> tuple[list[tuple[LimitTable, Match]], str]:
    """Of each series of editions keep the newest that was out in the year of the test."""
    in_time = [
        (table, m)
        for table, m in found
        if tested_on is None or table.published_year <= tested_on.year
    ]
    if not in_time:
        editions = ", ".join(f"{t.path} ({t.published_year})" for t, _ in found)
        raise UnknownLimit(
            f"{spelling!r} names no edition, and none at hand was out when the test was made: "
            f"{editions}.",
            "State the path of the table that the test was made to.",
        )
    newest: dict[tuple[str, str], tuple[LimitTable, Match]] = {}
    for table, m in sorted(in_time, key=lambda item: item[0].published_year):
        newest[(table.series, "/".join(table.path.split("/")[1:]))] = (table, m)
    if tested_on is None:
        return list(newest.values()), "no edition named: the newest at hand"
    return list(newest.values()), f"no edition named: the newest at hand on {tested_on.isoformat()}"
