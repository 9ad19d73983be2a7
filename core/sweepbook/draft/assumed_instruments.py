"""Make and model, number and version of a tester that an export names without an end."""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from sweepbook.draft import dates, phrases
from sweepbook.draft.field_times import Filled
from sweepbook.draft.key_offers import chosen_by, names_an_end, steps_of
from sweepbook.draft.key_words import CABLES, EQUIPMENT, INSIDE, INSTRUMENTS, PARTS, VERSIONS
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.trade_words import FIRMWARE, SOFTWARE
from sweepbook.word_lists import words_of

_NEAR = "test.near.instrument."
_MODEL, _SERIAL, _FIRMWARE = "model", "serial", "firmware"
_OF_ITS_OWN = "no key says of which unit this is; the one that is named is taken for the near one"
_OF_A_MODEL = "called after a tester, and reads as make and model; it stands for the near unit"
_OF_A_SERIAL = "the number beside a tester that is named is that of its near unit"
_OF_A_VERSION = "the version right behind a tester that is named is that of its firmware"
_OF_ONE_TEXT = "its text names a tester, and what else is known of it; of the near unit"
_OF_ITS_WORD = "beside a tester that is named, and says itself what it is; of the near unit"
_INSIDE = {
    member: [
        word
        for name, some in (*EQUIPMENT, *INSIDE)
        for word in some
        if name == f"instrument.{member}" and word not in INSTRUMENTS
    ]
    for member in (_MODEL, _SERIAL, _FIRMWARE)
}
"""The keys of a member inside of what is called an instrument."""
_SERIALS = tuple(
    word
    for member, some in EQUIPMENT
    for word in some
    if member == "instrument.serial" and word not in INSTRUMENTS
)
_MODELS = tuple(word for name, some in EQUIPMENT for word in some if name == f"instrument.{_MODEL}")
_OF_OTHERS = (*PARTS, *CABLES)
"""What has a number of its own and is no instrument."""
_WORDS_OF = {
    _SERIAL: (*_SERIALS, *_INSIDE[_SERIAL]),
    _FIRMWARE: (*VERSIONS, *FIRMWARE, *SOFTWARE),
}
_BETWEEN = re.compile(r"(\s*[,;|/]\s+|\s+[-\u2013]\s+)")
_TWO_PARTS = 3
"""Pieces of a text of two parts, with what stands between."""
_OF_EITHER = words_of("messgerät")
"""Words for a tester that name the near unit only beside another for the far one."""
_WITH_A_WORD = re.compile(r"([^\W\d_][^0-9]*?[\s.:#]+)(\S*[0-9]\S*)")
_NAMED = re.compile(r"[^\W\d_]{3}")
_NUMBERED = re.compile(r"[0-9]")
_TYPE = re.compile(r"[^\W\d_]{1,4}-?[0-9]")
"""What a name of a type begins with that stands ahead: "QT-40 analyser"."""
_RELEASE = re.compile(r"\D{0,6}[0-9]+(?:[.,-][0-9]+)*(?:\w|-[^\W\d_]\w{0,7})?(?: .*)?")
_RELEASE_OF_PARTS = re.compile(r"[vV]?[0-9]+(?:\.[0-9]+)+\w?")
"""A release and nothing else: what a program of an instrument is called may be a kind of test."""
_NUMBER = re.compile(r"(?:[A-Z0-9]{1,5} )?\S*[0-9]\S*")
_WORDS = re.compile(r"[\s/]+")

Properties = Mapping[str, Sequence[str]]


def of_testers(properties: Properties, filled: Sequence[Filled]) -> Iterator[Filled]:
    """What is assumed of the tester where no key says it of one of its units.

    Args:
        properties: distinct texts by key, in the order of the export.
        filled: members that keys fill for certain.
    """
    found = [*_named(properties, filled)]
    yield from found
    yield from _model_beside(properties, [*filled, *found])


