"""What wire maps of exports are made of: words for no contact, and texts that read as wires."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from sweepbook.dialect.wires import SCREEN_WORDS, Unread, WireForm, WireMap, read
from sweepbook.draft import phrases
from sweepbook.draft.field_times import Filled
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS, PARAMETERS, WIRES
from sweepbook.word_lists import pairs_of, words_of

_WORDS = words_of(
    """
    x, -, --, \u2013, 0, o, n/c, nc, open, none, offen, ouvert, aperto, abierto, aberto, åpen,
    öppen, åben, auki, ouverte, coupé, coupée, coupure, unterbrochen, unterbruch, interrotto,
    circuito abierto, onderbroken, przerwa, przerwany, rozpojeno, přerušeno, brott, avbrott, brudd,
    brud, обрыв, разрыв, нет контакта, 开路, 断路, 断线, 断線, 開放, オープン, açık, kopuk,
    szakadt, szakadás, 단선, 개방
    """
)
OPEN = tuple(
    dict.fromkeys(
        spelt for word in _WORDS for spelt in (word, word.capitalize(), word.upper(), word.title())
    )
)
"""What stands where a contact would and is none: common practice, no source."""
MOST = 6
"""Contacts that a list has, or so many keys with one each, at least; others may be open."""
_NAMES = (*PARAMETERS["wire_map"], *WIRES)
_TOLD = pairs_of(
    """
    expected / found, expected / actual, expected / measured, expected / read, nominal / actual,
    soll / ist, attendu / lu, attendu / mesuré, attendu / relevé, attendu / trouvé, prévu / lu,
    prévu / mesuré, théorique / mesuré, théorique / réel, esperado / medido, esperado / leído,
    esperado / lido, atteso / letto, atteso / misurato, previsto / misurato, verwacht / gemeten,
    oczekiwane / zmierzone, očekávané / naměřené, förväntad / uppmätt, forventet / målt
    """
)
"""Words for the contacts that were to be reached, which are those of the near end in their order,
and for those that were: common practice, no source."""
_LAST = re.compile(r"(?<=[^\w]|[1-8_])[^\W\d_]+$")


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


def fitting(
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


def screen_in(key: str, texts: Sequence[str]) -> frozenset[str]:
    """A word behind the contacts of lists which nobody knows, so that it may be the screen's.

    Its key says that these are contacts; behind others it may be anything.
    """
    last = (match[0] for match in map(_LAST.search, texts) if match)
    words = {word for word in last if word not in OPEN and word.lower() not in SCREEN_WORDS}
    return frozenset(words if len(words) == 1 and is_named(key) else ())


def list_form(between: str, forms: Iterable[WireForm | None]) -> WireForm:
    """The form of lists of contacts, by those of each of them."""
    opened, screen = set[str](), set[str]()
    for form in forms:
        if form is not None:
            opened |= form.open
            screen |= form.screen
    return WireForm(between_wires=between, open=frozenset(opened), screen=frozenset(screen))


def tried(texts: Mapping[str, Sequence[str]], form: WireForm) -> WireMap | None:
    """The wire map that texts read as; None where they read as none."""
    try:
        return read(texts, form)
    except Unread:
        return None


def wires_of(texts: Mapping[str, Sequence[str]], form: WireForm) -> Sequence[tuple[object, object]]:
    """The contacts of each wire in it, () for none."""
    found = tried(texts, form)
    return found.pins if found else ()


def is_named(key: str) -> bool:
    """Whether a key reads as that of wires or of their contacts."""
    return phrases.has(key, _NAMES)


def by_end(one: str, other: str, ends: Ends | None) -> tuple[str, str, str]:
    """The keys of the near and the far end, and what was assumed for want of words, or ""."""
    last = [key.rpartition("/")[2] for key in (one, other)]
    for near, far in (*((ends,) if ends else ()), *ENDS, *_TOLD):
        told = [phrases.find(key, {"near": (near,), "far": (far,)}) for key in last]
        if all(told) and {of.meaning for of in told if of} == {"near", "far"}:
            first = told[0] is not None and told[0].meaning == "near"
            return (one, other, "") if first else (other, one, "")
    return one, other, "the first of two lists is taken for the near end"
