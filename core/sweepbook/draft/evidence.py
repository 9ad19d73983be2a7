"""What a layout hands over: the curves and keys of a few tests, still as texts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from sweepbook.draft.cells_told import Several
from sweepbook.draft.field_times import Joins
from sweepbook.draft.legend import Legend

MOST_POINTS = 60


@dataclass(frozen=True)
class SeenCurve:
    """One curve.

    Attributes:
        texts: what names it, by the slot it stands in: a title, a column, a heading, a path.
        frequency, value: n texts each.
    """

    texts: Mapping[str, str]
    frequency: Sequence[str]
    value: Sequence[str]


@dataclass
class Evidence:
    """What was seen of an export.

    Attributes:
        curves: of the first tests; long ones thinned.
        properties: distinct texts by key, of all tests seen.
        axis_names: titles and names beside frequencies of curves, which may hold a unit.
        figure_axes: the same of those of single figures, which may be in another unit.
        singles: texts of single figures, for the notation.
        verdicts: texts that stand where verdicts stand, besides those of properties.
        judged: words for verdicts of curves, each with the text of the margin beside it.
        limits: texts of stated limits, by the parameter of their rows.
        taken: templates of keys of verdicts that a form of figures takes already.
        gaps: texts that stand where values of curves do and are no plain numbers, of all tests.
        figures: texts of single figures without a sweep, by parameter.
        legend: what the export explains of pairs, units and ends.
        tests: how many tests the keys are of, as far as that is known.
        names: texts that name what is measured, for where no curve can be handed over.
        in_all: keys that hold a text in every test, as far as that is known.
        own: keys outside of tests that hold a text for each test, or nearly so.
        lines: keys of lines of their own, or of another file; no columns of tables of curves.
        titled: the keys of each line of titles whose values stand in the line below.
        delimiter: between the cells of a line, where each further one has a key of its own.
        several: keys whose texts hold two, once these are taken apart.
        joins: how files were joined to that with the curves.
    """

    curves: list[SeenCurve] = field(default_factory=list)
    properties: dict[str, list[str]] = field(default_factory=dict)
    axis_names: list[str] = field(default_factory=list)
    figure_axes: list[str] = field(default_factory=list)
    singles: list[str] = field(default_factory=list)
    verdicts: list[str] = field(default_factory=list)
    judged: list[tuple[str, str]] = field(default_factory=list)
    limits: dict[str, list[str]] = field(default_factory=dict)
    taken: set[str] = field(default_factory=set)
    gaps: list[str] = field(default_factory=list)
    figures: dict[str, list[str]] = field(default_factory=dict)
    names: list[str] = field(default_factory=list)
    own: set[str] = field(default_factory=set)
    lines: set[str] = field(default_factory=set)
    in_all: set[str] = field(default_factory=set)
    titled: list[tuple[str, ...]] = field(default_factory=list)
    legend: Legend = field(default_factory=Legend)
    tests: int = 1
    delimiter: str = ""
    several: list[Several] = field(default_factory=list)
    joins: Joins = field(default_factory=Joins)
    _kept: dict[str, set[str]] = field(default_factory=dict, repr=False, compare=False)
    """The texts of `properties` by key, to find one among very many."""

    def put(self, key: str, text: str) -> None:
        """Keep a text of a key once."""
        known = self.properties.setdefault(key, [])
        kept = self._kept.get(key, set())
        if len(kept) != len(known):
            kept = set(known)
        if text and text not in kept:
            known.append(text)
            kept.add(text)
        self._kept[key] = kept

    def put_line(self, key: str, text: str) -> None:
        """Keep a text of a key that has a line of its own."""
        self.put(key, text)
        self.lines.add(key)


def keep_figure(evidence: Evidence, parameter: str | None, texts: Sequence[str]) -> None:
    """Keep the texts of a single figure."""
    if parameter:
        evidence.figures.setdefault(parameter, []).extend(text for text in texts if text)


def thin(texts: Sequence[str]) -> list[str]:
    """At most 60 texts, evenly spread, the first and the last among them."""
    if len(texts) <= MOST_POINTS:
        return list(texts)
    step = (len(texts) - 1) / (MOST_POINTS - 1)
    return [texts[round(step * number)] for number in range(MOST_POINTS)]
