"""Which key of an export fills which member of a record, by its words and its texts."""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence, Set

from sweepbook.dialect.units import UNITS
from sweepbook.draft import dates, phrases, spellings
from sweepbook.draft.field_times import Filled, Joins, join_clock, join_zone
from sweepbook.draft.instrument_fields import (
    complete_instruments,
    share_makers,
    take_firmware,
    take_references,
)
from sweepbook.draft.key_offers import ENOUGH, Offer, offers_of, steps_of
from sweepbook.draft.key_words import CABLES, GENERAL, KEYS, NVP, VERSIONS
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import FIRMWARE, PARAMETERS, SOFTWARE, UNIT
from sweepbook.draft.verdicts import asks_for_a_pass, plain, verdict_of
from sweepbook.word_lists import words_of

_LIMIT = re.compile(
    r"\b(?:(?:TIA|ISO|IEC|EN|AS/NZS)(?![^\W\d_])|cat(?:egory)?\.?\s*-?[5-8]|class\s*[A-F])",
    re.IGNORECASE,
)
_FORMS = {
    "serial": re.compile(
        r"^(?:(?:s/?n|ser\w*|no|nr)?[.:\s]*\S*[0-9]\S*|[A-Z]{1,4}\s(?:[A-Z-]*[0-9]){5,}[A-Z]*)$",
        re.IGNORECASE,
    ),
    "site": re.compile(r"[^\W\d_]"),
    "building": re.compile(r"[^\W\d_]|^\w{1,3}$"),
}
"""What texts look like: a number in one word, unlike a model in two, or a long one behind a few
letters; a site has a name, and a building a name or a short number."""
_DIGIT = re.compile(r"[0-9]")
"""What no word for a verdict has: a wiring scheme does, in an element called after results."""
_CONSTRUCTION = re.compile(r"(?<![A-Z])(?:S|F|SF|U)/[FU]TP(?![A-Z])")
"""Screens of a cable as ISO/IEC 11801-1, annex E, names them (recalled): a type of cable has them.
"""
_NVP = re.compile(
    rf"((?:{'|'.join(map(spellings.joined, NVP))})[\s:=]+)([0-9]+(?:[.,][0-9]+)?\s?%?)",
    re.IGNORECASE,
)
"""The velocity of a cable with its name before it."""
_UNITS = {
    spellings.folded(text)
    for some in UNITS.values()
    for of in some.values()
    for text in of.spellings
}
_LONGEST_VERDICT = 24
_OTHER_DATES = words_of(
    """
    calibration, calibrated, due, reference, exported, export, printed, created, issued, ausgabe,
    ausdruck, gedruckt, druckdatum, exportiert, exportdatum, erstellt, kalibriert, kalibrierung,
    impression, imprimé, exporté, étalonnage, étalonné, impreso, impresión, exportado, exportación,
    calibración, impresso, impressão, exportação, emissão, calibração, stampa, stampato, esportato,
    taratura, afgedrukt, afdruk, geëxporteerd, kalibratie, utskrift, utskriven, udskrift,
    udskrevet, kalibrering, wydruk, eksport, kalibracja
    """
)
"""Days of something else than the test: from memory, no source."""
_VERSIONS = (*VERSIONS, *FIRMWARE, *SOFTWARE)
"""Keys of numbers that may read as days: 3.4.18."""
_NO_ENDS = ("\0", "\0")
_PLACE = "link.near.place."
_SITE = f"{_PLACE}site"
_NO_JOINS = Joins()
_MAY_BE_PEOPLE = words_of(
    "tester, testers, user, examiner, surveyor, person, staff, worker, fitter, mätare, måler"
)
"""Keys that are of who tested where names stand there: a tester may be an instrument."""
_PART_OF_NAME = r"[^\W\d_](?:[^\W\d_]|['’-])*\.?"
_NAME = re.compile(rf"{_PART_OF_NAME}(?:[ ,]{{1,2}}{_PART_OF_NAME}){{1,3}}")
"""The name of a person: words of letters, and initials."""
MUST = ("link.label", "test.limit", "test.started", "stated.overall")


