"""Short words for parameters that an export explains itself: "PDX paradiaphonie (NEXT)"."""

import re
from collections.abc import Iterator, Sequence

from sweepbook.draft import phrases
from sweepbook.draft.fields import verdict_of

_LEAST = 2
"""So many parameters that lines side by side explain are a list of words; one may be a key."""
_SHORT = re.compile(r"[A-ZÀ-ÖØ-Þ][A-ZÀ-ÖØ-Þ0-9./-]{0,6}")
_REMARK = " #!%*/'"


def words_told(groups: Sequence[Sequence[Sequence[str]]]) -> dict[str, str]:
    """The parameter by each word that is explained and that the trade does not know.

    Args:
        groups: rows that stand together, each with texts side by side; anything else does no harm.

    Returns:
        word of the record by word of the export; none where a word is explained in two ways.
    """
    found: dict[str, set[str]] = {}
    for group in groups:
        told = [said for row in group for said in _explained(row)]
        if len({parameter for _, parameter in told}) >= _LEAST:
            for word, parameter in told:
                found.setdefault(word, set()).add(parameter)
    return {word: next(iter(some)) for word, some in found.items() if len(some) == 1}


def _explained(row: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Words and parameters of one row: in each cell a word and what it is, or in two cells."""
    pairs = [cell.strip(_REMARK).partition(" ")[::2] for cell in row]
    pairs += [(row[0].strip(_REMARK), row[1])] if len(row) == len("12") else []
    for word, said in pairs:
        spoken = any(map(str.islower, said)) and _SHORT.fullmatch(word) is not None
        if spoken and phrases.parameter_in(word) is None and verdict_of(word) is None:
            named = phrases.parameter_in(said)
            if named is not None:
                yield word, named.meaning
