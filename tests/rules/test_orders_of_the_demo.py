"""The demo's tests as other sources would export them: ACR-N once for two pairs, ACR-F for FEXT.

ACR-N is NEXT and ACR-F is FEXT less the insertion loss of the disturbed pair (recalled, see
record-1.md, 11), and FEXT is the same from either end (reciprocity, any textbook on two-ports).
"""

import copy
import json
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, permutations
from typing import Any

import numpy as np
import pytest

from sweepbook.audit.run import Run
from sweepbook.judging.assessment import Assessment
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
    return found


def judged(document: Json) -> tuple[Assessment, list[str]]:
    """The record judged, and the rules that found something."""
    members = {name: document[name] for name in ("origin", "link", "test", "results", "stated")}
    record = Record.build(resolved=document.get("resolved"), **members)
    audit = Run(replace(context()), recall=lambda ids: [])
    (found,) = audit.walk([record])
    audit.close()
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
    told = 0
    for document in documents:
        other = copy.deepcopy(document)
        kept = [s for s in other["results"]["sweeps"] if s["parameter"] not in FAR_END]
        other["results"]["sweeps"] = [*kept, *acr_f_of_both_ends(document, turned)]
        told += "SWP026" in judged(other)[1]
    assert told > 20 if turned else told == 0
