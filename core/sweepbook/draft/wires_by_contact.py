"""A wire map with a key a contact: eight keys that differ in a number, maybe in words besides."""

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import partial

from sweepbook.dialect.wires import CONTACTS, FAR, NEAR, SCREEN_WORDS, WireForm
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.field_times import Filled
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS
from sweepbook.draft.wire_texts import MOST, OPEN, Wires, by_end, fitting, is_named, tried, wires_of

_STRANGE = 2
"""So many words that nobody knows may stand where contacts do."""
_NUMBER = re.compile(r"(?<![0-9])1(?![0-9])")
_WORDED = re.compile(r"(\D*)[1-8](\D*)")
_CHOSEN = re.compile(r"(.*)\[(@?[^=\]]+)=\{\}\](.*)")


def find(texts: Mapping[str, Sequence[str]], ends: Ends | None) -> Wires | None:
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
            around = _words_around([text for key in keys for text in texts[key]])
            named = is_named(f"{first} {around}")
            named = named or _leads_to_other_end(f"{before}{{}}{after}", ends)
            if len(screens) != 1 and (before or after) and not named:
                continue
            inner = {key: _without(around, texts[key]) for key in (*keys, *screens)}
            strange = _strange(text for key in keys for text in inner[key])
            keys += screens[:1]
            if form := fitting(WireForm(), partial(_are_contacts, keys, inner), strange):
                if _says_open(f"{before}{{}}{after}", texts):
                    form = form._replace(open=form.open | {""})
                some = [texts[key][0] for key in keys]
                filled = _filled(keys, f"{before}{{}}{after}", some, ends)
                filled = tuple(one._replace(within=around) for one in filled)
                return Wires(filled, form, frozenset(keys))
    return None


def _words_around(texts: Sequence[str]) -> str:
    """The words that stand around each contact, with {} for that; "" where it stands alone.

    A text without a contact may have them or not.
    """
    numbered = [match for match in map(_WORDED.fullmatch, texts) if match]
    some = {f"{match[1]}{{}}{match[2]}" for match in numbered}
    digits = sum(any(map(str.isdigit, text)) for text in texts)
    form = some.pop() if len(some) == 1 and len(numbered) == digits else ""
    return form if any(map(str.isalpha, form)) else ""


def _without(around: str, texts: Sequence[str]) -> list[str]:
    """Texts without these words, as they are where they do not have them."""
    before, _, after = around.partition("{}")
    return [
        text[len(before) : len(text) - len(after)].strip()
        if text.startswith(before) and text.endswith(after) and around
        else text
        for text in texts
    ]


def _says_open(form: str, texts: Mapping[str, Sequence[str]]) -> bool:
    """Whether an element chosen by a contact may say in words that this has none at the other end.

    It then lacks what holds that other contact, or leaves it blank.
    """
    chosen = _CHOSEN.fullmatch(form)
    if chosen is None:
        return False
    begin, end = form.removesuffix(chosen[3]).split("{}")
    beside = [key for key in texts if key.startswith(begin) and not key.endswith(chosen[3])]
    words = {text for key in beside if end in key for text in texts[key]}
    return bool(words) and any(word in OPEN for word in words)


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
    firsts = wires_of({FAR: [texts[key][0] for key in keys]}, form)
    each = all(tried({NEAR: [text], FAR: [text]}, form) for key in keys[:8] for text in texts[key])
    return each and len({far for _, far in firsts if far}) >= MOST


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
    near, far, _ = by_end(chooser, held, ends)
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
