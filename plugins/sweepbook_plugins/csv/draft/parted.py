"""Whether lines part a file into its tests, by the tables that stand between them."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence

from sweepbook_plugins.csv.draft.shape import Seen


def usual_count(tables: Sequence[Seen]) -> int:
    """How often most kinds of tables come; 1 where there is none."""
    again = Counter(map(_kind, tables))
    return Counter(again.values()).most_common(1)[0][0] if again else 1


def some_lack_tables(
    tables: Sequence[Seen], lines: Sequence[int], others: Sequence[Sequence[int]]
) -> bool:
    """Whether lines begin tests of which some lack tables, as one whose wires are crossed does.

    No test has a table twice, and those that most tests have are lacking together. What all have
    is some other table, or another line.

    Args:
        tables: of the file.
        lines: positions of lines that begin alike, rising.
        others: the same of lines that begin otherwise.
    """
    parts: dict[object, list[int]] = {}
    for seen in tables:
        parts.setdefault(_kind(seen), []).append(bisect_right(lines, seen.start))
    count = usual_count(tables)
    usual = {tuple(of) for of in parts.values() if len(of) == count}
    if len(lines) <= count or len(usual) > 1:
        return False
    if any(len(set(of)) < len(of) for of in parts.values()):
        return False
    every = [*range(1, len(lines) + 1)]
    others = [[bisect_right(lines, at) for at in of] for of in others if of is not lines]
    return any(of == every for of in (*parts.values(), *others))


def _kind(seen: Seen) -> object:
    """What tables of one kind have in common."""
    return seen.outer, seen.heading, seen.titles, seen.named