def _model_beside(properties: Properties, filled: Sequence[Filled]) -> Iterator[Filled]:
    """The model that stands where both number and firmware of a tester do."""
    if any(one.path.endswith(f".instrument.{_MODEL}") for one in filled):
        return
    serials, versions = (
        {key.rpartition("/")[0] for one in filled if one.path == f"{_NEAR}{of}" for key in one.keys}
        for of in (_SERIAL, _FIRMWARE)
    )
    used = {key for one in filled for key in one.keys}
    models = [
        key
        for key, texts in properties.items()
        if key.rpartition("/")[0] in serials & versions
        and key not in used
        and phrases.whole(_last(key), _MODELS)
        and not names_an_end(key)
        and any(texts)
        and not any(map(_is_else, texts))
    ]
    for key in models if len(models) == 1 else ():
        yield Filled(f"{_NEAR}{_MODEL}", (key,), properties[key], why=_OF_ITS_OWN)


def _named(properties: Properties, filled: Sequence[Filled]) -> Iterator[Filled]:
    """The same, without a model that nothing but what stands beside it shows to be a tester's."""
    used = {key for one in filled for key in one.keys}
    known = {one.path.rpartition(".")[2] for one in filled if ".instrument." in one.path}
    keys = [key for key, texts in properties.items() if any(texts)]
    free = [key for key in keys if key not in used and not phrases.has(key, _OF_OTHERS)]
    models = [key for key in free if _is_a_tester(key) and all(map(_is_a_model, properties[key]))]
    testers = {key.rpartition("/")[0] for key in models}
    called = [key for key in free if _asks_for_a_serial(key)]  # of which a test may hold none
    serials = [key for key in called if all(map(_NUMBER.fullmatch, properties[key]))]
    beside = [key for key in serials if key.rpartition("/")[0] in testers]
    if models and (parts := _in_one_text(models[0], properties[models[0]])):
        parts = [one for one in parts if one.path.rpartition(".")[2] not in known]
        known |= {one.path.rpartition(".")[2] for one in parts}
        yield from parts
    after = {*models, *(key for key in called if key.rpartition("/")[0] in testers)}
    behind = [key for before, key in pairwise(keys) if before in after]
    versions = [key for key in behind if key in free and _is_a_version(key, properties[key])]
    for member, told, why in (
        (_MODEL, models[:1], _OF_A_MODEL),
        (_SERIAL, beside[:1], _OF_A_SERIAL),
        (_SERIAL, [key for key in serials if _are_no_count(properties[key])], _OF_ITS_OWN),
        (_FIRMWARE, versions[:1], _OF_A_VERSION),
    ):
        inside = [key for key in free if _is_inside(key, _INSIDE[member])]
        if member == _FIRMWARE and not inside:
            programs = [key for key in free if _is_inside(key, VERSIONS)]
            inside = [key for key in programs if _are_releases(properties[key])]
        chosen, said = (inside, _OF_ITS_OWN) if inside else (told, why)
        if member not in known and len(chosen) == 1:
            known.add(member)
            yield Filled(f"{_NEAR}{member}", (chosen[0],), properties[chosen[0]], why=said)
    for one in _told_by_words(models[:1], free, properties):
        if one.path.rpartition(".")[2] not in known:
            known.add(one.path.rpartition(".")[2])
            yield one


def _told_by_words(
    models: Sequence[str], free: Sequence[str], properties: Properties
) -> Iterator[Filled]:
    """What further texts beside a tester say themselves: "No. 4471", "Software 3.1"."""
    for key in free:
        found = [_WITH_A_WORD.fullmatch(text) for text in properties[key]]
        words = {match[1] for match in found if match}
        if not all(found) or len(words) != 1 or key.rpartition("/")[0] not in models:
            continue
        (word,) = words
        for member, names in _WORDS_OF.items():
            if phrases.whole(word, names):
                numbers = [match[2] for match in found if match]
                within = f"{word}{{}}"
                path = f"{_NEAR}{member}"
                yield Filled(path, (key,), numbers, within=within, why=_OF_ITS_WORD)


