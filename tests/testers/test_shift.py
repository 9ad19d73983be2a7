"""The comparison of testers, held to scipy's rank test and to fleets with and without a shift."""

from itertools import permutations
from math import erfc, sqrt

import numpy as np
import pytest
from scipy.stats import mannwhitneyu

from sweepbook.limits.practice import Practice
from sweepbook.testers.collect import Fleet
from sweepbook.testers.reading import Alike, Reading, Unit, UnitTest
from sweepbook.testers.shift import shift


@pytest.mark.parametrize("decimals", [6, 1, 0])
def test_one_group_is_the_test_of_wilcoxon_mann_and_whitney(decimals: int) -> None:
    """With many ties, some and none."""
    random = np.random.default_rng(decimals)
    for _ in range(20):
        mine = random.normal(0.4, 1.0, 12).round(decimals)
        theirs = random.normal(0.0, 1.0, 17).round(decimals)
        found = shift([(mine.tolist(), theirs.tolist())])
        known = mannwhitneyu(mine, theirs, use_continuity=False, method="asymptotic")
        assert found is not None
        assert found.chance == pytest.approx(known.pvalue, rel=1e-9)
        assert found.shift == pytest.approx(np.median(mine) - np.median(theirs))


def test_the_chance_over_groups_is_that_of_all_ways_to_deal_the_figures_out() -> None:
    """The variance of van Elteren's statistic over all permutations within two small groups."""
    groups = [([1.0, 5.0], [2.0, 2.0, 7.0]), ([4.0], [3.0, 9.0])]
    statistics = []
    for one in permutations(range(5)):
        for two in permutations(range(3)):
            total = 0.0
            for order, (mine, theirs) in zip((one, two), groups, strict=True):
                every = np.array([*mine, *theirs])
                ranks = np.array([(every < x).sum() + ((every == x).sum() + 1) / 2 for x in every])
                dealt = ranks[list(order)][: len(mine)]
                size = every.size
                total += (dealt.sum() - len(mine) * (size + 1) / 2) / (size + 1)
            statistics.append(total)
    spread = float(np.std(statistics))
    observed = statistics[0]
    found = shift(groups)
    assert found is not None
    assert found.chance == pytest.approx(erfc(abs(observed) / spread / sqrt(2)), rel=1e-9)
    assert (found.own, found.others) == (3, 5)


def test_groups_with_figures_of_one_side_only_tell_nothing() -> None:
    assert shift([([1.0], []), ([], [2.0])]) is None
    same = shift([([1.0, 1.0], [1.0])])
    assert same is not None
    assert (same.shift, same.chance) == (0.0, 1.0)


def fleet_of(random: np.random.Generator, **shifts: float) -> Fleet:
    """Three pairs of testers on 40 links each, in two lengths that differ by 3 dB."""
    fleet = Fleet(Practice.shipped())
    for name in ("a", "b", "c"):
        for link in range(40):
            step = link % 2
            alike = Alike("class", "cable", step, "near")
            value = 5.0 + 3.0 * step + random.normal(0.0, 0.4) + shifts.get(name, 0.0)
            readings = tuple(Reading(p, alike, value) for p in ("next", "return_loss"))
            unit = Unit("Maker", "Model", name)
            fleet.add([UnitTest(unit, False, None, None, None, None, "", readings)])
    return fleet


def test_a_tester_that_reads_high_is_found_with_its_shift() -> None:
    compared = fleet_of(np.random.default_rng(1), c=0.8).compared()
    apart = [one for one in compared if one.apart]
    assert {one.unit.serial for one in apart if one.found.shift > 0} == {"c"}
    (high, _) = [one for one in apart if one.unit.serial == "c"]
    assert high.found.shift == pytest.approx(0.8, abs=0.2)
    assert (high.found.own, high.found.others) == (40, 80)


def test_a_fleet_of_equals_is_hardly_ever_suspected() -> None:
    """At most one in a hundred by the practice figure: with 100 fleets, five are far too many."""
    random = np.random.default_rng(2)
    suspected = sum(any(x.apart for x in fleet_of(random).compared()) for _ in range(100))
    assert suspected <= 4


def test_too_few_tests_are_not_compared() -> None:
    fleet = Fleet(Practice.shipped())
    alike = Alike("class", "cable", 0, "near")
    for serial, count in (("a", 4), ("b", 30)):
        for _ in range(count):
            reading = Reading("next", alike, 1.0)
            unit = Unit("", "", serial)
            fleet.add([UnitTest(unit, False, None, None, None, None, "", (reading,))])
    assert fleet.compared() == ()
