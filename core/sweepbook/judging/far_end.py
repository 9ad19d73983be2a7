"""Far-end crosstalk where a source gives only its ratio to the insertion loss.

ACR-F_ik = FEXT_ik - IL_k, and in some sources less the loss of the disturbing pair i (common
practice, no source). So FEXT lies between what ACR-F and the lesser and the greater loss make; a
power sum likewise, with the losses of all pairs. That is not judged. It tells how weak the
crosstalk is, where a reading of a standard asks for that.
"""

from collections.abc import Container, Iterator, Mapping

import numpy as np

from sweepbook.judging.bands import Given
from sweepbook.judging.compose import completed
from sweepbook.judging.curves import PAIRS, Curves, row_of_pair, shared
from sweepbook.judging.directions import reciprocal_fext

RATIOS = {"fext": "acr_f", "psfext": "psacr_f"}
"""The ratio that each is told by."""


def told(name: str, curves: Mapping[str, Curves], doubted: Container[int] = ()) -> Curves | None:
    """The far-end crosstalk that there is, and what ratios tell of the rest.

    Args:
        name: `fext` or `psfext`.
        curves: by parameter, those that are judged.
        doubted: rows of the insertion loss that tell nothing.

    Returns:
        The curves, of one parameter; None without any.
    """
    there, ratio, loss = (curves.get(of) for of in (name, RATIOS[name], "insertion_loss"))
    if ratio is None or loss is None:
        return there
    chosen = [*_lacking(name, there, ratio, loss, doubted)]
    if not chosen:
        return there
    rows = [row for row, _ in chosen]
    keys = [ratio.keys[row]._replace(parameter=name) for row in rows]
    one, two = shared(ratio.take(rows, keys), loss)
    among = [losses for _, losses in chosen]
    least = np.array([two.low[losses].min(axis=0) for losses in among])
    most = np.array([two.high[losses].max(axis=0) for losses in among])
    own = two.value[[losses[0] for losses in among]]
    band = Given(one.low + least, one.high + most)
    repeated = np.array([two.repeated[losses].any() for losses in among]) | one.repeated
    axis, sweeps = one.frequency_mhz, ((),) * len(keys)
    return completed(there, Curves(name, one.keys, axis, one.value + own, band, sweeps, repeated))


def _lacking(
    name: str, there: Curves | None, ratio: Curves, loss: Curves, doubted: Container[int]
) -> Iterator[tuple[int, list[int]]]:
    """Rows of ratios without crosstalk, each with the rows of the losses, its own pair's first."""
    known = there.keys if there is not None else ()
    directions = reciprocal_fext(known)
    for row, key in enumerate(ratio.keys):
        if name == "psfext":
            others = [pair for pair in PAIRS if pair not in key.pairs]
            is_there = key._replace(parameter=name) in known
        else:
            others = [*key.pairs[:-1]]
            is_there = (str(key.end), key.pairs[0], key.pairs[-1]) in directions
        losses = [row_of_pair(loss.keys, key.end, pair) for pair in (key.pairs[-1], *others)]
        rows = [of for of in losses if of is not None and of not in doubted]
        if not is_there and len(rows) == len(losses):
            yield row, rows
