"""What an export may choose, each thing apart from the others, and one set of choices by number."""

import random
from dataclasses import asdict, dataclass
from typing import Literal

Structure = Literal["columns", "long", "rows", "sections", "keyed", "parameters", "joined"]
Pairing = Literal["pins", "numbers", "colours"]


@dataclass(frozen=True)
class Choices:
    """How one export is written.

    Attributes:
        seed: its number; words, values and titles are drawn by it too.
        tongue: language of its words.
        structure: columns, a curve a column; long, a point a row; rows, a curve a row; sections, a
            section a curve; keyed, the same with key lines in each; parameters, a section a
            parameter and end; joined, a row a test in one file and the curves in another.
        scalars: "keys" of key lines, "parameters" a row each, "pairs" a row each.
        scalar_limits, scalar_verdicts: whether limits and verdicts stand beside them.
        margins: "rows", a row a parameter and end; "across", ends as columns; "none".
        margin_pair: "column", "brackets" behind the parameter, "none".
        behind: whether results stand behind the curves.
        several: whether a file holds several tests.
        head: how key lines are written: "cells", "colon", "equals", "titles".
        opening: what a test begins with where several stand in a file.
        delimiter, decimal, encoding, line_end: of the text.
        padded: whether key lines have blank cells behind, as spreadsheets write them.
        pairing, pin_mark, between: how pairs are called, "" to "/" within one, and between two.
        unit: of frequency.
        unit_at: "title", "row" or "told" in the head.
        brackets: around units in titles.
        negative: whether losses have a minus sign.
        limit_column: whether limits stand beside points of rows.
        numbered_axis: how frequencies stand in titles, with {}.
        name_order: of the words in titles and headings of curves.
        heading: frame of headings, with {}.
        zone: "inside" the time, "key" of its own, "told" in a remark, "none".
        day: form of the date.
        seconds: whether times have them.
        clock_apart: whether the time of day has a key of its own.
        no_end: whether a word stands where there is no end, else a blank.
        acr_f: "" or the ends at which it is given.
    """

    seed: int
    tongue: str
    structure: Structure
    scalars: str
    scalar_limits: bool
    scalar_verdicts: bool
    margins: str
    margin_pair: str
    behind: bool
    several: bool
    head: str
    opening: str
    delimiter: str
    decimal: str
    encoding: str
    line_end: str
    padded: bool
    pairing: Pairing
    pin_mark: str
    between: str
    unit: str
    unit_at: str
    brackets: str
    negative: bool
    limit_column: bool
    numbered_axis: str
    name_order: str
    heading: str
    zone: str
    day: str
    seconds: bool
    clock_apart: bool
    no_end: bool
    acr_f: str

    def shown(self) -> dict[str, str]:
        """All choices but the number, as texts."""
        return {key: str(value) for key, value in asdict(self).items() if key != "seed"}


TONGUES = ("en", "de", "fr", "nl", "it", "es", "pt", "sv", "da", "pl")
_STRUCTURES: tuple[Structure, ...] = (
    "columns", "long", "rows", "sections", "keyed", "parameters", "joined",
)  # fmt: skip
_PAIRINGS: tuple[Pairing, ...] = ("pins", "pins", "numbers", "colours")
_ORDERS = ("npe", "npe", "nep", "enp", "np(e)", "ne,p")


def draw(seed: int) -> Choices:
    """The choices of a number; such as no one writes together are made to fit."""
    rng = random.Random(seed)
    one = rng.choice
    tongue = one(("en", "en", *TONGUES))
    delimiter = one((";", ";", ",", "\t", "|"))
    decimal = "." if tongue == "en" or delimiter == "," else one((",", ",", "."))
    structure = one(_STRUCTURES)
    pairing = one(_PAIRINGS)
    pin_mark = one(("", ",", "-", "/")) if pairing == "pins" else ""
    betweens = [mark for mark in ("-", "/", ">", " - ") if mark != pin_mark]
    clock_apart = rng.random() < 0.2
    several = structure != "joined" and rng.random() < 0.5
    western = one(("utf-8", "utf-8-sig", "cp1252", "utf-16"))
    return Choices(
        seed=seed,
        tongue=tongue,
        structure=structure,
        scalars=one(("keys", "parameters", "pairs")),
        scalar_limits=rng.random() < 0.5,
        scalar_verdicts=rng.random() < 0.5,
        margins=one(("rows", "rows", "rows", "across", "none")),
        margin_pair=one(("column", "column", "brackets", "none")),
        behind=rng.random() < 0.4,
        several=several,
        head=one(("cells", "cells", "cells", "colon", "equals", "titles")),
        opening=one(("label", "number", "bracket", "rule")),
        delimiter=delimiter,
        decimal=decimal,
        encoding="cp1250" if tongue == "pl" and western == "cp1252" else western,
        line_end=one(("\n", "\r\n")),
        padded=rng.random() < 0.15,
        pairing=pairing,
        pin_mark=pin_mark,
        between=one(betweens),
        unit=one(("MHz", "MHz", "kHz", "Hz")),
        unit_at=one(("title", "title", "row", "told")),
        brackets=one(("({})", "[{}]", "in {}", "/ {}")),
        negative=rng.random() < 0.2,
        limit_column=rng.random() < 0.4,
        numbered_axis=one(("{}", "{} {unit}", "f={}")),
        name_order=one(_ORDERS),
        heading=one(("{}", "[{}]", "--- {} ---", "# {}")),
        zone=one(("inside", "key", "told", "none")) if not clock_apart else one(("key", "none")),
        day=_day(tongue, rng),
        seconds=rng.random() < 0.5,
        clock_apart=clock_apart,
        no_end=rng.random() < 0.5,
        acr_f=one(("", "", "far", "both")),
    )


def _day(tongue: str, rng: random.Random) -> str:
    """A form of the date that is written where the language is spoken."""
    if tongue == "en":
        return rng.choice(("%Y-%m-%d", "%m/%d/%Y", "%d %b %Y"))
    customs = {"de": "%d.%m.%Y", "da": "%d.%m.%Y", "pl": "%d.%m.%Y", "nl": "%d-%m-%Y"}
    return rng.choice(("%Y-%m-%d", customs.get(tongue, "%d/%m/%Y")))
