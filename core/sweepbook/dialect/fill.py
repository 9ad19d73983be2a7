"""Texts by key of the source to members of a record, by the dialect's `fields`."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from sweepbook.dialect import wires
from sweepbook.dialect.dates import NotADate, Stamp
from sweepbook.dialect.fields import EXTERNAL_IDS, FIELDS
from sweepbook.dialect.figures import verdict_word
from sweepbook.dialect.fits import range_fault
from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.dialect.units import UNITS
from sweepbook.dialect.within import TAKEN, SeveralWays

_UNITS_SAID = {"fraction": "a fraction"}


SCREEN = "results.wire_map.screen"


class Unfit(Exception):
    """A text that does not fit its field: it goes to `extra`, with a note if there is a reason."""


@dataclass(slots=True)
class Filled:
    """Members of a record out of the texts of one test.

    Attributes:
        tree: nested members: link, test, results, stated.
        started: when the test began, if that is known.
        extra: texts of mapped keys that did not fit their field, by key.
        faults: faults that lose the test.
        notes: faults that do not.
    """

    tree: dict[str, Any] = field(default_factory=dict)
    started: Stamp | None = None
    extra: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    notes: list[Fault] = field(default_factory=list)


def fill(properties: Mapping[str, Cell], meaning: Meaning) -> Filled:
    """Fill every declared field whose keys the source has."""
    filled = Filled()
    missing, get = meaning.numbers.missing, properties.get
    for path, keys in meaning.fields.items():
        if FIELDS[path] == "wires":
            continue  # they make one member together
        cell = get(keys[0]) if len(keys) == 1 else None
        text = cell.text.strip() if cell is not None and FIELDS[path] == "text" else ""
        if text and text not in missing and path not in meaning.within:  # as most are
            put(filled.tree, path, text)
            continue
        present = {
            key: cell for key in keys if (cell := get(key)) is not None and _holds(cell, meaning)
        }
        if present:
            _fill_one(path, present, meaning, filled)
        elif path in meaning.defaults:
            put(filled.tree, path, meaning.defaults[path])
    for path in sorted(meaning.defaults.keys() - meaning.fields.keys()):
        put(filled.tree, path, meaning.defaults[path])
    _wire_map(properties, meaning, filled)
    ids = [
        {"system": system, "id": properties[key].text.strip()}
        for system, key in meaning.external_ids.items()
        if key in properties and _holds(properties[key], meaning)
    ]
    if ids:
        put(filled.tree, EXTERNAL_IDS, ids)
    return filled


def put(tree: dict[str, Any], path: str, value: object) -> None:
    """Set a member by its path, e.g. "link.near.place.panel"."""
    parents, last = _steps(path)
    for name in parents:
        below = tree.get(name)
        if below is None:
            below = tree[name] = {}
        tree = below
    tree[last] = value


@lru_cache(maxsize=1024)
def _steps(path: str) -> tuple[list[str], str]:
    *parents, last = path.split(".")
    return parents, last


def _holds(cell: Cell, meaning: Meaning) -> bool:
    """Whether a cell holds more than blanks or a word for no value."""
    text = cell.text.strip()
    return text != "" and text not in meaning.numbers.missing


def _fill_one(path: str, cells: Mapping[str, Cell], meaning: Meaning, filled: Filled) -> None:
    """Fill one field, or say why it cannot be filled."""
    kind = FIELDS[path]
    texts = [cell.text.strip() for cell in cells.values()]
    if kind == "list":
        put(filled.tree, path, texts)
        return
    cell = Cell(" ".join(texts), next(iter(cells.values())).place)
    try:
        if path in meaning.within:
            cell, whole = _part(path, cell, meaning)
            filled.extra |= {} if whole else {key: each.text for key, each in cells.items()}
        _KINDS[kind](path, cell, meaning, filled)
    except Fault as fault:
        filled.faults.append(fault)
    except Unfit as reason:
        if str(reason) and kind == "verdict":  # a stated FAIL may not become none
            filled.faults.append(Fault(cell.place, str(reason)))
            return
        filled.extra |= {key: each.text for key, each in cells.items()}
        if str(reason):
            filled.notes.append(Fault(cell.place, f"{reason}; the text is kept in extra"))


def _part(path: str, cell: Cell, meaning: Meaning) -> tuple[Cell, bool]:
    """The part of a text that fills a field, and whether the rest of it says nothing more.

    Raises:
        Unfit: the text is of none of the declared forms, or of one in more than one way.
    """
    for form in meaning.within[path]:
        try:
            text = form.take(cell.text)
        except SeveralWays as error:
            raise Unfit(
                f"{cell.text!r:.60} is of the form {form.text!r} in more than one way; make "
                f"within.{path} say more of the words around {TAKEN}"
            ) from error
        if text is not None:
            return Cell(text, cell.place), form.whole
    known = ", ".join(repr(form.text) for form in meaning.within[path])
    raise Unfit(f"{cell.text!r:.60} is not of the form {known}; add its form to within.{path}")


def _text(path: str, cell: Cell, meaning: Meaning, filled: Filled) -> None:
    del meaning
    put(filled.tree, path, cell.text)


def _limit(path: str, cell: Cell, meaning: Meaning, filled: Filled) -> None:
    del meaning
    put(filled.tree, path, {"as_stated": cell.text})


def _word(table: str, *, keeps_text: bool = False) -> Callable[[str, Cell, Meaning, Filled], None]:
    """A filler for a field that takes one word of a list."""

    def fill_word(path: str, cell: Cell, meaning: Meaning, filled: Filled) -> None:
        words: Mapping[str, str] = getattr(meaning.words, table)
        word = words.get(cell.text)
        if keeps_text:
            put(filled.tree, path, ({"kind": word} if word else {}) | {"as_stated": cell.text})
        elif word is not None:
            put(filled.tree, path, word == "yes" if table == "screened" else word)
        if word is None and not keeps_text:
            raise Unfit(f"{cell.text!r} is not among the declared words; add it to words.{table}")
        if word is None:
            note = f"{cell.text!r} is kept as stated; to give it a meaning add it to words.{table}"
            filled.notes.append(Fault(cell.place, note))

    return fill_word


def _verdict(path: str, cell: Cell, meaning: Meaning, filled: Filled) -> None:
    word = verdict_word(cell, meaning)
    if word is None:
        raise Unfit  # a declared word for no verdict
    put(filled.tree, path, {"verdict": word, "as_stated": cell.text})


def _time(path: str, cell: Cell, meaning: Meaning, filled: Filled) -> None:
    try:
        stamp = meaning.calendar.stamp(cell.text)
    except NotADate as error:
        put(filled.tree, path, {"as_stated": cell.text})
        filled.notes.append(Fault(cell.place, f"{error}; the text is kept as stated"))
        return
    member = {"as_stated": stamp.as_stated, "rfc3339": stamp.rfc3339}
    if stamp.zone:
        member["zone"] = stamp.zone
    put(filled.tree, path, member | {"zone_source": stamp.zone_source})
    if path == "test.started":
        filled.started = stamp
    if stamp.doubt:
        filled.notes.append(Fault(cell.place, stamp.doubt))


def _day(path: str, cell: Cell, meaning: Meaning, filled: Filled) -> None:
    try:
        put(filled.tree, path, meaning.calendar.day(cell.text).isoformat())
    except NotADate as error:
        raise Unfit(str(error)) from error


def _number(quantity: str) -> Callable[[str, Cell, Meaning, Filled], None]:
    """A filler for a field that takes a number."""

    def fill_number(path: str, cell: Cell, meaning: Meaning, filled: Filled) -> None:
        try:
            reading = meaning.numbers.read(cell, quantity)
        except Fault as fault:
            raise Unfit(fault.message) from fault
        if reading.bound:
            raise Unfit(f"{cell.text!r} is a bound where a number was expected")
        if asked := range_fault(path, reading.value):
            declared = meaning.numbers.units[quantity]
            others = ", ".join(unit for unit in UNITS[quantity] if unit != declared)
            raise Unfit(
                f"{cell.text!r}, taken for {_UNITS_SAID.get(declared, declared)}, is "
                f"{reading.value:g}, and {path} is {asked}; if the export writes it in another "
                f"unit ({others}), change units.{quantity}"
            )
        put(filled.tree, path, reading.value)
        if path == "link.cable.nvp":
            put(filled.tree, "link.cable.nvp_decimals", reading.decimals)

    return fill_number


def _wire_map(properties: Mapping[str, Cell], meaning: Meaning, filled: Filled) -> None:
    """Contacts and screen of the wire map; where it cannot be taken apart it stays as stated."""
    fields = {path: keys for path, keys in meaning.fields.items() if FIELDS[path] == "wires"}
    cells = {key: properties[key] for some in fields.values() for key in some if key in properties}
    if not any(_holds(cell, meaning) for cell in cells.values()):
        return
    place = next(iter(cells.values())).place
    whole = {key: "\n".join(cell.texts) for key, cell in cells.items()}
    try:
        texts = {
            path: [text for key in keys for text in _wires(path, key, cells, meaning, filled)]
            for path, keys in fields.items()
        }
    except Unfit as reason:
        filled.extra |= whole
        filled.notes.append(Fault(place, f"{reason}; the text is kept in extra"))
        return
    stated = " / ".join(" ".join(filter(None, some)) for some in texts.values())
    if len(stated) > wires.LONGEST:
        filled.extra |= whole
        stated = f"{stated[: wires.LONGEST]}..."
    put(filled.tree, "results.wire_map.as_stated", stated)
    try:
        found = wires.read(texts, meaning.wires)
    except wires.Unread as reason:
        kept = " and whole in extra" if whole.keys() <= filled.extra.keys() else ""
        note = f"the wire map {wires.shown(stated)} is kept as stated{kept}, since {reason}"
        filled.notes.append(Fault(place, note))
        return
    if found.pins:
        put(filled.tree, wires.PINS, [[*ends] for ends in found.pins])
    _screen_wire(found.screen, place, filled)


def _wires(
    path: str, key: str, cells: Mapping[str, Cell], meaning: Meaning, filled: Filled
) -> list[str]:
    """The texts of a wire map under one key, "" for nothing.

    The last of one key a contact may be lacking: that of the screen.

    Raises:
        Unfit: a text is of none of the declared forms.
    """
    keys = meaning.fields[path]
    cell = cells.get(key)
    texts = [text.strip() for text in cell.texts] if cell else [""]
    if cell and path in meaning.within:
        parts = [_contact(path, Cell(text, cell.place), meaning) for text in texts]
        texts = [part.text for part, _ in parts]
        if not all(whole for _, whole in parts):
            filled.extra[key] = "\n".join(cell.texts)
    missing = meaning.numbers.missing - meaning.wires.open
    texts = ["" if text in missing else text for text in texts]
    spare = texts == [""] and "" not in meaning.wires.open
    return [] if spare and len(keys) == len(wires.CONTACTS) and key == keys[-1] else texts


def _contact(path: str, cell: Cell, meaning: Meaning) -> tuple[Cell, bool]:
    """The part of a text that is a contact, as `_part`; a word for none stands by itself.

    Raises:
        Unfit: the text is of none of the declared forms, and no such word.
    """
    if cell.text in meaning.wires.open or cell.text in meaning.numbers.missing:
        return cell, True
    try:
        return _part(path, cell, meaning)
    except Unfit as reason:
        raise Unfit(f"{reason}, or to wire_map.open if it is a word for no contact") from reason


def _screen_wire(found: str | None, place: str, filled: Filled) -> None:
    """What the wire of the screen says of it, unless a word for the screen says otherwise."""
    wire_map = filled.tree["results"]["wire_map"]
    said = wire_map.get("screen")
    if found is None or said == found or (said, found) == ("none", "open"):
        return
    if said is None:
        wire_map["screen"] = found
        return
    del wire_map["screen"]
    note = (
        f"the wire map has the screen {found}, and fields.{SCREEN} says {said}; neither is taken, "
        "and the wire map is kept as stated as well; see words.screens"
    )
    filled.notes.append(Fault(place, note))


_KINDS: dict[str, Callable[[str, Cell, Meaning, Filled], None]] = {
    "text": _text,
    "limit": _limit,
    "verdict": _verdict,
    "purpose": _word("purposes"),
    "configuration": _word("configurations", keeps_text=True),
    "screen": _word("screens"),
    "screened": _word("screened"),
    "time": _time,
    "day": _day,
    "nvp": _number("nvp"),
    "temperature": _number("temperature"),
}
