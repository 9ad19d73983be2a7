"""Pairs of stated figures that stand under a key of their own: "NEXT worst pair", "12-36"."""

from collections.abc import Sequence

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Name, RawFigure

PAIRS = "pairs"
"""The role of such a key."""


def with_pairs(
    figures: Sequence[RawFigure], meaning: Meaning
) -> tuple[list[RawFigure], list[RawFigure]]:
    """Stated worst cases without pairs, with those that other keys tell of their parameter.

    Args:
        figures: of a test, those that tell pairs among them.
        meaning: the words of the dialect.

    Returns:
        the figures, and those that tell pairs which belong to none or are not known.
    """
    if all(figure.role != PAIRS for figure in figures):
        return list(figures), []
    told = {at: _named(one, meaning) for at, one in enumerate(figures) if one.role == PAIRS}
    used: set[int] = set()
    found: list[RawFigure] = []
    for figure in figures:
        if figure.role == PAIRS:
            continue
        fits = [at for at, name in told.items() if name and _is_of(figure, name)]
        if len(fits) == 1:
            used.add(fits[0])
            pairs = told[fits[0]]
            figure = figure._replace(name=figure.name._replace(pairs=pairs.pairs if pairs else ()))
        found.append(figure)
    return found, [figures[at] for at in told if at not in used]


def _is_of(figure: RawFigure, name: Name) -> bool:
    """Whether a figure is a worst case that lacks its pairs, of such a name."""
    stated = figure.role.startswith("worst_") and not figure.name.pairs
    return stated and (figure.name.parameter, figure.name.end) == (name.parameter, name.end)


def _named(figure: RawFigure, meaning: Meaning) -> Name | None:
    """The name of a figure with the pairs that its text tells; None where it tells none."""
    parameter = figure.name.parameter
    spelt = next(of for of, words in meaning.words.parameters.items() if parameter in words)
    found = meaning.pair_namer.name((spelt, figure.cell.text.strip()))
    return found._replace(end=figure.name.end) if found and found.pairs else None
