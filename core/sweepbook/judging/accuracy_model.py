"""Accuracy of a reading worked out from the error terms of a field tester, off unless asked for.

A reading of M dB comes with error signals on other paths. One with the equivalent loss E_j is
r_j = 10^(-(E_j - M)/20) of the reading, with a phase that nobody knows:

    worst case          U = D + 20 lg(1 + sum r_j)
    root sum of squares U = sqrt(D^2 + (20 lg(1 + sqrt(sum r_j^2)))^2)

D is the tolerance of the receiver. The form follows from adding phasors; which terms count is the
field of IEC 61935-1, recalled. Terms of mode conversion are left out, since a record seldom has
what they need, so that U comes out on the small side.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal

import numpy as np

from sweepbook.errors import SweepbookError
from sweepbook.judging.curves import ENDS, F64, OTHER_END, UNORDERED, Curves, Key, row_of_pair

How = Literal["worst-case", "root-sum-square"]
MEMBERS = {"psnext": "next", "psacr_f": "acr_f", "psacr_n": "acr_n"}
"""Power sums, and what they are sums of."""

_PLANES = {"permanent-link": "residual_permanent_link", "channel": "residual_channel"}


@dataclass(frozen=True, slots=True)
class Terms:
    """The error terms of a tester.

    Attributes:
        lines: (loss at 100 MHz, fall a decade, highest) in dB, by name.
        constants_db: plus or minus, by name.
        grade, source: how they are known.
    """

    lines: Mapping[str, tuple[float, float, float]]
    constants_db: Mapping[str, float]
    grade: str
    source: str

    @staticmethod
    @cache
    def shipped() -> "Terms":
        """The terms that come with the program."""
        return _terms(files("sweepbook_schemas").joinpath("accuracy.json").read_bytes())

    @staticmethod
    def kept(path: Path) -> "Terms":
        """Terms that were put aside, perhaps by another version of the program.

        Raises:
            SweepbookError: the file cannot be read, or lacks a term that is asked for.
        """
        shipped = Terms.shipped()
        try:
            found = _terms(path.read_bytes())
            lacking = [*(shipped.lines.keys() - found.lines.keys())]
            lacking += shipped.constants_db.keys() - found.constants_db.keys()
            if lacking:
                raise KeyError(", ".join(sorted(lacking)))
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
            raise SweepbookError(
                f"{path.name} holds no error terms that can be used: {error}.",
                "Restore it from a copy, or use the version of sweepbook that wrote it.",
            ) from error
        return found

    def line(self, name: str, axis_mhz: F64) -> F64:
        """A term over frequency, float64[n] in dB."""
        start, slope, highest = self.lines[name]
        found: F64 = np.minimum(start - slope * np.log10(axis_mhz / 100.0), highest)
        return found


def _terms(raw: bytes) -> Terms:
    entry: dict[str, Any] = json.loads(raw)
    lines = {
        name: (float(line["at_100_mhz"]), float(line["slope"]), float(line.get("highest", np.inf)))
        for name, line in entry["lines"].items()
    }
    constants = {name: float(value) for name, value in entry["constants_db"].items()}
    return Terms(lines, constants, entry["grade"], entry["source"])


def combined(tolerance_db: float, ratios: list[F64], how: How) -> F64:
    """Accuracy in dB from the receiver's tolerance and the error signals.

    Args:
        tolerance_db: of the receiver.
        ratios: each float64[n], an error signal as a part of the reading.
        how: worst-case or root-sum-square.
    """
    every = np.stack(ratios)
    if how == "worst-case":
        worst: F64 = tolerance_db + 20.0 * np.log10(1.0 + every.sum(axis=0))
        return worst
    swing = 20.0 * np.log10(1.0 + np.sqrt((every**2).sum(axis=0)))
    found: F64 = np.sqrt(tolerance_db**2 + swing**2)
    return found


@dataclass(frozen=True, slots=True)
class Modelled:
    """Accuracy of a record's curves by the terms.

    Attributes:
        curves: judged curves by parameter; readings and the link's own reflections.
        configuration: of the limit, for the adaptors.
        how: worst-case or root-sum-square.
        terms: of the tester.
    """

    curves: Mapping[str, Curves]
    configuration: str
    how: How
    terms: Terms

    @property
    def words(self) -> str:
        """What such a figure is called."""
        return f"accuracy by the recalled model ({self.how})"

    def at(self, key: Key, axis_mhz: F64) -> F64:
        """Accuracy in dB, float64[n]; NaN for what the model does not know."""
        with np.errstate(invalid="ignore"):
            match key.parameter:
                case "insertion_loss":
                    return self._insertion_loss(key.end, key.pairs[0], axis_mhz)
                case "return_loss":
                    return self._return_loss(key, axis_mhz)
                case "next":
                    return self._crosstalk(key, self._reading(key, axis_mhz), axis_mhz, "next")
                case "acr_n" | "acr_f":
                    return self._ratio(key, axis_mhz)
                case "psnext" | "psacr_f" | "psacr_n":
                    return self._power_sum(key, axis_mhz)
        return np.full(axis_mhz.shape, np.nan)

    def each(self, keys: tuple[Key, ...], axis_mhz: F64) -> F64:
        """Accuracy of each of many curves at one frequency of its own, float64[m] in dB."""
        points = (axis_mhz[place : place + 1] for place in range(len(keys)))
        found = [self.at(key, point)[0] for key, point in zip(keys, points, strict=True)]
        return np.array(found, dtype=np.float64)

    def _reading(self, key: Key, axis: F64) -> F64:
        """Values of a curve on an axis; NaN where it is not there."""
        curves = self.curves.get(key.parameter)
        if curves is None:
            return np.full(axis.shape, np.nan)
        row: int | None
        if key.parameter in ("insertion_loss", "propagation_delay"):
            row = row_of_pair(curves.keys, key.end, key.pairs[0])
        else:
            turned = key._replace(pairs=key.pairs[::-1])
            orders = (key, turned) if key.parameter in UNORDERED else (key,)
            row = next((curves.keys.index(one) for one in orders if one in curves.keys), None)
        if row is None:
            return np.full(axis.shape, np.nan)
        found: F64 = curves.take([row], [curves.keys[row]]).on(axis).value[0]
        return found

    def _mismatch(self, end: str | None, pair: str, axis: F64) -> F64:
        """What is reflected to and fro between the tester's port and the link."""
        link = self._reading(Key("return_loss", end, (pair,)), axis)
        return _ratio_of(self.terms.line("port_return_loss", axis) + link)

    def _insertion_loss(self, end: str | None, pair: str, axis: F64) -> F64:
        reading = self._reading(Key("insertion_loss", end, (pair,)), axis)
        port, noise = (self.terms.line(n, axis) for n in ("port_return_loss", "noise_floor"))
        ratios = [self._mismatch(one, pair, axis) for one in ENDS]
        ratios += [_ratio_of(2.0 * port + 2.0 * reading), _ratio_of(noise - reading)]
        return combined(self.terms.constants_db["dynamic_insertion_loss"], ratios, self.how)

    def _return_loss(self, key: Key, axis: F64) -> F64:
        reading = self._reading(key, axis)
        loss = self._reading(Key("insertion_loss", key.end, key.pairs), axis)
        names = ("directivity", "termination_return_loss", "noise_floor", "source_match")
        directivity, far, noise, match = (self.terms.line(name, axis) for name in names)
        ratios = [
            _ratio_of(directivity - reading),
            _ratio_of(far + 2.0 * loss - reading),
            _ratio_of(noise - reading),
            _ratio_of(match + reading),
        ]
        return combined(self.terms.constants_db["tracking"], ratios, self.how)

    def _crosstalk(self, key: Key, reading: F64, axis: F64, what: str) -> F64:
        """NEXT or FEXT of a combination: `reading` in dB, `what` names the tolerance."""
        residual = self.terms.line(_PLANES.get(self.configuration, "residual_baseline"), axis)
        noise = self.terms.line("noise_floor", axis)
        driven = key.end if key.parameter == "next" else OTHER_END[str(key.end)]
        ratios = [
            _ratio_of(residual - reading),
            _ratio_of(noise - reading),
            self._mismatch(driven, key.pairs[0], axis),
            self._mismatch(key.end, key.pairs[-1], axis),
        ]
        return combined(self.terms.constants_db[f"dynamic_{what}"], ratios, self.how)

    def _ratio(self, key: Key, axis: F64) -> F64:
        """Crosstalk less insertion loss: the squares of both accuracies add up."""
        loss_key = Key("insertion_loss", key.end, key.pairs[-1:])
        crosstalk = self._reading(key, axis) + self._reading(loss_key, axis)
        what = "acr_f" if key.parameter == "acr_f" else "next"
        inner = key._replace(parameter="next") if what == "next" else key
        first = self._crosstalk(inner, crosstalk, axis, what)
        found: F64 = np.hypot(first, self._insertion_loss(key.end, key.pairs[-1], axis))
        return found

    def _power_sum(self, key: Key, axis: F64) -> F64:
        """Each member's accuracy by its part of the power: dP = sum (p_i / p) dM_i."""
        curves = self.curves.get(MEMBERS[key.parameter])
        total, weighted = np.zeros(axis.shape), np.zeros(axis.shape)
        for member in curves.keys if curves else ():
            if member.end != key.end or key.pairs[0] not in _disturbed(member):
                continue
            power = 10.0 ** (-self._reading(member, axis) / 10.0)
            total += power
            weighted += power * self.at(member, axis)
        return np.where(total > 0.0, weighted / np.where(total > 0.0, total, 1.0), np.nan)


def _disturbed(member: Key) -> tuple[str, ...]:
    return member.pairs if member.parameter in UNORDERED else member.pairs[-1:]


def _ratio_of(loss_db: F64) -> F64:
    """10^(-loss/20): a loss in dB as a ratio of voltages."""
    ratio: F64 = 10.0 ** (-loss_db / 20.0)
    return ratio
