"""Which members of a record a key may fill, by its words alone."""

import re
from collections.abc import Sequence
from functools import cache

from sweepbook.draft import phrases, spellings
from sweepbook.draft.key_words import (
    CABLE,
    CABLE_WORDS,
    CABLES,
    COMPOUND,
    EQUIPMENT,
    GENERAL,
    INSIDE,
    INSTRUMENTS,
    KEYS,
    NUMBER,
    PARTS,
    PLACES,
)
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS, FIRMWARE, VALUES

_CHOSEN = re.compile(
    rf"\[@?[^=\]]+=([^\]]+)\](?:/@?(?:{'|'.join(map(re.escape, VALUES))}|[^/\[\]]+\[[0-9]+\]))?$",
    re.IGNORECASE,
)
"""A path to one of several elements, chosen by a word: item[@key=Operator]/@value; or to a cell of
a row that is: row[c=Operator]/c[2]."""
_HEADING = re.compile(r"^\[[^\]=]+\]/")
"""The heading of the lines that a key stands among: [Angaben]/Strecke."""
_CONDITION = re.compile(r"\[@?([^=\]]+)=([^\]]+)\]")
FURTHER = re.compile(r"/[0-9]+$")
"""A further cell behind a key: Unit/2."""
_STEPS = re.compile(r"/(?![^\[]*\])")
_SLASHED = re.compile(r"(?<!\w)s/n(?!\w)", re.IGNORECASE)
"""A number of an instrument, with a mark that parts steps of paths elsewhere."""
_PERCENT = re.compile(
    r"(?<=\w)[ _-]{0,3}(?:in[ _-]{1,3})?"
    r"(?:per[ _]?cent|percento|prozent|pourcent|procent|porcento)$",
    re.IGNORECASE,
)
"""A unit in words at the end of a key, which says nothing of what it holds."""
_DOTTED = re.compile(r"[a-z]\w{2,}(?:\.[a-z]\w+)+", re.IGNORECASE)
"""Names of groups and their members as programs write them: location.site."""
ENOUGH = 0.34
"""How much of a key a phrase has to make up."""
_LETTERS = 2
"""Words for ends of no more letters are parts of others too often."""
_LONGEST = 1000
"""Characters of a text that may be called something."""
_SHORT = 4
"""Longer words only are sought in others that they are joined to."""
_FIRST_SIGN = "\u3040"
_PLACE_WORDS = tuple(word for path, some in KEYS if ".place." in path for word in some)
_GROUP = "test.configuration"
"""A member that is called as what stands around all sorts of facts is."""
_KIND = ("type", "kind", "art", "typ", "tipo", "genre", "soort")
"""Names of what tells of which kind the thing around it is."""
_BARE = ("tester", "unit")
"""Keys of a number only where nothing more telling stands beside them."""

Offer = tuple[str, float, int]
"""A member, the share of the key that speaks for it, and its rank."""


def offers_of(key: str, ends: Ends | None) -> list[Offer]:
    """All members that a key may fill.

    A heading above it may say what it is of; where it says nothing, the key is asked by itself.

    Args:
        key: a key, title or path.
        ends: words for near and far.
    """
    offers, alone = _offers_of(key, ends), _HEADING.sub("", key)
    if alone == key or any(share >= ENOUGH for _, share, _ in offers):
        return offers
    return _offers_of(alone, ends)


def _offers_of(key: str, ends: Ends | None) -> list[Offer]:
    key = _PERCENT.sub("", _SLASHED.sub("s n", FURTHER.sub("", key)))
    key = key.replace(".", "/") if _DOTTED.fullmatch(key) else key
    spoken = _CONDITION.sub(r"[\1 \2]", key)
    key = key if _CHOSEN.search(key) else spoken
    last = steps_of(key)[-1]
    if not _side(last, ends) and (end := _joined_side(last)):
        return [(f"test.{end}.instrument.serial", 1.0, 0)]
    chosen = _CHOSEN.search(key)
    texts = [spoken, *([chosen[1]] if chosen else [])]
    if not (_is_a_place(key, ends) or phrases.whole(last, FIRMWARE)):  # "FW ver" is no far end
        if (offers := _of_ends(texts, ends)) is not None:
            return offers
        if ends and (offers := _of_ends(texts, None)):  # as instruments may be called, no curve
            return offers
    if end := _joined_side(key):
        return [(f"test.{end}.instrument.serial", 1.0, 0)]
    steps = [step.strip("@ ") for step in steps_of(key)]
    last = chosen[1] if chosen else steps[-1]
    if len(steps) > 1 and phrases.whole(_plain(steps[-2]), CABLES):
        shares = [(member, _share(last, some)) for member, some in CABLE]
        told = [(f"link.cable.{of}", share, at) for at, (of, share) in enumerate(shares) if share]
        return told or [offer for offer in _offers(last) if offer[0].startswith("link.cable.")]
    offers = [*_offers(last), *_of_a_cable(last)]
    return offers if len(steps) < 2 or chosen else _with_the_step_above(offers, steps)


