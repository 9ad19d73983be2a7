"""How an export writes its wire map: which keys hold contacts, and what stands between them."""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from itertools import pairwise

from sweepbook.dialect.wires import (
    CONTACTS,
    FAR,
    NEAR,
    PINS,
    WireForm,
)
from sweepbook.draft import phrases, wires_by_contact, wires_in_one
from sweepbook.draft.document import ASSUMED, FOUND, Note, Table
from sweepbook.draft.field_times import Filled
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS
from sweepbook.draft.wire_texts import (
    MOST,
    OPEN,
    Wires,
    by_end,
    fitting,
    is_named,
    list_form,
    screen_in,
    tried,
    wires_of,
)

_OPEN = "|".join(map(re.escape, sorted(OPEN, key=len, reverse=True)))
_WIRE = re.compile(rf"1(\D{{0,6}}?)(?:[1-8]|{_OPEN})(\D{{1,6}}?)[2-8]\1(?:[1-8]|{_OPEN})")
"""The first wire and the next, with the texts between."""
_WORD = re.compile(r"[^\W\d_][^\d:]*(: ?)(?=1\D)")
"""What stands before the first wire, and says how the wires are."""
_LISTED = (" ", ",", ";", "-", "/", "|", "\t", "")
_FEWEST = 4
"""Wires that are a wire map by themselves; below a key that reads as one two are enough."""
_LONGEST = 120
_EIGHT = frozenset("12345678")


def find(
    properties: Mapping[str, Sequence[str]], ends: Ends | None, delimiter: str = ""
) -> Wires | None:
    """The wire map among the keys of an export, where its texts show one plainly.

    Args:
        properties: distinct texts by key.
        ends: words for near and far.
        delimiter: between the cells of a line, of which each further one has a key of its own.
    """
    texts = {key: [text.strip() for text in some] for key, some in properties.items() if any(some)}
    cells = dict(_lines_of_cells(texts, delimiter)) if delimiter else {}
    whole = {key: some for key, some in texts.items() if not key.endswith(_FURTHER) or _many(some)}
    whole |= {key: [delimiter.join(texts[cell][0] for cell in of)] for key, of in cells.items()}
    found = _wires(whole) or _lists(whole, ends) or wires_in_one.find(whole, _LISTED, _listed)
    found = found or _behind_a_word(whole) or wires_by_contact.find(texts, ends)
    if found is None:
        return None
    held = [cell for key in found.used for cell in cells.get(key, (key,))]
    opened = {text for cell in held if cells for text in texts[cell] if text in OPEN}
    form = found.form._replace(open=found.form.open | opened)
    return found._replace(form=form, used=frozenset(held))


def wire_table(wires: Wires | None) -> Table:
    """The table `wire_map`, where it is not as usual."""
    table = Table("[wire_map]")
    if wires is None:
        return table
    form, samples = wires.form, wires.filled[-1].texts
    for key, mark, usual in (
        ("between_ends", form.between_ends, WireForm().between_ends),
        ("between_wires", form.between_wires, WireForm().between_wires),
    ):
        if mark != usual:
            table.add(key, mark, Note(FOUND, "", samples), asleep=wires.asleep)
    if form.open:
        said = "this stands where a contact would, so the wire goes nowhere"
        texts = [text for one in wires.filled for text in one.texts]
        held = [of for of in texts if any(word in of for word in form.open if word)]
        note = Note(ASSUMED, said, held or sorted(form.open))
        table.add("open", sorted(form.open), note, asleep=wires.asleep)
    if form.screen:
        said = "this stands behind the contacts and is none of them, so it is that of the screen"
        table.add("screen", sorted(form.screen), Note(ASSUMED, said, samples), asleep=wires.asleep)
    return table


_FURTHER = tuple(f"/{n}" for n in range(2, len(CONTACTS) + 1))


def _many(texts: Sequence[str]) -> bool:
    """Whether a further cell of a line holds most contacts by itself."""
    return all(len(_EIGHT.intersection(text)) >= MOST for text in texts)


def _lines_of_cells(
    texts: Mapping[str, Sequence[str]], delimiter: str
) -> Iterator[tuple[str, list[str]]]:
    """Lines of a cell a contact, with the keys of their cells."""
    for key in texts:
        cells = [key, *(f"{key}{further}" for further in _FURTHER)]
        there = [cell for cell in cells if cell in texts]
        if len(there) >= len(CONTACTS) - 1 and there == cells[: len(there)]:
            yield key, there


