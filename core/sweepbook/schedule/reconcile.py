"""A schedule held against the tests: what is proved, what is open, and what was not asked for."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sweepbook.findings import Accepted
from sweepbook.record.links import Key, plain_label
from sweepbook.schedule.asked import Asked, Asking
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.model import Schedule, ScheduledLink
from sweepbook.schedule.near import Near
from sweepbook.schedule.order import counting, in_order
from sweepbook.schedule.place import where
from sweepbook.schedule.remarks import of_tests
from sweepbook.schedule.standing import RULE_OF, State, left_open, standing
from sweepbook.schedule.told import NOT_KNOWN, TESTED_ELSEWHERE, Accepts, Remark, in_words, settled
from sweepbook.schedule.whose import Whose, told_apart
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
        remarks: what else to know.
        scheduled: its row, None where there is none.
        asked: path of the limit asked for, or "".
        tests: its tests, from the first to the last.
        near_misses: labels of tests on no schedule that may be of this link, which is open; of
            such a test those of open links. Each with what sets the two apart.
        place: its levels of place, text by level: those of the schedule, and what its last test,
            then the label scheme, adds to them; without the schedule's where it is not on it.
        accepted: who lets it stand where it does; None where nobody does.
        left: where its tests leave a link that is not on the schedule, and why; None where they
            close it. Nobody lets that stand with the link.
    """

    label: str
    state: State
    reason: str
    remarks: tuple[Remark, ...]
    scheduled: ScheduledLink | None
    asked: str
    tests: tuple[Attempt, ...]
    near_misses: tuple[tuple[str, str], ...]
    place: tuple[tuple[str, str], ...]
    accepted: Accepted | None = None
    left: tuple[State, str] | None = None

    @property
    def rule(self) -> str:
        """The rule by which it may be let stand where it stands; "" for none."""
        own = RULE_OF.get(self.state, "")
        return "" if any(one.rule == own for one in self.remarks) else own

    @property
    def open(self) -> bool:
        """Whether somebody has to do something about it."""
        return self.state.open and self.accepted is None

    @property
    def words(self) -> tuple[str, ...]:
        """Why it stands there and what else to know, with who lets it stand."""
        why = in_words(self.reason, self.accepted)
        return tuple(filter(None, (why, *(one.words for one in self.remarks))))


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """A schedule held against tests.

    Attributes:
        schedule: the schedule.
        items: one a scheduled link, in the schedule's order, then one a label that is not on it.
        scheme: that told places; None where there was none.
        own: the site of the job; see `record.links.own_site`.
    """

    schedule: Schedule
    items: tuple[Item, ...]
    scheme: "LabelScheme | None" = None
    own: str = ""

    @property
    def open(self) -> tuple[Item, ...]:
        """What somebody has to do something about."""
        return tuple(item for item in self.items if item.open)

    @property
    def let_stand(self) -> tuple[Item, ...]:
        """What would be open, had nobody let it stand."""
        return tuple(item for item in self.items if item.accepted is not None)

    def places(self) -> dict[str, tuple[tuple[str, str], ...]]:
        """The place of the link of each test, by the id of the record."""
        return {test.record_id: item.place for item in self.items for test in item.tests}

    def links(self) -> dict[str, Key]:
        """What tells the link of each test, by the id of the record: tests that settle each other.

        They are those of an item that name no different places.
        """
        return {
            test.record_id: (str(number), *of[test.link])
            for number, item in enumerate(self.items)
            for of in [told_apart(item.tests, self.own)]
            for test in item.tests
        }

    @property
    def exported(self) -> int:
        """How many records are other exports of tests."""
        return sum(len(item.tests) - len(counting(item.tests)) for item in self.items)

    def counts(self) -> dict[State, int]:
        """How many links stand where; every state is there."""
        return _by_state(self.items)

    def counts_let_stand(self) -> dict[State, int]:
        """How many of them somebody lets stand there; every state is there."""
        return _by_state(self.let_stand)


def _by_state(items: Iterable[Item]) -> dict[State, int]:
    counted = Counter([str.__str__(item.state) for item in items])
    return {state: counted[state.value] for state in State}


def reconcile(
    schedule: Schedule,
    tests: Iterable[Attempt],
    library: "Library",
    scheme: "LabelScheme | None" = None,
    site: str = "",
    accepts: Accepts | None = None,
) -> Reconciliation:
    """Hold a schedule against tests; a label scheme tells places that neither names.

    A test belongs to a link when its label is the scheduled one, case and runs of blanks aside,
    and it names no other site and no other building; see `record.links`. A test that may belong to
    several, one label standing in several buildings, belongs to the one whose ends it does not
    contradict, or to none. Labels that are only near are suggested, for a correction or a better
    schedule to settle.

    Args:
        schedule: what was ordered.
        tests: of the job.
        library: to compare limits by.
        scheme: what labels say of the ends of their links.
        site: of the job, as its project file has it.
        accepts: marks what somebody lets stand; None where nobody lets anything stand.
    """
    whose = Whose(schedule, tuple(tests), site)
    strays = sorted(whose.strays.values(), key=_by_label)
    near = Near(test.label for tests in strays for test in tests)
    asking = Asking(library)
    elsewhere = _elsewhere(whose)
    items = [
        _untested(link, asking.of(link), near, scheme, elsewhere.get(plain_label(link.label), ""))
        if link.line not in whose.of_line
        else _tested(link, asking.of(link), near, whose, library, scheme)
        for link in schedule.links
    ]
    wanted = Near(item.label for item in items if item.near_misses)  # what is near is so both ways
    items += [_stray(tests, wanted, whose, library, scheme) for tests in strays]
    result = Reconciliation(schedule, tuple(items), scheme, whose.own)
    if accepts is None:
        return result
    shared = _shared(items)
    return replace(result, items=tuple(_settled(item, accepts, shared) for item in items))


