"""Running the rules: findings, and the rules that gave no answer with the reason why."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, TypeVar

import numpy as np

from sweepbook.findings import Finding, NotRun, RuleNotRun
from sweepbook.rules.case import Case, lacking
from sweepbook.rules.model import CannotLook, Entry, Hit, Rule, SetRule
from sweepbook.rules.together import WholeSet

Seen = TypeVar("Seen", Case, WholeSet)
"""What a rule looks at."""
Answers = tuple[tuple[Finding, ...], tuple[RuleNotRun, ...]]


def run(rules: Iterable[Rule], case: Case) -> Answers:
    """Ask every rule about one record.

    Args:
        rules: in the order in which findings shall stand.
        case: the record, judged.

    Returns:
        The findings, and the rules that were skipped or crashed. What a rule found before it
        crashed is kept.
    """
    findings: list[Finding] = []
    not_run: list[RuleNotRun] = []
    lacks: dict[tuple[str, ...], str | None] = {}
    # Values beyond any measurement overflow to infinities; no need to warn.
    with np.errstate(over="ignore", invalid="ignore"):
        for rule in rules:
            needs = rule.entry.needs
            if needs not in lacks:
                lacks[needs] = _reason_to_skip(needs, case)
            reason = lacks[needs]
            if reason:
                not_run.append(RuleNotRun(rule.entry.id, NotRun.SKIPPED, reason))
            else:
                lack = _ask(rule.entry, rule.check, case, findings)
                if lack:
                    not_run.append(lack)
    return tuple(findings), tuple(not_run)


def run_set(rules: Iterable[SetRule], whole: WholeSet) -> Answers:
    """Ask every rule about the set of all records.

    Args:
        rules: in the order in which findings shall stand.
        whole: what is kept of each record, in the order of the records.
    """
    findings: list[Finding] = []
    not_run: list[RuleNotRun] = []
    for rule in rules:
        lack = _ask(rule.entry, rule.check, whole, findings)
        if lack:
            not_run.append(lack)
    return tuple(findings), tuple(not_run)


def _reason_to_skip(needs: tuple[str, ...], case: Case) -> str | None:
    """The first of a rule's needs that is lacking."""
    return next((reason for need in needs if (reason := lacking(need, case))), None)


def _ask(
    entry: Entry, check: Callable[[Seen], Iterator[Hit]], seen: Seen, findings: list[Finding]
) -> RuleNotRun | None:
    """Add what one rule finds; it was skipped or crashed where it raised."""
    try:
        for hit in check(seen):
            findings.append(_finding(entry, hit))
    except CannotLook as lack:
        return RuleNotRun(entry.id, NotRun.SKIPPED, str(lack))
    except Exception as error:  # noqa: BLE001 - a contributed rule may raise anything
        return RuleNotRun(entry.id, NotRun.CRASHED, f"{type(error).__name__}: {error}")
    return None


def _finding(entry: Entry, hit: Hit) -> Finding:
    """Put a hit into words.

    Raises:
        ValueError: the arguments are not those of the entry, or no plain values.
    """
    if set(hit.arguments) != set(entry.arguments):
        raise ValueError(f"{entry.id} gave {sorted(hit.arguments)}, not {sorted(entry.arguments)}")
    arguments = {name: _plain(name, hit.arguments) for name in entry.arguments}
    return Finding(
        rule=entry.id,
        severity=entry.severity,
        path=hit.path,
        message=entry.message.format_map(arguments),
        arguments=arguments,
        tests=hit.tests,
    )


def _plain(name: str, arguments: Mapping[str, Any]) -> str | int | float | bool:
    value = arguments[name]
    if isinstance(value, float):
        if math.isfinite(value):
            return float(value)  # numpy's float64 is a float, and becomes one
    elif type(value) in (str, int, bool):
        plain: str | int | bool = value
        return plain
    elif isinstance(value, str):
        return str(value)
    raise ValueError(f"argument {name} is no finite number and no text: {value!r}")
