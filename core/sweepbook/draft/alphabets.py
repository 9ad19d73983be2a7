"""The letters of languages beyond plain Latin ones, and the code pages that they are written in."""

from collections.abc import Mapping, Sequence
from functools import cache
from math import log
from typing import NamedTuple

from sweepbook.word_lists import lists_of

_LETTERS = {
    name: frozenset(letters)
    for name, (letters,) in lists_of(
        """
        German: äöüß
        French: àâæçèéêëîïôœùûü
        Spanish: áéíñóúüºª
        Portuguese: áâãàçéêíóôõúºª
        Italian: àèéìíòóù
        Catalan: àçèéíïòóúü
        Dutch: éëïóöü
        Swedish: åäöé
        Danish: æøåé
        Icelandic: áðéíóúýþæö
        Polish: ąćęłńóśźż
        Czech: áčďéěíňóřšťúůýž
        Slovak: áäčďéíĺľňóôŕšťúýž
        Hungarian: áéíóöőúüű
        Slovenian: čšž
        Croatian: čćđšž
        Romanian: ăâîşţșț
        Turkish: çğıİöşü
        Lithuanian: ąčęėįšųūž
        Latvian: āčēģīķļņšūž
        Estonian: äöõüšž
        Russian: абвгдежзийклмнопрстуфхцчшщъыьэюяё
        Ukrainian: абвгґдеєжзиіїйклмнопрстуфхцчшщьюя
        Bulgarian: абвгдежзийклмнопрстуфхцчшщъьюя
        Serbian: абвгдђежзијклљмнњопрстћуфхцчџш
        Greek: αβγδεζηθικλμνξοπρστυφχψωςάέήίόύώϊϋΐΰ
        Hebrew: אבגדהוזחטיכךלמםנןסעפףצץקרשת
        Arabic: ءآأؤإئابةتثجحخدذرزسشصضطظعغفقكلمنهوىي
        """
    ).items()
}

_MIDDLE = ("Polish", "Czech", "Slovak", "Hungarian", "Slovenian", "Croatian", "Romanian", "German")
_WEST = (
    *("German", "French", "Spanish", "Portuguese", "Italian", "Catalan", "Dutch", "Swedish"),
    *("Danish", "Icelandic"),
)
_SLAVIC = ("Russian", "Ukrainian", "Bulgarian", "Serbian")
_BALTIC = ("Lithuanian", "Latvian", "Estonian")
_OTHER_SCRIPTS = (*_SLAVIC, "Greek", "Hebrew", "Arabic")
_STRANGE = 6.0
_ROWS: Mapping[str, tuple[str, range, range]] = {
    "gb18030": ("gb2312", range(0xB0, 0xD8), range(0xA1, 0xFF)),
    "big5": ("big5", range(0xA4, 0xC7), range(0x40, 0xFF)),
    "cp949": ("euc_kr", range(0xB0, 0xC9), range(0xA1, 0xFF)),
    "shift_jis": ("euc_jp", range(0xB0, 0xD0), range(0xA1, 0xFF)),
}
"""Codec, and bytes of the rows with the usual characters, in order of use: GB 2312 and JIS X 0208
level 1, Big5 level 1, the syllables of KS X 1001 (from memory)."""
_KANA = frozenset(map(chr, (*range(0x3041, 0x3097), *range(0x30A1, 0x30FD))))

PAGES: Mapping[str, tuple[str, ...]] = {
    "cp1252": _WEST,
    "cp1250": _MIDDLE,
    "cp1251": _SLAVIC,
    "cp1253": ("Greek",),
    "cp1254": ("Turkish",),
    "cp1257": _BALTIC,
    "cp1255": ("Hebrew",),
    "cp1256": ("Arabic",),
    "iso-8859-2": _MIDDLE,
    "iso-8859-15": _WEST,
    "iso-8859-5": _SLAVIC,
    "iso-8859-7": ("Greek",),
    "iso-8859-6": ("Arabic",),
    "iso-8859-8": ("Hebrew",),
    "iso-8859-9": ("Turkish",),
    "iso-8859-13": _BALTIC,
    "koi8-r": ("Russian", "Bulgarian"),
    "koi8-u": ("Ukrainian",),
    "cp866": ("Russian", "Bulgarian"),
    "cp850": _WEST,
    "cp852": _MIDDLE,
    "cp857": ("Turkish",),
    "mac-roman": _WEST,
    "cp949": (),
    "shift_jis": (),
    "cp932": (),
    "euc-jp": (),
    "gb18030": (),
    "big5": (),
}
"""Languages by code page, the commonest page first of those that fit."""
RARE = frozenset(("koi8-r", "koi8-u", "cp866", "mac-roman", "euc-jp", "iso-8859-13"))
"""Pages that few programs have written of late: common practice, no source."""


_AMONG_PLAIN = log(10)
"""Of the letters of a language in Latin ones, one in ten or fewer is beyond ASCII."""


class Alphabet(NamedTuple):
    """Letters of a language, each with what it costs: the logarithm of how unlikely it is.

    Attributes:
        costs: by small letter.
        strange: the cost of any other.
    """

    costs: Mapping[str, float]
    strange: float


@cache
def alphabets(page: str) -> tuple[Alphabet, ...]:
    """What a text of one language in a code page is made of, and one of all its languages."""
    if languages := PAGES[page]:
        sets = [_LETTERS[name] for name in languages]
        latin = _AMONG_PLAIN * (languages[0] not in _OTHER_SCRIPTS)
        return tuple(_alphabet((some,), latin) for some in (*sets, frozenset().union(*sets)))
    known = {"cp932": "shift_jis", "euc-jp": "shift_jis"}.get(page, page)
    codec, first, second = _ROWS[known]
    pairs = (bytes((one, other)) for one in first for other in second)
    usual = frozenset("".join(pair.decode(codec, "ignore") for pair in pairs))
    return (_alphabet((usual, _KANA) if known == "shift_jis" else (usual,), 0.0),)


def _alphabet(sets: Sequence[frozenset[str]], more: float) -> Alphabet:
    """Letters of several sets, each set as likely as another."""
    costs = {letter: log(len(sets) * len(some)) + more for some in sets for letter in some}
    return Alphabet(costs, max(costs.values()) + _STRANGE)