def _said(item: Item) -> tuple[Remark, ...]:
    """What is said of a link, first why it stands where it does if that may be let stand."""
    why = (Remark(item.rule, item.reason),) if item.rule else ()
    return (*why, *item.remarks)


def _shared(items: Iterable[Item]) -> Mapping[str, Collection[str]]:
    """By label the rules that say something of several links of it."""
    links = Counter(
        (plain_label(item.label), rule)
        for item in items
        for rule in {one.rule for one in _said(item)}
    )
    found: defaultdict[str, set[str]] = defaultdict(set)
    for (label, rule), many in links.items():
        if many > 1:
            found[label].add(rule)
    return found


def _settled(item: Item, accepts: Accepts, shared: Mapping[str, Collection[str]]) -> Item:
    """The same, with who lets stand what is said of it."""
    if not (told := _said(item)):
        return item
    said = settled(told, item.label, accepts, shared.get(plain_label(item.label), ()))
    if not item.rule:
        return replace(item, remarks=said)
    own, *rest = said
    if own.accepted and item.left:
        state, why = item.left
        return replace(item, reason=f"Open as {state.value}. {why}", remarks=said)
    return replace(item, reason=own.message, remarks=tuple(rest), accepted=own.accepted)


def _elsewhere(whose: Whose) -> dict[str, str]:
    """Where tests are of which the schedule has the label, and not the place; by that label."""
    told = {
        plain_label(test.label): whose.another_place(test)
        for tests in whose.strays.values()
        for test in tests
        if whose.of_label(test.label)
    }
    return {label: place for label, place in told.items() if place}


def _by_label(tests: list[Attempt]) -> tuple[object, ...]:
    return natural_key(tests[0].label), tests[0].label, tests[0].link


def _untested(
    link: ScheduledLink,
    wanted: Asked,
    strays: Near,
    scheme: "LabelScheme | None",
    elsewhere: str,
) -> Item:
    read = scheme.ends(link.label) if scheme else None
    place = where(link.place, (link.near, link.far), read)
    remarks = _doubt(wanted)
    if elsewhere:
        said = f"A test of this label names another place, {elsewhere}, and does not count."
        remarks += (Remark(TESTED_ELSEWHERE, said),)
    return Item(
        link.label, State.UNTESTED, "There is no test of this link.", remarks, link, wanted.path,
        (), strays.to(link.label), place,
    )  # fmt: skip


def _tested(
    link: ScheduledLink,
    wanted: Asked,
    strays: Near,
    whose: Whose,
    library: "Library",
    scheme: "LabelScheme | None",
) -> Item:
    ordered, known = in_order(whose.of_line[link.line])
    unordered = "" if known else "whose order is not known"
    count = counting(ordered)
    if len(count) > 1 and len(set(told_apart(count, whose.own).values())) > 1:
        unordered = f"that name different places ({_places(count)})"
    state, reason, remarks = standing(ordered, unordered, wanted, library)
    remarks += of_tests(link, ordered)
    tested = (ordered[-1].near, ordered[-1].far)
    read = scheme.ends(link.label) if scheme else None
    place = where(link.place, (link.near, link.far), tested, read)
    misses = strays.to(link.label) if state.open else ()
    return Item(
        link.label, state, reason, remarks, link, wanted.path, tuple(ordered), misses, place
    )


def _places(tests: list[Attempt]) -> str:
    """The sites and buildings that tests name, in words."""
    said = (
        ", ".join(
            f"{level} {test.named(level)}" for level in ("site", "building") if test.named(level)
        )
        for test in tests
    )
    return "; ".join(dict.fromkeys(one or "none" for one in said))


def _doubt(wanted: Asked) -> tuple[Remark, ...]:
    said = f"What the schedule asks for is not known: {wanted.doubt}."
    return (Remark(NOT_KNOWN, said),) if wanted.doubt else ()


def _stray(
    tests: list[Attempt],
    wanted: Near,
    whose: Whose,
    library: "Library",
    scheme: "LabelScheme | None",
) -> Item:
    ordered, known = in_order(tests)
    last, several = ordered[-1], len(counting(ordered))
    say = [last.recomputed] if known else sorted({test.recomputed for test in tests})
    misses = wanted.to(last.label)
    count = f"{several} test{'s' if several > 1 else ''}"
    order = "" if known else " in no known order"
    reason = f"{count}{order}, the sweeps say {' and '.join(say)}."
    if elsewhere := whose.another_place(last):
        level, _, named = elsewhere.partition(" ")
        reason += f" The schedule has this label at another {level} than the test names, {named}."
    elif whose.of_label(last.label):
        reason += " The schedule has this label in several buildings; the test names none."
    place = where({}, (last.near, last.far), scheme.ends(last.label) if scheme else None)
    return Item(
        last.label, State.NOT_SCHEDULED, reason, (), None, "", tuple(ordered), misses, place,
        left=left_open(ordered, known and bool(last.label), library),
    )  # fmt: skip
