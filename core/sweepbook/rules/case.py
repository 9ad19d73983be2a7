"""What a rule looks at: one record, what was made of it, and what it is held against."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, TypeVar

from sweepbook.cached import cached_property
from sweepbook.judging.hold import required_of
from sweepbook.judging.lengths import lengths
from sweepbook.judging.one_order import stated_for_both
from sweepbook.judging.physics import Bounds
from sweepbook.judging.screen import is_screened

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from sweepbook.judging.assessment import Assessment, Margin, Outcome, ScalarMargin
    from sweepbook.judging.hold import Held
    from sweepbook.judging.settings import JudgeSettings
    from sweepbook.judging.working import Lack, Working
    from sweepbook.limits.interpretations import Interpretations
    from sweepbook.limits.model import LimitTable
    from sweepbook.limits.practice import Practice
    from sweepbook.record.model import Record
    from sweepbook.record.validate import SchemaProblem
    from sweepbook.rules.stated_limit import StatedLimit

Place = tuple[str, str | None, tuple[str, ...]]
"""Parameter, end and pairs that a stated item is about; None and () for all of them."""


@dataclass(frozen=True)
class Case:
    """One record before the rules.

    Attributes:
        record: the evidence.
        problems: where it does not follow its schema; then nothing else was done with it.
        stated_limit: what the limit as stated leads to.
        table: the limit table judged under, the stated one or that of --against; None without one.
        assessment: what the judging made of it.
        working: how it was made; None where the record was not judged, because it does not follow
            its schema or is of a kind that is not judged.
        practice: figures of common practice.
        settings: readings of the standards in force and the like.
    """

    record: "Record"
    problems: "tuple[SchemaProblem, ...]"
    stated_limit: "StatedLimit"
    table: "LimitTable | None"
    assessment: "Assessment"
    working: "Working | None"
    practice: "Practice"
    settings: "JudgeSettings"

    @cached_property
    def margins(self) -> "Mapping[str, Sequence[Margin]]":
        """The judged curves by their parameter."""
        return _by_parameter(self.assessment.margins)

    @cached_property
    def scalars(self) -> "Mapping[str, Sequence[ScalarMargin]]":
        """The judged single figures by their parameter."""
        return _by_parameter(self.assessment.scalars)

    @cached_property
    def looked_up(self) -> "dict[Place, Sequence[Margin]]":
        """The judged curves of each place that was asked for so far; several rules ask for one."""
        return {}

    @cached_property
    def proved(self) -> "dict[Place, Outcome]":
        """What the sweeps prove of each place that was asked for so far."""
        return {}

    @cached_property
    def stated_items(self) -> "Sequence[tuple[str, Mapping[str, Any]]]":
        """Every stated item with its JSON path."""
        items = self.document.get("stated", {}).get("items", ())
        return [(f"$.stated.items[{position}]", item) for position, item in enumerate(items)]

    @cached_property
    def shortest_m(self) -> float:
        """How long the shortest pair is for certain; 0 where no length and no delay is known."""
        working = self.needed_working
        figures = working.evidence.figures if working.evidence else {}
        known = lengths(working.measured_curves, figures, Bounds.of(self.practice))
        return min((one.least_m for one in known), default=0.0)

    @cached_property
    def of_both(self) -> "frozenset[Place]":
        """The stated items that may be about both orders of their two pairs."""
        return stated_for_both(self.document)

    def under(self, reading: str, interpretations: "Interpretations") -> "Case":
        """The same under other readings of the standards. It costs half a judgement.

        Args:
            reading: id of the one that is switched.
            interpretations: all of them.
        """
        from sweepbook.judging.trials import under

        known, evidence = self._under.get(reading), self.needed_working.evidence
        if known is None and evidence is not None:
            held = self.needed_working.held
            parts = under(interpretations, evidence, self.needed_table, self.settings, held)
            known = self._under[reading] = replace(
                self,
                assessment=replace(self.assessment, margins=parts.margins, scalars=parts.scalars),
                working=replace(self.needed_working, lacks=parts.lacks),
            )
        return known or self

    def as_exported(self, parameter: str) -> "Held | None":
        """The exported curves of a derived parameter, held by themselves; None for none.

        Args:
            parameter: word of the vocabulary.
        """
        from sweepbook.judging.alone import as_exported

        evidence = self.needed_working.evidence
        if parameter not in self._exported and evidence is not None:
            made = as_exported(parameter, evidence, self.needed_table, self.settings)
            self._exported[parameter] = made
        return self._exported.get(parameter)

    @cached_property
    def _exported(self) -> "dict[str, Held | None]":
        """By each parameter that was asked for so far."""
        return {}

    @cached_property
    def _under(self) -> "dict[str, Case]":
        """By each reading that was asked for so far."""
        return {}

    @cached_property
    def lacks(self) -> "Mapping[str, Sequence[Lack]]":
        """What is missing for a full proof, by parameter."""
        return _by_parameter(self.needed_working.lacks)

    @cached_property
    def required(self) -> frozenset[str]:
        """What the table requires of this record, the wire map perhaps among it."""
        return required_of(self.needed_table, is_screened(self.document))

    @property
    def document(self) -> dict[str, Any]:
        """The record's document."""
        return self.record.document

    @property
    def interpretations(self) -> "Interpretations":
        """Readings of the standards in force."""
        return self.settings.interpretations

    @property
    def needed_table(self) -> "LimitTable":
        """The table, for rules that the catalogue has run only where there is one.

        Raises:
            ValueError: there is none.
        """
        if self.table is None:
            raise ValueError("there is no limit table")
        return self.table

    @property
    def needed_working(self) -> "Working":
        """The working, for rules that the catalogue has run only on records of the schema.

        Raises:
            ValueError: there is none.
        """
        if self.working is None:
            raise ValueError("the record was not judged")
        return self.working


Judged = TypeVar("Judged", "Margin", "ScalarMargin", "Lack")


def _by_parameter(judged: "Iterable[Judged]") -> "dict[str, list[Judged]]":
    found: dict[str, list[Judged]] = {}
    last, here = "", found.setdefault("", [])
    for one in judged:
        if one.parameter != last:  # those of one stand together
            last, here = one.parameter, found.setdefault(one.parameter, [])
        here.append(one)
    return found


def lacking(need: str, case: Case) -> str | None:
    """Say why something a rule needs is not there; None where it is.

    Args:
        need: a word of the catalogue: "schema", "limit" or "own-limit".
        case: the record before the rules.

    Raises:
        ValueError: the word is not known.
    """
    if need == "schema":
        return case.assessment.reason if case.working is None else None
    if need == "limit":
        return None if case.table else f"there is no limit table: {case.stated_limit.how}"
    if need == "own-limit":
        corrected = case.record.corrected
        fields = {one.field for one in corrected.applied} if corrected else set()
        if corrected and "test.limit" in fields - corrected.taken_back:
            return "the limit was corrected, and what the source states is about another one"
        own = case.stated_limit.path
        if case.table is None or own is None or case.table.path == own:
            return None  # without a table of its own, the one asked for is what the record means
        return f"judged under {case.table.path}, not under the limit stated"
    raise ValueError(f"no rule can need {need!r}")