def _wires(texts: Mapping[str, Sequence[str]]) -> Wires | None:
    """Wires of two contacts in one text."""
    for key, some in texts.items():
        match = _WIRE.match(some[0])
        if match is None or match[1].strip() == match[2].strip():
            continue
        named = is_named(key)
        reads = partial(_has_wires, some, 2 if named else _FEWEST)
        form = fitting(WireForm(match[1], _plain(match[2])), reads)
        if form and (named or any(_goes_straight(text, form) for text in some)):
            return Wires((Filled(PINS, (key,), some),), form, frozenset((key,)))
    return None


def _behind_a_word(texts: Mapping[str, Sequence[str]]) -> Wires | None:
    """Wires of two contacts behind a word for how they are: "crossed: 1-3 2-6 3-1"."""
    for key, some in texts.items():
        words = [match for match in map(_WORD.match, some) if match] if is_named(key) else []
        marks = {match[1] for match in words}
        if len(words) < len(some) or len(marks) != 1:
            continue
        (mark,) = marks
        behind = [text.partition(mark)[2] for text in some]
        wires = _wires({key: behind}) if all(text.count(mark) == 1 for text in some) else None
        if wires:
            within = f"{{any}}{mark}{{}}"
            return wires._replace(filled=(Filled(PINS, (key,), behind, within=within),))
    return None


def _has_wires(texts: Sequence[str], least: int, form: WireForm) -> bool:
    return all(len(wires_of({PINS: [text]}, form)) >= least for text in texts)


def _goes_straight(text: str, form: WireForm) -> bool:
    """Whether some wire does: pairs that are named by their contacts, either way, have none."""
    return any(near == far for near, far in wires_of({PINS: [text]}, form))


def _lists(texts: Mapping[str, Sequence[str]], ends: Ends | None) -> Wires | None:
    """A list of contacts for each end, or one of the far ones."""
    for between in _LISTED:
        forms = {key: _listed(key, some, between) for key, some in texts.items()}
        keys = [key for key, form in forms.items() if form]
        form = list_form(between, forms.values())
        for one, other in pairwise(keys):
            if one.rpartition("/")[0] == other.rpartition("/")[0] or _are_named(one, other):
                near, far, said = by_end(one, other, ends)
                filled = (Filled(NEAR, (near,), texts[near]), Filled(FAR, (far,), texts[far]))
                return Wires(filled, form, frozenset((near, far)), said)
        if len(keys) == 1 and is_named(keys[0]):
            return _far_alone(keys[0], texts[keys[0]], form, ends)
    return None


def _far_alone(key: str, texts: Sequence[str], form: WireForm, ends: Ends | None) -> Wires:
    """A list that stands alone: one that is always straight may as well be of the near end.

    Unless its key says that it is of the far one.
    """
    far = [word for _, word in (*((ends,) if ends else ()), *ENDS) if len(word) > 1]
    named = phrases.has(key.rpartition("/")[2], far)
    found = [tried({FAR: [text]}, form) for text in texts]
    same = all(one and all(near == other for near, other in one.pins) for one in found)
    straight = same and not named
    said = "taken for the far contacts of the near contacts 1 to 8 in this order"
    if straight:
        said = "wake this if these are the far contacts of near contacts 1 to 8, and no near ones"
    return Wires((Filled(FAR, (key,), texts),), form, frozenset((key,)), said, straight)


def _listed(key: str, texts: Sequence[str], between: str) -> WireForm | None:
    """The form of a list of contacts; None where a text is none."""
    if len(texts[0]) > _LONGEST or len(_EIGHT.intersection(texts[0])) < MOST:
        return None  # as nearly all are, soon told
    plain = bool(between) or is_named(key)

    def is_list(text: str, form: WireForm) -> bool:
        one = tried({NEAR: [text], FAR: [text]}, form)
        return one is not None and len(one.pins) >= MOST and bool(plain or one.screen)

    def reads(form: WireForm) -> bool:
        return all(is_list(text, form) for text in texts)

    known = fitting(WireForm(between_wires=between), reads)
    screen = screen_in(key, texts) if known is None else ()
    return fitting(WireForm(between_wires=between, screen=screen), reads) if screen else known


def _plain(mark: str) -> str:
    """A mark between wires as a dialect has it, without blanks around it."""
    return mark.strip() or " " if mark.strip(" ") == mark.strip() else mark


def _are_named(*keys: str) -> bool:
    return all(map(is_named, keys))
