"""Rules about tests and curves that are one measurement: suspicions, with the figures."""

from collections.abc import Iterator, Sequence
from itertools import islice

from sweepbook.copies.figures import Figures
from sweepbook.copies.reading_again import Suspicion
from sweepbook.copies.run_alike import running_alike
from sweepbook.copies.shared_curves import shared_curves
from sweepbook.copies.within import made_from_another
from sweepbook.judging.phrases import subject
from sweepbook.rules.case import Case
from sweepbook.rules.copied_words import (
    figures_of,
    part_of_curve,
    transformation,
    transformation_of_curve,
)
from sweepbook.rules.items import is_true_fail
from sweepbook.rules.model import CannotLook, Hit
from sweepbook.rules.same_test import is_exported_twice, may_be_one_test, order
from sweepbook.rules.together import WholeSet, ids

MOST_TOLD = 200
"""Pairs of tests that a rule lists."""


def curves_are_not_made_of_another(case: Case) -> Iterator[Hit]:
    """Yield every curve of return loss or NEXT that is another, but for an offset or few points."""
    curves = case.needed_working.measured_curves
    for made in made_from_another(curves, Figures.of(case.practice)):
        first, second = subject(*made.first), subject(*made.second)
        arguments = {
            "curves": f"{first} and {second}",
            "points": made.match.near,
            "of": made.match.points,
            "largest_db": round(made.match.largest_db, 3),
            "how": transformation_of_curve(made.match),
        }
        yield Hit(f"$.results.sweeps[{made.sweep}]", arguments)


def curves_do_not_turn_together(case: Case) -> Iterator[Hit]:
    """Yield every curve of return loss or NEXT that has the ripple of another one.

    On a link that is surely long enough for each to have its own, unless it is a fail that is
    stated as one: a single fault may be seen by several pairs.
    """
    shortest, usual = (case.practice.value(one) for one in ("alike_least_m", "alike_share"))
    if is_true_fail(case) or case.shortest_m < shortest:
        return
    curves = case.needed_working.measured_curves
    for alike in running_alike(curves, Figures.of(case.practice), usual):
        first, second = subject(*alike.first), subject(*alike.second)
        said = {"curves": f"{first} and {second}", "usual": usual}
        yield Hit(f"$.results.sweeps[{alike.sweep}]", {**said, "correlation": alike.correlation})


def links_are_each_tested(whole: WholeSet, least_changes: int) -> Iterator[Hit]:
    """Yield every two labels whose tests are one measurement.

    Args:
        whole: all records.
        least_changes: sweeps of so many changing values that are alike in every digit are told by
            the rule about equal sweeps.
    """
    yield from _few(_alike_links(whole, least_changes))
    _say_what_was_not_read(whole)


def _alike_links(whole: WholeSet, least_changes: int) -> Iterator[Hit]:
    for one in whole.suspicions.found:
        first, second = whole[one.first], whole[one.second]
        told = first.sweeps_sha256 == second.sweeps_sha256 and first.changes >= least_changes
        if first.label_key != second.label_key and not told:
            yield _hit(whole, one)


def retests_are_tests(whole: WholeSet) -> Iterator[Hit]:
    """Yield every later test of a link whose curves are, digit for digit, those of an earlier."""
    yield from _few(_alike_retests(whole))
    _say_what_was_not_read(whole)


def _alike_retests(whole: WholeSet) -> Iterator[Hit]:
    for one in whole.suspicions.found:
        first, second = whole[one.first], whole[one.second]
        if first.label_key != second.label_key or not one.likeness.exact:
            continue
        if not may_be_one_test(first, second):
            yield _hit(whole, one, turned=order(second) < order(first))


def tests_come_once(whole: WholeSet) -> Iterator[Hit]:
    """Yield every test that stands twice under its label, as two exports make it.

    Sweeps alike in every digit are one test judged under two limits where the limits differ, and
    are passed over.
    """
    yield from _few(_alike_exports(whole))
    _say_what_was_not_read(whole)


