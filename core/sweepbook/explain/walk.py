"""One judged curve or figure step by step, so that a person with a pocket calculator can follow."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from sweepbook.explain import sources
from sweepbook.explain.asked import Part
from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Origin, Outcome, ScalarMargin
from sweepbook.judging.curves import UNORDERED, Key
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.worked import DIGITS, worked
from sweepbook.rules.case import Case

_CARRIED = 5e-7


class Step(NamedTuple):
    """One step: what it is about, and what there is to know."""

    about: str
    text: str


def walk(case: Case, part: Part, *, alone: bool = True) -> Iterator[Step]:
    """The steps from the sweep to the conclusion.

    Args:
        case: a judged record with a limit table.
        part: one of its judged curves or figures.
        alone: whether nothing else says what becomes of the record.
    """
    table = case.needed_table
    rule = table.parameters.get(part.parameter)
    yield Step("judged", f"{_in_words(part)}, {_obligation(part)}")
    yield Step("limit table", f"{table.path}: {table.title}")
    if isinstance(part, Margin):
        yield from _curve(case, part, table)
    else:
        yield from _figure(part, rule)
    yield from _stated(case.document, part)
    yield Step("so", _conclusion(part))
    if alone:
        yield Step("record", f"{case.assessment.judgement.value}. {case.assessment.reason}")


def _in_words(part: Part) -> str:
    if isinstance(part, Margin):
        return phrases.subject(part.parameter, part.end, part.pairs)
    return " ".join(filter(None, (phrases.name(part.parameter), part.pair)))


def _obligation(part: Part) -> str:
    if part.obligation == "required":
        return "required for a pass"
    return f"{part.obligation}, so it decides nothing"


def _curve(case: Case, part: Margin, table: LimitTable) -> Iterator[Step]:
    key = Key(part.parameter, part.end, part.pairs)
    yield Step("origin", part.origin.value)
    yield from _left_out(case, part, table)
    at, value = part.worst_margin_mhz, _value(case, part)
    if at is None or value is None or part.worst_margin_db is None:
        yield Step("value", "no point was evaluated")
        return
    yield Step("worst at", f"{phrases.frequency(at)}, where the margin is smallest")
    for text in sources.way(case.needed_working, key, at):
        yield Step("value", text)
    unit = part.unit
    nominal = sources.value(case.needed_working, key, at)
    if nominal is not None and abs(nominal - value) > _CARRIED:
        yield Step("value", f"{nominal:.{DIGITS}f} {unit}, rounded by a reading that is on")
    clipped = sources.at_least(case.needed_working, key, at)
    least = " at least, since it is clipped" if clipped else ""
    yield Step("value", f"at {phrases.frequency(at)}: {value:.{DIGITS}f} {unit}{least}")
    limit = float(part.limit_at_worst_margin_db or 0.0)
    made = worked(table, part.parameter, at, case.interpretations)
    for text in made.steps:
        yield Step("limit", text)
    if abs(made.value - limit) > _CARRIED:
        names = [one.id for one in case.interpretations.relaxations(table, part.parameter)]
        yield Step("limit", f"relaxed to {limit:.4f} {unit} by {', '.join(names) or 'a reading'}")
    side = "least" if table.parameters[part.parameter].sense == "min" else "most"
    open_side = f" at {side}, since the value is clipped" if clipped else ""
    difference = _difference(value, limit, part.worst_margin_db, table, part)
    yield Step("margin", difference + open_side)
    low, high = part.margin_low_db, part.margin_high_db
    if low is not None and high is not None and low < high:
        yield Step(
            "known to",
            f"between {low:+.4f} and {high:+.4f} {unit}, given the digits of the source and how "
            "well the limit is known",
        )
    if part.worst_value_db is not None and part.worst_value_mhz is not None:
        yield Step(
            "worst value",
            f"{part.worst_value_db:.{DIGITS}f} {unit} at "
            f"{phrases.frequency(part.worst_value_mhz)}, where the limit is "
            f"{part.limit_at_worst_value_db or 0.0:.{DIGITS}f} {unit}",
        )


def _value(case: Case, part: Margin) -> float | None:
    """The judged value at the worst margin: limit and margin are of the same point."""
    if part.worst_margin_db is None or part.limit_at_worst_margin_db is None:
        return None
    sense = case.needed_table.parameters[part.parameter].sense
    margin = part.worst_margin_db if sense == "min" else -part.worst_margin_db
    return part.limit_at_worst_margin_db + margin


def _difference(value: float, limit: float, margin: float, table: LimitTable, part: Part) -> str:
    d = DIGITS
    if table.parameters[part.parameter].sense == "min":
        return f"value less limit: {value:.{d}f} - {limit:.{d}f} = {margin:+.{d}f} {part.unit}"
    return f"limit less value: {limit:.{d}f} - {value:.{d}f} = {margin:+.{d}f} {part.unit}"


def _left_out(case: Case, part: Margin, table: LimitTable) -> Iterator[Step]:
    """How many points decide nothing, by which reading of the standards."""
    rules = case.interpretations.exclusions(table, part.parameter)
    counted, left = part.points_evaluated, part.points_for_information
    titles = "; ".join(f"{case.interpretations.entry(x.id).title} ({x.id})" for x in rules)
    text = f"{counted} points against the limit, {left} for information only"
    yield Step("points", f"{text}. {titles}" if titles else f"{text}.")


def _figure(part: ScalarMargin, rule: ParameterLimit | None) -> Iterator[Step]:
    yield Step("origin", part.origin.value)
    if part.value is None or part.limit is None or part.margin is None or rule is None:
        return
    value, limit, off = (
        f"{round(of, DIGITS):.10g}" for of in (part.value, part.limit, part.margin)
    )
    yield Step("value", f"{value} {part.unit}")
    yield Step("limit", f"{limit} {part.unit} at most (grade {part.grade})")
    if rule.allowance_percent:
        yield Step("limit", f"with {rule.allowance_percent:g} % for the uncertainty of NVP")
    sign = "" if off.startswith("-") else "+"
    yield Step("margin", f"limit less value: {limit} - {value} = {sign}{off} {part.unit}")


def _stated(document: Mapping[str, Any], part: Part) -> Iterator[Step]:
    """What the source itself says of the same curve or figure."""
    said = []
    for number, item in enumerate(document.get("stated", {}).get("items", [])):
        if not _same(item, part):
            continue
        words = [f"$.stated.items[{number}]"]
        words += [f"verdict {item['verdict']}"] if "verdict" in item else []
        for figure in ("worst_margin", "worst_value"):
            if figure in item:
                mhz = item[figure].get("frequency_mhz")
                at = "" if mhz is None else f" at {mhz:.10g} MHz"
                words.append(f"{figure.replace('_', ' ')} {item[figure]['as_stated']}{at}")
        said.append(", ".join(words))
    yield Step("stated", "; ".join(said) or "nothing about this one")


def _same(item: Mapping[str, Any], part: Part) -> bool:
    if item.get("parameter") != part.parameter:
        return False
    pairs = tuple(item.get("pairs", ()))
    if isinstance(part, ScalarMargin):
        return not pairs or "/".join(pairs) == (part.pair or "")
    if part.parameter in UNORDERED:
        pairs = tuple(sorted(pairs))
    return pairs in ((), part.pairs) and item.get("end") in (None, part.end)


def _conclusion(part: Part) -> str:
    if part.reason:
        return f"{part.outcome.value}: {part.reason}"
    if part.outcome is Outcome.PASS:
        better = "no evaluated point is" if isinstance(part, Margin) else "the figure is not"
        return f"pass: {better} worse than the limit"
    exported = ", as the source exported it" if part.origin is Origin.AS_EXPORTED else ""
    return f"{part.outcome.value}{exported}: the margin is negative whatever the digits hide"
