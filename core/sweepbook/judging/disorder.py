"""Frequencies that rise and fall: one is misprinted, or curves ran together into one."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sweepbook.judging import phrases
from sweepbook.judging.signs import MADE_OF
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.record.grids import of_grid, rises

_LOSS_TAKEN_OFF = ("acr_n", "psacr_n", "acr_f", "psacr_f", "eltctl")
"""What is made with the insertion loss."""


def disordered(document: Mapping[str, Any]) -> Iterator[Doubt]:
    """Yield a doubt for each grid of curves whose frequencies rise here and fall there.

    One that falls all along is the same curve read from its end, and is not doubted.

    Args:
        document: a record that follows its schema.
    """
    results = document["results"]
    grids = results.get("grids", ())
    places = [place for place, grid in enumerate(grids) if not rises(grid)]
    if not places:
        return
    named: defaultdict[str, set[str]] = defaultdict(set)
    for sweep in results.get("sweeps", ()):
        named[sweep["grid"]].add(sweep["parameter"])
    for place in places:
        grid, axis = grids[place], of_grid(grids[place])
        falls = axis[1:] < axis[:-1]
        if not (grid["id"] in named and falls.any() and (axis[1:] > axis[:-1]).any()):
            continue
        at = int(falls.argmax()) + 1
        text = (
            f"the frequencies of the grid {grid['id']!r} fall from "
            f"{phrases.frequency(float(axis[at - 1]))} to {phrases.frequency(float(axis[at]))} "
            "and rise elsewhere, so that none of its values is known to stand at its frequency"
        )
        nothing = tuple((name, ()) for name in sorted(_with_made(named[grid["id"]])))
        yield Doubt(DoubtKind.DISORDER, f"$.results.grids[{place}]", text, nothing)


def _with_made(parameters: Iterable[str]) -> set[str]:
    """Parameters, and what is made from their curves."""
    found = set(parameters)
    made = {name for one in found for name in MADE_OF.get(one, ())}
    return found | made | ({*_LOSS_TAKEN_OFF} if "insertion_loss" in found else set())
