"""The texts of one test to a record, or to the reason why it cannot be one."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from sweepbook import clock
from sweepbook.dialect import figures, outlandish, sweeps, wiring
from sweepbook.dialect.fill import Filled, fill, put
from sweepbook.dialect.fits import record_faults
from sweepbook.dialect.mismatch import misspelt
from sweepbook.dialect.model import Dialect, Meaning
from sweepbook.dialect.other_units import OtherUnit, other_units
from sweepbook.dialect.pairless import pairless
from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.raw import (
    Cause,
    Cell,
    Fault,
    Name,
    OfDialect,
    RawFigure,
    RawTest,
    Rowless,
    Unswept,
)
from sweepbook.dialect.several import taken_apart
from sweepbook.dialect.unit_titles import lost_to_unit
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.source import Source

if TYPE_CHECKING:
    from datetime import date

    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record

FAULTS_SHOWN = 3
"""Faults of one test that are told one by one; the rest are counted."""
KEYS_SHOWN = 8
"""Keys of a test without a label that are named, for one of them holds it."""
_MOST_TOLD = 10_000
"""Messages that are known again: each test may have its own, and memory is that of one test."""


@dataclass(slots=True)
class Assembler:
    """Makes records out of the tests of one source.

    Attributes:
        source: the file.
        dialect: what its words mean.
        limits: where the spelling of a limit is looked up.
        reader: name of the format.
        told: what was said of a test before, and is not said of each again.
        lost: how many tests were lost since the last record.
    """

    source: Source
    dialect: Dialect
    limits: "Library"
    reader: str
    told: set[str] = field(default_factory=set)
    lost: int = 0

    def assemble(self, test: RawTest) -> "Iterator[Record | ReadProblem]":
        """Yield the notes of a test and its record, or one problem that says why it is lost."""
        dialect, test = wiring.of_test(self.dialect, test)
        meaning = dialect.meaning
        apart, torn = taken_apart(test.properties, meaning.several, meaning.numbers.is_missing)
        properties, single = _told_apart(apart, dialect)
        filled = fill(properties, meaning)
        sorted_figures = figures.build([*single, *test.figures], meaning)
        grids, curves, curve_faults, curve_notes = sweeps.build(
            test.curves,
            meaning.numbers,
            lambda name: name.parameter in meaning.negative,
            len(test.grids),
        )
        faults = [*test.faults, *torn, *filled.faults, *sorted_figures.faults, *curve_faults]
        _put_results(filled.tree, sorted_figures, [*test.grids, *grids], [*test.sweeps, *curves])
        noted = [*test.notes, *sorted_figures.doubts]
        faults += [] if faults else _lacks(test, filled, meaning, properties, noted)
        if faults:
            self.lost += 1
            causes = [note for note in test.notes if isinstance(note, Cause)]
            yield self._lost(test, [*causes, *faults])
            return
        self.lost = 0
        extra = _extra(test, properties, filled, sorted_figures, dialect)
        doubts = [Fault("", message) for message in misspelt(meaning, properties, extra)]
        units = list(other_units(dialect, extra))
        doubts += _lost_figures(test, extra, dialect, units)
        doubts += sorted_figures.doubts
        odd = outlandish.notes(sorted_figures.stated)
        mine = _worth_telling(self._of_test(test.notes), filled.tree)
        notes = [*mine, *filled.notes, *odd, *curve_notes, *self._not_told_yet(doubts)]
        for note in notes:
            yield ReadProblem(self.source.name, note.place, note.message, lost_record=False)
        yield self._record(test, filled, extra, units)

    def _of_test(self, notes: Iterable[Fault]) -> Iterator[Fault]:
        """The notes of a test, without those of the dialect that one before it had, too."""
        for note in notes:
            yield from self._not_told_yet([note]) if isinstance(note, OfDialect) else [note]

    def _not_told_yet(self, doubts: Iterable[Fault]) -> Iterator[Fault]:
        for doubt in doubts:
            if doubt.message not in self.told:
                if len(self.told) < _MOST_TOLD:
                    self.told.add(doubt.message)
                yield doubt

    def _record(
        self,
        test: RawTest,
        filled: Filled,
        extra: Mapping[str, str],
        units: Sequence[OtherUnit],
    ) -> "Record | ReadProblem":
        from sweepbook.record.model import Record

        tree = filled.tree
        try:
            record = Record.build(
                link=tree["link"],
                test=tree.get("test", {}),
                results=tree.get("results", {}),
                stated=tree.get("stated"),
                extra=dict(extra),
                origin=[
                    {
                        "sha256": self.source.sha256,
                        "name": self.source.name,
                        "locator": test.locator,
                        **({"joined": [*map(dict, test.joined)]} if test.joined else {}),
                    }
                ],
                resolved=self._resolved(filled) | _notes(test, units, tree),
                provenance=self._provenance(),
            )
        except SweepbookError as error:
            return self._lost(test, [Fault("", f"{error.message} {error.todo}".rstrip("."))])
        wrong = [Fault("", text) for text in record_faults(record, self.dialect.meaning)]
        return self._lost(test, wrong) if wrong else record

    def _resolved(self, filled: Filled) -> dict[str, Any]:
        """The limit's path and how it is known; without a path where it could not be told.

        A path that the dialect names stands even where no table at hand has it: to judge by another
        one instead, such as the spelling by itself might mean, is not what the dialect says.
        """
        stated = filled.tree.get("test", {}).get("limit")
        if not stated:
            return {}
        spelling = stated["as_stated"]
        day: date | None = filled.started.day if filled.started else None
        if path := self.dialect.meaning.limits.get(spelling):
            return {"limit": {"path": path, "how": f"alias of dialect {self.dialect.name}"}}
        try:
            kind = filled.tree["test"].get("configuration", {}).get("kind")
            found = self.limits.resolve(spelling, day, kind)
        except SweepbookError as error:
            return {"limit": {"how": error.message}}
        return {"limit": {"path": found.path, "how": found.how}}

    def _provenance(self) -> dict[str, Any]:
        from sweepbook import __version__

        return {
            "program": "sweepbook",
            "version": __version__,
            "reader": self.reader,
            "dialect": {"name": self.dialect.name, "sha256": self.dialect.sha256},
            "read_at": clock.now(),
        }

    def _lost(self, test: RawTest, faults: list[Fault]) -> ReadProblem:
        """One problem for a test that cannot be made into a record."""
        alike: dict[str, list[Fault]] = {}
        for fault in faults:
            alike.setdefault(fault.message, []).append(fault)
        told = list(alike.values())[:FAULTS_SHOWN]
        shown = "; ".join(map(_once, told))
        more = len(faults) - sum(map(len, told))
        rest = f"; and {more} more fault{'s' if more > 1 else ''} in this test" if more > 0 else ""
        message = f"{shown}{rest}. Dialect: {self.dialect.name}."
        return ReadProblem(self.source.name, test.locator, message)


def _notes(test: RawTest, units: Sequence[OtherUnit], tree: Mapping[str, Any]) -> dict[str, Any]:
    rowless = [note for note in test.notes if isinstance(note, Rowless)]
    expected = [
        f"{note}, as it should be where the wire map is stated to fail"
        for note in (rowless if _fails_by_wires(tree) else ())
    ]
    notes = [*test.assumed, *expected, *(one.note for one in units)]
    return {"notes": notes} if notes else {}


def _once(alike: Sequence[Fault]) -> str:
    """A fault with its first place, and how often it comes again."""
    more = len(alike) - 1
    return f"{alike[0]} (and {more} time{'s' if more > 1 else ''} more)" if more else str(alike[0])


def _told_apart(
    properties: Mapping[str, Cell], dialect: Dialect
) -> tuple[dict[str, Cell], list[RawFigure]]:
    """Properties without those whose key names a single figure, and these figures."""
    keys = dialect.meaning.figure_keys
    rest: dict[str, Cell] = {}
    single: list[RawFigure] = []
    for key, cell in properties.items():
        if key in keys and key not in dialect.meaning.field_keys:
            role, name = _role(keys[key], cell, dialect.meaning)
            single.append(RawFigure(name, role, cell, key))
        else:
            rest[key] = cell
    return rest, single


def _role(claims: Sequence[tuple[str, Name]], cell: Cell, meaning: Meaning) -> tuple[str, Name]:
    """What a figure is whose key may stand for several: a verdict, where its text is one."""
    if len(claims) == 1:
        return claims[0]
    stated = cell.text.strip() in meaning.words.verdicts
    fitting = [
        (role, name)
        for role, name in claims
        if (role == "verdict") == stated and (stated or quantity_of(name.parameter))
    ]
    return (fitting or claims)[0]


def _lacks(
    test: RawTest,
    filled: Filled,
    meaning: Meaning,
    properties: Mapping[str, Cell],
    noted: Iterable[Fault],
) -> list[Fault]:
    """What no record can do without: a label, and anything measured or stated."""
    faults = []
    if not filled.tree.get("link", {}).get("label"):
        keys = " or ".join(map(repr, meaning.fields["link.label"]))
        found = [*properties, *test.extra]
        there = f"; the test has {', '.join(map(repr, found[:KEYS_SHOWN]))}" if found else ""
        more = f" and {len(found) - KEYS_SHOWN} more keys" if len(found) > KEYS_SHOWN else ""
        message = f"there is no label: no text under {keys}{there}{more}; see fields.link.label"
        faults.append(Fault("", message))
    if not filled.tree.get("results") and not filled.tree.get("stated"):
        message = (
            "nothing measured and no verdict was found by the declared names; "
            "see words.parameters, words.pairs, words.ends and the templates"
        )
        faults += [Fault("", message), *noted]
    return faults


def _worth_telling(notes: Iterable[Fault], tree: Mapping[str, Any]) -> Iterator[Fault]:
    """The notes of a test but that on curves which nobody sweeps once the wire map has failed."""
    failed = _fails_by_wires(tree)
    return (note for note in notes if not (failed and isinstance(note, Unswept)))


def _fails_by_wires(tree: Mapping[str, Any]) -> bool:
    return any(
        item["parameter"] == "wire_map" and item.get("verdict", "").startswith("fail")
        for item in tree.get("stated", {}).get("items", ())
    )


def _lost_figures(
    test: RawTest, extra: Mapping[str, str], dialect: Dialect, units: Iterable[OtherUnit]
) -> Iterator[Fault]:
    """Numbers in `extra` for the sake of unit or pair alone, and units; none that a note names."""
    others = ((one.key, one.message) for one in units)
    told = (*lost_to_unit(dialect, extra), *pairless(dialect, extra), *others)
    for key, message in told:
        if not any(repr(key) in note.message for note in test.notes):
            cell = test.properties.get(key)
            yield Fault(cell.place if cell else test.locator, message)


def _put_results(
    tree: dict[str, Any],
    single: figures.Figures,
    grids: list[dict[str, Any]],
    curves: list[dict[str, Any]],
) -> None:
    """Add the measured and stated parts, those that there are."""
    for path, entries in (
        ("test.accuracy", single.accuracy),
        ("results.scalars", single.scalars),
        ("results.grids", grids),
        ("results.sweeps", curves),
        ("stated.items", single.items),
    ):
        if entries:
            put(tree, path, entries)


def _extra(
    test: RawTest,
    properties: Mapping[str, Cell],
    filled: Filled,
    single: figures.Figures,
    dialect: Dialect,
) -> dict[str, str]:
    """What the source held and nothing took, word for word."""
    known = dialect.meaning.field_keys - {dialect.meaning.wiring.key}
    texts = [(key, cell.text) for key, cell in properties.items() if key not in known]
    texts += [*filled.extra.items(), *test.extra.items()]
    texts += [(of.key or f"{of.role} {of.name}", of.cell.text) for of in single.left]
    extra: dict[str, str] = {}
    for key, text in texts:
        extra[key] = text if extra.get(key, text) == text else f"{extra[key]}\n{text}"
    return extra
