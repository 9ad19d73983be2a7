"""What is made of one test for all tables, in whatever process: plain data, cheap to send."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.findings import Finding, RuleNotRun
from sweepbook.looking import look_for_all
from sweepbook.people.names import People
from sweepbook.retests.collect import Kept, kept
from sweepbook.schedule import trace
from sweepbook_plugins.xlsx import links
from sweepbook_plugins.xlsx.corrections import changes
from sweepbook_plugins.xlsx.fields import SINGLE
from sweepbook_plugins.xlsx.instruments import FAR, NEAR, Said, units
from sweepbook_plugins.xlsx.layout import Row
from sweepbook_plugins.xlsx.links import NO_LABEL, link
from sweepbook_plugins.xlsx.margins import judged
from sweepbook_plugins.xlsx.spellings import Spelling, spelled

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment
    from sweepbook.judging.hold import Held
    from sweepbook_plugins.xlsx.sweeps import Test

_SHORTEST_ID = 8
_look = look_for_all((trace.PATHS, NEAR, FAR, links.PATHS), SINGLE)


class Noted(NamedTuple):
    """One test.

    Attributes:
        label: of its link, or words that there is none.
        record_id: of its record.
        judgement, recomputed: what became of the stated verdict, and what the sweeps say.
        marginal, again, corrected: whether it is a marginal pass, is to be tested again by the
            quality plan, and has corrections.
        link, margins, corrections: its rows of these tables.
        findings, not_run: what rules say of it.
        units: what it says of its instruments.
        spelled: spellings that the job brings together in it.
        kept: what tells where its link stands; None for a kind of record that is not judged.
        sweeps: those of a chosen test; None of the others.
    """

    label: str
    record_id: str
    judgement: str
    recomputed: str
    marginal: bool
    again: bool
    corrected: bool
    link: Row
    margins: Sequence[Row]
    corrections: Sequence[Row]
    findings: tuple[Finding, ...]
    not_run: tuple[RuleNotRun, ...]
    units: tuple[Said, ...]
    spelled: frozenset[Spelling]
    kept: Kept | None
    sweeps: "Test | None"

    @property
    def begun(self) -> str:
        """When the test was started, RFC 3339; "" where the record does not say."""
        _, started, *_ = self.link
        return started if isinstance(started, str) else ""


def noted(
    people: People,
    margins: str,
    chosen: Sequence[str],
    assessment: "Assessment",
    held: "Callable[[], Sequence[Held]]",
) -> Noted:
    """Note of a test what the tables say of it.

    Args:
        people: their names by their ids.
        margins: which: all, worst or none.
        chosen: labels or record ids of the tests whose sweeps are asked for.
        assessment: of the test.
        held: gives its curves as they were held against their limits.
    """
    record = assessment.record
    label = record.label or NO_LABEL
    traced, near, far, shown = _look(record.document)
    return Noted(
        label=label,
        record_id=record.record_id,
        judgement=assessment.judgement.value,
        recomputed=assessment.recomputed.value,
        marginal=bool(assessment.marginal),
        again=assessment.again,
        corrected=record.corrected is not None,
        link=link(assessment, label, shown, people),
        margins=[*judged(assessment, label, margins)],
        corrections=[*changes(assessment, people)],
        findings=assessment.findings,
        not_run=assessment.rules_not_run,
        units=units(near, far),
        spelled=spelled(assessment),
        kept=kept(assessment, traced),
        sweeps=_sweeps(assessment, held) if meant(chosen, label, record.record_id) else None,
    )


def meant(chosen: Sequence[str], label: str, record_id: str) -> list[str]:
    """Those of the chosen texts by which a test is meant: its label, or the start of its id."""
    return [
        text
        for text in chosen
        if text == label or (len(text) >= _SHORTEST_ID and record_id.startswith(text))
    ]


def _sweeps(assessment: "Assessment", held: "Callable[[], Sequence[Held]]") -> "Test":
    from sweepbook_plugins.xlsx.sweeps import sweeps

    return sweeps(assessment, held)