def exports_state_alike(whole: WholeSet) -> Iterator[Hit]:
    """Yield every test that stands twice under its label, once stated to pass and once to fail."""
    for hit, stated in _exports(whole):
        if _are_at_odds(stated):
            said = dict(zip(("first_stated", "second_stated"), stated, strict=True))
            yield Hit(hit.path, {**hit.arguments, **said}, hit.tests)


def _alike_exports(whole: WholeSet) -> Iterator[Hit]:
    return (hit for hit, stated in _exports(whole) if not _are_at_odds(stated))


def _exports(whole: WholeSet) -> Iterator[tuple[Hit, tuple[str, str]]]:
    """Every two exports of one test, with what they state."""
    for one in whole.suspicions.found:
        first, second = whole[one.first], whole[one.second]
        if is_exported_twice(first, second, one):
            yield _hit(whole, one), (first.stated, second.stated)


def _are_at_odds(stated: Sequence[str]) -> bool:
    return {verdict.rstrip("*") for verdict in stated} == {"pass", "fail"}


def curves_are_of_one_test(whole: WholeSet) -> Iterator[Hit]:
    """Yield every two tests that have single curves in common, or halves of them.

    Tests that are alike as a whole are told by other rules.
    """
    yield from _few(_sharing_curves(whole))


def _sharing_curves(whole: WholeSet) -> Iterator[Hit]:
    told = {(one.first, one.second) for one in whole.suspicions.found}

    def apart(first: int, second: int) -> bool:
        one, other = whole[first], whole[second]
        if one.sweeps_sha256 == other.sweeps_sha256 or (first, second) in told:
            return False
        return one.label_key != other.label_key or not may_be_one_test(one, other)

    for tests, curves in shared_curves(whole.marks, apart).items():
        first, second = (whole[place] for place in tests)
        arguments = {
            "first": first.label,
            "first_record": first.record_id[:12],
            "second": second.label,
            "second_record": second.record_id[:12],
            "curves": len(curves),
            "one": subject(*curves[0].first),
            "other": subject(*curves[0].second),
            "part": part_of_curve(curves[0].parts),
        }
        yield Hit("$", arguments, ids((first, second)))


def _few(hits: Iterator[Hit]) -> Iterator[Hit]:
    """So many hits as anybody reads; the last says how many more there are."""
    yield from islice(hits, MOST_TOLD - 1)
    last = next(hits, None)
    if last is None:
        return
    more = sum(1 for _ in hits)
    if more:
        pairs = "1 more pair" if more == 1 else f"{more} more pairs"
        said = next(name for name in ("how", "part") if name in last.arguments)
        how = f"{last.arguments[said]}; {pairs} of tests are alike and not listed"
        last = Hit(last.path, {**last.arguments, said: how}, last.tests)
    yield last


def _hit(whole: WholeSet, one: Suspicion, *, turned: bool = False) -> Hit:
    """Both tests and how they agree, the second first where it is turned."""
    tests = [(whole[one.first].label, one.sources[0]), (whole[one.second].label, one.sources[1])]
    (first, first_source), (second, second_source) = reversed(tests) if turned else tests
    arguments = {
        "first": first,
        "first_source": first_source,
        "second": second,
        "second_source": second_source,
        **figures_of(one.likeness),
        "how": transformation(one.likeness),
    }
    return Hit("$", arguments, ids((whole[one.first], whole[one.second])))


def _say_what_was_not_read(whole: WholeSet) -> None:
    """End the rule as skipped where pairs could not be held against each other.

    Raises:
        CannotLook: there are such pairs.
    """
    unread = whole.suspicions.unread
    if unread:
        pairs = "1 pair" if unread == 1 else f"{unread} pairs"
        raise CannotLook(
            f"{pairs} of tests look alike by their fingerprints, and their sweeps could not be "
            "read again to be held against each other; gather the exports into a book and check "
            "that"
        )
