"""Labels that may be one another misspelt: suggested to a person, never assumed."""

import re
from collections.abc import Iterable, Iterator

from sweepbook.record.links import plain_label

_LOOKALIKES = str.maketrans({"o": "0", "i": "1", "l": "1"})
MOST = 3
_FROM_2 = re.compile("[2-9]")
LONGEST = 64
"""Characters of a label that is looked through one by one, which takes their number squared."""
_Key = tuple[object, ...]


class Near:
    """Labels, filed by what near ones have in common, so that few are compared."""

    def __init__(self, labels: Iterable[str]) -> None:
        self._filed: dict[_Key, set[str]] = {}
        self._kept: set[str] = set()
        for label in labels:
            self._kept.add(_kept_digits(label))
            for key in _keys(label):
                self._filed.setdefault(key, set()).add(label)

    def to(self, label: str) -> tuple[tuple[str, str], ...]:
        """Those near to a label, the surest first, each with what sets the two apart in words."""
        if not self._filed or _kept_digits(label) not in self._kept:
            return ()
        others = {other for key in _keys(label) for other in self._filed.get(key, ())}
        told = [(other, how) for other in others if (how := difference(label, other))]
        order = {how: place for place, (_, how) in enumerate(_WAYS)}
        told.sort(key=lambda pair: (order.get(pair[1], len(order)), pair[0]))
        return tuple(told[:MOST])


def difference(one: str, other: str) -> str:
    """What little sets two labels apart, in words; "" where they are one label or far apart."""
    if plain_label(one) == plain_label(other):
        return ""
    for plain, how in _WAYS:
        if plain(one) == plain(other):
            return how
    if _digits(one) == _digits(other) and _one_apart(one.casefold(), other.casefold()):
        return "one character"
    return (
        "two characters that changed places" if _swapped(one.casefold(), other.casefold()) else ""
    )


def _letters(label: str) -> str:
    return "".join(re.findall(r"[^\W_]+", label.casefold()))


def _no_zeros(label: str) -> str:
    parts = re.findall(r"[0-9]+|[^\W\d_]+", label.casefold())
    return " ".join(part.lstrip("0") or "0" if part[0].isdigit() else part for part in parts)


def _look(label: str) -> str:
    return _letters(label).translate(_LOOKALIKES)


_WAYS = (
    (lambda label: "".join(label.split()).casefold(), "spaces"),
    (_letters, "marks between the parts"),
    (_no_zeros, "zeros before a number"),
    (_look, "letters that look like digits"),
)


def _keys(label: str) -> Iterator[_Key]:
    """What it shares with every label that `difference` finds near to it.

    One character apart are labels that are equal once each has lost at most one; two characters
    changed places where the labels are equal once those two are sorted.
    """
    yield from ((how, plain(label)) for plain, how in _WAYS)
    if len(label) > LONGEST:
        return
    text, numbers = label.casefold(), tuple(_digits(label))
    yield (numbers, text)
    for n in range(len(text)):
        yield (numbers, text[:n] + text[n + 1 :])
        yield (n, text[:n] + "".join(sorted(text[n : n + 2])) + text[n + 2 :])


def _kept_digits(label: str) -> str:
    """Its digits from 2 to 9, sorted: no way of being near adds, drops or changes one of these.

    Zeros come and go at the begin of a number, and 0 and 1 stand for letters.
    """
    return "".join(sorted(_FROM_2.findall(label)))


def _digits(label: str) -> list[str]:
    """Its numbers: a link beside another one differs in these, and is no misspelling of it."""
    return re.findall(r"[0-9]+", label)


def _one_apart(one: str, other: str) -> bool:
    """Whether one character was left out, added or taken for another."""
    short, long = sorted((one, other), key=len)
    if len(long) - len(short) > 1 or len(short) < 4:
        return False
    same = next(
        (n for n, (a, b) in enumerate(zip(short, long, strict=False)) if a != b), len(short)
    )
    rest = same + 1 if len(short) == len(long) else same
    return short[rest:] == long[same + 1 :]


def _swapped(one: str, other: str) -> bool:
    """Whether two characters beside one another changed places."""
    if len(one) != len(other) or len(one) < 4:
        return False
    places = [n for n, (a, b) in enumerate(zip(one, other, strict=True)) if a != b]
    if len(places) != 2 or places[1] != places[0] + 1:
        return False
    first, second = places
    return one[first] == other[second] and one[second] == other[first]
