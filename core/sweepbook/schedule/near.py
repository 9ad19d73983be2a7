"""Labels that may be one another misspelt: suggested to a person, never assumed."""

import re
from collections.abc import Iterable

_LOOKALIKES = str.maketrans({"o": "0", "i": "1", "l": "1"})
MOST = 3


def near(label: str, others: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Labels near a given one, the surest first, each with what sets the two apart in words.

    Args:
        label: as scheduled.
        others: labels of tests that nothing on the schedule asked for.
    """
    told = [(other, how) for other in others if (how := difference(label, other))]
    order = {how: place for place, (_, how) in enumerate(_WAYS)}
    return tuple(sorted(told, key=lambda pair: (order.get(pair[1], len(order)), pair[0]))[:MOST])


def difference(one: str, other: str) -> str:
    """What little sets two labels apart, in words; "" where they are the same or far apart."""
    if one == other:
        return ""
    for plain, how in _WAYS:
        if plain(one) == plain(other):
            return how
    if _digits(one) == _digits(other) and _one_apart(one.casefold(), other.casefold()):
        return "one character"
    return "two characters changed places" if _swapped(one.casefold(), other.casefold()) else ""


def _letters(label: str) -> str:
    return "".join(re.findall(r"[^\W_]+", label.casefold()))


def _no_zeros(label: str) -> str:
    parts = re.findall(r"[0-9]+|[^\W\d_]+", label.casefold())
    return " ".join(part.lstrip("0") or "0" if part[0].isdigit() else part for part in parts)


def _look(label: str) -> str:
    return _letters(label).translate(_LOOKALIKES)


_WAYS = (
    (str.casefold, "capital letters"),
    (lambda label: "".join(label.split()).casefold(), "blanks"),
    (_letters, "marks between the parts"),
    (_no_zeros, "zeros before a number"),
    (_look, "letters that look like digits"),
)


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
