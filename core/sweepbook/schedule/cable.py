"""The cable of a schedule beside the one that a test names: where the two contradict."""

import re
from dataclasses import dataclass

_CONSTRUCTION = re.compile(r"(?<![a-z0-9])(sf|s|f|u)\s*/\s*(u|f)?\s*tp(?![a-z0-9])")
"""Overall screen, stroke, element screen, TP: as ISO/IEC 11801-1 writes it (recalled)."""
_CATEGORY = re.compile(
    r"(?<![a-z0-9])(?:category|cat)[\s.-]*([3-8](?:\.[12])?(?:e|a)?)(?![a-z0-9])"
)
_PLAIN_WORDS = frozenset((
    "utp", "ftp", "stp", "screened", "unscreened", "shielded", "unshielded", "twisted", "pair",
    "pairs", "cable", "cables", "data", "copper", "horizontal", "backbone", "solid", "stranded",
    "awg", "lszh", "ls0h", "lsoh", "hffr", "pvc", "cca", "dca", "eca", "indoor", "outdoor",
    "grey", "gray", "white", "black", "blue", "green", "yellow", "orange", "violet", "red", "m",
    "mm", "ohm", "mhz",
))  # fmt: skip
"""What the trade calls cables of any make by: common practice, no source."""
_SHORTEST = 3
"""Letters of a word by which a product is known again."""


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable as a test names it; texts that it does not name are ""."""

    maker: str = ""
    part: str = ""
    category: str = ""
    construction: str = ""
    reel: str = ""

    def __str__(self) -> str:
        told = (self.maker, self.part, self.category, self.construction)
        return " ".join(text for text in told if text)


def contradictions(cable: str, reel: str, tested: Cable) -> tuple[str, ...]:
    """In what the cable of a schedule differs from that of a test.

    A schedule may name a category, a construction, a product, or several of them in one text;
    what only one of the two names contradicts nothing. A product is compared where the schedule
    names neither category nor construction, or names the test's maker; words that describe cables
    of any make name no product.

    Args:
        cable: text of the schedule, "" for none.
        reel: likewise.
        tested: what the test names.

    Returns:
        Some of "category", "construction", "product", "reel".
    """
    text = cable.casefold()
    kinds = {
        "category": _differ(_categories(text), _categories(f"cat {tested.category.casefold()}")),
        "construction": _differ(
            _constructions(text), _constructions(tested.construction.casefold())
        ),
        "product": _other_product(text, tested),
        "reel": bool(reel and tested.reel) and _plain(reel) != _plain(tested.reel),
    }
    return tuple(name for name, differs in kinds.items() if differs)


def _differ(scheduled: set[str], tested: set[str]) -> bool:
    return bool(scheduled and tested) and not scheduled & tested


def _categories(text: str) -> set[str]:
    """Category numbers behind the word: "cat 6a", "category 6a", "cat cat6a" give 6a."""
    return set(_CATEGORY.findall(text))


def _constructions(text: str) -> set[str]:
    return {f"{outer}/{inner}tp" for outer, inner in _CONSTRUCTION.findall(text)}


def _other_product(text: str, tested: Cable) -> bool:
    """Whether the schedule names a product, and it is not the test's."""
    if not tested.part or not _plain(text):
        return False
    described = bool(_categories(text) or _constructions(text))
    if not any(word not in _PLAIN_WORDS and not word.isdigit() for word in _words(text)):
        return False
    maker = _plain(tested.maker)
    if described and not (maker and maker in _plain(text)):
        return False
    rest, part = _plain(text).replace(maker, "", 1), _plain(tested.part).replace(maker, "", 1)
    if not rest or not part or rest in part or part in rest:
        return False
    shared = {word for word in _words(tested.part) if len(word) >= _SHORTEST} & _words(text)
    return not shared


def _plain(text: str) -> str:
    return "".join(re.findall(r"[^\W_]+", text.casefold()))


def _words(text: str) -> set[str]:
    return set(re.findall(r"[^\W_]+", text.casefold()))
