"""How an export writes its wire map: which keys hold contacts, and what stands between them."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import pairwise
from typing import NamedTuple

from sweepbook.dialect.wires import (
    CONTACTS,
    FAR,
    NEAR,
    PINS,
    SCREEN_WORDS,
    Unread,
    WireForm,
    WireMap,
    read,
)
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.document import ASSUMED, FOUND, Note, Table
from sweepbook.draft.field_times import Filled
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS, PARAMETERS
from sweepbook.word_lists import words_of

_WORDS = words_of(
    """
    x, -, --, \u2013, 0, o, n/c, nc, open, none, offen, ouvert, aperto, abierto, aberto, åpen,
    öppen, åben, auki, ouverte, coupé, coupée, coupure, unterbrochen, unterbruch, interrotto,
    circuito abierto, onderbroken, przerwa, przerwany, rozpojeno, přerušeno, brott, avbrott, brudd,
    brud, обрыв, разрыв, нет контакта, 开路, 断路, 断线, 断線, 開放, オープン, açık, kopuk
    """
)
OPEN = tuple(
    dict.fromkeys(
        spelt for word in _WORDS for spelt in (word, word.capitalize(), word.upper(), word.title())
    )
)
"""What stands where a contact would and is none: common practice, no source."""
_OPEN = "|".join(map(re.escape, sorted(OPEN, key=len, reverse=True)))
_WIRE = re.compile(rf"1(\D{{0,6}}?)(?:[1-8]|{_OPEN})(\D{{1,6}}?)[2-8]\1(?:[1-8]|{_OPEN})")
"""The first wire and the next, with the texts between."""
_LISTED = (" ", ",", ";", "-", "/", "|", "\t", "")
_FEWEST = 4
"""Wires that are a wire map by themselves; below a key that reads as one two are enough."""
_MOST = 6
"""Contacts that a list has, or so many keys with one each, at least; others may be open."""
_LONGEST = 120
_STRANGE = 2
"""So many words that nobody knows may stand where contacts do."""
_EIGHT = frozenset("12345678")
_NAMES = (
    *PARAMETERS["wire_map"],
    *words_of(
        """
        wires, wire, wiring, pins, pin, contacts, contact, belegung, ader, adern, kontakt,
        bedrading, broche, broches, fil, hilo, filo, fio, żyła, ledare, leder, johdin,
        жила, жилы, провод, контакт, контакты, 线芯, 芯线, 心線, ピン
        """
    ),
)
_NUMBER = re.compile(r"(?<![0-9])1(?![0-9])")
_CHOSEN = re.compile(r"(.*)\[(@?[^=\]]+)=\{\}\](.*)")


class Wires(NamedTuple):
    """A wire map of an export.

    Attributes:
        filled: the members that its keys fill.
        form: how it is written.
        used: the keys that hold it.
        said: what was assumed of it, or "".
        asleep: whether a person has to say that it is one.
    """

    filled: tuple[Filled, ...]
    form: WireForm
    used: frozenset[str]
    said: str = ""
    asleep: bool = False


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
    found = _wires(whole) or _lists(whole, ends) or _a_key_a_contact(texts, ends)
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
        held = [text for text in texts if any(word in text for word in form.open)]
        note = Note(ASSUMED, said, held or sorted(form.open))
        table.add("open", sorted(form.open), note, asleep=wires.asleep)
    return table


_FURTHER = tuple(f"/{n}" for n in range(2, len(CONTACTS) + 1))


def _many(texts: Sequence[str]) -> bool:
    """Whether a further cell of a line holds most contacts by itself."""
    return all(len(_EIGHT.intersection(text)) >= _MOST for text in texts)


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
        form = _fitting(WireForm(match[1], _plain(match[2])), reads)
        if form and (named or any(_goes_straight(text, form) for text in some)):
            return Wires((Filled(PINS, (key,), some),), form, frozenset((key,)))
    return None


def _has_wires(texts: Sequence[str], least: int, form: WireForm) -> bool:
    return all(len(_read({PINS: [text]}, form)) >= least for text in texts)


def _goes_straight(text: str, form: WireForm) -> bool:
    """Whether some wire does: pairs that are named by their contacts, either way, have none."""
    return any(near == far for near, far in _read({PINS: [text]}, form))


def _lists(texts: Mapping[str, Sequence[str]], ends: Ends | None) -> Wires | None:
    """A list of contacts for each end, or one of the far ones."""
    for between in _LISTED:
        forms = {key: _listed(key, some, between) for key, some in texts.items()}
        keys = [key for key, form in forms.items() if form]
        opened = frozenset().union(*(form.open for form in forms.values() if form))
        form = WireForm(between_wires=between, open=opened)
        for one, other in pairwise(keys):
            if one.rpartition("/")[0] == other.rpartition("/")[0] or _are_named(one, other):
                near, far, said = _by_end(one, other, ends)
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
    found = [_try({FAR: [text]}, form) for text in texts]
    same = all(one and all(near == other for near, other in one.pins) for one in found)
    straight = same and not named
    said = "taken for the far contacts of the near contacts 1 to 8 in this order"
    if straight:
        said = "wake this if these are the far contacts of near contacts 1 to 8, and no near ones"
    return Wires((Filled(FAR, (key,), texts),), form, frozenset((key,)), said, straight)


def _listed(key: str, texts: Sequence[str], between: str) -> WireForm | None:
    """The form of a list of contacts; None where a text is none."""
    if len(texts[0]) > _LONGEST or len(_EIGHT.intersection(texts[0])) < _MOST:
        return None  # as nearly all are, soon told
    plain = bool(between) or is_named(key)

    def is_list(text: str, form: WireForm) -> bool:
        one = _try({NEAR: [text], FAR: [text]}, form)
        return one is not None and len(one.pins) >= _MOST and bool(plain or one.screen)

    def reads(form: WireForm) -> bool:
        return all(is_list(text, form) for text in texts)

    return _fitting(WireForm(between_wires=between), reads)


def _a_key_a_contact(texts: Mapping[str, Sequence[str]], ends: Ends | None) -> Wires | None:
    """Eight keys that differ in a number, and maybe one for the screen, with a contact each."""
    for first in texts:
        for match in _NUMBER.finditer(first):
            before, after = first[: match.start()], first[match.end() :]
            keys = [f"{before}{n}{after}" for n in CONTACTS[:-1]]
            if not all(key in texts for key in keys):
                continue
            screens = [
                key
                for key in texts
                if key.startswith(before)
                and key.endswith(after)
                and key[len(before) : len(key) - len(after)].casefold() in SCREEN_WORDS
            ]
            named = is_named(first) or _leads_to_other_end(f"{before}{{}}{after}", ends)
            if len(screens) != 1 and (before or after) and not named:
                continue
            strange = _strange(text for key in keys for text in texts[key])
            keys += screens[:1]
            if form := _fitting(WireForm(), partial(_are_contacts, keys, texts), strange):
                some = [texts[key][0] for key in keys]
                filled = _filled(keys, f"{before}{{}}{after}", some, ends)
                return Wires(filled, form, frozenset(keys))
    return None


def _leads_to_other_end(form: str, ends: Ends | None) -> bool:
    """Whether an element is chosen by a word for one end and holds one for the other."""
    chosen = _CHOSEN.fullmatch(form)
    if chosen is None:
        return False
    words = [chosen[2].strip("@"), chosen[3].strip("/@")]
    known = (*((ends,) if ends else ()), *ENDS)
    return any(
        phrases.whole(one, (near,)) and phrases.whole(other, (far,))
        for near, far in known
        for one, other in (words, words[::-1])
        if len(near) > 1
    )


def _are_contacts(keys: Sequence[str], texts: Mapping[str, Sequence[str]], form: WireForm) -> bool:
    """Whether each key has one contact, and most another one."""
    firsts = _read({FAR: [texts[key][0] for key in keys]}, form)
    each = all(_try({NEAR: [text], FAR: [text]}, form) for key in keys[:8] for text in texts[key])
    return each and len({far for _, far in firsts if far}) >= _MOST


def _filled(
    keys: Sequence[str], form: str, texts: Sequence[str], ends: Ends | None
) -> tuple[Filled, ...]:
    """The fields of a key a contact; of elements chosen by a contact the paths to both."""
    chosen = _CHOSEN.fullmatch(form)
    if chosen is None:
        return (Filled(FAR, tuple(keys), texts),)
    chooser, held = f"{chosen[1]}/{chosen[2]}", f"{chosen[1]}{chosen[3]}"
    if re.fullmatch(rf"/{re.escape(chosen[2])}\[[0-9]+\]", chosen[3]):
        chooser += "[1]"  # cells of one row are told by their places
    keyed = {chooser: ["1", "2"], held: texts}
    near, far, _ = _by_end(chooser, held, ends)
    return (Filled(NEAR, (near,), keyed[near]), Filled(FAR, (far,), keyed[far]))


def _strange(texts: Iterable[str]) -> tuple[str, ...]:
    """One or two words where contacts stand which nobody knows: a wire that is not whole, at best.

    Taken for no contact they make no link pass.
    """
    found = dict.fromkeys(
        text
        for text in texts
        if text.casefold() not in SCREEN_WORDS
        and not any(map(str.isdigit, text))
        and any(map(str.isalpha, text))
        and not phrases.whole(text, NOT_MEASURED)
    )
    return tuple(found) if len(found) <= _STRANGE else ()


def _fitting(
    form: WireForm, reads: Callable[[WireForm], bool], strange: Sequence[str] = ()
) -> WireForm | None:
    """A form with as few words for no contact as will do; None where none will."""
    some = (*OPEN, *strange)
    words = frozenset(some)
    if not reads(form._replace(open=words)):
        return None
    for word in some:
        if reads(form._replace(open=words - {word})):
            words -= {word}
    return form._replace(open=words)


def _try(texts: Mapping[str, Sequence[str]], form: WireForm) -> WireMap | None:
    try:
        return read(texts, form)
    except Unread:
        return None


def _read(texts: Mapping[str, Sequence[str]], form: WireForm) -> Sequence[tuple[object, object]]:
    found = _try(texts, form)
    return found.pins if found else ()


def _plain(mark: str) -> str:
    """A mark between wires as a dialect has it, without blanks around it."""
    return mark.strip() or " " if mark.strip(" ") == mark.strip() else mark


def is_named(key: str) -> bool:
    """Whether a key reads as that of wires or of their contacts."""
    return phrases.has(key, _NAMES)


def _are_named(*keys: str) -> bool:
    return all(map(is_named, keys))


def _by_end(one: str, other: str, ends: Ends | None) -> tuple[str, str, str]:
    """The keys of the near and the far end, and what was assumed for want of words, or ""."""
    last = [key.rpartition("/")[2] for key in (one, other)]
    for near, far in (*((ends,) if ends else ()), *ENDS):
        told = [phrases.find(key, {"near": (near,), "far": (far,)}) for key in last]
        if all(told) and {of.meaning for of in told if of} == {"near", "far"}:
            first = told[0] is not None and told[0].meaning == "near"
            return (one, other, "") if first else (other, one, "")
    return one, other, "the first of two lists is taken for the near end"
