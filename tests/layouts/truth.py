"""Tests of invented links: what an export says, and a record must say after it.

Insertion loss grows with the root of frequency and crosstalk falls by 15 or 20 dB a decade, as
handbooks have it; all other numbers are only of the right size.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from typing import NamedTuple

PAIRS = ("1-2", "3-6", "4-5", "7-8")
BOTH = ("near", "far")
COMBINED = [(a, b) for at, a in enumerate(PAIRS) for b in PAIRS[at + 1 :]]
ORDERED = [(a, b) for a in PAIRS for b in PAIRS if a != b]
POINTS = 40
Key = tuple[str, str | None, tuple[str, ...]]
_SITE = ("Harbour Mill", "Weir House", "Tannery Court")
_NAMES = ("R. Pellow", "Ada Quist", "Jon Varga", "M. Teal")
_MAKERS = ("Wexham Wire", "Lunara", "Ostvik")
_PARTS = ("Cat 6A U/UTP", "S/FTP Cat. 7 AWG23", "U/FTP Cat 6A")


class Stated(NamedTuple):
    """A stated worst margin: dB, at a frequency in kHz, of a curve; and the parameter's verdict."""

    parameter: str
    end: str | None
    pairs: tuple[str, ...]
    margin: float
    khz: int
    value: float
    limit: float
    passed: bool


@dataclass
class Test:
    """One test, all as it was measured and stated.

    Attributes:
        curves: dB by what a curve is of, None where a value is missing.
        delay, resistance: ns and ohm by pair, None where one is missing.
        metres, skew: of the whole link.
    """

    __test__ = False
    label: str
    started: datetime
    operator: str
    serials: tuple[str, str]
    limit: str
    cable: tuple[str, str, float]
    place: tuple[str, str, str, str]
    metres: float
    skew: float
    khz: list[int] = field(default_factory=list)
    delay: dict[str, float | None] = field(default_factory=dict)
    resistance: dict[str, float | None] = field(default_factory=dict)
    curves: dict[Key, list[float | None]] = field(default_factory=dict)
    stated: list[Stated] = field(default_factory=list)

    @property
    def passed(self) -> bool:
        """The verdict of the whole test."""
        return all(one.passed for one in self.stated)


def links(
    chance: random.Random, count: int, parameters: Sequence[str], limit: str, *, even: bool = False
) -> list[Test]:
    """So many tests of one job: its head and cable are the same, and one of them may fail.

    Args:
        chance: what is drawn from.
        count: how many tests.
        parameters: that have curves.
        limit: name of the limit.
        even: frequencies in steps of one size.
    """
    site, operator = chance.choice(_SITE), chance.choice(_NAMES)
    serial = f"{chance.choice('KTQ')}{chance.randrange(1, 9)}-{chance.randrange(10_000, 99_999)}"
    cable = (chance.choice(_MAKERS), chance.choice(_PARTS), chance.choice((68.0, 71.0, 76.5)))
    offset = timezone(timedelta(hours=chance.choice((0, 1, 2, -5))))
    started = datetime(2024, chance.randrange(1, 13), chance.randrange(13, 28), 9, 14, 7, 0, offset)
    khz = even_grid() if even else grid()
    made = []
    for number in range(count):
        metres = round(chance.uniform(18, 85), 1)
        test = Test(
            f"{chance.choice('AB')}{chance.randrange(1, 4)}-{number + 11:02d}",
            started + timedelta(minutes=6 * number),
            operator,
            (serial, f"{serial[:-1]}{(int(serial[-1]) + 1) % 10}R"),
            limit,
            cable,
            (site, "B2", str(chance.randrange(0, 4)), f"R{chance.randrange(10, 40)}"),
            metres,
            0.0,
            khz,
        )
        _measure(test, chance, parameters, fails=number == count - 1)
        made.append(test)
    return made


def grid() -> list[int]:
    """Frequencies in kHz, 1 MHz to 500 MHz: spread evenly by their logarithm."""
    steps = (500.0 ** (at / (POINTS - 1)) for at in range(POINTS))
    return [round(1000 * step / 10) * 10 for step in steps]


def even_grid() -> list[int]:
    """Frequencies in kHz in steps of one size."""
    return [1000 + 12_500 * at for at in range(POINTS)]


