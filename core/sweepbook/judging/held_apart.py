"""Exported ratios beside raw curves that they cannot be made from, as these share no frequency."""

from collections.abc import Iterator, Mapping

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.curves import Curves
from sweepbook.judging.doubt_words import path_of
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.limits.model import LimitTable

RATIOS = {"next": ("acr_n", "psacr_n"), "fext": ("acr_f", "psacr_f")}
"""What is made from crosstalk and insertion loss."""


def held_apart(measured: Mapping[str, Curves], table: LimitTable | None) -> Iterator[Doubt]:
    """Yield crosstalk that an exported ratio, which is required, can nowhere be held against.

    Args:
        measured: curves of a record by parameter.
        table: whose required ratios are looked at; None for all.
    """
    loss = measured.get("insertion_loss")
    for name, ratios in RATIOS.items():
        crosstalk = measured.get(name)
        told = [one for one in ratios if one in measured and _required(one, table)]
        if crosstalk is None or loss is None or not told:
            continue
        if np.intersect1d(crosstalk.frequency_mhz, loss.frequency_mhz).size:
            continue
        first = (phrases.frequency(float(one.frequency_mhz[0])) for one in (crosstalk, loss))
        text = (
            f"{phrases.name(name)}, from {next(first)} on, and insertion loss, from {next(first)} "
            f"on, have no frequency in common, so that {' and '.join(map(phrases.name, told))} as "
            "exported can be held against nothing that was measured"
        )
        yield Doubt(DoubtKind.CONTRADICTION, path_of(crosstalk, 0), text)


def _required(name: str, table: LimitTable | None) -> bool:
    rule = table.parameters.get(name) if table else None
    return table is None or (rule is not None and rule.obligation == "required")
