"""Two numbers a point that are its two ends, in XML nobody has described yet."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import permutations
from statistics import fmean

from sweepbook.draft import phrases, spellings
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import either
from sweepbook.draft.trade_words import ENDS, NO_VALUE, VALUES
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tests import naming_texts

_LEAST = 4
"""So many curves at least: those of the return loss of four pairs."""
_SHORT = 3
"""So many letters at least has a word for an end that is cut short."""
_NEAR_DB = 12.0
"""The two ends of a link differ by no more on average: common practice, no source."""
_ONE_SIGN = 0.95

_WHY = (
    "two numbers a point that differ from curve to curve, and by nothing that all curves share, "
    "are its two ends"
)


def parted(curves: Sequence[Curve]) -> list[Curve]:
    """The curves; those whose points have a number of each end are two, the near one first."""
    kinds: dict[tuple[str, ...], list[Curve]] = defaultdict(list)
    for curve in curves:
        if curve.point is not None and curve.rivals:
            kinds[(*curve.point[:2], *sorted([curve.point[2], *curve.rivals]))].append(curve)
    ends: dict[int, tuple[str, str, str]] = {}
    named = bool(kinds) and settle(naming_texts(curves)).ends is not None
    for key, some in kinds.items():
        told = _told(key[2:], some) or (None if named else _shown(key[2:], some))
        if told:
            ends |= {id(curve): told for curve in some}
    return [one for curve in curves for one in _two(curve, *ends.get(id(curve), ()))]


def _two(curve: Curve, near: str = "", far: str = "", why: str = "") -> Iterator[Curve]:
    if curve.point is None or not near:
        yield curve
        return
    texts = {curve.point[2]: curve.value_texts, **curve.rivals}
    for path in (near, far):
        before, name = path[: -len(_name(path))], _name(path)
        yield Curve(
            curve.element,
            point=(*curve.point[:2], path),
            axis_texts=curve.axis_texts,
            value_texts=texts[path],
            units=curve.units,
            column=(before, name, ""),
            why=why,
        )


def _told(paths: Sequence[str], curves: Sequence[Curve]) -> tuple[str, str, str] | None:
    """The paths of near and far by their names: words for the ends, or what these begin with."""
    for near, far in ENDS:
        for one, other in permutations(paths, 2):
            if not (_is_short(one, near) and _is_short(other, far)):
                continue
            alike = len(near) > 1 or all(_are_alike(*_columns(one, other, of)) for of in curves)
            if alike and _are_measured(one, other, curves):
                return one, other, ""
    return None


def _shown(paths: Sequence[str], curves: Sequence[Curve]) -> tuple[str, str, str] | None:
    """The only two paths, where their numbers show that they are of two ends."""
    if len(paths) != len(ENDS[0]) or len(curves) < _LEAST:
        return None
    first = next(iter({path for curve in curves for path in (curve.point or ())[2:]}), paths[0])
    one, other = sorted(paths, key=lambda path: path != first)
    names = [_name(path) for path in paths]
    if any(phrases.parameter_in(name) or phrases.has(name, (*VALUES, *NO_VALUE)) for name in names):
        return None
    alike = all(_are_alike(*_columns(one, other, curve)) for curve in curves)
    return (one, other, _WHY) if alike and _are_measured(one, other, curves) else None


def _are_measured(one: str, other: str, curves: Sequence[Curve]) -> bool:
    """Whether neither is a limit line, which curves share, nor what the other is above one."""
    held = [_columns(one, other, curve) for curve in curves]
    apart = [
        tuple(round(a - b, 3) for a, b in zip(first, second, strict=True)) for first, second in held
    ]
    lines = ([tuple(first) for first, _ in held], [tuple(second) for _, second in held], apart)
    return all(len(set(some)) * 2 > len(some) for some in lines)


def _are_alike(first: Sequence[float], second: Sequence[float]) -> bool:
    """Whether numbers are losses of about the same size: neither phases nor parts of a ratio."""
    both = [*first, *second]
    positive = sum(value > 0 for value in both)
    if not both or max(positive, len(both) - positive) < _ONE_SIGN * len(both):
        return False
    return fmean(abs(a - b) for a, b in zip(first, second, strict=True)) <= _NEAR_DB


def _columns(one: str, other: str, curve: Curve) -> tuple[list[float], list[float]]:
    """The numbers of two paths at the points that have both."""
    assert curve.point is not None
    texts = {curve.point[2]: curve.value_texts, **curve.rivals}
    pairs = ((either(a), either(b)) for a, b in zip(texts[one], texts[other], strict=True))
    kept = [(a, b) for a, b in pairs if a is not None and b is not None]
    return [a for a, _ in kept], [b for _, b in kept]


def _is_short(path: str, word: str) -> bool:
    """Whether a path is called by a word, or by some first letters of it."""
    name = spellings.folded(_name(path))
    if phrases.whole(name, (word,)):
        return True
    return len(name) >= _SHORT and name.isalpha() and spellings.folded(word).startswith(name)


def _name(path: str) -> str:
    """The name that a path ends in."""
    return path.rpartition("/")[2].rpartition(":")[2].lstrip("@")