def _with_the_step_above(offers: list[Offer], steps: Sequence[str]) -> list[Offer]:
    """The members of the last step, or of it and the one above where alone it says too little."""
    general = phrases.whole(steps[-1], GENERAL)
    if not general and any(share >= ENOUGH for _, share, _ in offers):
        return offers
    together = _offers(f"{_plain(steps[-2])} {steps[-1]}")
    if not general:
        own = {path for path, *_ in offers} if not phrases.whole(steps[-1], _KIND) else {_GROUP}
        return [offer for offer in together if offer[0] != _GROUP or _GROUP in own]
    return together if any(share >= ENOUGH for _, share, _ in together) else offers


def _is_a_place(key: str, ends: Ends | None) -> bool:
    """Whether a key is called a place and no more, by a word that may name an end as well.

    "local" is a room in some languages: within a place, or where curves call the ends otherwise.
    """
    *around, last = (_plain(step).strip("@ ") for step in steps_of(key))
    if chosen_by(key) or not phrases.whole(last, _PLACE_WORDS):
        return False
    if ends and phrases.whole(last, ends):
        return False
    return bool(ends) or (bool(around) and phrases.whole(around[-1], _PLACE_WORDS))


def chosen_by(key: str) -> str:
    """The word that a path chooses one of several elements by, for its text; or ""."""
    chosen = _CHOSEN.search(key)
    return chosen[1] if chosen else ""


def steps_of(key: str) -> list[str]:
    """The steps of a path, or of a key that is none; a slash in brackets parts nothing."""
    return _STEPS.split(key)


def _of_a_cable(text: str) -> list[Offer]:
    """Members of the cable that a key names beside a word for it: "Fabricant du câble"."""
    text = COMPOUND.sub(f"{CABLE_WORDS[1]} ", text)
    if not phrases.has(text, CABLES):
        return []
    rest = spellings.expression(CABLE_WORDS).sub(" ", text)
    return [
        (f"link.cable.{member}", share, rank)
        for rank, (member, some) in enumerate(CABLE)
        if (share := _share(rest, [word for word in some if word not in GENERAL])) > 0.0
    ]


def _offers(text: str) -> list[Offer]:
    return [
        (path, share, rank)
        for rank, (path, some) in enumerate(KEYS)
        if (share := _share(text, some)) > 0.0
    ]


def _of_ends(texts: Sequence[str], ends: Ends | None) -> list[Offer] | None:
    """Members of what stands at one end, by texts that name it; None where none does."""
    sides = [(text, side) for text in texts if (side := _side(text, ends))]
    return [of for text, side in sides for of in _of_an_end(text, *side)] if sides else None


def _of_an_end(key: str, end: str, phrase: str) -> list[Offer]:
    """Members of what stands at one end: instruments, adaptors, connectors."""
    rest = spellings.expression([phrase]).sub(" ", key, count=1)
    part = phrases.has(rest, PARTS)
    steps = steps_of(rest)
    telling = [word for _, some in EQUIPMENT for word in some if word not in _BARE]
    inside = len(steps) > 1 and (
        phrases.whole(_plain(steps[-2]), INSTRUMENTS)
        or phrases.whole(steps[-1].strip("@ "), telling)
    )
    text = steps[-1] if inside else spellings.expression(INSTRUMENTS).sub(" ", rest)
    last = steps_of(text)[-1]
    if _is_instrument(phrase) and phrases.whole(steps[-1], NUMBER):
        return [(f"test.{end}.instrument.serial", 1.0, 0)]
    bare = phrases.whole(_plain(steps[-1]), INSTRUMENTS) or (inside and not text.strip("@ "))
    if bare and not part:  # its number, then, if its text is one
        return [(f"test.{end}.instrument.serial", ENOUGH, len(EQUIPMENT))]
    equipment = [
        (f"{'link' if member.startswith('connector') else 'test'}.{end}.{member}", share, rank)
        for rank, (member, some) in enumerate((*EQUIPMENT, *(INSIDE if inside else ())))
        if (share := max(_telling_share(of, some, bare=not inside) for of in (text, last))) > 0.0
        and not (part and member.startswith("instrument"))
    ]
    return equipment if part else [*equipment, *_of_a_place(rest, end)]


def _is_instrument(phrase: str) -> bool:
    """Whether a word for an end is one for an instrument, too: a remote unit, a Gegengerät."""
    last = phrase.split()[-1].casefold()
    return phrases.has(phrase, INSTRUMENTS) or any(map(last.endswith, _JOINED_TO))


def _of_a_place(rest: str, end: str) -> list[Offer]:
    """Members of the place at an end, by what is left of a key without the word for that."""
    last = steps_of(rest)[-1].strip("@ ")
    return [
        (f"link.{end}.{member}", share, len(EQUIPMENT) + rank)
        for rank, (member, some) in enumerate(PLACES)
        if (share := max(_share(rest, some), _share(last, some))) > 0.0
    ]


