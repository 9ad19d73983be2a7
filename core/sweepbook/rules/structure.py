"""Rules about the form of a record."""

from collections.abc import Iterator

import numpy as np

from sweepbook.judging.phrases import name
from sweepbook.record.grids import of_grid, rises
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.words import where

MOST = 20


def follows_the_schema(case: Case) -> Iterator[Hit]:
    """Yield where the record does not follow its schema: the first 20 places, the rest counted."""
    for problem in case.problems[:MOST]:
        yield Hit(problem.path, {"place": problem.path, "problem": problem.message})
    if len(case.problems) > MOST:
        more = len(case.problems) - MOST
        yield Hit("$", {"place": "$", "problem": f"{more} more places are not listed"})


def frequencies_rise(case: Case) -> Iterator[Hit]:
    """Yield, once a grid, the first frequency that does not exceed the one before."""
    for position, grid in enumerate(case.document["results"].get("grids", [])):
        if rises(grid):
            continue
        frequencies = of_grid(grid)
        faults = np.flatnonzero(~(np.diff(frequencies) > 0.0))
        if faults.size:
            index = int(faults[0]) + 1
            yield Hit(
                f"$.results.grids[{position}]",
                {
                    "grid": grid["id"],
                    "index": index,
                    "frequency_mhz": float(frequencies[index]),
                    "previous_mhz": float(frequencies[index - 1]),
                },
            )


def points_are_given_once(case: Case) -> Iterator[Hit]:
    """Yield, once a parameter, the curves in which a frequency stands twice."""
    for parameter, curves in case.needed_working.measured_curves.items():
        rows = np.flatnonzero(curves.repeated).tolist()
        if rows:
            key, sweeps = curves.keys[rows[0]], curves.sweeps[rows[0]]
            yield Hit(
                f"$.results.sweeps[{sweeps[-1]}]",
                {
                    "parameter": name(parameter),
                    "curves": len(rows),
                    "where": where(key.end, key.pairs),
                    "sweeps": ", ".join(map(str, sweeps)),
                },
            )
