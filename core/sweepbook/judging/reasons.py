"""The reason of a judgement, in one to three sentences a person can check."""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Outcome, Recomputed, ScalarMargin
from sweepbook.judging.overview import failing
from sweepbook.judging.parts import Parts
from sweepbook.judging.working import Lack, LackKind, Trial
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.model import LimitTable

Part = Margin | ScalarMargin


class Said(NamedTuple):
    """What a source states of the whole test.

    Attributes:
        verdict: pass, pass*, fail* or fail; None where none was understood.
        words: its own; "" where it states nothing.
    """

    verdict: str | None
    words: str


def reason(
    stated: Said,
    parts: Parts,
    trials: Sequence[Trial],
    table: LimitTable,
    interpretations: Interpretations,
) -> str:
    """Why the record is judged as it is."""
    every: tuple[Part, ...] = (*parts.margins, *parts.scalars)
    required = [part for part in every if part.obligation == "required"]
    if trials:
        return _unsettled(trials, parts, required, table, interpretations)
    match parts.whole.recomputed:
        case Recomputed.FAIL:
            text = _fail(stated, required, table)
        case Recomputed.PASS:
            text = _pass(stated, required, table)
        case _:
            text = _undecided(parts, required)
    return text


def contradicted(stated: Said, own: str) -> str:
    """Why a pass is not proved beside what its own source states of its parts.

    Args:
        stated: what the source states of the whole test.
        own: what it states of parts of it, in words.
    """
    return (
        f"Neither pass nor fail is proved: beside {stated.verdict} the source itself states {own}. "
        "Its figures and its sweeps are not of one test, or were not read right."
    )


def _fail(stated: Said, required: Sequence[Part], table: LimitTable) -> str:
    if stated.verdict is None:
        start = f"{_without_verdict(stated)}; the data show a fail."
    elif stated.verdict.startswith("fail"):
        start = "The fail is proved."
    else:
        start = f"Stated {stated.verdict}, but the data show a fail."
    return f"{start} {_capital(_failing(required, table))}."


def _failing(required: Sequence[Part], table: LimitTable) -> str:
    return phrases.listed([_words(part, table) for part in failing(required)], most=1)


def _without_verdict(stated: Said) -> str:
    """Why there is no verdict to be held against the data."""
    if stated.words:
        return "What is stated as the verdict is not understood"
    return "No verdict is stated"


def _pass(stated: Said, required: Sequence[Part], table: LimitTable) -> str:
    if stated.verdict is None:
        start = f"{_without_verdict(stated)}; every required parameter passes."
    elif stated.verdict.startswith("fail"):
        start = f"Stated {stated.verdict}, but every required parameter passes."
    else:
        start = "Every required parameter passes."
    nearest = _nearest(required, table)
    said = f" {nearest}" if nearest else ""
    return start + said + _for_information(required) + _assumed(required)


def _nearest(required: Sequence[Part], table: LimitTable) -> str:
    nearest, least, good = None, math.inf, Outcome.PASS  # looked up once: there are a hundred
    for part in required:
        if type(part) is Margin and part.outcome is good:
            found = part.worst_margin_db  # none where it is beyond all bounds
            if found is not None and (nearest is None or found < least):
                nearest, least = part, found
    if nearest is None:
        return ""
    return f"Nearest to its limit: {_words(nearest, table)}."


def _for_information(required: Sequence[Part]) -> str:
    left: dict[str, int] = {}
    none = Outcome.NOT_EVALUATED
    for part in required:
        if part.outcome is none:
            left[part.parameter] = left.get(part.parameter, 0) + 1
    return "".join(
        f" Not evaluated, since every point is for information only: {phrases.name(parameter)},"
        f" {count} curve{'s' if count > 1 else ''}."
        for parameter, count in left.items()
    )


def _assumed(required: Sequence[Part]) -> str:
    """What was assumed for a pass, such as the frequency of a delay, once a parameter."""
    said = {
        part.parameter: part.reason
        for part in required
        if part.reason and part.outcome is Outcome.PASS and isinstance(part, ScalarMargin)
    }
    return "".join(f" {_capital(phrases.name(name))}: {why}." for name, why in said.items())


def _once_a_curve(lacks: Iterable[Lack]) -> Iterator[Lack]:
    """What is missing, of steps that are too wide in several ranges of a curve the first."""
    stepping = set()
    for fact in lacks:
        if fact.kind is LackKind.STEP:
            curve = (fact.parameter, fact.end, fact.pairs)
            if curve in stepping:
                continue
            stepping.add(curve)
        yield fact


def _undecided(parts: Parts, required: Sequence[Part]) -> str:
    missing = [phrases.lack(fact) for fact in _once_a_curve(parts.lacks)]
    known = set(missing)
    doubtful = list(dict.fromkeys(doubt.text for doubt in parts.barred))
    known |= set(doubtful)
    texts = (
        doubtful
        + missing
        + [text for text in phrases.undecided(required) if not any(lack in text for lack in known)]
    )
    return f"Neither pass nor fail is proved: {phrases.listed(texts)}."


def _unsettled(
    trials: Sequence[Trial],
    parts: Parts,
    required: Sequence[Part],
    table: LimitTable,
    interpretations: Interpretations,
) -> str:
    """A verdict that hangs on a reading of the standard that nobody has decided."""
    names = [f"{t.interpretation} ({_title(t, interpretations)})" for t in trials]
    outcomes = " or ".join(dict.fromkeys(trial.into for trial in trials))
    now = parts.whole.recomputed
    shown = _failing(required, table) + "." if now is Recomputed.FAIL else _nearest(required, table)
    return (
        f"Not settled: {now} under the readings in force, {outcomes} under "
        f"{phrases.listed(names)}. {_capital(shown)} Decide with --interpretation."
    )


def _title(trial: Trial, interpretations: Interpretations) -> str:
    return interpretations.entry(trial.interpretation).title.rstrip(".")


def _words(part: Part, table: LimitTable) -> str:
    rule = table.parameters.get(part.parameter)
    where = ", ".join(filter(None, (table.title, rule.clause if rule else "")))
    if isinstance(part, Margin):
        return phrases.curve(part, where)
    return phrases.scalar(part, where)


def sentence(text: str) -> str:
    """The text as a sentence."""
    return f"{_capital(text).rstrip('.')}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
