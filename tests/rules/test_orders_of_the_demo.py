"""The demo's tests as other sources would export them: ACR-N once for two pairs, ACR-F for FEXT.

ACR-N is NEXT and ACR-F is FEXT less the insertion loss of the disturbed pair (recalled, see
record-1.md, 11), and FEXT is the same from either end (reciprocity, any textbook on two-ports).
"""

import copy
import json
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations, permutations
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sweepbook.audit.run import Run
from sweepbook.judging.assessment import Assessment, PairOrder, Recomputed
from sweepbook.record import codec
from sweepbook.record.model import Record
from tests.program import DEMO, DIALECTS, run

from .test_cases import context

Json = dict[str, Any]
PAIRS = ("1-2", "3-6", "4-5", "7-8")
FAR_END = ("fext", "psfext", "acr_f", "psacr_f")
ABOUT_ACR_N = {"SWP008", "VRD002", "VRD004", "VRD005", "VRD010", "VRD019"}


@pytest.fixture(scope="module")
def documents(tmp_path_factory: pytest.TempPathFactory) -> list[Json]:
    book = tmp_path_factory.mktemp("orders") / "book"
    assert run("gather", book, DEMO / "exports", *DIALECTS).exit_code in (0, 1)
    found = [json.loads(path.read_bytes()) for path in sorted(book.glob("records/*/*.json"))]
    assert len(found) == 27
    return sorted(found, key=lambda document: str(document["link"]["label"]))


def record_of(document: Json) -> Record:
    """The record, with an identity of its own."""
    members = {name: document[name] for name in ("origin", "link", "test", "results", "stated")}
    resolved, provenance = document.get("resolved"), document.get("provenance")
    return Record.build(resolved=resolved, provenance=provenance, **members)


def together(records: list[Record]) -> tuple[Run, list[Assessment]]:
    """The records judged, and the rules asked about all of them."""
    audit = Run(replace(context()), recall=lambda ids: [])
    found = list(audit.walk(records))
    audit.close()
    return audit, found


def judged(document: Json) -> tuple[Assessment, list[str]]:
    """The record judged, and the rules that found something."""
    _, (found,) = together([record_of(document)])
    return found, [one.rule for one in found.findings]


def curves(document: Json, parameter: str) -> dict[tuple[str | None, tuple[str, ...]], Json]:
    """Sweeps without gaps, by end and pairs; NEXT in both orders."""
    found = {}
    for sweep in document["results"]["sweeps"]:
        if sweep["parameter"] == parameter and "gaps" not in sweep:
            found[sweep.get("end"), tuple(sweep["pairs"])] = sweep
            if parameter == "next":
                found[sweep["end"], tuple(sweep["pairs"][::-1])] = sweep
    return found


def less(sweep: Json, losses: list[Json], parameter: str, end: str, pairs: tuple[str, ...]) -> Json:
    """The sweep less the greatest of the losses, as it would be exported."""
    taken = np.max([loss["value_db"] for loss in losses], axis=0)
    made = np.round(np.array(sweep["value_db"]) - taken, 2).tolist()
    named = {"parameter": parameter, "end": end, "pairs": list(pairs)}
    return {**named, "grid": sweep["grid"], "decimals": 2, "value_db": made}


def acr_n_once(document: Json, turned: bool) -> Iterator[Json]:
    """The worse of both orders of every two pairs, under either name."""
    talk, loss = curves(document, "next"), curves(document, "insertion_loss")
    for end in ("near", "far"):
        for two in combinations(PAIRS, 2):
            losses = [loss[None, (pair,)] for pair in two if (None, (pair,)) in loss]
            if (end, two) in talk and len(losses) == 2:
                yield less(talk[end, two], losses, "acr_n", end, two[::-1] if turned else two)


