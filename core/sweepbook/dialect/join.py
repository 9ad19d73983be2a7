"""Tests that are spread over files: what another file holds of them, and how that joins."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from sweepbook.dialect.contradicting import contradictions, differences, says_something
from sweepbook.dialect.model import Dialect, Meaning, OtherFile
from sweepbook.dialect.raw import Fault, NotUnderstood, OfDialect, RawCurve, RawTest
from sweepbook.source import Source

MOST_TESTS = 100_000
"""Tests of the other file, which are kept in memory."""

_SHOWN = 3
"""Tests that are named where all of a file are meant."""

Tests = Callable[[Source, Dialect], Iterable[RawTest | Fault]]
"""A reader's own half: the tests of a source as texts, and notes about the file as a whole."""


@dataclass
class Other:
    """The tests of another file, by key.

    Attributes:
        source: the file.
        join: how it is joined.
        notes: what was told of the file as a whole.
        known: its tests by key, in order; several where a key comes again.
        keyless: its tests under whose key nothing stands.
        alone: which of these are read by themselves.
        joined: where in the first file the key of each test was met.
        unmet: keys of tests in the first file of which this one holds nothing.
        twice: keys that several tests of the first file have, in order, so that none of them is
            joined.
        nameless: keys of tests here without curves, which have no label by which to be read alone.
        unread: why nothing of the file is understood, if so; then no test may lack it.
        said: whether a test has told of that.
    """

    source: Source
    join: OtherFile
    notes: list[Fault] = field(default_factory=list)
    known: dict[str, list[RawTest]] = field(default_factory=dict)
    keyless: list[RawTest] = field(default_factory=list)
    alone: set[int] = field(default_factory=set)
    joined: dict[str, str] = field(default_factory=dict)
    unmet: set[str] = field(default_factory=set)
    twice: dict[str, None] = field(default_factory=dict)
    nameless: set[str] = field(default_factory=set)
    unread: Fault | None = None
    said: bool = False

    @property
    def called(self) -> str:
        """The file, or the part of it, for messages."""
        name = self.source.name
        return f"the part {self.join.part[0]!r} of {name}" if self.join.part else name

    def take(self, tests: Iterable[RawTest | Fault]) -> None:
        """Take in the file.

        Raises:
            Fault: it holds more tests than can be kept.
        """
        meaning = self.join.dialect.meaning
        spare = self.join.other_key not in replace(meaning, join_keys=frozenset()).field_keys
        for count, item in enumerate(tests):
            if count > MOST_TESTS:
                raise Fault("", f"{self.source.name} holds more than {MOST_TESTS:,} tests")
            if isinstance(item, Fault):
                self._hold([item])
                self.notes.append(self.fault(item))
                continue
            self._hold(item.faults)
            cell = item.properties.get(self.join.other_key)
            if self.join.key and (cell is None or not cell.text.strip()):
                self.keyless.append(item)
                continue
            if cell and spare:
                del item.properties[self.join.other_key]
            self.known.setdefault(cell.text.strip() if cell else "", []).append(item)

    def anew(self) -> "Other":
        """The same file, of which nothing is joined yet."""
        return replace(self, alone=set(), joined={}, unmet=set(), twice={}, said=False)

    def _hold(self, faults: Iterable[Fault]) -> None:
        """Keep the first fault that says that nothing of the file is understood."""
        found = (of for of in faults if isinstance(of, NotUnderstood))
        self.unread = self.unread or next(found, None)

    def _without_key(self, item: RawTest) -> str:
        told = f"; {item.faults[0]}" if item.faults else ""
        return (
            f"nothing stands under {self.join.other_key!r} here, by which tests are joined, and "
            f"what does is not read{told}; see join.other_key"
        )

    def fault(self, of: Fault) -> Fault:
        """A fault of this file as one of its tests: where it is, and keys as the dialect has them.

        One of the dialect stays so, since each test tells it.
        """
        reader = self.join.dialect.format
        own = re.compile(rf"(?<![\w.'\"/]){re.escape(reader)}(?=\.[a-z])")
        kind = OfDialect if isinstance(of, OfDialect) else Fault
        return kind(self.place(of.place), own.sub(f"{self.join.where}.{reader}", of.message))

    def place(self, where: str) -> str:
        """A place in this file."""
        if self.join.part:
            part = f"the part {self.join.part[0]!r}"
            return f"{part}, {where}" if where else part
        return f"{self.source.name}, {where}" if where else self.source.name

    def join_to(self, test: RawTest) -> RawTest:
        """A test with what this file says of it; with a fault where that cannot be told.

        What nothing is understood of has no key: to say that it is nowhere would help nobody.
        """
        if any(isinstance(of, NotUnderstood) for of in test.faults):
            self.unmet.add("")
            return test
        found = self._found(test)
        if found is None:
            return test
        if isinstance(found, Fault):
            return replace(test, faults=[*test.faults, found])
        return merged(test, found, self)

    def _found(self, test: RawTest) -> RawTest | Fault | None:
        """What is joined to a test; None where it may lack that, and does."""
        join, key = self.join, ""
        if join.key:
            cell = test.properties.get(join.key)
            key = cell.text.strip() if cell else ""
            if not key:
                self.unmet.add(key)
                return Fault(
                    "",
                    f"nothing stands under {join.key!r}, by which tests are joined to those of "
                    f"{self.called}; see join.key",
                )
        if key in self.joined and not join.shared:
            met = f"the key {key!r}" if key else f"the one test of {self.called}"
            return Fault("", f"{met} was joined to {self.joined[key]} already; {MEND}")
        found = self.known.get(key, [])
        if len(found) == 1:
            self.joined[key] = test.locator
            return found[0]
        if not found:
            self.unmet.add(key)
        if not found and self.unread:
            why = ", as is told of another test" if self.said else f": {self.unread.message}"
            self.said = True
            return Fault("", f"nothing of {self.called} is understood{why}")
        if not found and join.may_lack:
            return None
        if not found:
            under = f" with {key!r} under {join.other_key!r}" if key else ""
            return Fault(
                "",
                f"{self.called} has no test{under} to join to this one; see join.key and "
                "join.other_key, or export both files again; where tests need not be there, "
                "join.may_lack",
            )
        self.joined[key] = test.locator
        places = " and ".join(self.place(each.locator) for each in found[:2])
        if not key:
            return Fault("", f"there are several tests, {places}, and no join.key; {MEND}")
        return Fault("", f"the key {key!r} stands twice, in {places}; {MEND}")

    def unused(self) -> Iterator[Fault]:
        """A note of measurements that tests may share, and none does: one line, however many.

        A room or an instrument that no test names is no loss.
        """
        left = [
            key
            for key, tests in self.known.items()
            if key not in self.joined
            if any(of.figures or of.curves or of.sweeps for of in tests)
        ]
        if left and self.join.shared:
            more = f" and {len(left) - _SHOWN} more" if len(left) > _SHOWN else ""
            shown = ", ".join(map(repr, left[:_SHOWN])) + more
            yield Fault(
                self.place(""),
                f"no test has {shown} under {self.join.key!r}, so what stands there is not read; "
                "see join.key and join.other_key, or export both files again",
            )

    def left(self, *, understood: bool = True) -> Iterator[Fault]:
        """A line for each test that nothing was joined to; one for all where that is every test.

        What tests share may be of use to none of them.

        Args:
            understood: whether the file with the curves is; else no key of a join mends this.
        """
        for at, test in enumerate(self.keyless):
            if at not in self.alone:
                yield Fault(self.place(test.locator), self._without_key(test))
        if self.join.shared:
            return
        if not self.joined and len(self.known) > 1:
            more = " and so on" if len(self.known) > _SHOWN else ""
            shown = ", ".join(map(repr, list(self.known)[:_SHOWN])) + more
            why = (
                "no test with curves is joined to one; see what is said of the file with the "
                "curves, join.key and join.other_key"
            )
            if not understood:
                why = "nothing of the file with the curves is understood; see what is said of it"
            what = f"none of the {len(self.known)} tests here ({shown}) is read"
            yield Fault(self.place(""), f"{what}, since {why}")
            return
        for key, tests in self.known.items():
            if key not in self.joined:
                for test in tests:
                    if of := next(
                        (of for of in test.faults if isinstance(of, NotUnderstood)), None
                    ):
                        yield Fault(self.place(of.place or test.locator), of.message)
                        continue
                    yield Fault(self.place(test.locator), self._left(key))

    def _left(self, key: str) -> str:
        """Why nothing was joined to a test with a key."""
        if key in self.twice:
            return (
                f"several tests with curves have {key!r} under {self.join.key!r} and are not read, "
                "so neither is this one; see what is said of them"
            )
        named = f" has {key!r} under {self.join.key!r}" if key else " is there"
        told = f"no test with curves{named}, so this one is not read"
        if self.twice:
            keys = " or ".join(map(repr, [*self.twice][:_SHOWN]))
            return f"{told}: its curves may stand under {keys}, which several tests have; {MEND}"
        alone = " and fields.link.label, without which it is not read alone"
        keys = f"join.key, join.other_key{alone}" if key in self.nameless else _KEYS
        return f"{told}; see {keys}, or export both files again"


