"""Members of instruments that no single key fills: of both units at once, or a list of keys."""

from collections.abc import Callable, Mapping, Sequence

from sweepbook.draft import phrases
from sweepbook.draft.field_times import Filled
from sweepbook.draft.key_offers import ENOUGH, share_of_instrument, steps_of
from sweepbook.draft.key_words import ADAPTORS, EQUIPMENT, INSTRUMENTS, REFERENCES
from sweepbook.draft.trade_words import FIRMWARE, SOFTWARE

_FIRMWARE = "test.near.instrument.firmware"
_BESIDE = {"maker": "link.cable.maker", "model": "link.cable.part"}
"""Members of both instruments that a key may fill alone, and where the same of a cable stands."""
Properties = Mapping[str, Sequence[str]]


def complete_instruments(
    found: dict[str, Filled],
    properties: Properties,
    used: set[str],
    fits: Callable[[str, str, Sequence[str]], bool],
) -> None:
    """What is called remote beside the same without a word for an end is of the far instrument."""
    for far in [path for path in found if path.startswith("test.far.instrument.")]:
        near, member = far.replace("far", "near", 1), far.removeprefix("test.far.")
        for key, texts in properties.items():
            if near in found or key in used or not fits(near, key, texts):
                continue
            if share_of_instrument(key, member) >= ENOUGH:
                found[near] = Filled(near, (key,), texts)
                used.add(key)


def share_makers(found: dict[str, Filled], properties: Properties, used: set[str]) -> None:
    """A maker or model by itself is that of both instruments, where the cable has its own."""
    for member, of_cable in _BESIDE.items():
        near, far = (f"test.{end}.instrument.{member}" for end in ("near", "far"))
        words = [
            word for name, some in EQUIPMENT if name == f"instrument.{member}" for word in some
        ]
        if of_cable not in found or near in found or far in found:
            continue
        for key, texts in properties.items():
            if key not in used and texts and phrases.whole(key.rpartition("/")[2], words):
                found[near], found[far] = Filled(near, (key,), texts), Filled(far, (key,), texts)
                used.add(key)
                break


def take_references(found: dict[str, Filled], properties: Properties, used: set[str]) -> None:
    """The units and adaptors that a field reference was made with, a key each."""
    for member, words in (("units", INSTRUMENTS), ("adaptors", ADAPTORS)):
        path = f"test.field_reference.{member}"
        keys = [
            key
            for key, texts in properties.items()
            if key not in used
            and any(any(map(str.isdigit, text)) for text in texts)
            and phrases.has(key, REFERENCES)
            and phrases.has(key, words)
        ]
        if keys and path not in found:
            texts = [text for key in keys for text in properties[key]]
            found[path] = Filled(path, tuple(keys), texts)
            used.update(keys)


def take_firmware(found: dict[str, Filled], properties: Properties, used: set[str]) -> None:
    """The one firmware that an export names without an end is that of the near instrument."""
    if any(path.endswith("instrument.firmware") for path in found):
        return
    versions = {
        key: texts
        for key, texts in properties.items()
        if key not in used and texts and all(any(map(str.isdigit, text)) for text in texts)
    }
    named = [key for key in versions if phrases.has(key, FIRMWARE)]
    for key in [*named, *filter(_names_software, versions)][:1]:
        found[_FIRMWARE] = Filled(_FIRMWARE, (key,), versions[key])
        used.add(key)


def _names_software(key: str) -> bool:
    """Whether a key names software, and an instrument beside it or around."""
    *around, last = steps_of(key)
    if not phrases.has(last, SOFTWARE):
        return False
    inside = bool(around) and phrases.whole(around[-1].partition("[")[0], INSTRUMENTS)
    return inside or phrases.has(last, INSTRUMENTS)
