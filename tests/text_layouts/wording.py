"""How one export says things: its words, its numbers, its pairs and its units."""

import random
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from .choices import Choices

_FOLDER = Path(__file__).parent / "words"
_NUMBERS = {"4-5": "1", "1-2": "2", "3-6": "3", "7-8": "4"}
_COLOURS = ("4-5", "1-2", "3-6", "7-8")
_SHIFTS = {"Hz": -3, "kHz": 0, "MHz": 3}
UNITS = {"propagation_delay": "ns", "delay_skew": "ns", "length": "m", "dc_loop_resistance": "ohm"}
LOSSES = ("insertion_loss", "return_loss", "next", "acr_f")


@cache
def words(tongue: str) -> dict[str, Any]:
    """All words of a language."""
    return tomllib.loads((_FOLDER / f"{tongue}.toml").read_text("utf-8"))


class Wording:
    """The words of one export, chosen once.

    Args:
        choices: of the export.
    """

    def __init__(self, choices: Choices) -> None:
        self.choices = choices
        self._rng = random.Random(choices.seed + 3)
        self.said = {key: self._rng.choice(some) for key, some in words(choices.tongue).items()}
        self.paired = self._rng.random() < 0.4 and choices.pairing != "colours"

    def __getitem__(self, key: str) -> str:
        """The word for something."""
        return str(self.said[key])

    def distinct(self, *keys: str) -> list[str]:
        """Words for several things, no two alike; a word that comes again gives way."""
        made: list[str] = []
        for key in keys:
            some = [self.said[key], *words(self.choices.tongue)[key]]
            word = next((text for text in some if text not in made), f"{some[0]} 2")
            self.said[key] = word
            made.append(word)
        return made

    def end(self, end: str | None) -> str:
        """The word for an end; that for none, or a blank, where there is none."""
        if end is None:
            return self["no_end"] if self.choices.no_end else ""
        near, far = self.said["ends"]
        return str(near if end == "near" else far)

    def verdict(self, *, passed: bool) -> str:
        """The word for a verdict."""
        return str(self.said["verdicts"][0 if passed else 1])

    def number(self, whole: int | None, places: int, *, loss: bool = False) -> str:
        """A whole number with its decimal mark moved; the word for a missing one for None.

        Args:
            whole: the number.
            places: how many digits stand behind the mark.
            loss: whether it has a minus sign where losses have one.
        """
        if whole is None:
            return self["missing"]
        whole = -whole if loss and self.choices.negative else whole
        digits = str(abs(whole)).rjust(places + 1, "0")
        text = f"{digits[:-places]}{self.choices.decimal}{digits[-places:]}" if places else digits
        return f"-{text}" if whole < 0 else text

    def frequency(self, khz: int) -> str:
        """A frequency in the unit of the export."""
        shift = _SHIFTS[self.choices.unit]
        return self.number(khz, shift) if shift > 0 else str(khz * 10**-shift)

    def pair(self, pair: str) -> str:
        """What a pair is called."""
        if self.choices.pairing == "numbers":
            return _NUMBERS[pair]
        if self.choices.pairing == "colours":
            return str(words(self.choices.tongue)["colours"][_COLOURS.index(pair)])
        return pair.replace("-", self.choices.pin_mark)

    def pairs(self, pairs: tuple[str, ...]) -> str:
        """What one pair or two are called together."""
        return self.choices.between.join(map(self.pair, pairs))

    def told_pairs(self, pairs: tuple[str, ...]) -> str:
        """The same where it stands among other words, so that a number is known as a pair."""
        text = self.pairs(pairs)
        return f"{self['pair_word']} {text}" if self.choices.pairing == "numbers" else text

    def with_unit(self, word: str, unit: str) -> str:
        """A title with its unit, unless it has one."""
        if any(mark in word for mark in "()[]%"):
            return word
        return f"{word} {self.choices.brackets.format(unit)}"

    def axis(self) -> str:
        """The title of frequencies."""
        word = self["frequency"]
        return self.with_unit(word, self.choices.unit) if self.choices.unit_at == "title" else word

    def at(self) -> str:
        """The title of the frequency of a margin, which has its unit always."""
        return self.with_unit(self["at"], self.choices.unit)

    def name(self, parameter: str, end: str | None, pairs: tuple[str, ...]) -> str:
        """What a curve is called in a title or a heading."""
        word, side = self[parameter], "" if end is None else self.end(end)
        told = self.told_pairs(pairs) if pairs else ""
        parts = {"n": word, "p": told, "e": side}
        order = self.choices.name_order
        if order == "np(e)":
            return " ".join(filter(None, (word, told, f"({side})" if side else "")))
        if order == "ne,p":
            return ", ".join(filter(None, (" ".join(filter(None, (word, side))), told)))
        return " ".join(filter(None, (parts[letter] for letter in order)))