_KEYS = "join.key and join.other_key"
MEND = "which belongs to which cannot be told; mend the export, or see join.key and join.other_key"


def merged(test: RawTest, more: RawTest, other: Other) -> RawTest:
    """One test out of its two parts."""
    meaning = other.join.dialect.meaning
    found = put_together(test, more, other.source, other.place, meaning, other.fault)
    return replace(found, joined=test.joined) if other.join.part else found


def put_together(
    test: RawTest,
    more: RawTest,
    source: Source,
    place: Callable[[str], str],
    meaning: Meaning,
    fault: Callable[[Fault], Fault] | None = None,
) -> RawTest:
    """A test with what another file holds of it, and a fault where the two contradict.

    Of two texts of one key the first that says something counts, and the other is kept in extra.

    Args:
        test: what is known of it.
        more: what the other file holds.
        source: the other file.
        place: makes a place in it one that names it.
        meaning: what the keys and texts of both mean.
        fault: makes a fault of it one of the test; left out, only its place is made so.
    """

    def placed(of: Fault) -> Fault:
        return fault(of) if fault else Fault(place(of.place), of.message)

    properties, extra = dict(test.properties), dict(test.extra)
    for key, cell in more.properties.items():
        known = properties.get(key)
        if known is None or not says_something(key, known, meaning):
            properties[key] = cell.placed(place)
        elif known.texts != cell.texts:
            _add(extra, f"{key} ({source.name})", "\n".join(cell.texts))
    grids, sweeps = renamed(more, len(test.grids))
    against = contradictions(test.properties, more.properties, place, meaning)
    for key, text in more.extra.items():
        _add(extra, key, text)
    return replace(
        test,
        properties=properties,
        extra=extra,
        curves=[*test.curves, *(_placed(curve, place) for curve in more.curves)],
        grids=[*test.grids, *grids],
        sweeps=[*test.sweeps, *sweeps],
        figures=[
            *test.figures,
            *(of._replace(cell=of.cell.placed(place)) for of in more.figures),
        ],
        faults=[
            *test.faults,
            *map(placed, more.faults),
            *against,
        ],
        notes=[
            *test.notes,
            *map(placed, more.notes),
            *differences(test.properties, more.properties, place, meaning),
        ],
        assumed=list(dict.fromkeys([*test.assumed, *more.assumed])),
        joined=[*test.joined, _origin(source, more)],
    )


def renamed(more: RawTest, before: int) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """Grids and sweeps of another file, with ids that go on behind those that are there."""
    ids = {grid["id"]: f"g{number}" for number, grid in enumerate(more.grids, before + 1)}
    grids = [{**grid, "id": ids[grid["id"]]} for grid in more.grids]
    return grids, [{**sweep, "grid": ids[sweep["grid"]]} for sweep in more.sweeps]


def _origin(source: Source, test: RawTest) -> Mapping[str, Any]:
    return {"sha256": source.sha256, "name": source.name, "locator": test.locator}


def _add(extra: dict[str, str], key: str, text: str) -> None:
    extra[key] = f"{extra[key]}\n{text}" if key in extra else text


def _placed(curve: RawCurve, place: Callable[[str], str]) -> RawCurve:
    """A curve whose places name the file it stands in."""
    return curve._replace(
        place_of=lambda position: place(curve.place_of(position)),
        axis_place_of=lambda position: place(curve.axis_place_of(position)),
    )
