"""The list of what has to be tested again, from what a check found."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.judging.assessment import Recomputed
from sweepbook.record.links import Key, Links, own_site
from sweepbook.retests.suspect import Suspect, nearest, suspects
from sweepbook.schedule.asked import Answer, Asked, answer
from sweepbook.schedule.attempt import Attempt, attempt, with_the_rest
from sweepbook.schedule.order import counting, in_order
from sweepbook.schedule.trace import Trace, bare_trace_of, trace_of
from sweepbook.text import natural_key

if TYPE_CHECKING:
    from sweepbook.findings import OfTests
    from sweepbook.judging.assessment import Assessment
    from sweepbook.limits.library import Library
    from sweepbook.schedule.reconcile import Item, Reconciliation

JUDGED_KIND = "balanced-link"
FAILED, OVERTURNED, UNPROVEN, MARGINAL = "fail", "overturned", "unproven", "marginal"
_WIDEST = ("site", "building", "floor")
_ENOUGH = (Answer.AS_ASKED, Answer.HIGHER)


Place = tuple[tuple[str, str], ...]
"""Levels of place with their texts, the widest first."""


@dataclass(frozen=True, slots=True)
class OneTest:
    """One test, as far as the list needs it.

    Attributes:
        test: what was tested, when, and what came of it.
        suspects: where its failing curves point, or which comes nearest to its limit where a pass
            is to be tested again.
    """

    test: Attempt
    suspects: tuple[Suspect, ...]

    def with_the_rest(self, known: "OfTests") -> "OneTest":
        """The same, with what is known of it only now that all are in."""
        (test,) = with_the_rest([self.test], known)
        return self if test is self.test else replace(self, test=test)

    def __reduce__(self) -> tuple[type["OneTest"], tuple[Attempt, tuple[Suspect, ...]]]:
        """Be pickled as its members; see `Attempt`."""
        return OneTest, (self.test, self.suspects)


@dataclass(frozen=True, slots=True)
class Retest:
    """One link to be tested again.

    Attributes:
        label: of the link, as in the test that speaks for it.
        place: levels of place with their texts, the widest first.
        state: "fail", "overturned", "unproven", or "marginal" where the quality plan has marginal
            passes tested again.
        reason: why, in words; of an unproven test what was missing.
        remarks: what else to know, a sentence each.
        suspects: where to look first, as far as the sweeps tell.
        record_id: of the test that speaks.
        limit_path: of the limit it was judged under, or "".
        tests: how many tests of the link there are; one in several exports counts once.
    """

    label: str
    place: Place
    state: str
    reason: str
    remarks: tuple[str, ...]
    suspects: tuple[Suspect, ...]
    record_id: str
    limit_path: str
    tests: int

    @property
    def floor(self) -> str:
        """Site, building and floor as far as they are known: "Thornquay Library / A / 1"."""
        return " / ".join(text for level, text in self.place if level in _WIDEST)

    @property
    def space(self) -> str:
        """The room, as far as it is known."""
        return dict(self.place).get("space", "")

    @property
    def panel(self) -> str:
        """Cabinet, unit and panel as far as they are known."""
        return " / ".join(
            text for level, text in self.place if level in ("cabinet", "unit", "panel")
        )


class Kept(NamedTuple):
    """One test as it is kept until all are known: cheap to make and to put away.

    Attributes:
        trace: what was tested, when, and what came of it.
        suspects: see `OneTest`.
    """

    trace: Trace
    suspects: tuple[Suspect, ...]

    def with_the_rest(self, known: "OfTests") -> "Kept":
        """The same, with what is known of it only now that all are in."""
        record_id = self.trace.record_id
        if not known.tells_of(record_id):
            return self
        doubt, export_of = known.doubt(record_id), known.export_of(record_id)
        return self._replace(trace=self.trace._replace(doubt=doubt, export_of=export_of))

    def whole(self) -> OneTest:
        """The test as the list needs it."""
        return OneTest(attempt(self.trace), self.suspects)


def tested(assessment: "Assessment") -> OneTest | None:
    """Keep of an assessment what the list needs; None for a kind of record that is not judged."""
    found = kept(assessment)
    return found and found.whole()


def kept(assessment: "Assessment", found: Sequence[Any] | None = None) -> Kept | None:
    """The same, in the form in which many tests are kept.

    Of a record whose parts are not what its schema says, only what the judging made of it is kept.

    Args:
        assessment: of the test.
        found: see `trace_of`.
    """
    if assessment.record.kind not in ("", JUDGED_KIND):
        return None
    try:
        return Kept(trace_of(assessment, found), _suspects(assessment))
    except (AttributeError, TypeError, ValueError):
        return Kept(bare_trace_of(assessment), ())


def _suspects(assessment: "Assessment") -> tuple[Suspect, ...]:
    """What fails, or what comes nearest to it of a pass that is to be tested again."""
    if assessment.recomputed is Recomputed.FAIL:
        return suspects(assessment)
    return nearest(assessment) if assessment.again else ()


def retests(
    tests: Sequence[OneTest],
    library: "Library",
    held: "Reconciliation | None" = None,
    site: str = "",
) -> tuple[Retest, ...]:
    """What has to be tested again, by site, building, floor, room, panel and label, naturally.

    Links are told apart by the schedule where there is one, else as in `record.links`. One is off
    the list once its last test is a proved pass, and no marginal one where these have to be tested
    again, under a limit that asks for as much as the one that it missed before.

    Args:
        tests: of all links, in any order.
        library: to compare the limits by.
        held: the tests held against a schedule or a label scheme, which knows their places better.
        site: of the job, as its project file has it.
    """
    keys = link_of([one.test for one in tests], held, site)
    found = of_links(by_link(tests, keys).values(), library, held.places() if held else {})
    return tuple(sorted(found, key=order))


def of_links(
    links: Iterable[list[OneTest]], library: "Library", places: Mapping[str, Place] | None = None
) -> Iterator[Retest]:
    """What has to be tested again, in the order of the links, each given by its tests."""
    for group in links:
        if retest := _of_link(group, library, places or {}):
            yield retest


def link_of(
    tests: Iterable[Attempt], held: "Reconciliation | None" = None, site: str = ""
) -> Mapping[str, Key]:
    """What tells the link of each test, by the id of its record; see `retests`."""
    if held is not None:
        return held.links()
    keys = {test.record_id: test.link for test in tests}
    links = Links(keys.values(), own_site(keys.values(), site))
    return {record_id: links.of(key) for record_id, key in keys.items()}


def by_link(tests: Iterable[OneTest], keys: Mapping[str, Key]) -> dict[Key, list[OneTest]]:
    """The tests of each link, in the order in which they come."""
    links: dict[Key, list[OneTest]] = {}
    for one in tests:
        links.setdefault(keys[one.test.record_id], []).append(one)
    return links


def besides(held: "Reconciliation", found: Sequence[Retest]) -> list["Item"]:
    """What a schedule leaves open and the list does not have, in the order of the schedule.

    Args:
        held: the schedule held against the tests that the list was made of.
        found: the list.
    """
    listed = {retest.record_id for retest in found}
    return [item for item in held.open if not any(test.record_id in listed for test in item.tests)]


def _of_link(
    group: list[OneTest], library: "Library", places: Mapping[str, Place]
) -> Retest | None:
    ordered, known = in_order([one.test for one in group])
    tests = counting(ordered)
    missed = [test for test in tests if not test.passed]
    if not missed:
        return None
    remarks: tuple[str, ...] = ()
    speaks = ordered[-1]
    if not known:
        speaks = next((test for test in missed if test.recomputed == "fail"), missed[0])
        remarks = (
            f"It has {len(tests)} tests whose order is not known, so the worst of them counts.",
        )
    elif speaks.passed:
        wanted = Asked(missed[-1].limit_path)
        if answer(wanted, speaks.limit_path, library) in _ENOUGH:
            return None
        remarks = (
            f"A later test passes, but under {speaks.limit_path}, which does not ask for what "
            f"{missed[-1].limit_path} asks.",
        )
        speaks = missed[-1]
    (whole,) = [one for one in group if one.test is speaks]
    return replace(_retest(speaks, whole.suspects, places), remarks=remarks, tests=len(tests))


def of_single(one: Kept, places: Mapping[str, Place]) -> Retest | None:
    """What has to be tested again of a link with one test, which needs no order."""
    return None if one.trace.passed else _retest(one.trace, one.suspects, places)


def _retest(
    speaks: Attempt | Trace, suspects: tuple[Suspect, ...], places: Mapping[str, Place]
) -> Retest:
    """The entry of a link for which this test speaks alone."""
    return Retest(
        label=speaks.label,
        place=places.get(speaks.record_id) or speaks.place,
        state=_state(speaks),
        reason=speaks.why,
        remarks=(),
        suspects=suspects,
        record_id=speaks.record_id,
        limit_path=speaks.limit_path,
        tests=1,
    )


def _state(test: Attempt | Trace) -> str:
    if test.judgement == "overturned":
        return OVERTURNED
    if test.again:
        return MARGINAL
    return FAILED if test.recomputed == "fail" else UNPROVEN


def order(retest: Retest) -> tuple[object, ...]:
    """Sort key by site, building, floor, room, panel and label in natural order."""
    levels = dict(retest.place)
    named = ("site", "building", "floor", "space", "cabinet", "unit", "panel")
    texts = (*(levels.get(level, "") for level in named), retest.label)
    return (*map(natural_key, texts), retest.label, retest.record_id)
