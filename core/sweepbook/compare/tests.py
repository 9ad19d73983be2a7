"""Two tests of one link, the earlier and the later: what changed, and what to make of it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from sweepbook.compare.curves import Difference, differences
from sweepbook.compare.ends import Ends, ends
from sweepbook.compare.figures import Figure, Figures, figures_of, held_together
from sweepbook.judging.assessment import Assessment, Outcome
from sweepbook.judging.curves import Key
from sweepbook.judging.working import Working
from sweepbook.record import links
from sweepbook.schedule.attempt import Attempt, attempt_of
from sweepbook.schedule.order import in_order

NOTHING_CHANGED = (
    "The later test passes and the earlier one does not, and no curve that failed differs by more "
    "than the accuracy of both: ask what was mended."
)
NOT_KNOWN = (
    "The later test passes and the earlier one does not, and no accuracy is known by which to tell "
    "whether anything was mended: see what --accuracy says, or ask."
)
OTHER_LINK = (
    "The ends are other ones, so the two tests may be of two links: see which label is right, "
    "and enter it with `sweepbook correct`."
)
OTHER_CABLE = (
    "Length or delay differ by more than work on the ends explains, so this looks like another "
    "cable, and not like a repair: see which label is right, and enter it with `sweepbook correct`."
)
OTHER_PLACE = "The two name different sites or buildings, so they count as tests of two links."
ONE_TEST = "The two are one test, exported twice: it proves the link once."
NO_ORDER = "Which of the two is the later one is not known."
NO_CURVES = "No curve is in both tests."


@dataclass(frozen=True, slots=True)
class Comparison:
    """An earlier and a later test of one link.

    Attributes:
        first, second: the tests.
        ends: how their ends lie to each other.
        differences: a curve each; none where the ends are other ones.
        remarks: what a person should know.
        failed: the curves by which the earlier test fails.
        figures: lengths, delays and resistances that both tests have.
    """

    first: Attempt
    second: Attempt
    ends: Ends
    differences: tuple[Difference, ...]
    remarks: tuple[str, ...]
    failed: frozenset[Key] = frozenset()
    figures: tuple[Figure, ...] = ()

    @property
    def other_cable(self) -> bool:
        """Whether the two look like tests of two cables."""
        return any(one.of_another_cable for one in self.figures)

    @property
    def changed(self) -> tuple[Difference, ...]:
        """The curves that differ by more than the accuracy of both."""
        return tuple(one for one in self.differences if one.agrees is False)

    @property
    def mended(self) -> tuple[Difference, ...]:
        """The curves by which the earlier test fails and that have changed."""
        return tuple(one for one in self.changed if one.key in self.failed)


class Judged(NamedTuple):
    """A test with its curves, and those of them that fail."""

    test: Attempt
    working: Working
    failed: frozenset[Key]
    figures: Figures

    @staticmethod
    def of(assessment: Assessment, working: Working) -> "Judged":
        """Keep of an assessment what comparing needs."""
        fails = (one for one in assessment.margins if one.outcome is Outcome.FAIL)
        failed = frozenset(Key(one.parameter, one.end, one.pairs) for one in fails)
        figures = figures_of(assessment.record.document)
        return Judged(attempt_of(assessment), working, failed, figures)


def comparisons(tests: Sequence[Judged], own_site: Callable[[], str] = str) -> Iterator[Comparison]:
    """Each test of a link with the one before it.

    Args:
        tests: all tests of one link, two or more, in any order.
        own_site: gives the job's own site, see `record.links.own_site`; asked where it matters.
    """
    ordered, _ = in_order([one.test for one in tests])
    workings = {one.test.record_id: one for one in tests}
    for first, second in pairwise(ordered):
        both = {first.record_id, second.record_id}
        _, known = in_order([one for one in ordered if {one.record_id, one.export_of} & both])
        yield _compared(first, second, workings, own_site, known=known)


def _compared(
    first: Attempt,
    second: Attempt,
    judged: dict[str, Judged],
    own_site: Callable[[], str],
    *,
    known: bool,
) -> Comparison:
    lie = ends(first, second)
    found: tuple[Difference, ...] = ()
    if lie is not Ends.OTHERS:
        one, two = judged[first.record_id].working, judged[second.record_id].working
        found = tuple(differences(one, two, turned=lie is Ends.TURNED))
    before, after = judged[first.record_id].figures, judged[second.record_id].figures
    figures = tuple(held_together(before, after))
    remarks = [*_of_one_test(first, second, found)] or ([] if known else [NO_ORDER])
    if not _at_one_place(first.link, second.link, own_site):
        remarks.append(OTHER_PLACE)
    if any(one.of_another_cable for one in figures):
        remarks.append(OTHER_CABLE)
    if lie is Ends.OTHERS:
        remarks.append(OTHER_LINK)
    elif not found:
        remarks.append(NO_CURVES)
    failed = judged[first.record_id].failed
    if known and found and OTHER_CABLE not in remarks and _became_a_pass(first, second):
        remarks += _unexplained(found, failed)
    return Comparison(first, second, lie, found, tuple(remarks), failed, figures)


def _at_one_place(one: links.Key, other: links.Key, own_site: Callable[[], str]) -> bool:
    """Whether two tests of one label name no different places.

    A site that one of them names alone may be another than the job's, of which the other one is.
    """
    if not links.Links(()).fit(one, other):
        return False
    if len(one) == 1 or len(other) == 1 or bool(one[0]) == bool(other[0]):
        return True
    return links.Links((), own_site()).fit(one, other)


def _of_one_test(first: Attempt, second: Attempt, found: Sequence[Difference]) -> Iterator[str]:
    """That two tests are one: begun at one moment, and no curve differs."""
    at_once = first.started is not None and (first.started, first.utc) == (
        second.started,
        second.utc,
    )
    if at_once and found and all(one.identical for one in found):
        yield ONE_TEST


def _became_a_pass(first: Attempt, second: Attempt) -> bool:
    """Whether the later test passes and the earlier one fails, by the sweeps or as stated."""
    before = first.recomputed == "fail" or first.stated.startswith("fail")
    return before and second.recomputed == "pass"


def _unexplained(found: Sequence[Difference], failed: frozenset[Key]) -> Iterator[str]:
    """Why a pass is not explained by what changed; nothing where it is.

    Where only derived curves failed, or none, every curve is looked at.
    """
    telling = [one for one in found if one.key in failed] or list(found)
    if all(one.agrees for one in telling):
        yield NOTHING_CHANGED
    elif not any(one.agrees is False for one in telling):
        yield NOT_KNOWN
