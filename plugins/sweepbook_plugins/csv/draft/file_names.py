"""What names of files with the curves of one parameter each say: the test, and the parameter."""

import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.document import PARAMETER
from sweepbook.draft.joins import SHARED
from sweepbook.draft.parsed import PLACEHOLDER
from sweepbook.draft.reading import Understood
from sweepbook.source import Source
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Text

_WORD = re.compile(r"[^\W_](?:.*[^\W_])?")
_LETTERS = re.compile(r"[^\W\d_]+")


class Told(NamedTuple):
    """What a name says.

    Attributes:
        shared: what it shares with those of other files of the test; "" for nothing.
        before, after: what stands before and after what is told of its curves, with {} for that.
        told: what is told of them.
    """

    shared: str
    before: str
    told: str
    after: str

    def of_all(self) -> "Told":
        """The same where what it shares with others is no test, since a column tells these."""
        before, after = (of.replace(SHARED, self.shared) for of in (self.before, self.after))
        return Told("", before, self.told, after)

    def whole(self) -> "Told":
        """The same where all behind the word for the parameter tells of the curves, too."""
        _, before, told, after = self.of_all()
        rest, dot, ending = after.rpartition(".")
        return Told("", before, f"{told}{rest}", f"{dot}{ending}")


def told_by(source: Source, spelt: dict[str, str], *, folders: bool) -> Told | None:
    """What the name of a file says; None where it names no parameter.

    Args:
        source: the file.
        spelt: parameters by words that only other lines explain.
        folders: whether there are several folders.
    """
    stem, dot, ending = _parts(source)
    span = phrases.parameter_in(stem)
    if span is None:
        known = folders and _word_in(stem, spelt)
        return Told(source.folder.name, f"{SHARED}/", stem, f"{dot}{ending}") if known else None
    before, told = stem[: span.start], stem[span.start :]
    if core := _WORD.search(before):
        form = f"{before[: core.start()]}{SHARED}{before[core.end() :]}"
        return Told(core[0], form, told, f"{dot}{ending}")
    parameter, behind = stem[span.start : span.end], stem[span.end :]
    if folders:
        return Told(source.folder.name, f"{SHARED}/{before}", told, f"{dot}{ending}")
    if core := _WORD.search(behind):
        after = f"{behind[: core.start()]}{SHARED}{behind[core.end() :]}{dot}{ending}"
        return Told(core[0], before, parameter, after)
    return Told("", before, told, f"{dot}{ending}")


def form_of(named: Told, found: Understood) -> str:
    """The form of a name; what no word explains is any text."""
    template = found.naming.parse(named.told).template
    pieces = re.split(f"({PLACEHOLDER.pattern})", template)
    pieces[::2] = [_WORD.sub("{any}", piece, count=1) for piece in pieces[::2]]
    told = "".join(pieces)
    return f"{named.before}{told if PARAMETER in told else PARAMETER}{named.after}"


def spelt_in(sources: Sequence[Source], looked: Sequence[tuple[Text, Shape]]) -> dict[str, str]:
    """The parameters of words that names of files begin with, by what their first lines name.

    A word that files of two parameters begin with says nothing.
    """
    meant: dict[str, Counter[str]] = {}
    for source, (text, shape) in zip(sources, looked, strict=True):
        stem = _parts(source)[0]
        word = _LETTERS.match(stem)
        if word and phrases.parameter_in(stem) is None and len(shape.tables) == 1:
            above = text.lines[: shape.tables[0].start]
            named = {span.meaning for line in above if (span := phrases.parameter_in(line))}
            meant.setdefault(word[0], Counter()).update(named if len(named) == 1 else ())
    return {word: next(iter(some)) for word, some in meant.items() if len(some) == 1}


def _parts(source: Source) -> tuple[str, str, str]:
    """Stem, dot and ending of a file's name."""
    name = source.file_name.removesuffix(".gz").removesuffix(".zst")
    return name.rpartition(".")


def _word_in(stem: str, spelt: dict[str, str]) -> bool:
    word = _LETTERS.match(stem)
    return word is not None and word[0] in spelt
