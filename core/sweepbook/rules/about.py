"""What a run keeps of a record beside its sweeps: units, origin, figures, cable, order of pairs."""

import hashlib
import math
import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from sys import intern
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from sweepbook.judging.assessment import PairOrder
from sweepbook.judging.digits import half_digit
from sweepbook.judging.pair_order import hangs_on_order

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment

ENDS = ("near", "far")
CABLE = ("maker", "part", "category", "construction", "reel")
LEVELS = ("site", "building", "floor", "space", "cabinet", "unit", "panel", "port")
_AROUND = frozenset(LEVELS) - {"unit", "port"}
"""Levels within which a termination has a label of its own."""
COMPARED = ("insertion_loss", "return_loss", "next", "psnext", "acr_f", "psacr_f")
"""Parameters by whose worst margins a record is known."""
SIZES = ("delay_ns", "length_m", "resistance_ohm", "unbalance_percent", "value_db")


class About(NamedTuple):
    """A few hundred bytes, and plain data that is soon written and read.

    Attributes:
        unit: serial number of the near instrument, else of the far one; "" for none.
        calibration: days of that unit's calibration as stated, "" for none.
        source: digest of the export that it was read from.
        position: where in that export, by the first number of the locator; -1 for none.
        figures: digest of its single figures and stated margins; b"" for none.
        figure_count: how many those are.
        cable: maker and part of the cable; "" for none.
        cable_texts: what is stated of the cable by `CABLE`; "" for what is not.
        places: levels of the place of either end by `LEVELS`; "" for what is not stated.
        nvp: of that cable, None where it is not stated.
        length_m: of the shortest pair, None where none is measured.
        terminations: labels of both ends; "" for none, and for one without a digit.
        computed: worst margin of each of `COMPARED` in dB, float32; NaN for none.
        stated: the stated one of each, float32; NaN for none.
        halves: half a last digit of each of those, float32.
        mapping: program, reader, name and digest of the dialect by which it was read; () where
            neither a reader nor a dialect is told.
        tester: maker and model of the near instrument, else of the far one; () for none.
        pair_order: which order of its pairs its ACR-F goes with; not asked also where it does not
            show that and no verdict hangs on it.
    """

    unit: str
    calibration: str
    source: str
    position: int
    figures: bytes
    figure_count: int
    cable: str
    cable_texts: tuple[str, ...]
    places: tuple[tuple[str, ...], tuple[str, ...]]
    nvp: float | None
    length_m: float | None
    terminations: tuple[str, str]
    computed: bytes
    stated: bytes
    halves: bytes
    mapping: tuple[str, ...]
    tester: tuple[str, ...]
    pair_order: PairOrder

    @property
    def terminations_in_place(self) -> tuple[str, ...]:
        """The labels of the ends that have one, each after its place."""
        return tuple(
            "|".join(
                [*(of for level, of in zip(LEVELS, place, strict=True) if level in _AROUND), end]
            )
            for place, end in zip(self.places, self.terminations, strict=True)
            if end
        )


def about(assessment: "Assessment") -> About:
    """Keep what the rules about the set need of a record that follows its schema."""
    document = assessment.record.document
    test, link = document["test"], document["link"]
    units: list[dict[str, str]] = [test.get(end, {}).get("instrument", {}) for end in ENDS]
    unit: dict[str, str] = next((one for one in units if "serial" in one), {})
    model: dict[str, str] = next((one for one in units if "model" in one), {})
    origin = document["origin"][0]
    number = re.search(r"\d+", origin["locator"])
    digest, count = _figures(document)
    cable = link.get("cable", {})
    stated, halves = _stated(document)
    return About(
        unit=intern(unit.get("serial", "")),
        calibration=intern(
            f"{unit.get('calibrated_on', '')}/{unit.get('calibration_due', '')}".strip("/")
        ),
        source=intern(origin["sha256"]),
        position=int(number.group()) if number else -1,
        figures=digest,
        figure_count=count,
        cable=intern(f"{cable.get('maker', '')} {cable['part']}") if "part" in cable else "",
        cable_texts=_kept(*(cable.get(part, "") for part in CABLE)),
        places=(_place(link, "near"), _place(link, "far")),
        nvp=cable.get("nvp"),
        length_m=_length(document["results"].get("scalars", ())),
        terminations=(_termination(link, "near"), _termination(link, "far")),
        computed=_computed(assessment),
        stated=stated,
        halves=halves,
        mapping=_mapping(document.get("provenance", {})),
        tester=_kept(model.get("maker", ""), model["model"]) if model else (),
        pair_order=_pair_order(assessment),
    )


