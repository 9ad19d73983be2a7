"""Tests with chosen numbers: what an export says and a record must hold.

The numbers are of the right size, no more; curves run as handbooks have it, insertion loss with the
root of frequency, crosstalk falling by 15 dB a decade.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

PAIRS = ("1-2", "3-6", "4-5", "7-8")
COMBINATIONS = [(a, b) for a in PAIRS for b in PAIRS if a < b]
ORDERED = [(a, b) for a in PAIRS for b in PAIRS if a != b]
KHZ = [round(1000 * 1.28**step) for step in range(25)] + [500_000]
_PEOPLE = ("G. Wallhoefer", "T. Norrgard", "Ines Pardal", "B. Kowalik", "Joan Hest")
_MAKERS = ("Drahtwerk Ehlau", "Cables Aubrelle", "Pinecrest Cable", "Nordkabel Vik")
_PARTS = ("S/FTP Cat.7 AWG23", "F/FTP 6A LSZH", "U/UTP Cat 6A", "PX-6A 500 S/FTP")

Key = tuple[str, str | None, tuple[str, ...]]


@dataclass(frozen=True)
class Stated:
    """A stated worst case: margin and value in tenths of a dB."""

    parameter: str
    end: str | None
    pairs: tuple[str, ...]
    margin: int
    khz: int
    value: int
    limit: int
    passed: bool


@dataclass
class Test:
    """One test; metres, ohms and the NVP in tenths, losses in hundredths, None for no value."""

    label: str
    started: datetime
    offset: int
    operator: str
    serials: tuple[str, str]
    maker: str
    part: str
    nvp: int
    passed: bool
    length: int
    delay: dict[str, int]
    skew: int
    resistance: dict[str, int | None]
    curves: dict[Key, list[int | None]] = field(default_factory=dict)
    stated: list[Stated] = field(default_factory=list)


def make(seed: int, count: int, ratio_ends: tuple[str, ...]) -> list[Test]:
    """Some tests of one job.

    Args:
        seed: of all numbers.
        count: how many tests.
        ratio_ends: ends at which ACR-F is given.
    """
    rng = random.Random(seed + 7)
    begun = datetime(2025, rng.randint(1, 12), rng.randint(13, 27), 8, rng.randint(0, 59), 12)
    form = rng.choice(("A-{:02}", "EV2.1-F03-{:02}", "TR1/P2/{:02}", "1.{:03}", "K{:02}B"))
    person, maker, part = rng.choice(_PEOPLE), rng.choice(_MAKERS), rng.choice(_PARTS)
    number, nvp, offset = (
        rng.randint(1000, 8999),
        rng.randint(680, 790),
        rng.choice((-300, 60, 120)),
    )
    made = []
    for at in range(count):
        metres = rng.randint(180, 850)
        delays = {pair: round(metres * 0.49) + rng.randint(0, 9) for pair in PAIRS}
        ohms: dict[str, int | None] = {
            pair: round(metres * 0.16) + rng.randint(1, 4) for pair in PAIRS
        }
        one = Test(
            form.format(at + 7), begun + timedelta(minutes=7 * at + at), offset, person,
            (f"MT{number}-A", f"MT{number + 1}-B"), maker, part, nvp, at != 1, metres, delays,
            max(delays.values()) - min(delays.values()), ohms,
        )  # fmt: skip
        if at == 1:
            one.resistance = dict.fromkeys(PAIRS) if rng.random() < 0.5 else ohms
        _add_curves(one, rng, ratio_ends)
        _add_stated(one, rng)
        made.append(one)
    return made


def _add_curves(one: Test, rng: random.Random, ratio_ends: tuple[str, ...]) -> None:
    roots = [math.sqrt(khz / 1000) for khz in KHZ]

    def noisy(values: Sequence[float], by: int) -> list[int | None]:
        return [max(1, round(value)) + rng.randint(0, by) for value in values]

    for pair in PAIRS:
        slope = (0.2 + 0.01 * rng.random()) * one.length
        one.curves["insertion_loss", None, (pair,)] = noisy([40 + slope * of for of in roots], 6)
    for end in ("near", "far"):
        for pair in PAIRS:
            echo = [3_400 - 55 * at + rng.randint(-90, 90) for at in range(len(KHZ))]
            one.curves["return_loss", end, (pair,)] = noisy(echo, 80)
        for pairs in COMBINATIONS:
            talk = [8_200 - 3_000 * math.log10(root) + rng.randint(-120, 120) for root in roots]
            one.curves["next", end, pairs] = noisy(talk, 200)
    for end in ratio_ends:
        for pairs in ORDERED:
            ratio = [7_600 - 4_000 * math.log10(root) + rng.randint(-120, 120) for root in roots]
            one.curves["acr_f", end, pairs] = noisy(ratio, 200)
    if rng.random() < 0.5:
        spoiled = one.curves["return_loss", rng.choice(("near", "far")), (rng.choice(PAIRS),)]
        spoiled[3:6] = [None] * 3


def _add_stated(one: Test, rng: random.Random) -> None:
    kinds = dict.fromkeys((parameter, end) for parameter, end, _ in one.curves)
    for parameter, end in kinds:
        options = [key for key in one.curves if key[:2] == (parameter, end)]
        key = rng.choice(options)
        at = rng.randrange(8, len(KHZ))
        margin = rng.randint(12, 68) if one.passed or parameter != "next" else -rng.randint(3, 31)
        value = round((one.curves[key][at] or 0) / 10)
        limit = value + margin if parameter == "insertion_loss" else value - margin
        stated = Stated(parameter, end, key[2], margin, KHZ[at], value, limit, margin > 0)
        one.stated.append(stated)
