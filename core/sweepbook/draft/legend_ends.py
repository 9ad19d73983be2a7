"""The two ends that an export explains itself: "side A = distributor, side B = outlet"."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from sweepbook.draft import phrases, spellings
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.trade_words import ENDS
from sweepbook.word_lists import words_of

_NEAR = words_of(
    """
    distributor, patch panel, panel, cabinet, rack, tester, main unit, verteiler, etagenverteiler,
    verteilerfeld, schrank, rangierfeld, hauptgerät, répartiteur, panneau, baie, repartidor,
    armario, panel de parcheo, verdeler, patchpaneel, kast, armadio, permutatore, distribuidor,
    armário, rozdzielnia, szafa, panel krosowy, rozvaděč, krydsfelt, fordeler, fördelare
    """
)
_FAR = words_of(
    """
    outlet, telecommunications outlet, work area, socket, far unit, remote unit, dose,
    anschlussdose, datendose, arbeitsplatz, gegenstelle, prise, poste, toma, roseta, puesto,
    wandcontactdoos, werkplek, presa, postazione, tomada, gniazdo, zásuvka, udtag, stikkontakt,
    uttak, uttag, arbetsplats
    """
)
"""Where the two ends of a link are: common practice, no source. Tests begin at the first of them.
"""
_LONGEST = 16
_WORD = re.compile(r"[\w .-]+")


class Ends(NamedTuple):
    """The words for the ends.

    Attributes:
        near, far: as the export writes them.
        texts: what said so.
    """

    near: str
    far: str
    texts: tuple[str, ...]

    def spellings(self) -> list[tuple[str, str]]:
        """The words in small letters, whole and without what comes before their last blank."""
        whole = (self.near.casefold(), self.far.casefold())
        last = (whole[0].rpartition(" ")[2], whole[1].rpartition(" ")[2])
        return [whole] if last == whole or last[0] == last[1] else [whole, last]


def ends_told(groups: Sequence[Sequence[Sequence[str]]]) -> Ends | None:
    """The two words of a group of which one is explained by a near place, the other by a far one.

    None where a word is explained twice and otherwise, since then nobody knows.
    """
    found: list[Ends] = []
    for group in groups:
        sides: dict[str, list[tuple[str, str]]] = {"near": [], "far": []}
        for row in group:
            texts = [text.strip() for text in row if text.strip()]
            if len(texts) == 2 and (said := _said(*texts) or _said(*texts[::-1])):
                side, word = said
                if word not in (known for known, _ in sides[side]):
                    sides[side].append((word, " = ".join(texts)))
        if all(len(some) == 1 for some in sides.values()):
            ((near, one),), ((far, other),) = sides["near"], sides["far"]
            if near != far:
                found.append(Ends(near, far, (one, other)))
    words = {(of.near, of.far) for of in found}
    return found[0] if len(words) == 1 else None


def _said(word: str, place: str) -> tuple[str, str] | None:
    """Near or far, and the word that is explained."""
    if len(word) > _LONGEST or _WORD.fullmatch(word) is None or len(place) > 2 * _LONGEST:
        return None
    if is_numeric(word) and word not in ("1", "2"):
        return None
    if _side(word):
        return None
    side = _side(place)
    return (side, word) if side else None


@lru_cache(maxsize=4096)
def _side(text: str) -> str | None:
    """The side that a text is, by a word of the trade for it or the place it names."""
    if told := _SIDES.get(spellings.folded(text)):
        return told
    span = phrases.find(text, {"near": _NEAR, "far": _FAR})
    return span.meaning if span else None


def _lettered(word: str) -> bool:
    """Whether a word for an end only numbers it: side A, end 1."""
    return len(word) == 1 or word.rpartition(" ")[2] in ("a", "1")


_SIDES = {
    spellings.folded(word): side
    for ends in ENDS
    if not _lettered(ends[0])
    for side, word in zip(("near", "far"), ends, strict=True)
}
"""The sides by the words of the trade that say more than a number."""