@lru_cache(maxsize=4096)
def _kept(*texts: str) -> tuple[str, ...]:
    """Texts that many records share, held once, alone and together."""
    return tuple(map(intern, texts))


def _mapping(provenance: dict[str, Any]) -> tuple[str, ...]:
    """By what a record was read."""
    reader, dialect = provenance.get("reader", ""), provenance.get("dialect", {})
    if not (reader or dialect):
        return ()
    return _kept(provenance["program"], reader, dialect.get("name", ""), dialect.get("sha256", ""))


def _pair_order(assessment: "Assessment") -> PairOrder:
    order = assessment.pair_order
    silent = order is PairOrder.NOT_SHOWN and not hangs_on_order(assessment)
    return PairOrder.NOT_ASKED if silent else order


def _place(link: dict[str, Any], end: str) -> tuple[str, ...]:
    place = link.get(end, {}).get("place", {})
    return _kept(*(place.get(level, "") for level in LEVELS))


def _figures(document: dict[str, Any]) -> tuple[bytes, int]:
    """Digest and number of the single figures and stated margins, in an order of their own."""
    texts = [
        f"{one['parameter']} {one['pairs']} {one[size]!r}"
        for one in document["results"].get("scalars", ())
        for size in SIZES
        if size in one
    ]
    for item in document.get("stated", {}).get("items", ()):
        for figure in ("worst_margin", "worst_value"):
            if figure in item:
                place = f"{item['parameter']} {item.get('end')} {item.get('pairs')} {figure}"
                texts.append(f"{place} {sorted(item[figure].items())!r}")
    if not texts:
        return b"", 0
    return hashlib.sha256("\n".join(sorted(texts)).encode()).digest()[:16], len(texts)


def _length(scalars: Iterable[Mapping[str, Any]]) -> float | None:
    """Of the pairs that are measured the shortest, in metres."""
    told = [one["length_m"] for one in scalars if "length_m" in one]
    return min((float(one) for one in told if 0 < one < math.inf), default=None)


def _computed(assessment: "Assessment") -> bytes:
    found: dict[str, list[float]] = {}
    for margin in assessment.margins:
        if margin.worst_margin_db is not None:  # a finite number
            found.setdefault(margin.parameter, []).append(margin.worst_margin_db)
    return _single({name: min(found[name]) for name in COMPARED if name in found})


def _stated(document: dict[str, Any]) -> tuple[bytes, bytes]:
    worst: dict[str, float] = {}
    halves: dict[str, float] = {}
    for item in document.get("stated", {}).get("items", ()):
        margin, parameter = item.get("worst_margin", {}), item["parameter"]
        if parameter in COMPARED and "margin_db" in margin:
            worst[parameter] = _least(worst, parameter, margin["margin_db"])
            halves[parameter] = half_digit(margin)
    return _single(worst), _single(halves)


def _least(worst: dict[str, float], parameter: str, margin: float) -> float:
    """The least so far; a number goes before NaN."""
    before = worst.get(parameter, math.nan)
    return before if before <= margin or math.isnan(margin) else margin


def _single(figures: dict[str, float]) -> bytes:
    """One figure each of `COMPARED`; infinite where it is beyond single precision."""
    with np.errstate(over="ignore"):
        every = [figures.get(parameter, math.nan) for parameter in COMPARED]
        return np.array(every, dtype=np.float64).astype(np.float32).tobytes()


def _termination(link: dict[str, Any], end: str) -> str:
    """The label of an end; "" without one, or where it names no number."""
    label: str = link.get(end, {}).get("termination", "")
    return label if any(map(str.isdigit, label)) else ""
