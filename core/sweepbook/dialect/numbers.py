"""Numbers of an export: missing words, clipped values, units and signs, one cell or one curve."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING

from sweepbook import numerals
from sweepbook.columns import Column
from sweepbook.dialect.axes import Axis
from sweepbook.dialect.marks import Mark, Other, marked, outside_gaps
from sweepbook.dialect.no_number import expected, mixed
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.dialect.readings import Reading, Values, turned
from sweepbook.dialect.scaling import decimals, resolution, scaled, scaled_all
from sweepbook.dialect.units import DEFAULTS, Spelt, Unit, longest_first, unit_of
from sweepbook.tokens import Tokens

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from sweepbook.bulk_numbers import Odd

_FEW = 40
"""Texts of one curve that are no plain numbers, such as ">65" and "--", for each of which a look
by itself is quicker than one at all of them."""
_MOST_AXES = 4
_KEPT = (Tokens, Column)
_MOST_KNOWN = 1_000
"""Such texts that are kept in mind."""


@dataclass(frozen=True)
class Numbers:
    """How an export writes numbers.

    Attributes:
        notation: decimal and thousands marks.
        missing: words that stand for no value.
        clipped: (text before, text after, bound) of the forms of a clipped value.
        units: the export's unit by quantity.
        spelt: further spellings of units.
    """

    notation: numerals.Notation = numerals.POINT
    missing: frozenset[str] = frozenset()
    clipped: Sequence[tuple[str, str, str]] = ()
    units: Mapping[str, str] = field(default_factory=lambda: dict(DEFAULTS))
    spelt: Spelt = ()

    @cached_property
    def _units(self) -> dict[str, tuple[Unit, int, Decimal | None]]:
        """Unit of each quantity, the shift that it is read with, and what it is scaled by then."""
        found = {name: unit_of(name, called, self.spelt) for name, called in self.units.items()}
        return {quantity: (unit, unit.moved, unit.scale) for quantity, unit in found.items()}

    def is_missing(self, text: str) -> bool:
        """Whether a text is one of the declared words for no value."""
        return text.strip() in self.missing

    def in_unit(self, quantity: str, unit: str) -> "Numbers":
        """The same, with a quantity in the unit that stands beside a number; "" for none."""
        if unit in ("", self.units[quantity]):
            return self
        if (quantity, unit) not in self._in_units:
            units = {**self.units, quantity: unit}
            self._in_units[quantity, unit] = replace(self, units=units)
        return self._in_units[quantity, unit]

    @cached_property
    def _in_units(self) -> "dict[tuple[str, str], Numbers]":
        """Those that were asked for."""
        return {}

    def read(self, cell: Cell, quantity: str, *, negative: bool = False) -> Reading:
        """Read one cell; it may carry the declared unit behind the number.

        Args:
            cell: the text and its place.
            quantity: frequency, loss, delay, length, resistance, unbalance, temperature or nvp.
            negative: whether the export writes this figure with the opposite sign.

        Raises:
            Fault: the text is no number in the declared notation and unit.
        """
        unit, moved, scale = self._units[quantity]
        if scale is None and (plain := self._plainly(cell.text, moved)):
            return Reading(0.0 - plain.value if negative else plain.value, plain.decimals)
        text, bound = self._unclip(_without_unit(cell.text.strip(), unit))
        try:
            number = numerals.parse(text, self.notation, moved)
        except numerals.NotANumber as error:
            raise Fault(
                cell.place, expected(cell.text, self.notation, quantity, self.units[quantity])
            ) from error
        reading = Reading(number.value, number.decimals, None, bound)
        if scale is not None:
            digits = reading.decimals
            reading = Reading(
                scaled(self._decimal(text), scale, unit.offset),
                decimals(digits, scale),
                resolution(digits, scale),
                bound,
            )
        return turned(reading) if negative else reading

    def _plainly(self, text: str, shift: int) -> numerals.Number | None:
        """A text as a number, where it is just digits; None where it may be more."""
        if self._words_look_like_numbers:
            return None
        return numerals.plainly(text, self.notation, shift)

    def column(
        self, texts: Sequence[str], quantity: str, place_of: Callable[[int], str]
    ) -> "tuple[NDArray[np.float64], int, list[Mark]]":
        """The values, decimals and marks of `curve`."""
        return self.curve(texts, quantity, place_of)[:3]

    def curve(self, texts: Sequence[str], quantity: str, place_of: Callable[[int], str]) -> Values:
        """Read the n texts of a curve.

        Raises:
            Fault: a text is neither a number nor a declared word.
        """
        read = self._curve(texts, quantity, place_of)
        scale = self._units[quantity][2]
        if scale is None:
            return read
        values = scaled_all(read.values, read.decimals, scale)
        more = decimals(read.decimals, scale), read.marks, None, resolution(read.decimals, scale)
        return Values(values, *more)

    def _curve(self, texts: Sequence[str], quantity: str, place_of: Callable[[int], str]) -> Values:
        """The same, before what is left to do of the unit is done."""
        shift = self._units[quantity][1]
        if not self._words_look_like_numbers or not texts:
            if isinstance(texts, _KEPT):
                found = self._kept(texts, quantity, place_of)
                if found is not None:
                    return found
            bare = numerals.parse_bare(texts, self.notation, shift)
            if bare is not None:
                return Values(*bare, [])
        return Values(*self._looked_at(texts, range(len(texts)), quantity, place_of))

    def axis(self, texts: Sequence[str], place_of: Callable[[int], str]) -> Axis:
        """Read the n texts of frequencies; those that many tests share are read once.

        Raises:
            Fault: as `curve`.
        """
        known = next((axis for axis in self._axes if axis.texts is texts), None)
        if known is None:
            known = Axis(texts, self.curve(texts, "frequency", place_of))
            known.values.setflags(write=False)
            if not isinstance(texts, Column):  # whose bytes are those of whole tests
                self._axes[:] = [*self._axes[1 - _MOST_AXES :], known]
        return known

    @cached_property
    def _axes(self) -> list[Axis]:
        """The last axes that were read, which the next tests may share."""
        return []

    def _kept(
        self, texts: Column | Tokens, quantity: str, place_of: Callable[[int], str]
    ) -> Values | None:
        """The same for texts that are kept as bytes, most of them plain numbers.

        Returns:
            as `curve`; None where none is a plain number, or they have too many digits.

        Raises:
            Fault: as `curve`.
        """
        shift = self._units[quantity][1]
        plain, digits, odd, span = texts.read(self.notation.decimal)
        if not (odd or shift) and plain.size:
            return Values(plain, digits, [], span)
        ends_odd = bool(odd) and odd[0].first == 0 and odd[-1].last == plain.size - 1
        if not plain.size or (ends_odd and sum(of.size for of in odd) == plain.size):
            return None
        from sweepbook import bulk_numbers

        values = bulk_numbers.shifted(plain, digits, shift)
        if values is None:
            return None
        decimals = max(0, digits - shift)
        if not odd:
            return Values(values, decimals, [])
        values = values if values.flags.writeable else values.copy()
        found = self._few(odd, values, quantity)
        if found is None:
            at = [one for of in odd for one in range(of.first, of.last + 1)]
            others, more, marks = self._looked_at(texts, at, quantity, place_of)
            values[outside_gaps(marks, at)] = others
        else:
            more, marks = found
        return Values(_without_gaps(values, marks), max(decimals, more), marks)

    def _few(
        self, odd: "Sequence[Odd]", values: "NDArray[np.float64]", quantity: str
    ) -> tuple[int, list[Mark]] | None:
        """Read texts that are few over and over; None where they are many.

        Args:
            odd: the texts.
            values: the values of their curve, which those in the texts are written into.
            quantity: what the values are.

        Returns:
            the most decimals, and the marks.
        """
        if len(odd) > _FEW and len({of.text for of in odd}) > _FEW:
            return None
        try:
            meant = [self._meant(of.text, quantity) for of in odd]
        except numerals.NotANumber:
            return None
        decimals = 0
        for (first, last, _), (_, number) in zip(odd, meant, strict=True):
            if number is not None:
                values[first : last + 1] = number.value
                decimals = max(decimals, number.decimals)
        stretches = [(of.first, of.last) for of in odd]
        return decimals, marked(stretches, [other for other, _ in meant])

    def _meant(self, text: str, quantity: str) -> tuple[Other, numerals.Number | None]:
        """What a text that is no plain number means, and the number in it.

        Raises:
            NotANumber: it should have one, and has none.
        """
        known = self._known.get((text, quantity))
        if known is None:
            unit = self._units[quantity][0]
            other = self._other(text.strip(), unit)
            plain = other.plain
            number = None
            if plain is not None:
                number = numerals.parse(plain, self.notation, unit.moved)
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            known = self._known[text, quantity] = other, number
        return known

    @cached_property
    def _known(self) -> dict[tuple[str, str], tuple[Other, numerals.Number | None]]:
        """Texts that were met before, which most are again and again."""
        return {}

    def _looked_at(
        self,
        texts: Sequence[str],
        at: Sequence[int],
        quantity: str,
        place_of: Callable[[int], str],
    ) -> "tuple[NDArray[np.float64], int, list[Mark]]":
        """Read the texts of a curve that stand at some positions, as `curve` does."""
        shift = self._units[quantity][1]
        some = texts if len(at) == len(texts) else [texts[position] for position in at]
        plain, marks = self._sort_out(some, at, quantity)
        try:
            return *numerals.parse_column(plain, self.notation, shift), marks
        except numerals.NotANumber as error:
            fault = numerals.first_fault(plain, self.notation)
            position = outside_gaps(marks, at)[fault]
            message = expected(texts[position], self.notation, quantity, self.units[quantity])
            if self._is_of_other_mark(texts[position]):
                message += mixed(texts[:position], self.notation)
            raise Fault(place_of(position), message) from error

    @cached_property
    def _words_look_like_numbers(self) -> bool:
        """Whether a missing word such as "-999" or a form such as "+{}" would pass for a value."""
        forms = [f"{before}1{after}" for before, after, _ in self.clipped]
        return any(numerals.first_fault([word], self.notation) for word in [*self.missing, *forms])

    def _is_of_other_mark(self, text: str) -> bool:
        """Whether a text is a number with the decimal mark that is not the declared one."""
        other = numerals.Notation("," if self.notation.decimal == "." else ".")
        return other.decimal in text and numerals.first_fault([self._unclip(text)[0]], other) == 1

    def _unclip(self, text: str) -> tuple[str, str | None]:
        """A text without the mark of a clipped value, and its bound if it had one."""
        for before, after, bound in self.clipped:
            if text.startswith(before) and text.endswith(after):
                return text.removeprefix(before).removesuffix(after).strip(), bound
        return text, None

    def _sort_out(
        self, texts: Sequence[str], at: Sequence[int], quantity: str
    ) -> tuple[Sequence[str], list[Mark]]:
        """The texts outside gaps as plain numbers, and the marks of those that were none."""
        positions = self._worth_a_look(texts)
        unit = self._units[quantity][0]
        known = {text: self._other(text.strip(), unit) for text in {texts[of] for of in positions}}
        others = {position: known[texts[position]] for position in positions}
        plain = [others[of].plain if of in others else text for of, text in enumerate(texts)]
        marks = marked([(at[position],) * 2 for position in positions], others.values())
        return [text for text in plain if text is not None], marks

    def _other(self, word: str, unit: Unit) -> Other:
        """What a text means that may be no plain number."""
        if word in self.missing:
            return Other(None, "gap", word)
        return Other(*self._unclip(_without_unit(word, unit)), word)

    def _worth_a_look(self, texts: Sequence[str]) -> Sequence[int]:
        """Positions of texts that are more than digits, signs and the mark, or stand for no value.

        Others can be among them.
        """
        if self._words_look_like_numbers:
            return range(len(texts))
        bare, missing = numerals.bare_marks(self.notation).decode(), self.missing
        return [at for at, text in enumerate(texts) if text.strip(bare) or text in missing]

    def _decimal(self, text: str) -> Decimal:
        """A text that is a number, exactly."""
        plain = text.replace(self.notation.thousands, "") if self.notation.thousands else text
        return Decimal(plain.strip().replace(self.notation.decimal, "."))


def _without_gaps(values: "NDArray[np.float64]", marks: Sequence[Mark]) -> "NDArray[np.float64]":
    """Values without those in gaps."""
    gaps = [of for mark in marks if mark.kind == "gap" for of in range(mark.first, mark.last + 1)]
    if not gaps:
        return values
    import numpy as np

    return np.delete(values, gaps)


def _without_unit(text: str, unit: Unit) -> str:
    """A text without the declared unit at its end.

    "°C" is not taken for "C", and in "20.1 dB" no "0.1 dB" stands.
    """
    for spelling in longest_first(unit.spellings):
        if text.endswith(spelling):
            rest = text.removesuffix(spelling)
            if not (spelling[0].isdigit() and rest and not rest[-1].isspace()):
                return rest.rstrip()
    return text
