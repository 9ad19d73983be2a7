"""A limit table as immutable values: what the file says, with nothing worked out yet."""

from collections.abc import Mapping
from dataclasses import dataclass

from sweepbook.limits.ends import Ends
from sweepbook.limits.shape_model import Shape


@dataclass(frozen=True, slots=True)
class Interval:
    """By how much a limit may be off, in the parameter's unit: `value + low` to `value + high`."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Segment:
    """A limit over one range of frequency.

    Attributes:
        from_mhz, to_mhz: the range; both None for a figure without frequency. A segment owns its
            first frequency; its last one belongs to the next segment where there is one.
        shape: the formula as data.
        grade: "A" to "C", how the formula is known; "D" for one that is too doubtful to be used.
        interval: by how much it may be off, or None where that is not known or nothing.
        source: id in the table's `sources`.
        support: further ids in `sources`.
        note: what a reader should know.
    """

    from_mhz: float | None
    to_mhz: float | None
    shape: Shape
    grade: str
    interval: Interval | None
    source: str
    support: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class RelaxedWhen:
    """A looser limit for a link that is found to be short, disputed and off unless switched on.

    Where insertion loss at `at_mhz` is below `below_db`, `amount` (dB, over frequency) is taken
    off the limit from `from_mhz` to `to_mhz`.
    """

    id: str
    companion: str
    at_mhz: float
    below_db: float
    from_mhz: float
    to_mhz: float
    amount: Shape
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class Rounding:
    """How the document itself rounds the limit: digits after the mark, nearest or truncate."""

    decimals: int
    mode: str


@dataclass(frozen=True, slots=True)
class Tightened:
    """By how much a limit is tighter than its formula, in its unit, and by what source."""

    by: float
    source: str


@dataclass(frozen=True, slots=True)
class ParameterLimit:
    """The limit of one parameter.

    Attributes:
        parameter: word of the vocabulary.
        title: in words.
        obligation: required, informative, sampled or laboratory.
        required_when: "screened" or "unscreened" where the obligation stands only for such
            cabling, else None.
        obtained: "measured", or "computed" from measured ones.
        sense: "max" or "min": what the limit bounds.
        unit: dB, ns, ohm, percent or m.
        decides: "each" value, the "shortest-pair" or the "worst" one.
        segments: by rising frequency.
        cap: a minimum limit above it becomes it.
        floor: a maximum limit below it becomes it.
        rounding: only where the document rounds.
        tightened: by how much the limit is tighter than all that; of a length before the
            allowance. A difference is made of limits that are not tightened.
        allowance_percent: added to a length for the uncertainty of NVP; 0 where there is none.
        relaxed_when: see there.
        clause: clause or table of the document where it is known, else "".
        notes: what a reader should know.
    """

    parameter: str
    title: str
    obligation: str
    required_when: str | None
    obtained: str
    sense: str
    unit: str
    decides: str
    segments: tuple[Segment, ...]
    cap: float | None
    floor: float | None
    rounding: Rounding | None
    tightened: Tightened | None
    allowance_percent: float
    relaxed_when: RelaxedWhen | None
    clause: str
    notes: str

    @property
    def f_min_mhz(self) -> float | None:
        """Lowest frequency of the limit in MHz, None for a figure without frequency."""
        return self.segments[0].from_mhz

    @property
    def f_max_mhz(self) -> float | None:
        """Highest frequency of the limit in MHz, None for a figure without frequency."""
        return self.segments[-1].to_mhz

    @property
    def grade(self) -> str:
        """The worst grade of its segments."""
        return max(segment.grade for segment in self.segments)


@dataclass(frozen=True, slots=True)
class WireMap:
    """What the wire map must show: each pin at the near end with its pin at the far end."""

    obligation: str
    expected: Mapping[str, str]
    screen_obligation: str
    screen_required_when: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class StepRange:
    """The largest step a sweep may have, in MHz, from `from_mhz` up to `to_mhz`."""

    from_mhz: float
    to_mhz: float
    largest_step_mhz: float


@dataclass(frozen=True, slots=True)
class NotUsable:
    """A limit too doubtful to judge by: as recalled, and what is missing to use it.

    One that the document requires stands in `parameters` as well, without a value, so that a
    record can prove no pass for want of it.
    """

    parameter: str
    grade: str
    recalled: str
    missing: str


@dataclass(frozen=True, slots=True)
class Names:
    """Spellings that people use, in groups; a spelling of the table takes one of each at most."""

    body: tuple[str, ...]
    document: tuple[str, ...]
    edition: tuple[str, ...]
    class_or_category: tuple[str, ...]
    configuration: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class LimitTable:
    """One table: one edition of one document, one class or category, one configuration.

    Equal only to itself, so that it can be a key of a cache.

    Attributes:
        path: e.g. "tia-568.2-d/cat6a/channel".
        document, edition: the document and its edition, in words.
        series: names the documents of which this is one edition.
        based_on: path of the table that it is based on, or "".
        published_year: year of the edition; tests of earlier years cannot have been made to it.
        family: "tia" or "iso".
        title: in words.
        class_or_category: e.g. "Category 6A".
        configuration: word of the record, e.g. "permanent-link".
        configuration_note: how a bare spelling of the configuration is read, or "".
        consolidation_point: "with" or "without", None where the table does not tell them apart.
        environment: electromagnetic environment that the balance limits are for, or None.
        longest_length_m: without the allowance for NVP.
        connections: most connections in the link.
        ends: what the link ends in and how the tester is joined to it, or None.
        variants: paths of the tables that differ in the variant only.
        names: spellings.
        parameters: by word of the vocabulary; the wire map stands apart.
        wire_map: see there.
        steps: largest steps, by rising frequency.
        steps_grade, steps_source: how the steps are known.
        not_usable: entries not to judge by.
        sources: text of each source by its id.
        notes: what a reader should know.
        sha256: digest of the file.
    """

    path: str
    document: str
    edition: str
    series: str
    based_on: str
    published_year: int
    family: str
    title: str
    class_or_category: str
    configuration: str
    configuration_note: str
    consolidation_point: str | None
    environment: str | None
    longest_length_m: float
    connections: int
    ends: Ends | None
    variants: tuple[str, ...]
    names: Names
    parameters: Mapping[str, ParameterLimit]
    wire_map: WireMap
    steps: tuple[StepRange, ...]
    steps_grade: str
    steps_source: str
    not_usable: tuple[NotUsable, ...]
    sources: Mapping[str, str]
    notes: tuple[str, ...]
    sha256: str

    @property
    def f_min_mhz(self) -> float:
        """Lowest frequency in MHz that any of its required curves asks for."""
        return min(self._edges("f_min_mhz"))

    @property
    def f_max_mhz(self) -> float:
        """Highest frequency in MHz that any of its required curves asks for."""
        return max(self._edges("f_max_mhz"))

    def _edges(self, which: str) -> list[float]:
        return [
            edge
            for limit in self.parameters.values()
            if limit.obligation == "required" and (edge := getattr(limit, which)) is not None
        ]
