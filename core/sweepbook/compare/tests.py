"""Two tests of one link, the earlier and the later: what changed, and what to make of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sweepbook.compare.curves import Difference, differences
from sweepbook.compare.ends import Ends, ends
from sweepbook.judging.working import Working
from sweepbook.schedule.attempt import Attempt, in_order

NOTHING_CHANGED = (
    "The later test passes and the earlier one fails, and no curve differs by more than the "
    "accuracy of both: ask what was mended."
)
OTHER_LINK = (
    "The ends are other ones, so the two tests may be of two links: see which label is right, "
    "and enter it with `sweepbook correct`."
)
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
    """

    first: Attempt
    second: Attempt
    ends: Ends
    differences: tuple[Difference, ...]
    remarks: tuple[str, ...]

    @property
    def changed(self) -> tuple[Difference, ...]:
        """The curves that differ by more than the accuracy of both."""
        return tuple(one for one in self.differences if one.agrees is False)


def comparisons(tests: Sequence[tuple[Attempt, Working]]) -> Iterator[Comparison]:
    """Each test of a link with the one before it.

    Args:
        tests: all tests of one link, two or more, in any order.
    """
    ordered, known = in_order([test for test, _ in tests])
    workings = {test.record_id: working for test, working in tests}
    for first, second in pairwise(ordered):
        yield _compared(first, second, workings, known=known)


def _compared(
    first: Attempt, second: Attempt, workings: dict[str, Working], *, known: bool
) -> Comparison:
    lie = ends(first, second)
    found: tuple[Difference, ...] = ()
    if lie is not Ends.OTHERS:
        one, two = workings[first.record_id], workings[second.record_id]
        found = tuple(differences(one, two, turned=lie is Ends.TURNED))
    remarks = [] if known else [NO_ORDER]
    if lie is Ends.OTHERS:
        remarks.append(OTHER_LINK)
    elif not found:
        remarks.append(NO_CURVES)
    mended = known and first.recomputed == "fail" and second.recomputed == "pass"
    if mended and found and all(one.agrees for one in found):
        remarks.append(NOTHING_CHANGED)
    return Comparison(first, second, lie, found, tuple(remarks))
