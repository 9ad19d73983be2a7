"""Make and model, number and version of a tester that an export names without an end."""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from sweepbook.draft import dates, phrases
from sweepbook.draft.field_times import Filled
from sweepbook.draft.key_offers import chosen_by, names_an_end, steps_of
from sweepbook.draft.key_words import EQUIPMENT, INSTRUMENTS
from sweepbook.draft.numbers import is_numeric
from sweepbook.word_lists import words_of

_NEAR = "test.near.instrument."
_OF_A_MODEL = "called after a tester, and reads as make and model; it stands for the near unit"
_OF_A_SERIAL = "the number beside a tester that is named is that of its near unit"
_OF_A_VERSION = "the version right behind a tester that is named is that of its firmware"
_SERIALS = tuple(
    word
    for member, some in EQUIPMENT
    for word in some
    if member == "instrument.serial" and word not in INSTRUMENTS
)
_VERSIONS = words_of(
    """
    version, ver, release, revision, versione, versión, versão, versie, wersja, verze, versjon,
    версия, 版本, バージョン, sürüm, verzió, 버전
    """
)
_NAMED = re.compile(r"[^\W\d_]{3}")
_NUMBERED = re.compile(r"[0-9]")
_RELEASE = re.compile(r"\D{0,6}[0-9]+(?:[.,-][0-9]+)*\w?(?: .*)?")
_NUMBER = re.compile(r"\S*[0-9]\S*")
_WORDS = re.compile(r"[\s/]+")

Properties = Mapping[str, Sequence[str]]


def of_testers(properties: Properties, filled: Sequence[Filled]) -> Iterator[Filled]:
    """What is assumed of the tester where no key says it of one of its units.

    Args:
        properties: distinct texts by key, in the order of the export.
        filled: members that keys fill for certain.
    """
    used = {key for one in filled for key in one.keys}
    known = {one.path.rpartition(".")[2] for one in filled if ".instrument." in one.path}
    keys = [key for key, texts in properties.items() if any(texts)]
    free = [key for key in keys if key not in used]
    models = [key for key in free if _is_a_tester(key) and all(map(_is_a_model, properties[key]))]
    if "model" not in known:
        yield from (_filled("model", key, properties, _OF_A_MODEL) for key in models[:1])
    testers = {key.rpartition("/")[0] for key in models}
    serials = [
        key
        for key in free
        if key.rpartition("/")[0] in testers
        and phrases.whole(_last(key), _SERIALS)
        and all(map(_NUMBER.fullmatch, properties[key]))
    ]
    if "serial" not in known:
        yield from (_filled("serial", key, properties, _OF_A_SERIAL) for key in serials[:1])
    beside = {*models, *serials}
    versions = [
        key
        for before, key in pairwise(keys)
        if before in beside
        and key in free
        and phrases.whole(_last(key), _VERSIONS)
        and all(map(_RELEASE.fullmatch, properties[key]))
    ]
    if "firmware" not in known:
        yield from (_filled("firmware", key, properties, _OF_A_VERSION) for key in versions[:1])


def _filled(member: str, key: str, properties: Properties, why: str) -> Filled:
    return Filled(f"{_NEAR}{member}", (key,), properties[key], why=why)


def _is_a_tester(key: str) -> bool:
    """Whether a key is called after an instrument, and none of its two units."""
    return phrases.whole(_last(key), INSTRUMENTS) and not names_an_end(_last(key))


def _is_a_model(text: str) -> bool:
    """Whether a text is a name and something with a number: no person, and no number alone."""
    words = [word for word in _WORDS.split(text.strip()) if word]
    named = [word for word in words if _NAMED.match(word) and not phrases.whole(word, INSTRUMENTS)]
    numbered = any(map(_NUMBERED.search, words[1:]))
    return len(words) > 1 and bool(named) and numbered and not _is_else(text)


def _is_else(text: str) -> bool:
    return is_numeric(text) or dates.is_day(text)


def _last(key: str) -> str:
    """What a key is called by itself."""
    return chosen_by(key) or steps_of(key)[-1].strip("@ ")
