"""The wiring scheme of each test, where pairs are named by number or colour.

T568A and T568B differ in which contacts pairs 2 and 3, orange and green, go to: 1-2 and 3-6
(ANSI/TIA-568, recalled). So what was read under the one is under the other with these exchanged.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from sweepbook import toml
from sweepbook.dialect.raw import Cell, Fault, Name, RawTest
from sweepbook.dialect.words import COLOURS, PAIR_WORDS

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect

_SAID = re.compile(r"(?:(?:ANSI/|EIA/)*TIA[- ]?)?T?[- ]?568[- ]?([AB])", re.IGNORECASE)
"""A text that is the name of a scheme and nothing else."""
_EXCHANGED = {"1-2": "3-6", "3-6": "1-2"}


@dataclass(frozen=True, slots=True)
class Wiring:
    """How the links of an export are wired.

    Attributes:
        scheme: that by which its pairs are read; "" where their contacts are declared themselves.
        key: of the text that says which scheme a test is wired to; "" where all are by the one.
    """

    scheme: str = ""
    key: str = ""


def build(table: Mapping[str, str], pairs: Mapping[str, object]) -> Wiring:
    """What a dialect says of wiring.

    Args:
        table: the table `wiring`.
        pairs: spellings by words for pairs.

    Raises:
        ValueError: tests are told apart by scheme, and pairs by their contacts.
    """
    by_scheme = {COLOURS.get(word, word) for word in pairs} - {*PAIR_WORDS}
    key = table.get("key", "")
    if key and (not by_scheme or {"1-2", "3-6"} & pairs.keys()):
        raise ValueError(
            "wiring.key: is for exports that name all pairs by number or colour, in words.pairs"
        )
    return Wiring(table.get("scheme", "") if by_scheme else "", key)


def scheme_said(text: str) -> str:
    """The scheme that a text names; "" where it is anything else."""
    said = _SAID.fullmatch(text.strip())
    return f"T568{said[1].upper()}" if said else ""


def of_test(dialect: "Dialect", test: RawTest) -> "tuple[Dialect, RawTest]":
    """The dialect and the test by the scheme that the test is wired to.

    A fault is added where it says another scheme than that by which its pairs were read, and the
    dialect does not say that it may.
    """
    wiring = dialect.meaning.wiring
    if not wiring.scheme:
        return dialect, test
    if not wiring.key:
        faults = [*_others(dialect, test)]
        return dialect, replace(test, faults=[*test.faults, *faults]) if faults else test
    cell = test.properties.get(wiring.key)
    scheme = scheme_said(cell.text) if cell else ""
    if cell is None or not scheme:
        what = f"{cell.text!r} is neither T568A nor T568B" if cell else "nothing stands there"
        place = cell.place if cell else test.locator
        fault = Fault(place, f"{what}, under {wiring.key!r}; see wiring.key")
        return dialect, replace(test, faults=[*test.faults, fault])
    if scheme == wiring.scheme:
        return dialect, test
    return _under(dialect, scheme), exchanged(test)


def exchanged(test: RawTest) -> RawTest:
    """A test with 1-2 in place of 3-6, and 3-6 in place of 1-2, in all that a reader named."""
    return replace(
        test,
        curves=[of._replace(name=_name(of.name)) for of in test.curves],
        figures=[of._replace(name=_name(of.name)) for of in test.figures],
        sweeps=[{**of, "pairs": _pairs(of["pairs"])} for of in test.sweeps],
    )


def _name(name: Name) -> Name:
    return name._replace(pairs=tuple(_pairs(name.pairs)))


def _pairs(pairs: Sequence[str]) -> list[str]:
    return [_EXCHANGED.get(pair, pair) for pair in pairs]


def _others(dialect: "Dialect", test: RawTest) -> list[Fault]:
    """Texts that nothing takes and that name another scheme than the dialect's."""
    meaning = dialect.meaning
    texts: dict[str, Cell] = {key: Cell(text, test.locator) for key, text in test.extra.items()}
    texts |= {key: of for key, of in test.properties.items() if key not in meaning.field_keys}
    return [
        Fault(
            cell.place,
            f"{cell.text.strip()!r} stands under {key!r}, and the pairs are read as wired to "
            f"{meaning.wiring.scheme}; see wiring.scheme, or name the key in wiring.key where it "
            "differs from test to test",
        )
        for key, cell in texts.items()
        if scheme_said(cell.text) not in ("", meaning.wiring.scheme)
    ]


@lru_cache(maxsize=32)
def _under(dialect: "Dialect", scheme: str) -> "Dialect":
    """The same dialect with the pairs of another scheme."""
    from sweepbook.dialect.compile import compile_meaning

    document: dict[str, Any] = toml.parsed(dialect.raw)
    meaning, _ = compile_meaning({**document, "wiring": {**document["wiring"], "scheme": scheme}})
    return replace(dialect, meaning=replace(meaning, join_keys=dialect.meaning.join_keys))