def acr_f_of_both_ends(document: Json, turned: bool) -> Iterator[Json]:
    """ACR-F of the far end, and by reciprocity of the near one, in the right order or the other."""
    talk, loss = curves(document, "fext"), curves(document, "insertion_loss")
    for i, k in permutations(PAIRS, 2):
        for end, disturbing, disturbed in (("far", i, k), ("near", k, i)):
            if ("far", (i, k)) in talk and (None, (disturbed,)) in loss:
                pairs = (disturbed, disturbing) if turned else (disturbing, disturbed)
                losses = [loss[None, (disturbed,)]]
                yield less(talk["far", (i, k)], losses, "acr_f", end, pairs)


@pytest.mark.parametrize("turned", [False, True])
def test_acr_n_once_for_two_pairs_changes_nothing(documents: list[Json], turned: bool) -> None:
    added = 0
    for document in documents:
        more = copy.deepcopy(document)
        extra = list(acr_n_once(document, turned))
        more["results"]["sweeps"] += extra
        added += len(extra)
        (plain, before), (found, after) = judged(document), judged(more)
        assert found.judgement is plain.judgement and found.recomputed is plain.recomputed
        told = [[rule for rule in rules if rule in ABOUT_ACR_N] for rules in (before, after)]
        assert told[0] == told[1], document["link"]["label"]
    assert added > 300


@pytest.mark.parametrize("turned", [False, True])
def test_acr_f_of_both_ends_tells_the_other_order_alone(
    documents: list[Json], turned: bool
) -> None:
    told = sum("SWP026" in judged(without_fext(one, turned))[1] for one in documents)
    assert told > 20 if turned else told == 0


def without_fext(document: Json, turned: bool) -> Json:
    """The test as one whose export has ACR-F of both ends and no FEXT."""
    other = copy.deepcopy(document)
    kept = [s for s in other["results"]["sweeps"] if s["parameter"] not in FAR_END]
    other["results"]["sweeps"] = [*kept, *acr_f_of_both_ends(document, turned)]
    return other


def told_together(audit: Run) -> list[str]:
    """Tests that hide an order which those read alike show."""
    return [test for one in audit.findings if one.rule == "SET024" for test in one.tests]


def test_no_pass_of_a_job_read_in_the_other_order_stands_untold(documents: list[Json]) -> None:
    """Short links show no order, and their tests would be upheld beside those that do."""
    audit, found = together([record_of(without_fext(one, turned=True)) for one in documents])
    passing = [one for one in found if one.recomputed is Recomputed.PASS]
    assert {one.pair_order for one in passing} == {PairOrder.NOT_SHOWN}
    assert sorted(told_together(audit)) == sorted(one.record.record_id for one in passing) != []
    told = [one.arguments for one in audit.findings if one.rule == "SET024"]
    shown = Counter(one.pair_order for one in found)
    assert sum(one["showing"] for one in told) <= shown[PairOrder.OTHER]


@pytest.mark.parametrize("turned", [None, lambda number: False, lambda number: number % 2 == 1])
def test_nothing_is_told_where_no_other_order_or_both_are_shown(
    documents: list[Json], turned: Callable[[int], bool] | None
) -> None:
    some = documents
    if turned:
        some = [without_fext(one, turned(number)) for number, one in enumerate(documents)]
    audit, found = together([record_of(one) for one in some])
    shown = Counter(one.pair_order for one in found)
    assert told_together(audit) == []
    if turned is None:
        assert set(shown) == {PairOrder.NOT_ASKED}
    else:
        assert shown[PairOrder.AS_NAMED] > 8 and shown[PairOrder.NOT_SHOWN] > 3
        assert (shown[PairOrder.OTHER] > 8) == turned(1)


def test_workers_tell_the_same_of_a_book(documents: list[Json], tmp_path: Path) -> None:
    """What hides its order is told by tests that another process judged."""
    book = tmp_path / "book"
    for number, document in enumerate(documents):
        record = record_of(without_fext(document, turned=True))
        (tmp_path / f"{number}.json").write_bytes(codec.dumps(record))
    assert run("gather", book, *sorted(tmp_path.glob("*.json"))).exit_code in (0, 1)
    alone, shared = (
        json.loads(run("check", book, "--json", "--workers", count).stdout)["findings"]
        for count in ("1", "2")
    )
    assert alone == shared
    assert len([one for one in alone if one["rule"] == "SET024"]) == 2
