"""Rules about the form of a record."""

from collections.abc import Iterator

import numpy as np

from sweepbook.record.grids import frequency_mhz
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

MOST = 20


def follows_the_schema(case: Case) -> Iterator[Hit]:
    """Yield where the record does not follow its schema: the first 20 places, the rest counted."""
    for problem in case.problems[:MOST]:
        yield Hit(problem.path, {"problem": problem.message})
    if len(case.problems) > MOST:
        more = len(case.problems) - MOST
        yield Hit("$", {"problem": f"{more} more places are not listed"})


def frequencies_rise(case: Case) -> Iterator[Hit]:
    """Yield, once a grid, the first frequency that does not exceed the one before."""
    for position, grid in enumerate(case.document["results"].get("grids", [])):
        frequencies = frequency_mhz(case.document, grid["id"])
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
