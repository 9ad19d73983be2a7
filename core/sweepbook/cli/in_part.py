"""Many things of one kind told in part: the first of them, and how many more there are."""

from collections import Counter
from collections.abc import Iterable, Iterator

MOST = 100
"""Of one kind: nobody reads more of them on a screen, and other kinds shall not drown in them."""


def in_part(told: Iterable[tuple[str, str]], most: int = MOST) -> Iterator[str]:
    """Each text after its kind, of each kind the first ones; then how many more of it there are.

    Args:
        told: the kind and the text of each.
        most: of one kind.
    """
    counts: Counter[str] = Counter()
    for kind, text in told:
        counts[kind] += 1
        if counts[kind] <= most:
            yield f"{kind}: {text}"
    for kind, count in counts.items():
        if count > most:
            yield f"{kind}: {count - most} more, not listed here; --json lists them all."
