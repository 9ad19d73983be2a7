"""The tests of a job as links: which test speaks for each, where it stands, and what is open."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweepbook.record.links import Key
from sweepbook.retests.collect import Retest, link_of, retests
from sweepbook.schedule.order import in_order
from sweepbook.text import natural_key

if TYPE_CHECKING:
    from sweepbook.limits.library import Library
    from sweepbook.schedule.reconcile import Item, Reconciliation
    from sweepbook_plugins.report.kept import Test

PASSED, RETESTED, KEPT = "passed", "passed on retest", "kept, not judged"
_FIRST = {"fail": 0, "overturned": 1, "unproven": 2}
_UNITS = {"faults": 0, "dB": 1}
"""A wire map that fails comes first, since the rest may follow from it."""


@dataclass(frozen=True, slots=True)
class Link:
    """One link.

    Attributes:
        number: its place on the page, from 1.
        label: of the test that speaks.
        place: its levels below the site in one text.
        tests: from the first to the last, each with its number in the job.
        order_known: whether that order is; otherwise the worst of them speaks.
        speaks: the test that speaks for it.
        state: fail, overturned, unproven, passed, passed on retest; or kept, not judged.
        retest: its entry on the retest list, None where it is not on it.
        item: its line of the reconciliation; None without a schedule.
    """

    number: int
    label: str
    place: str
    tests: "tuple[tuple[int, Test], ...]"
    order_known: bool
    speaks: "Test"
    state: str
    retest: Retest | None
    item: "Item | None"

    @property
    def anchor(self) -> str:
        """The name by which the page points to it."""
        return f"link-{self.number}"

    @property
    def open(self) -> bool:
        """Whether its last test is no proved pass."""
        return self.retest is not None

    @property
    def remarks(self) -> tuple[str, ...]:
        """What else to know: of the retest list, and of the schedule with who lets it stand."""
        own = self.retest.remarks if self.retest else ()
        if self.item and self.item.accepted:
            planned = self.item.words
        else:
            planned = tuple(one.words for one in self.item.remarks) if self.item else ()
        return tuple(dict.fromkeys((*own, *planned)))

    @property
    def count(self) -> int:
        """How many tests it has; one in several exports is one."""
        return sum(not test.export_of for _, test in self.tests)

    @property
    def history(self) -> str:
        """What the sweeps of its tests say, from the first to the last: "fail, then pass"."""
        joint = ", then " if self.order_known else " and "
        return joint.join(test.recomputed for _, test in self.tests if not test.export_of)


def links(
    tests: "Sequence[Test]",
    library: "Library",
    held: "Reconciliation | None" = None,
    site: str = "",
) -> tuple[Link, ...]:
    """All links by label in natural order.

    Links are told apart as on the retest list.

    Args:
        tests: of the job; the first has the number 1.
        library: to compare the limits of its tests by.
        held: the tests held against a schedule.
        site: of the job, as its project file has it.
    """
    items = held.items if held else ()
    by_record = {test.record_id: item for item in items for test in item.tests}
    judged = [test.one for test in tests if test.one]
    again = {retest.record_id: retest for retest in retests(judged, library, held, site)}
    keys = link_of((one.test for one in judged), held, site)
    groups: dict[Key, list[tuple[int, Test]]] = {}
    for number, test in enumerate(tests, 1):
        key = keys.get(test.record_id, (test.record_id,))
        groups.setdefault(key, []).append((number, test))
    ordered = sorted(groups.values(), key=lambda group: (natural_key(group[0][1].label), group[0]))
    return tuple(_link(number, group, again, by_record) for number, group in enumerate(ordered, 1))


def worst_first(found: Iterable[Link]) -> list[Link]:
    """Links that fail, the worst margin first, then what is open besides, then those that pass."""
    return sorted(found, key=_badness)


def _badness(link: Link) -> tuple[int, int, float, int]:
    margin, unit = link.speaks.margin, _UNITS.get(link.speaks.unit, len(_UNITS))
    fails = 0 if link.open and link.speaks.recomputed == "fail" else 3
    rank = min(fails, _FIRST.get(link.state, 3))
    return rank, unit, float("inf") if margin is None else margin, link.number


def _link(
    number: int,
    group: "list[tuple[int, Test]]",
    again: Mapping[str, Retest],
    items: "Mapping[str, Item]",
) -> Link:
    of = {id(test.one.test): (at, test) for at, test in group if test.one}
    ordered, known = (
        in_order([test.one.test for _, test in group if test.one]) if of else ([], True)
    )
    tests = tuple(of[id(attempt)] for attempt in ordered) or tuple(group)
    listed = (test for _, test in tests if test.record_id in again)
    speaks = next(listed, tests[-1][1])
    retest = again.get(speaks.record_id)
    item = items.get(speaks.record_id)
    place = (retest.place if retest else ()) or (item.place if item else ())
    if not place and speaks.one:
        place = speaks.one.test.place
    return Link(
        number=number,
        label=speaks.label,
        place=" / ".join(text for level, text in place if level != "site"),
        tests=tests,
        order_known=known,
        speaks=speaks,
        state=_state(retest, tests),
        retest=retest,
        item=item,
    )


def _state(retest: Retest | None, tests: "tuple[tuple[int, Test], ...]") -> str:
    if retest is not None:
        return retest.state
    if any(test.one is None for _, test in tests):
        return KEPT
    return PASSED if all(test.recomputed == "pass" for _, test in tests) else RETESTED