def share_of_instrument(key: str, member: str) -> float:
    """How much of a key without a word for an end speaks for a member of an instrument."""
    key = _SLASHED.sub("s n", key)
    if _side(key, None):
        return 0.0
    last = spellings.expression(INSTRUMENTS).sub(" ", steps_of(key)[-1].strip("@ "))
    words = [word for name, some in EQUIPMENT if name == member for word in some]
    return _share(last, [word for word in words if word not in _BARE])


def _plain(step: str) -> str:
    """A step of a path without its condition and prefix."""
    return step.partition("[")[0].rpartition(":")[2]


def _side(key: str, ends: Ends | None) -> tuple[str, str] | None:
    """Near or far, and the word for it in a key: in its last step, else in what chooses another.

    What an element is called counts last: the main unit may have the serial of the remote one.
    """
    steps = steps_of(key)
    parts = [steps[-1], *(of for step in steps[-2::-1] for of in step.split("[")[::-1])]
    for part in parts:
        plain = spellings.plain(part)
        for near, far, *stems in _stemmed((ends,) if ends else ENDS):
            if stems[0] not in plain and stems[1] not in plain:
                continue
            found = phrases.find(part, {"near": (near,), "far": (far,)})
            if found and (len(near) > 1 or ends):
                return found.meaning, near if found.meaning == "near" else far
    return _compound_side(steps[-1], ends)


@cache
def _stemmed(pairs: tuple[Ends, ...]) -> tuple[tuple[str, str, str, str], ...]:
    """Pairs of words for the ends, with what stands in every text that has them."""
    stem = {word: spellings.spelling(word).stem for ends in pairs for word in ends}
    return tuple((near, far, stem[near], stem[far]) for near, far in pairs)


def names_an_end(key: str) -> bool:
    """Whether a key has a word for one of the two ends."""
    return _side(key, None) is not None


def _compound_side(text: str, ends: Ends | None) -> tuple[str, str] | None:
    """Near or far, and the word, where one for an end is joined to one for an instrument."""
    known = _ENDS_BY_WORD if ends is None else _by_word([ends])
    for found in _COMPOUND.finditer(text) if len(text) <= _LONGEST else ():
        if end := known.get(spellings.folded(found[1])):
            return end, found[0]
    return None


def _by_word(pairs: Sequence[Ends]) -> dict[str, str]:
    """Near or far by the words for it that may be joined to others."""
    words = ((word, end) for pair in pairs for word, end in zip(pair, _SIDES, strict=True))
    return {spellings.folded(word): end for word, end in words if len(word) > _LETTERS}


def _joined_side(key: str) -> str | None:
    """Near or far where a word for an end is joined to one for a serial number or an instrument.

    This is how names run together that have small letters only: remoteserial, serialremote.
    """
    steps = [_squeezed(_plain(step)) for step in steps_of(key)]
    if any(map(steps[-1].startswith, _SERIALS)) or any(map(steps[-1].endswith, _SERIALS)):
        for end, word in _END_WORDS:
            for step, beside in ((steps[-1], _SERIALS), (steps[-2:][0], _INSTRUMENTS)):
                rest = step.removesuffix(word) if step.endswith(word) else step.removeprefix(word)
                if rest != step and any(of in (rest, rest[: len(of)]) for of in beside):
                    return end
    return None


def _squeezed(text: str) -> str:
    """The letters of a text without marks, small and joined; ä and ae are one."""
    letters = "".join(char for char in spellings.folded(text) if char.isalnum())
    return re.sub("(?<=[aou])e", "", letters)


def _is_long(word: str) -> bool:
    """Whether a word is plain within others; one of Chinese or Japanese signs soon is."""
    return len(word) > _SHORT or (len(word) > 1 and min(word) >= _FIRST_SIGN)


_SERIALS = tuple(
    _squeezed(word)
    for member, some in EQUIPMENT
    for word in some
    if member == "instrument.serial" and word not in _BARE and _is_long(word)
)
_INSTRUMENTS = tuple(map(_squeezed, INSTRUMENTS))
_JOINED_TO = tuple(word for word in INSTRUMENTS if _is_long(word))
_SIDES = ("near", "far")
_ENDS_BY_WORD = _by_word(ENDS[::-1])
_COMPOUND = re.compile(
    rf"(?<![^\W\d_])([^\W\d_]+?)(?:{'|'.join(map(spellings.joined, INSTRUMENTS))})(?![^\W\d_])",
    re.IGNORECASE,
)
_END_WORDS = tuple(
    (end, _squeezed(word))
    for ends in ENDS
    for end, word in zip(("near", "far"), ends, strict=True)
    if _is_long(word)
)


def _telling_share(text: str, some: Sequence[str], *, bare: bool) -> float:
    """How much speaks for phrases, of which some count only where none more telling is there."""
    telling = _share(text, [word for word in some if word not in _BARE])
    return max(telling, _share(text, some)) if bare else telling


def _share(key: str, some: Sequence[str]) -> float:
    """How much of the letters of a key the longest of some phrases makes up."""
    span = phrases.first_of(key, some)
    if span is None:
        return 0.0
    letters = sum(char.isalnum() for char in key)
    return sum(char.isalnum() for char in key[span.start : span.end]) / max(1, letters)
