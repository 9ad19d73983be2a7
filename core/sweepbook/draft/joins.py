"""What a draft says of tests in several tables or files: their names, and the keys that join them.

Pairs of keys that fit as well as the chosen one are for a person to choose from.
"""

from collections.abc import Hashable, Sequence
from itertools import takewhile
from typing import NamedTuple

from sweepbook.draft.document import ASSUMED, FOUND, UNSETTLED, UNTOLD, Note, Table, listed
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
    known = [repr(printable(name)) for name in dict.fromkeys(names)]
    return f"{said}: {listed(known, _LISTED)}"


class Pair(NamedTuple):
    """A key of the tests, and one of another table with the same texts.

    Attributes:
        key, other_key: what they are called.
        alike: whether by one name.
        counts: of each of both, whether it just counts the rows of its table.
        common: how many texts both hold.
        leads: what each of the tests, or their rows, is joined to; None for nothing.
    """

    key: str
    other_key: str
    alike: bool
    counts: tuple[bool, bool]
    common: int
    leads: Sequence[Hashable]

    @property
    def sure(self) -> bool:
        """Whether it needs no look at others that are less so."""
        return self.alike and not any(self.counts)


def paired(
    key: str, texts: Sequence[str], other_key: str, others: Sequence[str], *, alike: bool
) -> Pair:
    """A pair of keys, with the row of the other table that each text of the tests leads to.

    Args:
        key: of the tests, or of rows of theirs.
        texts: below it.
        other_key: of the rows of the other table.
        others: below that.
        alike: whether both are called the same.
    """
    row_of = {text: at for at, text in enumerate(others)}
    counts = (counting(texts), counting(others))
    leads = [row_of.get(text) for text in texts]
    return Pair(key, other_key, alike, counts, len({*texts} & row_of.keys()), leads)


def counting(texts: Sequence[str]) -> bool:
    """Whether the texts of a column, a row each, number the rows in their order from 0 or 1."""
    if len(texts) < 2 or not all(text.isascii() and text.isdigit() for text in texts):
        return False
    first = int(texts[0])
    return first in (0, 1) and [*map(int, texts)] == [*range(first, first + len(texts))]


def rivals(chosen: Pair, others: Sequence[Pair]) -> list[Pair]:
    """The pairs that fit as well as the chosen one and join other tests, or may in other exports.

    They may where the chosen one has nothing for it but that it counts rows in the same order.
    Where the chosen ones are called alike, a number that just counts rows is no rival of them.
    """
    return [
        other
        for other in others
        if other.common >= chosen.common
        and (other.sure or not chosen.sure)
        and not (chosen.alike and not other.alike and _just_counts(chosen, other))
        and (_joins_others(chosen, other) or (any(chosen.counts) and not chosen.alike))
    ]


def _joins_others(chosen: Pair, other: Pair) -> bool:
    """Whether two pairs join one test to different ones."""
    both = zip(chosen.leads, other.leads, strict=True)
    return any(one != of for one, of in both if one is not None and of is not None)


def _just_counts(chosen: Pair, other: Pair) -> bool:
    """Whether what another pair has in place of the chosen keys just counts rows."""
    same = (chosen.key == other.key, chosen.other_key == other.other_key)
    return all(is_so for is_so, one in zip(other.counts, same, strict=True) if not one)


def file_lines(table: Table, file: str | list[str], other: str, how: Sequence[Note] = ()) -> None:
    """Add `file`, "" for none, and `other`.

    Args:
        table: the table `join`.
        file: its name as `patterns` has it, or forms of names.
        other: that of the other one.
        how: what that of the file rests on, where these are told by something else.
    """
    assumed = Note(ASSUMED, "what the names share is taken for the name of the job")
    if file:
        table.add("file", file, *(how or ([assumed] if SHARED in file else [])))
    table.add("other", other)


def label_by_name(tables: Sequence[Table], shared: Sequence[str]) -> None:
    """Take what the names of the files of a test share for its label, where nothing else is.

    Args:
        tables: of the core half of a draft.
        shared: what they share, of each test.
    """
    table = next(of for of in tables if of.name == "[fields]")
    if shared and table.lines and table.lines[0].value == UNSETTLED:
        note = Note(ASSUMED, "what the names of files share is the label", shared)
        table.add("link.label", SHARED, note)
        table.lines[:] = [table.lines[-1], *table.lines[1:-1]]


def may_lack_line(table: Table) -> None:
    """Add that a test may have nothing in the other table."""
    table.add("may_lack", True, Note(ASSUMED, "not every test of the examples is in it"))


def may_lack_files(table: Table, tests: Sequence[str]) -> None:
    """Add that one of the files of a test may be lacking, as of these."""
    table.add("may_lack", True, Note(FOUND, "some tests lack one of these files", tests))


def key_lines(table: Table, chosen: tuple[str, str], others: Sequence[Pair], found: Note) -> None:
    """Add `key` and `other_key`; what differs between pairs that fit as well is for a person.

    Args:
        table: the table `join`.
        chosen: key and other key.
        others: the pairs that fit as well.
        found: what the chosen ones rest on.
    """
    pairs = [chosen, *((of.key, of.other_key) for of in others)]
    told = " or ".join(f"key {key!r} with other_key {other!r}" for key, other in pairs)
    note = Note(
        UNTOLD,
        f"each of these holds the same texts, and may join other tests: {told}",
        found.samples,
    )
    for name, texts in zip(("key", "other_key"), zip(*pairs, strict=True), strict=True):
        differs = len(set(texts)) > 1
        notes = [note] if differs else [found] if name == "key" and not others else []
        table.add(name, UNSETTLED if differs else texts[0], *notes)
