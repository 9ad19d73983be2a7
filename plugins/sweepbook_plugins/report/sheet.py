"""The sheet of one test: its verdicts, its parameters by margin, its plots, what is known of it."""

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.audit.told import head
from sweepbook.judging.assessment import Judgement, Recomputed
from sweepbook.people.names import People
from sweepbook_plugins.report.draw import draw
from sweepbook_plugins.report.panel import panels
from sweepbook_plugins.report.parts import rows
from sweepbook_plugins.report.render import template

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sweepbook.findings import RuleNotRun
    from sweepbook.judging.assessment import Assessment
    from sweepbook.judging.hold import Held


def sheet(assessment: "Assessment", people: People, held: "Sequence[Held]" = ()) -> str:
    """The sheet as HTML, without the element around it, which has the number of the test.

    Args:
        assessment: of the test.
        people: their names by their ids.
        held: its curves as they were held against their limits; none to draw no plots.
    """
    record = assessment.record
    told = (_named(name, text, people) for name, text in head(record.document) if text)
    facts = list(dict.fromkeys(told))
    failed = assessment.recomputed is Recomputed.FAIL
    return template("sheet.html").render(
        of=assessment,
        caution=failed or assessment.judgement is Judgement.OVERTURNED,
        rows=rows(assessment),
        facts=facts,
        facts_at=dict(facts),
        corrected=record.corrected,
        people=people,
        plots=[draw(panel) for panel in panels(held, assessment.margins)] if held else [],
        silent=_silent(assessment.rules_not_run),
    )


def _named(name: str, text: str, people: People) -> tuple[str, str]:
    """A fact; the operator with the name that belongs to the id."""
    return name, people.shown(text) if name == "operator" else text


def _silent(rules: "tuple[RuleNotRun, ...]") -> "Iterator[tuple[str, str, str]]":
    """Rules that gave no answer: how, why, and which."""
    for how, reason in Counter((rule.how, rule.reason) for rule in rules):
        named = ", ".join(r.rule for r in rules if (r.how, r.reason) == (how, reason))
        yield how.value, reason, named
