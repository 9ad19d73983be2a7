"""The curves and figures of a test as rows: one a parameter, the one nearest to failing in it."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sweepbook.audit.told import stated_margins, stated_verdicts
from sweepbook.explain.asked import Part, gravest_first, margin
from sweepbook.judging import phrases
from sweepbook.judging.assessment import Assessment, Margin, Outcome, ScalarMargin
from sweepbook.record import vocabulary

Stated = Mapping[tuple[object, ...], float]


@dataclass(frozen=True, slots=True)
class Row:
    """One parameter of a test.

    Attributes:
        parameter: in the trade's words.
        unit: of margin, limit and value: dB, ns, m, ohm, percent or faults.
        outcome: what all its curves or figures prove together.
        stated: what the source says of it: its verdict, and its margin of the same curve.
        margin, limit, value: at the worst margin.
        pairs: of the curve or figure with the worst margin; crosstalk as "1-2 to 3-6".
        end: near, far or "".
        mhz: where the margin is worst; None for a single figure.
        worst_value, worst_value_mhz: of the same curve; the smallest loss may lie elsewhere.
        obligation: "" where it is required.
        of: how many curves or figures there are, and how many of them fail or are undecided.
        information: points of all its curves that are for information only.
        grade: how well the limit of the worst is known.
        remark: why it is undecided, or what was assumed, where the reason of the judgement does not
            say that already; it begins with what it is of.
    """

    parameter: str
    unit: str
    outcome: str
    stated: str
    stated_margin: float | None
    margin: float | None
    limit: float | None
    value: float | None
    pairs: str
    end: str
    mhz: float | None
    worst_value: float | None
    worst_value_mhz: float | None
    obligation: str
    of: str
    information: int
    grade: str
    remark: str


def rows(assessment: Assessment) -> list[Row]:
    """One row a parameter: what fails first, then what is undecided, each by its margin.

    Margins in dB come before those in other units, which cannot be held against them.
    """
    document = assessment.record.document
    verdicts, stated = stated_verdicts(document), stated_margins(document)
    groups: dict[tuple[str, bool], list[Part]] = {}
    every: tuple[Part, ...] = (*assessment.margins, *assessment.scalars)
    for part in every:
        groups.setdefault((part.parameter, isinstance(part, Margin)), []).append(part)
    found = [(gravest_first(group), nearest(group)) for group in groups.values()]
    found.sort(key=lambda one: (_gravity(one[0][0]), one[1].unit != "dB", margin(one[1])))
    told = assessment.reason
    return [_row(group, worst, verdicts, stated, told) for group, worst in found]


def nearest(group: Sequence[Part]) -> Part:
    """The part to show for a parameter: the least margin of what fails, else of all."""
    failing = [part for part in group if part.outcome is Outcome.FAIL]
    return min(failing or group, key=margin)


def _gravity(part: Part) -> tuple[bool, int]:
    """What is required comes first, and of it what fails."""
    order = (Outcome.FAIL, Outcome.UNDECIDED, Outcome.PASS, Outcome.NOT_EVALUATED)
    return part.obligation != "required", order.index(part.outcome)


def _row(
    group: tuple[Part, ...], worst: Part, verdicts: Mapping[str, str], stated: Stated, told: str
) -> Row:
    """A row.

    Args:
        group: the parts of the parameter, the gravest first.
        worst: the one to show.
        verdicts: of the source itself, by parameter.
        stated: its own worst margins, by curve.
        told: the reason of the judgement.
    """
    common: dict[str, Any] = {
        "parameter": phrases.name(worst.parameter),
        "unit": worst.unit,
        "outcome": group[0].outcome.value,
        "stated": verdicts.get(worst.parameter, ""),
        "obligation": "" if worst.obligation == "required" else worst.obligation,
        "of": _counted(group),
        "grade": worst.grade or "",
        "remark": _remark(group[0], worst, told),
    }
    if isinstance(worst, Margin):
        return Row(**common, **_of_curve(worst, stated), information=_information(group))
    return Row(**common, **_of_figure(worst), information=0)


def _of_curve(worst: Margin, stated: Stated) -> dict[str, Any]:
    return {
        "stated_margin": stated.get((worst.parameter, worst.end, worst.pairs)),
        "margin": worst.worst_margin_db,
        "limit": worst.limit_at_worst_margin_db,
        "value": value_at_worst_margin(worst),
        "pairs": " to ".join(worst.pairs),
        "end": worst.end or "",
        "mhz": worst.worst_margin_mhz,
        "worst_value": worst.worst_value_db,
        "worst_value_mhz": worst.worst_value_mhz,
    }


def _of_figure(worst: ScalarMargin) -> dict[str, Any]:
    return {
        "stated_margin": None,
        "margin": worst.margin,
        "limit": worst.limit,
        "value": worst.value,
        "pairs": worst.pair or "",
        "end": "",
        "mhz": None,
        "worst_value": None,
        "worst_value_mhz": None,
    }


def value_at_worst_margin(worst: Margin) -> float | None:
    """The judged value where the margin is worst: limit and margin are of the same point."""
    limit, off = worst.limit_at_worst_margin_db, worst.worst_margin_db
    if limit is None or off is None:
        return None
    known = vocabulary.load().get(worst.parameter)
    return limit - off if known and known.better == "lower" else limit + off


def _remark(gravest: Part, shown: Part, told: str) -> str:
    """Why a part proves nothing, or what was assumed, with what it is of; "" where it was told.

    Args:
        gravest: part of the parameter.
        shown: the one that the row shows.
        told: the reason of the judgement.
    """
    of = gravest if gravest.reason else shown
    if not of.reason:
        return ""
    what = phrases.name(of.parameter) if of is shown else _subject(of)
    said = of.reason if of.reason.startswith(_subject(of)) else f"{what}: {of.reason}"
    return "" if said.casefold() in told.casefold() else f"{said[0].upper()}{said[1:]}"


def _subject(part: Part) -> str:
    if isinstance(part, Margin):
        return phrases.subject(part.parameter, part.end, part.pairs)
    return " ".join(filter(None, (phrases.name(part.parameter), part.pair)))


def _information(group: tuple[Part, ...]) -> int:
    return sum(part.points_for_information for part in group if isinstance(part, Margin))


def _counted(group: tuple[Part, ...]) -> str:
    """How many, and how many of them do not pass: "12, 2 fail"."""
    count = Counter(part.outcome for part in group)
    words = {Outcome.FAIL: "fail", Outcome.UNDECIDED: "undecided"}
    told = [f"{count[one]} {word}" for one, word in words.items() if count[one]]
    return ", ".join([str(len(group)), *(told if len(group) > 1 else ())])
