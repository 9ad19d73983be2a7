"""A test sheet: the head of a record, what was stated beside what was recomputed, the findings."""

from collections.abc import Iterator, Mapping

from sweepbook.audit.told import head, stated_margins, stated_verdicts
from sweepbook.cli import job_lines, lines, table
from sweepbook.cli.table import Column
from sweepbook.cli.wording import MOST_NAMED, counted, decibel, megahertz, signed, where
from sweepbook.judging.assessment import Assessment, Judgement, Margin, Outcome, ScalarMargin
from sweepbook.people.names import NOBODY, People

_PARAMETERS = (
    Column("parameter", 50),
    Column("stated", 6),
    Column("recomputed", 13),
)
_GRAVEST = (Outcome.FAIL, Outcome.UNDECIDED, Outcome.NOT_EVALUATED)
_CURVES = (
    Column("curve", 24),
    Column("stated", 7, right=True),
    Column("margin", 7, right=True),
    Column("MHz", 6, right=True),
    Column("value", 6, right=True),
    Column("MHz", 6, right=True),
    Column("result", 9),
)
_FIGURES = (
    Column("figure", 38),
    Column("value", 8, right=True),
    Column("limit", 8, right=True),
    Column("margin", 8, right=True),
    Column("result", 9),
)


def of(assessment: Assessment, people: People = NOBODY) -> Iterator[str]:
    """Give the whole sheet, line by line, with the names of people as far as they are known."""
    document = assessment.record.document
    columns = table.terminal_columns()
    yield from table.paragraph(f"Test of {assessment.record.label or '(no label)'}", columns)
    yield from table.facts(head(document, people), columns)
    corrected = lines.of_corrections(assessment.record, people)
    yield from table.facts((("corrected", text) for text in corrected), columns)
    names = job_lines.of_record(assessment.record)
    yield from table.facts((("taken as", text) for text in names), columns)
    yield ""
    yield from table.facts(verdict(assessment), columns)
    if assessment.margins or assessment.scalars:
        yield ""
        yield from _parameters(assessment)
    stated = stated_margins(document)
    if assessment.margins:
        yield ""
        yield from table.heading(_CURVES)
        for margin in assessment.margins:
            yield from _curve(margin, stated)
        yield from table.paragraph(
            "Margins and values in dB (delays in ns), each the worst of its curve at the "
            "frequency beside it; `stated` is the source's own margin.",
            columns,
        )
    if assessment.scalars:
        yield ""
        yield from table.heading(_FIGURES)
        for scalar in assessment.scalars:
            yield from _figure(scalar)
        for remark in _remarks(assessment):
            yield from table.paragraph(remark, columns)
    yield ""
    yield from _findings(assessment, columns)
    if assessment.recomputed == "fail" or assessment.judgement is Judgement.OVERTURNED:
        yield ""
        yield from table.paragraph(lines.CAUTION, columns)


def verdict(assessment: Assessment) -> Iterator[tuple[str, str]]:
    """What was stated, what was recomputed, and what becomes of the one by the other."""
    yield "stated", assessment.stated or "no verdict"
    yield "recomputed", assessment.recomputed.value
    yield "judgement", assessment.judgement.value
    yield "because", assessment.reason
    grade = f", known to grade {assessment.grade}" if assessment.grade else ""
    yield "limit", f"{assessment.limit_path or 'none'}{grade}; {assessment.limit_how}"


def _parameters(assessment: Assessment) -> Iterator[str]:
    """One row a parameter: the source's own verdict beside what its curves and figures prove."""
    words = stated_verdicts(assessment.record.document)
    outcomes: dict[str, list[Outcome]] = {}
    everything: tuple[Margin | ScalarMargin, ...] = (*assessment.margins, *assessment.scalars)
    for judged in everything:
        outcomes.setdefault(_asked(judged), []).append(judged.outcome)
    yield from table.heading(_PARAMETERS)
    for name, found in outcomes.items():
        outcome = next((word for word in _GRAVEST if word in found), Outcome.PASS)
        cells = (name, words.get(name.partition(" ")[0], ""), outcome.value)
        first, *more = table.row(cells, _PARAMETERS)
        yield table.coloured(first, outcome.value)
        yield from more


def _asked(judged: Margin | ScalarMargin) -> str:
    """The parameter, and its obligation where it is not simply required."""
    if judged.obligation == "required":
        return judged.parameter
    return f"{judged.parameter} ({judged.obligation})"


def _curve(margin: Margin, stated: Mapping[tuple[object, ...], float]) -> Iterator[str]:
    cells = (
        where(margin),
        signed(stated.get((margin.parameter, margin.end, margin.pairs))),
        signed(margin.worst_margin_db),
        megahertz(margin.worst_margin_mhz),
        decibel(margin.worst_value_db),
        megahertz(margin.worst_value_mhz),
        margin.outcome.value,
    )
    first, *more = table.row(cells, _CURVES)
    yield table.coloured(first, margin.outcome.value)
    yield from more


def _figure(scalar: ScalarMargin) -> Iterator[str]:
    name = " ".join(filter(None, (scalar.parameter, scalar.pair)))
    figures = (scalar.value, scalar.limit, scalar.margin)
    cells = (f"{name} ({scalar.unit})", *map(_plain, figures), scalar.outcome.value)
    first, *more = table.row(cells, _FIGURES)
    yield table.coloured(first, scalar.outcome.value)
    yield from more


def _remarks(assessment: Assessment) -> Iterator[str]:
    """What is to be said of single figures, once each: what was assumed, or why not decided."""
    said = {
        f"{scalar.parameter}: {scalar.reason}." for scalar in assessment.scalars if scalar.reason
    }
    yield from sorted(said)


def _findings(assessment: Assessment, columns: int) -> Iterator[str]:
    if not assessment.findings:
        yield "No findings."
    yield from lines.of_findings(assessment.findings)
    yield from lines.of_crashes(assessment.rules_not_run)
    skipped: dict[str, list[str]] = {}
    for rule in assessment.rules_not_run:
        if rule.how == "skipped":
            skipped.setdefault(rule.reason, []).append(rule.rule)
    for reason, rules in skipped.items():
        named = f"rules {', '.join(rules)}" if len(rules) > 1 else f"rule {rules[0]}"
        who = named if len(rules) <= MOST_NAMED else counted(len(rules), "rule")
        yield from table.paragraph(f"{who} could not look: {reason}", columns)


def _plain(value: float | None) -> str:
    return "" if value is None else f"{round(value, 3) + 0.0:g}"