def guess(
    properties: Mapping[str, Sequence[str]],
    ends: Ends | None,
    tests: int = 1,
    joins: Joins = _NO_JOINS,
    own: Set[str] = frozenset(),
) -> list[Filled]:
    """The members that keys fill, each key and each member used once, in the record's order.

    Args:
        properties: distinct texts by key.
        ends: words for near and far.
        tests: how many tests the keys are of, at least.
        joins: of further files, whose keys these are as well.
        own: keys of what stands around tests that hold a text for each test.
    """
    made = _offers(properties, ends)
    offers = sorted(
        (
            -share,
            _means_several(made[key], share),
            _differs(path, texts),
            path == "link.label" and _is_a_bare_name(key),
            rank,
            _is_vague(key),
            place,
            path,
            key,
        )
        for place, (key, texts) in enumerate(properties.items())
        for path, share, rank in made[key]
        if share >= ENOUGH
        and not _is_of_units(key, texts)
        and _fits(path, key, texts)
        and not (path == "link.label" and key.startswith("/") and key not in own)  # tests share it
    )
    labels = [key for *_, path, key in offers if path == "link.label"]
    found: dict[str, Filled] = {}
    used: set[str] = set()
    for *_, path, key in offers:
        if path == "link.label" and _is_poor_label(key, properties, tests, labels):
            continue
        if path not in found and key not in used:
            found[path] = Filled(path, (key,), properties[key])
            used.add(key)
    complete_instruments(found, properties, used, _fits)
    share_makers(found, properties, used)
    take_firmware(found, properties, used)
    _by_texts(found, properties, used, tests, joins)
    _nvp_in_a_text(found, properties, used)
    take_references(found, properties, used)
    join_clock(found, properties, used)
    join_zone(found, properties, used)
    return in_order(found.values())


def _offers(keys: Collection[str], ends: Ends | None) -> dict[str, list[Offer]]:
    """What each key may fill; beside other places one called as one end alone is a place.

    A room is "local" in some languages, and no key is "remote" then.
    """
    made = {key: offers_of(key, ends) for key in keys}
    if ends and any(of.startswith(_PLACE) for some in made.values() for of, _, _ in some):
        last = {key: steps_of(key)[-1].casefold() for key in keys}
        for one, other in (ends, ends[::-1]):
            if other not in last.values():
                made |= {key: offers_of(key, _NO_ENDS) for key in keys if last[key] == one}
    return made


def _means_several(offers: Sequence[Offer], share: float) -> bool:
    """Whether a key may fill several members alike; others go ahead of it."""
    return len({path for path, of, _ in offers if of == share}) > 1


def in_order(filled: Iterable[Filled]) -> list[Filled]:
    """Members in the order of the record."""
    order = [path for path, _ in KEYS]
    return sorted(
        filled, key=lambda one: order.index(one.path) if one.path in order else len(order)
    )


def _nvp_in_a_text(
    found: dict[str, Filled], properties: Mapping[str, Sequence[str]], used: set[str]
) -> None:
    """The velocity where a text names it and its value: "NVP 70 %"."""
    for key, texts in properties.items():
        matches = [_NVP.fullmatch(text.strip()) for text in texts]
        before = {match[1] for match in matches if match}
        if "link.cable.nvp" not in found and key not in used and all(matches) and len(before) == 1:
            values = [match[2] for match in matches if match]
            form = f"{before.pop()}{{}}"
            found["link.cable.nvp"] = Filled("link.cable.nvp", (key,), values, within=form)
            used.add(key)


def _by_texts(
    found: dict[str, Filled],
    properties: Mapping[str, Sequence[str]],
    used: set[str],
    tests: int,
    joins: Joins,
) -> None:
    """Fill what no key is called after by what its texts can only be; times before days alone."""
    properties = dict(
        sorted(properties.items(), key=lambda item: not all(map(dates.is_time, item[1])))
    )
    counts = joins.tests | {tests}
    told = _label(properties, used | joins.keys, counts) or _label(properties, used, counts)
    if "link.label" not in found and told:
        found["link.label"] = Filled("link.label", (told,), properties[told], by_text=True)
        used.add(told)
    for path in (*MUST[1:], "link.cable.part", "test.operator"):
        if path not in found:
            free = [key for key in properties if key not in used and properties[key]]
            telling = [key for key in free if _tells(path, key, properties[key])]
            if path == "test.limit":
                telling.sort(key=_is_of_a_cable)
            for key in telling[:1]:
                named = path == "link.cable.part" and phrases.whole(steps_of(key)[-1], CABLES)
                found[path] = Filled(path, (key,), properties[key], by_text=not named)
                used.add(key)


def _is_of_units(key: str, texts: Sequence[str]) -> bool:
    """Whether a key tells in which units the export is, such as "Configuration/LossUnit"."""
    return bool(texts) and phrases.has(key, UNIT) and all(plain(of) in _UNITS for of in texts)


def _is_poor_label(
    key: str, properties: Mapping[str, Sequence[str]], tests: int, labels: Sequence[str]
) -> bool:
    """Whether tests share a text, or it only counts them, where another key tells them apart.

    Args:
        key: reads as that of the label.
        properties: distinct texts by key.
        tests: how many tests the keys are of, at least.
        labels: all keys that read so.
    """
    texts = properties[key]
    if _counts(texts):
        return _label(properties, {key}, {tests}) is not None
    several = max(len(properties[of]) for of in labels) > 1
    clear = phrases.has(key, KEYS[0][1])  # else it may be the cable's
    if len(texts) < 2 and (several or (tests > 1 and not clear)):
        return True
    vague = _is_vague(key)
    others = [of for of in labels if of != key and (vague or not _is_vague(of))]
    apart = [len(properties[of]) for of in others if not _counts(properties[of])]
    return max(apart, default=0) >= (len(texts) + 1 if vague else 2 * len(texts))


