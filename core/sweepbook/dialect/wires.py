"""A wire map as exports write it: wires of two contacts each, or the contacts of each end."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from sweepbook.dialect.words import as_list

PINS, NEAR, FAR = (f"results.wire_map.{name}" for name in ("pins", "near", "far"))
"""Fields: the wires, or the contacts at either end."""
SCREEN = "S"
"""The screen among contacts, as records have it."""
_EIGHT = tuple("12345678")
CONTACTS = (*_EIGHT, SCREEN)
"""The order of a list of far contacts that stands alone; the screen may be left out of it."""
SCREEN_WORDS = (
    *("s", "g", "sh", "scr", "shd", "shld", "screen", "shield", "drain"),
    *("schirm", "schirmung", "écran", "ecran", "blindage", "pantalla", "blindaje", "malla"),
    *("blindagem", "malha", "schermo", "schermatura", "scherm", "afscherming", "ekran", "stínění"),
    *("skærm", "skjerm", "skärm", "suoja"),
)
"""What the contact of the screen is called, in small letters: common practice, no source."""
LONGEST = 2_000
"""Characters of a text of a wire map; longer ones are not taken apart."""
MOST = 64
"""Wires of one map."""
_ONE_OF_EIGHT, _NUMBER = re.compile("[1-8]"), re.compile("[1-9][0-9]?")
_SHOWN, _SHOWN_WHOLE = 24, 120
_KEYS = "wire_map.between_ends, wire_map.between_wires, wire_map.open and wire_map.screen"

Wire = tuple[str | None, str | None]
"""Near contact, far contact; None for nothing."""


class Unread(Exception):
    """A wire map that does not read as declared: what was expected, and the key to change."""


class WireForm(NamedTuple):
    """How a wire map is written: "1-1 2-2 3-6 6-x S-S", or a list such as "1 2 3 x S" for each end.

    Attributes:
        between_ends: between the contact at the near end and that at the far end; "" for nothing.
        between_wires: between one wire, or one contact of a list, and the next; "" for nothing.
        open: words for no contact.
        screen: words for the contact of the screen, beside those that are known.
    """

    between_ends: str = "-"
    between_wires: str = " "
    open: frozenset[str] = frozenset()
    screen: frozenset[str] = frozenset()


class WireMap(NamedTuple):
    """A wire map that was read.

    Attributes:
        pins: wires between contacts.
        screen: continuous or open, None where nothing is said of it.
    """

    pins: tuple[Wire, ...]
    screen: str | None


def form_of(table: Mapping[str, Any]) -> WireForm:
    """The form that a dialect declares.

    Raises:
        ValueError: a word stands for two things, or nothing tells contacts apart.
    """
    form = WireForm(
        table.get("between_ends", "-"),
        table.get("between_wires", " "),
        frozenset(as_list(table.get("open", ()))),
        frozenset(as_list(table.get("screen", ()))),
    )
    for key, some in (("open", form.open), ("screen", form.screen)):
        if numbers := sorted(word for word in some if re.fullmatch(r"[1-9][0-9]?", word)):
            raise ValueError(f"wire_map.{key}: {numbers[0]!r} is the number of a contact")
    if both := sorted(form.open & form.screen):
        raise ValueError(f"wire_map.open: {both[0]!r} is a word of wire_map.screen as well")
    if "" in form.screen:
        raise ValueError("wire_map.screen: '' would be a screen wherever nothing stands")
    if "" in form.open and "" in (form.between_ends, form.between_wires):
        raise ValueError("wire_map.open: '' needs a text between contacts to be told by")
    return form


def contradictions(fields: Mapping[str, object]) -> list[str]:
    """What fields of the wire map cannot stand together."""
    found = []
    if PINS in fields and (NEAR in fields or FAR in fields):
        found.append(
            f"fields.{PINS}: has both contacts of each wire, and stands beside neither near nor far"
        )
    if NEAR in fields and FAR not in fields:
        found.append(f"fields.{NEAR}: needs fields.{FAR}, which the contacts there lead to")
    return found


def read(texts: Mapping[str, Sequence[str]], form: WireForm) -> WireMap:
    """Read a wire map.

    Args:
        texts: of PINS, or of FAR and maybe NEAR, in the order of the source.
        form: how it is written.

    Raises:
        Unread: it does not read so, says one thing twice or two things of the screen, has more
            than MOST wires, or has the screen touch a contact, for which no record has a place;
            or what was read are pairs and no wires (`_paired`).
    """
    return _sorted_out(_of_wires(texts[PINS], form) if PINS in texts else _of_ends(texts, form))


def _of_wires(texts: Sequence[str], form: WireForm) -> list[Wire]:
    wires: list[Wire] = []
    for text in texts:
        found, rest = _scan(text, (form.between_ends, form.between_wires), form)
        if rest or len(found) % 2:
            raise Unread(_no_wires(text, rest, form))
        wires += zip(found[::2], found[1::2], strict=True)
    return wires


def _of_ends(texts: Mapping[str, Sequence[str]], form: WireForm) -> list[Wire]:
    far = _contacts(FAR, texts.get(FAR, ()), form)
    if NEAR in texts:
        near = _contacts(NEAR, texts[NEAR], form)
        if len(near) != len(far):
            raise Unread(
                f"it has {len(near)} contacts at the near end and {len(far)} at the far end, where "
                f"each was expected to have its own; see fields.{NEAR} and fields.{FAR}"
            )
        return list(zip(near, far, strict=True))
    if len(far) not in (len(CONTACTS) - 1, len(CONTACTS)):
        raise Unread(
            f"it has {len(far)} far contacts, where those of near contacts 1 to 8 were expected, "
            f"and maybe that of the screen; see fields.{FAR}, and fields.{NEAR} for a list of the "
            "near contacts"
        )
    return list(zip(CONTACTS, far, strict=False))


def _contacts(path: str, texts: Sequence[str], form: WireForm) -> list[str | None]:
    """The contacts of one end."""
    if not any(texts):
        raise Unread(f"nothing stands at the key of fields.{path}; name the key that it has there")
    contacts: list[str | None] = []
    for text in texts:
        found, rest = _scan(text, (form.between_wires,), form)
        if not text and rest:
            raise Unread(
                f"nothing stands for a contact in fields.{path}; if an open wire is written so, "
                'add "" to wire_map.open'
            )
        if rest:
            raise Unread(
                f"{shown(text)} does not read as contacts with {form.between_wires!r} between them"
                f"{_from(text, rest)}; see fields.{path}, {_around(path, text)}{_KEYS}"
            )
        contacts += found
    return contacts


def _around(path: str, text: str) -> str:
    """Where words around a contact are declared, for a text that has one among letters."""
    worded = any(map(str.isalpha, text)) and any(map(str.isdigit, text))
    return f"within.{path} if words stand around contacts, " if worded else ""


def _no_wires(text: str, rest: str, form: WireForm) -> str:
    listed, left = _scan(text, (form.between_wires,), form)
    hint = ""
    if not left and len(listed) > 1:
        hint = f"; it reads as contacts of one end, and those stand in fields.{FAR} and .near"
    return (
        f"{shown(text)} does not read as numbers of contacts joined by {form.between_ends!r}, with "
        f"{form.between_wires!r} between wires{_from(text, rest)}{hint}; see {_KEYS}"
    )


def shown(text: str, most: int = _SHOWN_WHOLE) -> str:
    """A text of a wire map in quotes, as messages show it: no more than its beginning."""
    return repr(text if len(text) <= most else f"{text[:most]}...")


def _from(text: str, rest: str) -> str:
    return f" from {shown(rest, _SHOWN)} on" if rest.strip() and rest != text else ""


def _sorted_out(wires: Sequence[Wire]) -> WireMap:
    """Wires between contacts, and what the wire of the screen says of that."""
    wires = [wire for wire in wires if wire != (None, None)]
    twice = sorted((wire for wire, times in Counter(wires).items() if times > 1), key=str)
    if twice:
        ends = " to ".join("nothing" if end is None else repr(end) for end in twice[0])
        raise Unread(f"the wire from {ends} stands in it twice; see {_KEYS}")
    if len(wires) > MOST:
        raise Unread(
            f"it has {len(wires):,} wires, where {MOST} is the most that one map can have; see "
            f"fields.{PINS}, and fields.{FAR} for lists of contacts"
        )
    if touched := [wire for wire in wires if SCREEN in wire and set(wire) - {SCREEN, None}]:
        raise Unread(
            f"{touched[0][0]} leads to {touched[0][1]}: a screen that touches a contact has no "
            f"place in a record; if that is no screen, see {_KEYS}"
        )
    pins = [wire for wire in wires if SCREEN not in wire]
    if missing := _paired(pins):
        raise Unread(
            f"no wire in it leads to the contact of its own number, and none begins at {missing}: "
            "so pairs read that are named by their contacts or by numbers; name the key that has "
            f"all eight wires in fields.{PINS}, or in fields.{NEAR} and fields.{FAR}"
        )
    said = {"open" if None in wire else "continuous" for wire in wires if wire not in pins}
    if len(said) > 1:
        raise Unread("it has the screen both reach its other end and end open; export it again")
    return WireMap(tuple(pins), said.pop() if said else None)


def _paired(pins: Sequence[Wire]) -> str:
    """The first near contact that is missing, where pairs read as wires do; else "".

    "1-2 3-6 4-5 7-8" names the pairs of a length each and is no cable that anybody wires. Of a map
    that leaves a contact out some wire goes straight, whatever else is crossed; one of all eight
    may be that of a cable where none does.
    """
    joined = [wire for wire in pins if None not in wire]
    missing = [contact for contact in _EIGHT if contact not in {near for near, _ in pins}]
    straight = any(near == far for near, far in joined)
    return missing[0] if joined and missing and not straight else ""


def _scan(
    text: str, marks: tuple[str, ...], form: WireForm
) -> tuple[list[str | None], str]:  # fmt: skip
    """The contacts of a text with these marks between them in turn, and what does not read so."""
    few = "" in marks or len(marks) == 1
    found: list[str | None] = []
    at, text = 0, text.strip()
    while len(text) <= LONGEST:
        read = _contact(text, at, form, few=few)
        if read is None:
            break
        contact, at = read
        found.append(contact)
        if at == len(text):
            return found, ""
        mark = _mark(marks[(len(found) - 1) % len(marks)]).match(text, at)
        if mark is None:
            break
        at = mark.end()
    return found, text[at:] or " "


def _contact(text: str, at: int, form: WireForm, *, few: bool) -> tuple[str | None, int] | None:
    """The contact at a place, of `few` one of eight, None where it is open, and where it ends.

    Longer words come first, those for no contact before numbers and these before the screen.
    """
    for word in _longest_first(form.open):
        if word and text.startswith(word, at):
            return None, at + len(word)
    if number := (_ONE_OF_EIGHT if few else _NUMBER).match(text, at):
        return number[0], number.end()
    if screen := _screens(form.screen).match(text, at):
        return SCREEN, screen.end()
    return (None, at) if "" in form.open else None


@lru_cache(maxsize=64)
def _screens(further: frozenset[str]) -> re.Pattern[str]:
    """The expression for a screen, by words of the trade and further ones."""
    words = _longest_first(frozenset({*SCREEN_WORDS, *further}))
    return re.compile("|".join(map(re.escape, words)), re.IGNORECASE)


@lru_cache(maxsize=1 << 10)
def _longest_first(words: frozenset[str]) -> tuple[str, ...]:
    return tuple(sorted(words, key=lambda word: (-len(word), word)))


@lru_cache(maxsize=64)
def _mark(mark: str) -> re.Pattern[str]:
    """The expression for a text between contacts, with blanks around it."""
    if not mark.strip(" "):
        return re.compile(r"\s+" if mark else "")
    around = r"\s*" if mark.strip() else " *"
    return re.compile(f"{around}{re.escape(mark.strip() or mark)}{around}")
