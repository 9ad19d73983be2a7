"""A draft of a dialect for Touchstone files that nobody has described yet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sweepbook.draft import fields
from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook.errors import SweepbookError
from sweepbook.source import Source
from sweepbook_plugins.touchstone import texts
from sweepbook_plugins.touchstone.data import Data
from sweepbook_plugins.touchstone.guess import Guess, guess, sizes
from sweepbook_plugins.touchstone.heading import Heading, heading
from sweepbook_plugins.touchstone.identify import touchstone
from sweepbook_plugins.touchstone.layout import ENDS, PAIRS, Layout
from sweepbook_plugins.touchstone.lines import Lines
from sweepbook_plugins.touchstone.points import points
from sweepbook_plugins.touchstone.ports import BALANCED_OHM

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_KEPT = ("[fields]", "[dates]", "[limits]", "[words.verdicts]")
"""Tables of the core half that have a use here; the format has no words for curves."""
_SEPARATORS = (":", "=")
_LONGEST = 200
_ORDER = (
    "pairs in the order of their ports, and the end of the lower port as the near one; whoever "
    "wired the ports knows it"
)
_NO_ORDER = (
    "which end each port is at, since they are numbered in no order; the lower one of each line "
    "stands under near: exchange it with the one under far where that is wrong"
)


@dataclass(frozen=True)
class _Seen:
    """What one file shows."""

    head: Heading
    ports: int
    guess: Guess | None
    comments: tuple[str, ...]
    information: tuple[tuple[str, str], ...]


def draft(sources: Sequence[Source], limits: "Library") -> list[Table] | None:
    """The tables of a draft for files of one make; None where they are not Touchstone.

    Args:
        sources: the files.
        limits: where names of limits are looked up.

    Raises:
        SweepbookError: they differ in the number of their ports.
        UnreadableSource: a file cannot be opened.
        Fault: a file's data cannot be read.
    """
    if not all(touchstone(source.head) for source in sources):
        return None
    seen = [_seen(source) for source in sources]
    if len({one.ports for one in seen}) > 1:
        shown = ", ".join(f"{s.name} {one.ports}" for s, one in zip(sources, seen, strict=True))
        raise SweepbookError(
            f"These files have different numbers of ports: {shown}.",
            "Draft a dialect for each kind by itself.",
        )
    separator = max(_SEPARATORS, key=lambda mark: sum(len(_keyed(one, mark)) for one in seen))
    evidence = Evidence()
    for one in seen:
        for key, text in [*_keyed(one, separator), *one.information]:
            evidence.put(key, text)
    named = not any(one.path == "link.label" for one in fields.guess(evidence.properties, None))
    if named:
        for source in sources:
            evidence.put("label", texts.stem(source.file_name))
    core = core_tables(evidence, understand(evidence), limits)
    return [
        _layout(seen, separator, named=named),
        *_ports(seen[0]),
        *(table for table in core if table.name in _KEPT),
    ]


def _seen(source: Source) -> _Seen:
    """Head and first data of a file.

    Raises:
        Fault: they cannot be read.
    """
    with source.open() as stream:
        lines = Lines(stream)
        head = heading(lines)
        data = Data(points(lines, head, None))
        ports = guess(sizes(next(data.blocks()), data))
        plain = Layout(ports=(), encoding="iso-8859-1")
        comments = tuple(texts.decoded(line, plain)[:_LONGEST] for line in lines.comments.kept)
    return _Seen(head, data.ports, ports, comments, tuple(texts.information(head, plain)))


def _keyed(seen: _Seen, separator: str) -> list[tuple[str, str]]:
    """Keys and values of the comments of a file."""
    return [pair for text in seen.comments if (pair := texts.parted(text, separator))]


def _layout(seen: Sequence[_Seen], separator: str, *, named: bool) -> Table:
    table = Table("[touchstone]")
    if mark := _signature(seen, separator):
        samples = [mark]
        note = Note(ASSUMED, "a comment of all files, and of no other maker's", samples)
        table.add("signature", mark, note)
    if separator != ":":
        table.add("separator", separator, Note(FOUND, "", seen[0].comments))
    if named:
        note = Note(ASSUMED, "no comment reads as a label, so that the file's name is taken for it")
        table.add("file_name", "{label:characters}", note)
    found, head = seen[0].guess, seen[0].head
    if found and not found.conductors and not head.modes:
        single = head.reference_ohm or (head.options.reference_ohm,)
        if any(ohm != BALANCED_OHM for ohm in single):
            said = f"balanced ports, of which the file says {single[0]:g} ohm; {single[0]:g} if so"
            table.add("reference_ohm", int(BALANCED_OHM), Note(UNTOLD, said))
    return table


def _signature(seen: Sequence[_Seen], separator: str) -> str:
    """The first comment that all files have and that holds no key and no digit; "" for none."""
    for text in seen[0].comments:
        plain = len(text) >= 4 and not texts.parted(text, separator)
        if plain and not any(map(str.isdigit, text)) and all(text in one.comments for one in seen):
            return text
    return ""


def _ports(seen: _Seen) -> Iterator[Table]:
    """The port map."""
    found = seen.guess
    if found is None:
        note = Note(UNTOLD, f"the data do not show which of the {seen.ports} ports are connected")
        table = Table("[touchstone.ports.near]")
        table.add(PAIRS[0], 1, note)
        yield table
        return
    kind = "one port a conductor" if found.conductors else "balanced ports"
    for end, ports in zip(ENDS, (found.near, found.far), strict=True):
        table = Table(f"[touchstone.ports.{end}]")
        if end == ENDS[0]:
            table.notes.append(Note(FOUND, f"{kind}; by what comes out where at low frequencies"))
            table.notes.append(Note(ASSUMED, _ORDER))
            if not found.in_order:
                table.notes.append(Note(UNTOLD, _NO_ORDER))
        for pair, numbers in zip(PAIRS, ports, strict=False):
            table.add(pair, numbers if found.conductors else numbers[0])
        yield table
