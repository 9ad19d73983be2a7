"""Port maps that are not those of the wiring: told by what comes out where, and when."""

from pathlib import Path

import numpy as np
import pytest

from sweepbook.judging.assessment import Outcome
from sweepbook_demo.main_house import LINKS
from sweepbook_demo.plan import permanent_link

from .making import BALANCED, PAIRS, SINGLE, model, network, read, single_ended, text
from .test_model import judged

KHZ = [*range(1_000, 31_250, 150), *range(31_250, 100_001, 250)]
SIX = {"format_spec_A": "{:.6f}", "format_spec_B": "{:.6f}"}


def exchanged(dialect: str, *pairs: str) -> str:
    """A map with near and far of some pairs the other way round."""
    for pair in pairs:
        port = PAIRS.index(pair) + 1
        for old, new in ((port, "X"), (port + 4, port), ("X", port + 4)):
            assert f"\n{pair} = {old}\n" in dialect
            dialect = dialect.replace(f"\n{pair} = {old}\n", f"\n{pair} = {new}\n", 1)
    return dialect


@pytest.mark.parametrize("length_m", [6.0, 90.0])
def test_a_pair_with_its_ends_exchanged_is_told_by_causality(
    length_m: float, tmp_path: Path
) -> None:
    link = model(KHZ, permanent_link(length_m))
    random = np.random.RandomState(4)
    shape = (2, len(KHZ), 8, 8)
    noise = 1e-5 * np.array([1, 1j]) @ random.standard_normal(shape).transpose(1, 2, 0, 3)
    noisy = text(network(link.f / 1e6, link.s + noise, 100.0), **SIX)
    assert len(read(tmp_path, "x.s8p", noisy, BALANCED).records) == 1
    lost = read(tmp_path, "x.s8p", noisy, exchanged(BALANCED, "3-6")).lost
    assert "between 3-6 and 1-2, 4-5, 7-8 is at the far end before a signal can be there" in lost
    assert "exchange the ports of 3-6 near and far in touchstone.ports" in lost
    two = read(tmp_path, "x.s8p", noisy, exchanged(BALANCED, "3-6", "7-8")).lost
    assert "is at the far end before a signal can be there" in two
    all_four = read(tmp_path, "x.s8p", noisy, exchanged(BALANCED, *PAIRS))
    assert len(all_four.records) == 1


@pytest.mark.parametrize("label", ["1A-P1-03", "1A-P1-04"])
def test_a_link_with_faults_is_no_wrong_map(label: str, tmp_path: Path) -> None:
    (planned,) = [one for one in LINKS if one.facts["label"] == label]
    link = text(model(KHZ, planned.pieces, planned.seed), **SIX)
    assert read(tmp_path, "x.s8p", link, BALANCED).problems == []


def test_an_interrupted_pair_is_no_wrong_map(tmp_path: Path) -> None:
    link = model(KHZ[::20])
    s = link.s.copy()
    s[:, 4, 0] = s[:, 0, 4] = 1e-6
    (record,) = read(tmp_path, "x.s8p", text(network(link.f / 1e6, s, 100.0)), BALANCED).records
    failed = {
        margin.pairs
        for margin in judged(record).margins
        if margin.parameter == "insertion_loss" and margin.outcome is Outcome.FAIL
    }
    assert failed == {("1-2",)}


def test_conductors_of_two_pairs_exchanged_at_one_end(tmp_path: Path) -> None:
    link = text(single_ended(model(KHZ[:40])), **SIX)
    wrong = SINGLE.replace("1-2 = [1, 2]", "1-2 = [1, 3]").replace("3-6 = [3, 4]", "3-6 = [2, 4]")
    lost = read(tmp_path, "x.s16p", link, wrong).lost
    assert "port 3, of 1-2 near by touchstone.ports, is connected to port 11" in lost
    assert "see the map, or the link has conductors crossed" in lost


def test_split_pairs_are_told_and_kept(tmp_path: Path) -> None:
    link = text(single_ended(model(KHZ[:40])), **SIX)
    split = SINGLE
    for old, new in (
        ("1-2 = [1, 2]", "1-2 = [1, 3]"),
        ("3-6 = [3, 4]", "3-6 = [2, 4]"),
        ("1-2 = [9, 10]", "1-2 = [9, 11]"),
        ("3-6 = [11, 12]", "3-6 = [10, 12]"),
    ):
        split = split.replace(old, new)
    result = read(tmp_path, "x.s16p", link, split)
    assert len(result.records) == 1
    assert "ports 1 and 3, one pair by touchstone.ports" in result.problems[0].message
    assert "split pairs" in result.problems[0].message


def test_contacts_exchanged_at_one_end_cost_the_delay_only(tmp_path: Path) -> None:
    link = text(single_ended(model(KHZ[:40])), **SIX)
    turned = SINGLE.replace("4-5 = [13, 14]", "4-5 = [14, 13]")
    result = read(tmp_path, "x.s16p", link, turned)
    notes = result.records[0].document["resolved"]["notes"]
    assert [note for note in notes if "no propagation delay of 4-5: the phase does not" in note]
