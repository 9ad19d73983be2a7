"""Texts of keys that hold a figure and its limit, such as "62.1 m (limit 90)": taken apart."""

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sweepbook.dialect.several import PLACE
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.document import ASSUMED, Note, Table, one_of
from sweepbook.draft.parsed import UNIT_WORDS
from sweepbook.draft.trade_words import LIMIT

_UNITS = "|".join(map(re.escape, sorted((*UNIT_WORDS, "dB"), key=len, reverse=True)))
_FIGURE = re.compile(
    rf"(?<![\w.,])[+-]?[0-9]+(?:[.,][0-9]+)?(?:\s?(?:{_UNITS})(?!\w))?(?!\w*[0-9])"
)
"""A number with its unit, which stays with it, so that no other is read as the one declared."""
_MOST = ("max", "max.", "maximum", "min", "min.", "minimum")
_MARKS = ("<", "\u2264", ">", "\u2265", "lim")
_LEAST, _MOST_FORMS = 2, 3
VALUE, BESIDE = "value", "limit"
"""What the two texts are called, behind the key."""


class Several(NamedTuple):
    """A key whose texts hold two.

    Attributes:
        key: the key.
        forms: of its texts, the fullest first.
        names: what the texts are called.
        samples: the texts.
    """

    key: str
    forms: tuple[str, ...]
    names: tuple[str, str]
    samples: Sequence[str]


def take_apart(
    properties: Mapping[str, Sequence[str]],
) -> tuple[dict[str, list[str]], list[Several]]:
    """Keys with their texts, those of two texts as two keys; and what was taken apart.

    Args:
        properties: distinct texts by key.
    """
    made: dict[str, list[str]] = {}
    told = []
    for key, texts in properties.items():
        found = _several(key, texts) if phrases.parameter_in(key) else None
        if found is None:
            made[key] = list(texts)
            continue
        told.append(found)
        for name, at in zip(found.names, range(_LEAST), strict=True):
            numbers = [_FIGURE.findall(text)[at : at + 1] for text in texts]
            made[name] = list(dict.fromkeys(text for some in numbers for text in some))
    return made, told


def tables(told: Sequence[Several]) -> list[Table]:
    """The tables `cells`."""
    found = []
    for one in told:
        table = Table("[[cells]]")
        table.add("key", one.key)
        note = Note(ASSUMED, "the first number is the figure, the other its limit", one.samples)
        table.add("form", one_of(list(one.forms)), note)
        table.add("names", list(one.names))
        found.append(table)
    return found


def _several(key: str, texts: Sequence[str]) -> Several | None:
    """How the texts of a key hold a figure and its limit; None where they do not."""
    said = [text for text in texts if text.strip() and not phrases.whole(text, NOT_MEASURED)]
    forms = list(dict.fromkeys(_FIGURE.sub(PLACE, text.strip()) for text in said))
    whole = [form for form in forms if form.count(PLACE) == _LEAST and _states_limit(form)]
    units = {form.split(PLACE)[1].split("(")[0].strip() for form in whole}
    rest = [form for form in forms if form not in whole]
    alone = all(
        form.count(PLACE) == 1 and form.replace(PLACE, "").strip() in units for form in rest
    )
    if not whole or not alone or len(forms) > _MOST_FORMS or any("{" in text for text in said):
        return None
    names = (f"{key}/{VALUE}", f"{key}/{BESIDE}")
    return Several(key, (*whole, *rest), names, said)


def _states_limit(form: str) -> bool:
    """Whether what stands between two numbers, or behind both, says that the other is a limit."""
    first, between, behind = form.split(PLACE)
    said = f"{between} {behind}"
    named = phrases.has(said, (*LIMIT, *_MOST))
    return not first.strip() and (named or any(mark in between for mark in _MARKS))
