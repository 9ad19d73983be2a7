"""What a single figure is, by the words of its name and by its texts.

Keys, titles, rows, elements and attributes are all told here.
"""

import re
from collections.abc import Hashable, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple, TypeVar

from sweepbook.draft import phrases, spellings, worst_told
from sweepbook.draft.absent_words import says
from sweepbook.draft.numbers import is_numeric, unit_named
from sweepbook.draft.parsed import PLACEHOLDER
from sweepbook.draft.trade_words import AT, FIGURES, FREQUENCY, VERDICT_KEYS
from sweepbook.draft.verdicts import are_verdicts, asks_for_a_pass, states_none

OF_MARGIN, OF_VALUE = "worst_margin", "worst_value"
MARGIN_ROLE, VALUE_ROLE = f"{OF_MARGIN}.margin", f"{OF_VALUE}.value"
_IN_DB = re.compile(
    r"(?:[\s_.(\[-]+(?:db|дб|分贝)|(?<=[a-z])d[bB])[)\]]?$|(?<=[a-zà-ÿ])D[bB]$", re.IGNORECASE
)
"""A unit of losses behind a name."""
_AT = spellings.expression(AT)
_ANCHORS = (MARGIN_ROLE, VALUE_ROLE)
"""What limits and frequencies may stand beside; the first of these counts."""

Key = TypeVar("Key", bound=Hashable)


class Kind(NamedTuple):
    """What the words of a name say of a figure.

    Attributes:
        of: word of `trade_words.FIGURES`, or "".
        at: whether it is the frequency at which that is.
    """

    of: str
    at: bool


@lru_cache(maxsize=4096)
def kind_of(name: str) -> Kind:
    """The kind that a title, key, path or template names.

    What stands behind "at" says where a figure is, and not what: "limit at the worst margin".
    Nothing in decibels is a frequency.
    """
    whole = PLACEHOLDER.sub(" ", name).strip()
    text = without_db(whole)
    in_db = text != whole or phrases.has(text, ("db",))
    asked = not in_db and (
        unit_named(text) is not None or phrases.has(text, FREQUENCY) or text in ("f", "F")
    )
    if not asked and (match := _AT.search(text)):
        before, behind = text[: match.start()], text[match.end() :]
        if any(map(str.isalpha, before)) and any(map(str.isalpha, behind)):
            text = before
        else:
            asked = not in_db
    return Kind(next((of for of, words in FIGURES.items() if phrases.has(text, words)), ""), asked)


def without_db(name: str) -> str:
    """A name without the unit of losses behind it."""
    return _IN_DB.sub("", name)


def is_margin(name: str) -> bool:
    """Whether a name is that of margins."""
    return kind_of(name) == Kind("margin", at=False)


def is_at(name: str) -> bool:
    """Whether a name is that of the frequencies of what is stated."""
    return kind_of(name).at


def role_of(name: str, texts: Sequence[str], beside: str = "") -> str | None:
    """What a single figure is: its role in a dialect; None where that cannot be told.

    Args:
        name: a title, a key, a path, a template.
        texts: that stand there.
        beside: "worst_margin" or "worst_value" where such a figure stands beside, so that a limit
            or a frequency is that of it. A number beside a margin is the value there, and no
            figure of its own.
    """
    kind, at = kind_of(name)
    said = [text for text in texts if not states_none(text)]
    numbers = sum(is_numeric(text.partition(" ")[0]) for text in said)
    numeric = 0 < numbers == len(said)
    judged = are_verdicts(said) and asks_for_a_pass(PLACEHOLDER.sub(" ", name), said)
    if judged and (phrases.has(name, VERDICT_KEYS) or min(map(len, said)) > 1):
        return "verdict"  # of a margin, perhaps; a lone letter may as well be an end
    if kind == "margin" or (kind == "worst" and not worst_told.is_which_end(name)):
        role = MARGIN_ROLE if kind == "margin" else VALUE_ROLE
        role = f"{role.partition('.')[0]}.frequency" if at else role
        return role if numbers * 2 >= len(said) else None
    if kind == "limit":
        return f"{beside}.limit" if beside and numeric and not at else None
    if kind in ("worst", "accuracy"):
        return kind if kind == "accuracy" else None
    if judged or (kind == "verdict" and not numeric):
        return "verdict"
    if not numeric:
        return None
    if at:
        return f"{beside}.frequency" if beside else "frequency"
    return "value" if beside != OF_MARGIN else None


def needs_no_pairs(role: str) -> bool:
    """Whether a figure may be of a whole parameter, whatever pairs that has."""
    return role in ("verdict", "accuracy") or role.startswith("worst")


def together(
    named: Mapping[Key, tuple[str, Sequence[str]]], shown: Mapping[str, Key] | None = None
) -> dict[str, Key]:
    """What figures that stand side by side are: the first of each role.

    Of several frequencies each goes with what stands before it. A measured value beside a margin
    is the one at its frequency, and no worst value, unless its name says so.

    Args:
        named: name of each, and its texts; of columns these are in the order of the rows.
        shown: by role what is told by its numbers or its place, where no name says it.
    """
    by_name = {role: key for key in [*named][::-1] if (role := role_of(*named[key]))}
    anchors = {of: key for of, key in {**(shown or {}), **by_name}.items() if of in _ANCHORS}
    roles = {key: role for role, key in anchors.items()}
    group = next((of.partition(".")[0] for of in _ANCHORS if of in anchors), "")
    anchor = next((anchors[of] for of in _ANCHORS if of in anchors), None)
    several = sum(is_at(name) for name, _ in named.values()) > 1
    found: dict[str, Key] = {}
    for key, (name, texts) in named.items():
        shared = anchor is not None and _share_rows(texts, named[anchor][1])
        role = roles.get(key) or role_of(name, texts, group if shared else "")
        if role == "verdict" and _is_mark(texts):
            continue
        if role and several and "." in role and not role.endswith(".frequency"):
            group = role.partition(".")[0]
        if role:
            found.setdefault(role, key)
    return _whole(found)


def _is_mark(texts: Sequence[str]) -> bool:
    """Whether the same text, which is no word for a verdict, stands on every row."""
    return len(texts) > 1 and len(set(texts)) == 1 and not are_verdicts(texts)


def _share_rows(texts: Sequence[str], others: Sequence[str]) -> bool:
    """Whether two columns both say something in some row."""
    return any(says(one) and says(two) for one, two in zip(texts, others, strict=False))


def _whole(found: dict[str, Key]) -> dict[str, Key]:
    """Roles without those of a group that is not there; a worst frequency may be of the margin."""
    at = found.get(f"{OF_VALUE}.frequency")
    if at is not None and VALUE_ROLE not in found and MARGIN_ROLE in found:
        found.setdefault(f"{OF_MARGIN}.frequency", at)
    lacking = {of.partition(".")[0] for of in _ANCHORS if of not in found}
    return {role: key for role, key in found.items() if role.partition(".")[0] not in lacking}
