"""Whether the cabling of a record is screened, and whether the record leaves that in the dark."""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

_CONSTRUCTION = re.compile(r"(?<![a-z])(?:(u|f|s|sf)[/-]?)?(u|f|s)tp(?![a-z])")
"""Overall screen / element screen of ISO/IEC 11801 (recalled): none, foil, braid; also "UTP"."""

_WORDS = {
    "unscreened": False, "unshielded": False, "screened": True, "shielded": True, "pimf": True,
}  # fmt: skip
"""Plain words of the trade, PiMF being pairs in metal foil: common practice, no source."""

_NOTHING = frozenset({"n/a", "na", "none", "not known", "not stated", "unknown", "unspecified"})
"""Texts in a field that nobody filled in; so are those without any letter."""


def is_screened(document: Mapping[str, Any]) -> bool | None:
    """Whether the cabling is screened; None where the record does not tell.

    The cable's construction says so (ISO/IEC 11801 writes overall screen / element screen: U/UTP
    has neither); without it, a screen that was found continuous or open says there is one.
    """
    told = _told(_construction(document))
    if told is not None:
        return told
    screen = document.get("results", {}).get("wire_map", {}).get("screen")
    return {"continuous": True, "open": True, "none": False}.get(str(screen))


def hint_of_screen(document: Mapping[str, Any]) -> str:
    """What hints at a screen where `is_screened` cannot tell, in words; "" for nothing.

    A construction in other words than those of ISO/IEC 11801, or a connector with a screen.
    """
    if is_screened(document) is not None:
        return ""
    link = document.get("link", {})
    construction = _construction(document)
    if construction:
        return f"the cable's construction is given as {construction!r}"
    for end in ("near", "far"):
        if link.get(end, {}).get("connector", {}).get("screened") is True:
            return f"the connector at the {end} end has a screen"
    return ""


@lru_cache(maxsize=64)
def _told(construction: str) -> bool | None:
    """What the cable's construction says; None for nothing, or for two different things."""
    text = re.sub(r"\s*/\s*", "/", construction.casefold())
    text = re.sub(r"\b(?:non|not|un)[ -]+(?=screened|shielded)", "un", text)
    said = {set("".join(one.groups(""))) != {"u"} for one in _CONSTRUCTION.finditer(text)}
    said |= {_WORDS[word] for word in re.findall("[a-z]+", text) if word in _WORDS}
    return said.pop() if len(said) == 1 else None


def _construction(document: Mapping[str, Any]) -> str:
    """The cable's construction as stated; "" where nothing is."""
    text = str(document.get("link", {}).get("cable", {}).get("construction") or "").strip()
    filled = text.casefold() not in _NOTHING and any(map(str.isalpha, text))
    return text if filled else ""
