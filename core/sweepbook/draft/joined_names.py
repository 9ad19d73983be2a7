"""Names of files: of those that belong together what they share, and of others a list."""

from collections.abc import Sequence
from itertools import takewhile

from sweepbook.text import printable

SHARED = "{}"
_LISTED = 20


def patterns(names: Sequence[str]) -> list[str]:
    """Names with {} for what all share at their beginning, else at the end of their stems.

    As they are where they share nothing.
    """
    if start := shared_start(names):
        return [f"{SHARED}{name[len(start) :]}" for name in names]
    stems = [name.partition(".")[0] for name in names]
    end = len(shared_start([stem[::-1] for stem in stems]))
    if not end:
        return list(names)
    return [
        f"{stem[:-end]}{SHARED}{name[len(stem) :]}" for stem, name in zip(stems, names, strict=True)
    ]


def shared_start(names: Sequence[str]) -> str:
    """What names begin with, down to where a word ends in all of them."""
    same = takewhile(lambda letters: len(set(letters)) == 1, zip(*names, strict=False))
    start = "".join(letters[0] for letters in same)
    while start[-1:].isalnum() and any(
        name[len(start) : len(start) + 1].isalnum() for name in names
    ):
        start = start[:-1]
    return start.rstrip("-_. ")


def left_out(said: str, names: Sequence[str]) -> str:
    """What is said of files of which nothing is drafted, with their names.

    Args:
        said: why.
        names: of the files; some may come again.
    """
    known = list(dict.fromkeys(names))
    more = f" and {len(known) - _LISTED} more" if len(known) > _LISTED else ""
    return f"{said}: {', '.join(map(repr, map(printable, known[:_LISTED])))}{more}"
