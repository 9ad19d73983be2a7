"""What parts key and value where the delimiter is not it, or not in every line."""

import re
from collections import Counter
from collections.abc import Sequence

from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Cells, Text

SEPARATORS = (": ", ":", "=")
_CLOCK = re.compile(r"[^:]*[0-9]:[0-9]{2}(?![0-9])")
"""A line whose first colon is that of a time or an offset, as it may be where others have ": "."""
LEAST_WORDS = 4
"""So many words are a sentence, and no heading."""


def settle(text: Text, shape: Shape, loose: Sequence[int]) -> None:
    """Find the text between key and value, and whether other lines have cells."""
    shape.separator = _separator(text, loose)
    if not shape.separator and not text.aligned:
        shape.separator = _besides(text, loose)
        shape.mixed = bool(shape.separator)


def told(line: str, row: Cells, shape: Shape) -> tuple[str, str] | None:
    """Key and value of a line that has them apart; None where it has not."""
    if not shape.separator or line.find(shape.separator) < 1 or (shape.mixed and len(row) > 1):
        return None
    key, _, value = line.partition(shape.separator)
    return key.strip(), value.strip()


def is_key(rows: Sequence[Cells], at: int) -> bool:
    """Whether a line of one text is a key: with its value, or without one among others that have.

    So `Results:` and `== Results ==` are no keys, and `Remark:` is one below `Operator: J. Dunlin`.
    """
    line = _only(rows[at])
    if any(_is_parted(line, mark) for mark in SEPARATORS):
        return True
    mark = next((mark for mark in SEPARATORS if line.endswith(mark.rstrip())), None)
    return mark is not None and at > 0 and _is_parted(_only(rows[at - 1]), mark.rstrip())


def _only(row: Cells) -> str:
    return " ".join(cell for cell in row if cell) if sum(map(bool, row)) == 1 else ""


def _separator(text: Text, loose: Sequence[int]) -> str:
    """The text between key and value, where it is not the delimiter."""
    alone = [text.lines[at] for at in loose if len(text.rows[at]) == 1]
    apart = Counter(mark for line in alone for mark in SEPARATORS if _is_parted(line, mark))
    clocks = sum(_CLOCK.match(line) is not None for line in alone)
    if clocks < apart[": "]:
        apart[":"] -= clocks
    if not apart or len(loose) - len(alone) >= max(apart.values()):
        return ""
    return max(SEPARATORS, key=lambda mark: apart[mark])


def _besides(text: Text, loose: Sequence[int]) -> str:
    """The text between key and value of lines one below the other, where others have cells.

    A heading that holds such a mark stands alone, and a remark is a sentence.
    """
    for mark in SEPARATORS:
        lone = {at for at in loose if len(text.rows[at]) == 1 and _is_parted(text.lines[at], mark)}
        told = {at for at in lone if not is_sentence(text.lines[at])}
        if any(at + 1 in told for at in told):
            return mark
    return ""


def is_sentence(line: str) -> bool:
    """Whether a line is some words and a full stop."""
    return line.rstrip().endswith(".") and len(line.split()) >= LEAST_WORDS


def _is_parted(line: str, mark: str) -> bool:
    """Whether a mark stands between two texts."""
    return all(any(map(str.isalnum, part)) for part in line.partition(mark)[::2])