def _in_one_text(key: str, texts: Sequence[str]) -> list[Filled]:
    """What texts say of a tester one after another: "Wren 4, serial no 17, version 2.1".

    [] where one of the further parts has no word that says what it is.
    """
    rows = [_BETWEEN.split(text) for text in texts]
    told = [[_WITH_A_WORD.fullmatch(part) for part in row[2::2]] for row in rows]
    forms = {
        (*row[1::2], *(of[1] for of in some if of)) for row, some in zip(rows, told, strict=True)
    }
    if len(forms) != 1 or len(rows[0]) < _TWO_PARTS or not all(map(all, told)):
        return []
    marks, words = rows[0][1::2], [of[1] for of in told[0] if of]
    members = [_member_of(word) for word in words]
    if None in members or len({*members}) < len(members):
        return []
    made = []
    for at, member in enumerate((_MODEL, *members)):
        before = f"{{any}}{marks[at - 1]}{words[at - 1]}" if at else ""
        behind = f"{marks[at]}{words[at]}{{any}}" if at < len(words) else ""
        some = [row[0] if not at else row[2 * at].removeprefix(words[at - 1]) for row in rows]
        within = f"{before}{{}}{behind}"
        made.append(Filled(f"{_NEAR}{member}", (key,), some, within=within, why=_OF_ONE_TEXT))
    return made


def _member_of(word: str) -> str | None:
    """The member of an instrument that a word before a number or a version names."""
    return next((member for member, names in _WORDS_OF.items() if phrases.whole(word, names)), None)


def _is_inside(key: str, words: Sequence[str]) -> bool:
    """Whether a key is one of some words within what is called an instrument, not one of two."""
    *around, last = steps_of(key)
    of_it = bool(around) and phrases.whole(around[-1].partition("[")[0], INSTRUMENTS)
    return of_it and not names_an_end(key) and phrases.whole(last.strip("@ "), words)


def _asks_for_a_serial(key: str) -> bool:
    """Whether a key is called after a number of an instrument, and none of its two units."""
    return phrases.whole(_last(key), _SERIALS) and not names_an_end(key)


def _are_no_count(texts: Sequence[str]) -> bool:
    """Whether numbers have letters, which those that count tests have not."""
    return all(any(map(str.isalpha, text)) for text in texts)


def _is_a_version(key: str, texts: Sequence[str]) -> bool:
    """Whether a key is called after a version, and holds one."""
    return phrases.whole(_last(key), VERSIONS) and all(map(_RELEASE.fullmatch, texts))


def _are_releases(texts: Sequence[str]) -> bool:
    """Whether texts are releases of a program, and nothing else."""
    return all(map(_RELEASE_OF_PARTS.fullmatch, texts))


def _is_a_tester(key: str) -> bool:
    """Whether a key is called after an instrument, and none of its two units."""
    last = _last(key)
    of_one = names_an_end(last) and not phrases.whole(last, _OF_EITHER)
    return phrases.whole(last, INSTRUMENTS) and not of_one


def _is_a_model(text: str) -> bool:
    """Whether a text is a name and something with a number: no person, and no number alone."""
    words = [word for word in _WORDS.split(text.strip()) if word]
    named = [word for word in words if _NAMED.match(word) and not phrases.whole(word, INSTRUMENTS)]
    numbered = any(map(_NUMBERED.search, words[1:])) or _TYPE.match(words[0])
    return len(words) > 1 and bool(named) and bool(numbered) and not _is_else(text)


def _is_else(text: str) -> bool:
    return is_numeric(text) or dates.is_day(text)


def _last(key: str) -> str:
    """What a key is called by itself."""
    return chosen_by(key) or steps_of(key)[-1].strip("@ ")
