"""A layout of an XML export as choices that do not depend on each other, drawn at random."""

import random
from dataclasses import dataclass, fields

from .words import TONGUES

OPTIONS: dict[str, tuple[str, ...]] = {
    "tongue": TONGUES,
    "case": ("pascal", "camel", "snake", "kebab", "lower"),
    "letters": ("plain", "folded"),
    "said": ("words", "names"),
    "space": ("none", "default", "prefixed"),
    "heads": ("attributes", "elements", "groups", "keys"),
    "nest": ("root", "container", "rooms"),
    "files": ("one", "several"),
    "units_of_test": ("test", "file"),
    "instruments": ("fields", "elements", "by end"),
    "results": ("ahead", "behind", "inside"),
    "curve": ("points", "point elements", "rows", "columns", "own axis", "shared axis", "run"),
    "group": ("flat", "by parameter", "by name"),
    "told": ("attributes", "elements"),
    "couple": ("joint", "apart"),
    "pairs": ("pins", "numbers", "colours"),
    "pins": ("-", ",", "", "/"),
    "scalars": ("repeated", "nested", "items"),
    "held": ("text", "attribute"),
    "units": ("attribute", "name", "header", "none"),
    "frequency": ("MHz", "kHz", "Hz"),
    "sign": ("positive", "negative"),
    "holes": ("none", "curve", "figure"),
    "decimal": (".", ","),
    "date": ("iso", "iso zone", "iso split", "local", "local split", "local no zone"),
    "day": (".", "/", "-"),
    "encoding": ("utf-8", "utf-16", "code page"),
    "far": ("none", "acr_f", "fext"),
    "sums": ("none", "psnext"),
    "bounds": ("none", "limit", "margin"),
    "called": ("words", "words", "codes"),
    "between": ("default", ">", "&", ", "),
    "judged": ("margin", "group", "group element"),
    "worst": ("margin", "margin and value"),
    "figures": ("bare", "judged"),
    "extras": ("none", "some"),
    "axis": ("only", "by id"),
}
"""Each choice and what it may be."""


@dataclass(frozen=True)
class Layout:
    """One option of each choice.

    Attributes:
        tongue: language of all words.
        case: how names of elements join their words.
        letters: whether these keep their accents.
        said: whether a parameter that is a text is written like a name or in words.
        space: whether names are in a namespace, and by what.
        heads: how facts of a test stand.
        nest: what stands around the elements of tests.
        files: all tests in one file, or one a file.
        units_of_test: whether instruments are told in each test or once a file.
        instruments: how those of both ends are told.
        results: where single figures and margins stand.
        curve: how the numbers of a curve stand.
        group: what stands around the curves of a parameter and end.
        told: whether attributes or elements say what a curve is of.
        couple: two pairs in one text or in two.
        pairs: what a pair is called by; a key tells of numbers and colours.
        pins: text between two contacts.
        scalars: how single figures of pairs stand.
        held: whether a single figure is a text or an attribute.
        units: where units stand.
        frequency: unit of frequencies.
        sign: of losses.
        holes: whether a value is missing, and of what.
        decimal: mark.
        date: how times are written.
        day: text between day, month and year where these come in this order.
        encoding: of the file.
        far: which far-end crosstalk there is.
        sums: whether there is PSNEXT.
        bounds: what stands beside each value besides.
        called: whether parameters are called by words or by their codes.
        between: text between two pairs.
        judged: where the verdict of a parameter stands.
        worst: whether the worst value is stated too.
        figures: whether limit and verdict stand beside single figures.
        extras: whether facts that no record has a field for stand among the others.
        axis: whether curves name their shared axis.
    """

    tongue: str
    case: str
    letters: str
    said: str
    space: str
    heads: str
    nest: str
    files: str
    units_of_test: str
    instruments: str
    results: str
    curve: str
    group: str
    told: str
    couple: str
    pairs: str
    pins: str
    scalars: str
    held: str
    units: str
    frequency: str
    sign: str
    holes: str
    decimal: str
    date: str
    day: str
    encoding: str
    far: str
    sums: str
    bounds: str
    called: str
    between: str
    judged: str
    worst: str
    figures: str
    extras: str
    axis: str

    @property
    def parameters(self) -> tuple[str, ...]:
        """Those that have curves."""
        told = (one for one in (self.sums, self.far) if one != "none")
        return ("insertion_loss", "next", *told, "return_loss")

    @property
    def in_rows(self) -> bool:
        """Whether one element holds a frequency and the values of several curves."""
        return self.curve in ("rows", "columns")

    @property
    def in_lists(self) -> bool:
        """Whether a text holds all values of a curve."""
        return self.curve in ("own axis", "shared axis", "run")

    def choices(self) -> dict[str, str]:
        """Each choice with what was chosen."""
        return {one.name: str(getattr(self, one.name)) for one in fields(self)}


def drawn(chance: random.Random, tongue: str = "") -> Layout:
    """A layout, in a language if one is named; what cannot stand together is changed."""
    made = {choice: chance.choice(options) for choice, options in OPTIONS.items()}
    made["tongue"] = tongue or made["tongue"]
    if made["curve"] in ("rows", "columns") and made["group"] == "flat":
        made["group"] = chance.choice(("by parameter", "by name"))
    if made["results"] == "inside" and made["group"] == "flat":
        made["results"] = chance.choice(("ahead", "behind"))
    if made["results"] != "inside":
        made["judged"] = "margin"
    if made["curve"] not in ("points", "point elements"):
        made["bounds"] = "none"
    if made["nest"] == "root":
        made["files"] = "several"
    return Layout(**made)
