"""Blocks of one file below a line that comes again, each with key lines and a table of curves."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

from sweepbook_plugins.csv.draft.keyed import lines_above, pair
from sweepbook_plugins.csv.draft.separators import SEPARATORS
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Text

LEAST = 2
"""So many blocks are several, and so many of one test show that they are pieces of it."""


class Block(NamedTuple):
    """One of them.

    Attributes:
        start, stop: positions of its heading and behind its table.
        keys: what its key lines say, in order.
        titles: of its table.
    """

    start: int
    stop: int
    keys: Mapping[str, str]
    titles: Sequence[str]

    def besides(self, key: str) -> tuple[object, ...]:
        """What it says but for one key."""
        return (*((name, text) for name, text in self.keys.items() if name != key), *self.titles)


@dataclass(frozen=True)
class Blocks:
    """All of them, in the order of the file, with nothing between.

    Attributes:
        text: the file.
        rows: the blocks.
    """

    text: Text
    rows: Sequence[Block]

    @property
    def heading(self) -> str:
        """The line that each begins with."""
        return self.text.lines[self.rows[0].start].strip()

    @property
    def behind(self) -> str:
        """The line behind the last of them, or ""."""
        return line_behind(self.text, self.rows[-1].stop)

    @property
    def span(self) -> range:
        """The positions of all their lines."""
        return range(self.rows[0].start, self.rows[-1].stop)

    @cached_property
    def texts(self) -> dict[str, list[str]]:
        """The distinct texts of each key by which the blocks may be told to be of one test."""
        keys = set.intersection(*(set(block.keys) for block in self.rows))
        ordered = [key for key in self.rows[0].keys if key in keys and self._tells(key)]
        return {key: list(dict.fromkeys(self.column(key))) for key in ordered}

    def column(self, key: str) -> list[str]:
        """The text of a key in each block."""
        return [block.keys[key] for block in self.rows]

    def of_tests(self, key: str) -> list[Text]:
        """The lines of the blocks of each test, without headings; those of most blocks ahead."""
        tests: dict[str, list[Block]] = defaultdict(list)
        for block in self.rows:
            tests[block.keys[key]].append(block)
        return [self._lines(some) for some in sorted(tests.values(), key=len, reverse=True)]

    def first_line(self) -> str:
        """What the first line below each heading begins with, and no other line of them."""
        firsts = [self._first(block) for block in self.rows]
        start = next(iter(self.rows[0].keys))
        begin = sum(self.text.lines[at].strip().startswith(start) for at in self.span)
        if begin == len(self.rows):
            return start
        return pair(self.text, firsts[0])[0].rstrip()

    def separator(self) -> str:
        """The text between keys and what they say, where the delimiter is not it; else ""."""
        begin = pair(self.text, self._first(self.rows[0]))[0]
        return next((mark for mark in SEPARATORS if begin.endswith(mark)), "")

    def same(self, key: str) -> list[tuple[str, str]]:
        """Keys that say one thing in all blocks of each test, with what they say.

        Args:
            key: by which the blocks are told to be of one test.
        """
        said: dict[str, dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
        for block in self.rows:
            for name, text in block.keys.items():
                said[name][block.keys[key]].add(text)
        return [
            (name, text)
            for name, tests in said.items()
            if name != key and all(len(some) == 1 for some in tests.values())
            for (text,) in tests.values()
        ]

    def _first(self, block: Block) -> int:
        return next(at for at in range(block.start + 1, block.stop) if self.text.rows[at])

    def _tells(self, key: str) -> bool:
        """Whether no two blocks with one text of a key hold the same curves."""
        groups: dict[str, list[tuple[object, ...]]] = defaultdict(list)
        for block in self.rows:
            groups[block.keys[key]].append(block.besides(key))
        alone = all(len({*some}) == len(some) for some in groups.values())
        return alone and any(len(some) >= LEAST for some in groups.values())

    def _lines(self, blocks: Sequence[Block]) -> Text:
        lines: list[str] = []
        rows: list[list[str]] = []
        for block in blocks:
            lines += ["", *self.text.lines[block.start + 1 : block.stop]]
            rows += [[], *self.text.rows[block.start + 1 : block.stop]]
        return self.text._replace(lines=lines, rows=rows)


def find(text: Text, shape: Shape) -> Blocks | None:
    """The blocks of a file; None where no line comes again above key lines and a table.

    Args:
        text: the file.
        shape: its tables.
    """
    if text.aligned or text.marked or text.turned:
        return None
    found: dict[str, list[Block]] = defaultdict(list)
    for seen in shape.tables:
        if (block := _block(text, seen)) is not None:
            found[text.lines[block.start].strip()].append(block)
    some = max(found.values(), key=len, default=[])
    if len(some) < LEAST or _has_more(text, some):
        return None
    firsts = {next(iter(block.keys)) for block in some}
    return Blocks(text, some) if len(firsts) == 1 else None


def line_behind(text: Text, stop: int) -> str:
    """The first line from a position on that is not blank, or ""."""
    return next((text.lines[at].strip() for at in range(stop, len(text.rows)) if text.rows[at]), "")


def _block(text: Text, seen: Seen) -> Block | None:
    """A table of curves with the key lines above it and a line of one cell above these."""
    above = lines_above(text, seen)
    start = above[0] - 1 if above else -1
    while start > 0 and not text.rows[start]:
        start -= 1
    if start < 0 or len(text.rows[start]) != 1:
        return None
    told = (pair(text, at) for at in above)
    keys = {bare(key, text.delimiter): said for key, said in told}
    return Block(start, seen.stop, keys, seen.titles)


def bare(key: str, delimiter: str) -> str:
    """A key without the mark behind it."""
    for mark in (delimiter, *SEPARATORS):
        if key.endswith(mark):
            return key.removesuffix(mark).strip()
    return key.strip()


def _has_more(text: Text, blocks: Sequence[Block]) -> bool:
    """Whether anything stands between blocks."""
    return any(any(text.rows[block.stop : after.start]) for block, after in pairwise(blocks))