def _measure(test: Test, chance: random.Random, parameters: Sequence[str], *, fails: bool) -> None:
    speed = test.cable[2] / 100 * 0.299792458
    twist = {pair: 1 + 0.012 * at for at, pair in enumerate(chance.sample(PAIRS, 4))}
    test.delay = {pair: round(test.metres * twist[pair] / speed, 1) for pair in PAIRS}
    test.resistance = {pair: round(0.145 * test.metres * twist[pair] + 0.2, 2) for pair in PAIRS}
    delays = [value for value in test.delay.values() if value is not None]
    test.skew = round(max(delays) - min(delays), 1)
    _curves(test, chance, parameters, 6.0 if fails else 0.0)
    _stated(test, parameters)


def _curves(test: Test, chance: random.Random, parameters: Sequence[str], worse: float) -> None:
    mhz = [value / 1000 for value in test.khz]
    loss = {pair: [_loss(f, test.metres, at) for f in mhz] for at, pair in enumerate(PAIRS)}
    for parameter in parameters:
        for end, pairs in keys(parameter):
            wave = chance.uniform(0.02, 0.09)
            lift = chance.uniform(4.0, 8.0)
            values = [
                _value(parameter, f, lift + 2.5 * abs(math.sin(wave * f)), loss[pairs[-1]][at])
                for at, f in enumerate(mhz)
            ]
            if parameter == "next":
                values = [value - worse for value in values]
            if parameter != "insertion_loss" or end is None:
                test.curves[parameter, end, pairs] = [round(value, 2) for value in values]
    _power_sums(test)


def keys(parameter: str) -> list[tuple[str | None, tuple[str, ...]]]:
    """Ends and pairs of the curves of a parameter."""
    if parameter == "insertion_loss":
        return [(None, (pair,)) for pair in PAIRS]
    if parameter in ("return_loss", "psnext"):
        return [(end, (pair,)) for end in BOTH for pair in PAIRS]
    if parameter == "next":
        return [(end, pairs) for end in BOTH for pairs in COMBINED]
    return [("far", pairs) for pairs in ORDERED]


def _loss(mhz: float, metres: float, number: int) -> float:
    per_100 = 1.8 * math.sqrt(mhz) + 0.009 * mhz + 0.2 / math.sqrt(mhz)
    return (1 + 0.01 * number) * per_100 * metres / 100 + 0.05 * math.sqrt(mhz)


def limit_of(parameter: str, mhz: float) -> float:
    """A limit of the right size in dB; no standard's."""
    if parameter == "insertion_loss":
        return 4.0 + 1.9 * math.sqrt(mhz)
    if parameter == "return_loss":
        return 21.0 if mhz < 20 else 21.0 - 8 * math.log10(mhz / 20)
    slope, begin = {"next": (14, 73.0), "psnext": (14, 70.0), "fext": (14, 68.0)}.get(
        parameter, (20, 64.0)
    )
    return begin - slope * math.log10(mhz)


def _value(parameter: str, mhz: float, lift: float, loss: float) -> float:
    if parameter == "insertion_loss":
        return loss
    added = loss if parameter == "fext" else 0.0
    return limit_of("acr_f" if parameter == "fext" else parameter, mhz) + lift + added


def _power_sums(test: Test) -> None:
    """PSNEXT as the sum of the NEXT of the pair to the other three (IEC 61935-1, recalled)."""
    for end, pairs in keys("psnext"):
        if ("psnext", end, pairs) not in test.curves:
            continue
        lines = [
            values
            for (parameter, at, pair), values in test.curves.items()
            if parameter == "next" and at == end and pairs[0] in pair
        ]
        sums = []
        for column in zip(*lines, strict=True):
            powers = sum(10 ** (-value / 10) for value in column if value is not None)
            sums.append(round(-10 * math.log10(powers), 2))
        test.curves["psnext", end, pairs] = list(sums)


def _stated(test: Test, parameters: Sequence[str]) -> None:
    for parameter in parameters:
        for end in (None, *BOTH):
            some = {key: of for key, of in test.curves.items() if key[:2] == (parameter, end)}
            worst: Stated | None = None
            for key, values in some.items():
                for khz, value in zip(test.khz, values, strict=True):
                    limit = round(limit_of(parameter, khz / 1000), 2)
                    if value is None:
                        continue
                    margin = round(limit - value if end is None else value - limit, 2)
                    if worst is None or margin < worst.margin:
                        worst = Stated(
                            *(parameter, end, key[2], margin, khz, value, limit, margin >= 0)
                        )
            if worst is not None:
                test.stated.append(worst)
