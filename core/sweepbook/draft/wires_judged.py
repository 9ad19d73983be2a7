"""What holds the wires and has a verdict beside them stands for the wire map by its name."""

import re
from collections.abc import Collection, Mapping, Sequence

from sweepbook.draft import phrases, spellings
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.key_offers import FURTHER
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS, VERDICT_KEYS
from sweepbook.draft.verdicts import verdict_of
from sweepbook.draft.wire_texts import Wires, is_named

_CONDITIONS = re.compile(r"\[@?[^=\]]+=[^\]]*\]")
"""What chooses one of several elements; a heading in brackets does not."""
_MARKS = re.compile(r"[\W\d_]+")
_TWO = 2


def judged(
    properties: Mapping[str, Sequence[str]],
    wires: Wires | None,
    evidence: Evidence,
    ends: Ends | None = None,
) -> tuple[str, list[str]]:
    """What the element, heading or first word around the wires is, and the keys of its verdict.

    By what it holds the name stands for the wire map, if the trade does not know it.

    Args:
        properties: distinct texts by key.
        wires: where the wires are.
        evidence: for verdicts of figures, which the trade may not know, and for lines of titles.
        ends: words for near and far.

    Returns:
        "" and no keys where no verdict stands there, or no other verdict elsewhere.
    """
    if wires is None or wires.asleep:
        return "", []
    lines = {_line(key, wires) for key in wires.used}
    verdicts = [
        key
        for key, some in properties.items()
        if some and all(text in evidence.verdicts or verdict_of(text) for text in some)
    ]
    if told := _first_word(verdicts, lines, ends) or _below_titles(verdicts, wires, evidence):
        return told
    held = set(map(_around, lines))
    if len(held) != 1:
        return "", []
    around = held.pop()
    places = set(map(_around, verdicts))
    if len(wires.used) == 1 and places.issuperset(wires.used):
        around = next(iter(wires.used))  # the element has the wires in its own text
    wire = any(map(_CONDITIONS.search, lines)) or is_named(around.rpartition("/")[2])
    if around not in places and wire:
        around = around.rpartition("/")[0]  # out of one wire of several
    name = around.rpartition("/")[2].rpartition(":")[2]
    known = phrases.parameter_in(name) or not any(map(str.isalpha, name))
    if known or len(places) < _TWO:
        return "", []
    keys = [key for key in verdicts if _around(key) == around]
    return (name, keys) if keys else ("", [])


def _first_word(
    verdicts: Sequence[str], lines: Collection[str], ends: Ends | None
) -> tuple[str, list[str]] | None:
    """What the keys of the wires and that of a verdict begin with; None where that says nothing.

    It does where it reads as wires, or where the wires have words for ends alone beside it: keys
    such as "Test wires" and "Test result" have no more in common than all keys may have.
    """
    for key in verdicts:
        behind = phrases.first_of(key, VERDICT_KEYS)
        word = key[: behind.start].rstrip(" _-:,.") if behind and behind.end == len(key) else ""
        if not word or phrases.parameter_in(word) or not any(map(str.isalpha, word)):
            continue
        rests = [line.removeprefix(word) for line in lines if line.startswith(word)]
        if len(rests) < len(lines) or any(rest[:1].isalpha() for rest in rests):
            continue
        if is_named(word) or not any(_besides(rest, ends) for rest in rests):
            return word, [key]
    return None


def _below_titles(
    verdicts: Sequence[str], wires: Wires, evidence: Evidence
) -> tuple[str, list[str]] | None:
    """The title of the only verdict in a line of wires with its titles above; None without one.

    What the line is called may stand there besides, and nothing else that a test is known by.
    """
    lines = set(evidence.titled)
    for line in evidence.titled:
        own = [key for key in line if key in verdicts]
        besides = {*line[1:]} - wires.used - {*own}
        if len(own) != 1 or besides or not wires.used.issubset(line) or len(verdicts) < _TWO:
            continue
        if sum(own[0] in of for of in lines) == 1:  # else lines of other things have it, too
            return own[0].rpartition("/")[2], own
    return None


def _besides(text: str, ends: Ends | None) -> str:
    """What is left of a text without words for ends, numbers and marks."""
    for near, far in (*((ends,) if ends else ()), *ENDS):
        text = spellings.expression((near, far)).sub(" ", text)
    return _MARKS.sub("", text)


def _line(key: str, wires: Wires) -> str:
    """The key of the line that a further cell of it belongs to, of a contact a cell."""
    first = FURTHER.sub("", key)
    return first if first in wires.used else key


def _around(key: str) -> str:
    """What a key stands in, without conditions that choose one of several."""
    return _CONDITIONS.sub("", key).rpartition("/")[0]
