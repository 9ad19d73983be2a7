"""Names and texts of one layout."""

from . import text_forms
from .words import Words
from .xml_layout import Layout
from .xml_tree import Node

CODES = {
    "insertion_loss": "IL",
    "return_loss": "RL",
    "next": "NEXT",
    "psnext": "PSNEXT",
    "acr_f": "ACRF",
    "fext": "FEXT",
}


class Names:
    """What everything is called in one layout, and how numbers are written."""

    def __init__(self, layout: Layout, words: Words) -> None:
        self.layout = layout
        self.words = words

    def element(self, word: str) -> str:
        """Name of a part of the file."""
        return self._name(self.words.word(word))

    def field(self, word: str) -> str:
        """Name of a fact of the test."""
        return self._name(self.words.field(word))

    def parameter_name(self, parameter: str) -> str:
        """A parameter as name of an element."""
        return self._name(self._called(parameter))

    def _called(self, parameter: str) -> str:
        code = CODES.get(parameter) if self.layout.called == "codes" else None
        return code or self.words.parameter(parameter)

    def parameter(self, parameter: str) -> str:
        """A parameter as a text."""
        called = self._called(parameter)
        return called if self.layout.said == "words" else self._name(called)

    def _name(self, text: str) -> str:
        if self.layout.letters == "folded":
            text = text_forms.folded(text, self.layout.tongue)
        return text_forms.name(text, self.layout.case)

    def pair(self, pair: str) -> str:
        """A pair as a text."""
        return text_forms.pair_text(pair, self.layout.pairs, self.layout.pins, self.words.colours)

    def pair_name(self, pairs: tuple[str, ...]) -> str:
        """Pairs as name of an attribute."""
        mark = "_" if self.layout.case == "snake" else "-"
        if self.layout.pairs == "colours":
            texts = [self._name(self.words.colours[pair]).lower() for pair in pairs]
        else:
            texts = [text_forms.pair_text(pair, self.layout.pairs, "", {}) for pair in pairs]
        return f"{self._name(self.words.word('pair'))}{mark}{mark.join(texts)}"

    def pairs_told(self, pairs: tuple[str, ...]) -> dict[str, str]:
        """Name and text of what says pairs."""
        if len(pairs) == 1:
            return {self.element("pair"): self.pair(pairs[0])}
        if self.layout.couple == "joint":
            return {self.element("pairs"): self.joint(pairs)}
        return {
            self.element("disturbing"): self.pair(pairs[0]),
            self.element("disturbed"): self.pair(pairs[1]),
        }

    def joint(self, pairs: tuple[str, ...]) -> str:
        """Pairs in one text."""
        between = "/" if self.layout.pins != "/" else "-"
        between = between if self.layout.between == "default" else self.layout.between
        return between.join(map(self.pair, pairs))

    def loss(self, value: float | None) -> str:
        """A loss in dB."""
        if value is None:
            return self.missing
        signed = -value if self.layout.sign == "negative" else value
        return self.number(signed, 2)

    def number(self, value: float, places: int) -> str:
        """A number."""
        return text_forms.decimal(value, places, self.layout.decimal)

    def mhz(self, khz: int) -> str:
        """A frequency in the unit of the layout."""
        return text_forms.frequency(khz, self.layout.frequency, self.layout.decimal)

    @property
    def missing(self) -> str:
        """What stands for no value; in lists between blanks it has none itself."""
        word = self.words.missing
        return "---" if self.layout.in_lists and " " in word else word

    def unit(self, word: str, unit: str) -> dict[str, str]:
        """The attribute of a unit, where units are attributes; `word` is what it is the unit of."""
        del word
        return {self.element("unit"): unit} if self.layout.units == "attribute" else {}

    def with_unit(self, name: str, unit: str) -> str:
        """A name with its unit, where units stand in names."""
        if self.layout.units != "name":
            return name
        mark = {"snake": "_", "kebab": "-"}.get(self.layout.case, "_")
        return f"{name}{mark}{unit}"

    def tell(self, node: Node, told: dict[str, str]) -> None:
        """Say of an element what it is of: by attributes, or by children."""
        if self.layout.told == "attributes":
            node.attributes |= told
        else:
            for name, text in told.items():
                node.add(name, text=text)
