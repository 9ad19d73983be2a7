"""A schedule held against the tests: what is proved, what is open, and what was not asked for."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweepbook.schedule.asked import Asked, Asking
from sweepbook.schedule.attempt import Attempt, in_order
from sweepbook.schedule.model import Schedule, ScheduledLink, same_name
from sweepbook.schedule.near import Near
from sweepbook.schedule.place import apart, where
from sweepbook.schedule.remarks import of_tests
from sweepbook.schedule.standing import State, standing
from sweepbook.text import natural_key

if TYPE_CHECKING:
    from sweepbook.limits.library import Library
    from sweepbook.schedule.label_scheme import LabelScheme


@dataclass(frozen=True, slots=True)
class Item:
    """A link with where it stands.

    Attributes:
        label: as scheduled, or as tested where nothing scheduled it.
        state: where it stands.
        reason: why, in a sentence; "" where there is nothing to say.
        remarks: what else to know, a sentence each.
        scheduled: its row, None where there is none.
        asked: path of the limit asked for, or "".
        tests: its tests, from the first to the last.
        near_misses: labels of tests that may be of this link, with what sets them apart.
        place: its levels of place, text by level: those of the schedule, and what its last test,
            then the label scheme, adds to them; without the schedule's where it is not on it.
    """

    label: str
    state: State
    reason: str
    remarks: tuple[str, ...]
    scheduled: ScheduledLink | None
    asked: str
    tests: tuple[Attempt, ...]
    near_misses: tuple[tuple[str, str], ...]
    place: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """A schedule held against tests.

    Attributes:
        schedule: the schedule.
        items: one a scheduled link, in the schedule's order, then one a label that is not on it.
        scheme: that told places; None where there was none.
    """

    schedule: Schedule
    items: tuple[Item, ...]
    scheme: "LabelScheme | None" = None

    @property
    def open(self) -> tuple[Item, ...]:
        """What somebody has to do something about."""
        return tuple(item for item in self.items if item.state.open)

    def places(self) -> dict[str, tuple[tuple[str, str], ...]]:
        """The place of the link of each test, by the id of the record."""
        return {test.record_id: item.place for item in self.items for test in item.tests}

    def counts(self) -> dict[State, int]:
        """How many links stand where; every state is there."""
        counted = Counter(item.state for item in self.items)
        return {state: counted[state] for state in State}


def reconcile(
    schedule: Schedule,
    tests: Iterable[Attempt],
    library: "Library",
    scheme: "LabelScheme | None" = None,
) -> Reconciliation:
    """Hold a schedule against tests; a label scheme tells places that neither names.

    A test belongs to a link when its label is the scheduled one to the letter, and no other
    building is named. A test that may belong to several, one label standing in several buildings,
    belongs to the one whose ends it does not contradict, or to none. Labels that are only near
    are suggested, for a correction or a better schedule to settle.
    """
    scheduled: dict[str, list[ScheduledLink]] = {}
    for link in schedule.links:
        scheduled.setdefault(link.label, []).append(link)
    tests_of: dict[int, list[Attempt]] = {}
    left: dict[str, list[Attempt]] = {}
    for test in tests:
        owner = _owner(test, scheduled.get(test.label, []))
        if owner is None:
            left.setdefault(test.label, []).append(test)
        else:
            tests_of.setdefault(owner.line, []).append(test)
    strays = sorted(left, key=_by_label)
    near, asking = Near(strays), Asking(library)
    items = [
        _scheduled(link, asking.of(link), tests_of.get(link.line, []), near, library, scheme)
        for link in schedule.links
    ]
    wanted = Near(item.label for item in items if item.near_misses)  # what is near is so both ways
    items += [_stray(left[label], wanted, scheduled.get(label, []), scheme) for label in strays]
    return Reconciliation(schedule, tuple(items), scheme)


def _owner(test: Attempt, links: list[ScheduledLink]) -> ScheduledLink | None:
    """The link of this label that a test is of; None where none or more than one may be meant."""
    building = same_name(dict(test.place).get("building", ""))
    able = [link for link in links if building and link.building == building]
    able = able or [link for link in links if not building or not link.building]
    if len(able) > 1:
        able = [
            link
            for link in able
            if not apart(link.near, test.near) and not apart(link.far, test.far)
        ]
    return able[0] if len(able) == 1 else None


def _by_label(label: str) -> tuple[object, str]:
    return natural_key(label), label


def _scheduled(
    link: ScheduledLink,
    wanted: Asked,
    tests: list[Attempt],
    strays: Near,
    library: "Library",
    scheme: "LabelScheme | None",
) -> Item:
    read = scheme.ends(link.label) if scheme else None
    if not tests:
        misses = strays.to(link.label)
        reason = "There is no test of this link."
        place = where(link.place, (link.near, link.far), read)
        doubt = _doubt(wanted)
        return Item(link.label, State.UNTESTED, reason, doubt, link, wanted.path, (), misses, place)
    ordered, known = in_order(tests)
    state, reason, remarks = standing(ordered, known, wanted, library)
    remarks += of_tests(link, ordered)
    tested = (ordered[-1].near, ordered[-1].far)
    place = where(link.place, (link.near, link.far), tested, read)
    return Item(link.label, state, reason, remarks, link, wanted.path, tuple(ordered), (), place)


def _doubt(wanted: Asked) -> tuple[str, ...]:
    return (f"What the schedule asks for is not known: {wanted.doubt}.",) if wanted.doubt else ()


def _stray(
    tests: list[Attempt],
    wanted: Near,
    scheduled: list[ScheduledLink],
    scheme: "LabelScheme | None",
) -> Item:
    ordered, known = in_order(tests)
    last = ordered[-1]
    say = [last.recomputed] if known else sorted({test.recomputed for test in tests})
    misses = wanted.to(last.label)
    count = f"{len(ordered)} test{'s' if len(ordered) > 1 else ''}"
    order = "" if known else " in no known order"
    reason = f"{count}{order}, the sweeps say {' and '.join(say)}."
    if scheduled and dict(last.place).get("building"):
        reason += " The schedule has this label in another building."
    elif scheduled:
        reason += " The schedule has this label in several buildings; the test names none."
    place = where({}, (last.near, last.far), scheme.ends(last.label) if scheme else None)
    return Item(
        last.label, State.NOT_SCHEDULED, reason, (), None, "", tuple(ordered), misses, place
    )