def _counts(texts: Sequence[str]) -> bool:
    """Whether texts are the whole numbers from 1 on."""
    return len(texts) > 1 and list(texts) == [str(number) for number in range(1, len(texts) + 1)]


def _differs(path: str, texts: Sequence[str]) -> int:
    """How far from being shared by all tests the texts for a site are; 0 for other members.

    Of two keys that are called after a site the one that tells the tests apart is a label.
    """
    return len(texts) - 1 if path == _SITE and texts else 0


def _is_vague(key: str) -> bool:
    """Whether a key may as well name the make of the cable, or a number of anything."""
    return phrases.whole(steps_of(key)[-1], (*CABLES, *GENERAL))


def _is_a_bare_name(key: str) -> bool:
    """Whether a key is an id of its own test or record, with nothing that says of what."""
    return len(steps_of(key)) == 1 and phrases.whole(key.strip("@ "), GENERAL)


def _label(
    properties: Mapping[str, Sequence[str]], used: Set[str], tests: Set[int]
) -> str | None:  # fmt: skip
    """The first key whose text is another one in every test, and no date, limit or figure.

    Args:
        properties: distinct texts by key.
        used: keys that are passed over.
        tests: how many tests each file has, of which the keys are.
    """
    known = tests - {1} or {max(map(len, properties.values()), default=0)}
    for key, texts in properties.items():
        told = len(texts) in known and len(texts) > 1
        fits = told and key not in used and _fits("link.label", key, texts)
        if fits and not any(is_numeric(text) for text in texts):
            return key
    return None


def _fits(path: str, key: str, texts: Sequence[str]) -> bool:
    """Whether texts of a key can be what the member holds."""
    if not texts:
        return False
    if path in ("test.started", "test.ended"):
        return all(map(dates.is_day, texts))
    if path.endswith(("calibrated_on", "calibration_due", "field_reference.performed")):
        return all(map(dates.is_day, texts))
    if path == "stated.overall":
        return asks_for_a_pass(key, texts) and not _is_of_a_part(key) and _are_verdicts(texts)
    member = path.rpartition(".")[2]
    if member in _FORMS:
        return any(_FORMS[member].search(text.strip()) for text in texts)
    if path in ("test.ambient_c", "link.cable.nvp"):
        return all(any(char.isdigit() for char in text) for text in texts)
    if path == "link.label":
        return not all(map(_CONSTRUCTION.search, texts)) and not any(
            dates.is_day(text) or dates.is_clock(text) or _LIMIT.search(text) for text in texts
        )
    if path == "test.limit":
        return not all(map(is_numeric, texts))
    return True


def _are_verdicts(texts: Sequence[str]) -> bool:
    """Whether texts can be verdicts, in whatever language."""
    if any(is_numeric(text) or len(text) > _LONGEST_VERDICT for text in texts):
        return False
    return not all(map(_DIGIT.search, texts)) or any(map(verdict_of, texts))


def _is_of_a_part(key: str) -> bool:
    """Whether a key names a parameter or the wire map, so that its verdict is not that of all."""
    return phrases.find(key, PARAMETERS) is not None


def _is_of_a_cable(key: str) -> bool:
    """Whether a key is called after a cable: its category is not the limit of the test."""
    return phrases.has(key, CABLES)


def _is_person(text: str) -> bool:
    """Whether a text reads as the name of a person, each word with a capital."""
    words = text.replace(",", " ").split()
    capitals = all(word[0].isupper() or not word[0].islower() for word in words)
    return capitals and _NAME.fullmatch(text.strip()) is not None


def _tells(path: str, key: str, texts: Sequence[str]) -> bool:
    """Whether texts alone speak for a member, and the key does not speak against it."""
    if path == "test.operator":
        named = phrases.whole(steps_of(key)[-1].strip("@ "), _MAY_BE_PEOPLE)
        return named and all(map(_is_person, texts))
    if path == "test.started":
        others = _OTHER_DATES if all(map(dates.is_time, texts)) else (*_OTHER_DATES, *_VERSIONS)
        return not phrases.has(key, others) and all(map(dates.is_day, texts))
    if path == "stated.overall":
        asked = asks_for_a_pass(key, texts) and not _is_of_a_part(key)
        return asked and all(verdict_of(text) for text in texts)
    are_cables = all(map(_CONSTRUCTION.search, texts))
    if path == "link.cable.part":
        return are_cables
    return not are_cables and all(_LIMIT.search(text) for text in texts)
