"""Where two audits of the same tests differ: in judgements, figures, findings, or words alone.

Reconciliations differ in what the schedule says, where a link stands, or words.
"""

import math
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

Kind = Literal[
    "judgement",
    "limit",
    "figure",
    "finding",
    "record",
    "problem",
    "schedule",
    "link",
    "part",
    "words",
]
_NEAR = 1e-9
"""Figures closer than this, in their unit or in parts of the figure, are the same: another
processor or another library of mathematics may round the last digit otherwise."""
_ROW = ("parameter", "end", "pairs", "pair")
_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference between what a bag says and its repetition.

    Attributes:
        kind: of what; "words" alone leave the judgement and every figure as they were.
        record_id: of the test; "" for the set.
        label: of its link.
        message: what was and what is, a sentence or two.
        follows: whether it can follow from nothing but a test that cannot be read now.
    """

    kind: Kind
    record_id: str
    label: str
    message: str
    follows: bool = False

    @property
    def grave(self) -> bool:
        """Whether anything but words differs."""
        return self.kind != "words"


def of_record(
    old: Mapping[str, Any], new: Mapping[str, Any], not_asked: Collection[str] = ()
) -> Iterator[Difference]:
    """The differences between two entries of one record.

    Args:
        old: as the audit document has it; members that it lacks are not compared.
        new: as it is now.
        not_asked: ids of rules that were asked then and cannot be asked now.
    """
    record_id, label = str(new.get("record_id")), str(new.get("label"))
    parts = (
        ("judgement", _judgement(old, new)),
        ("limit", _limit(old, new)),
        ("figure", _figures(old, new)),
        ("finding", _findings(old, new, not_asked)),
        ("words", _words(old, new)),
    )
    for kind, messages in parts:
        for message in messages:
            yield Difference(kind, record_id, label, message)  # type: ignore[arg-type]


def of_set(
    old: Mapping[str, Any], new: Mapping[str, Any], not_asked: Collection[str] = ()
) -> Iterator[Difference]:
    """The differences between what two documents say of the set as a whole."""
    for message in _findings(old, new, not_asked):
        yield Difference("finding", "", "", message)
    then, now = ({_problem(one) for one in _rows(each, "problems")} for each in (old, new))
    for source, place in sorted(then ^ now):
        when = "was told then and is not now" if (source, place) in then else "is told only now"
        yield Difference("problem", "", "", f"A problem in reading {source} {place} {when}.")


def _judgement(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[str]:
    names = ("stated", "judgement", "recomputed")
    then, now = ([each.get(name) for name in names] for each in (old, new))
    if then != now:
        yield (
            f"Judged {then[1]} (stated {then[0]}, recomputed {then[2]}) when the bag was made: "
            f"{old.get('reason')} Judged {now[1]} (stated {now[0]}, recomputed {now[2]}) now: "
            f"{new.get('reason')}"
        )


def _limit(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[str]:
    then, now = (_part(each, "limit") for each in (old, new))
    for name in ("path", "sha256", "verdict_path"):
        if name in then and then[name] != now.get(name):
            yield f"The limit's {name} was {then[name]} and is {now.get(name)}."
            return


def _figures(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[str]:
    for name in ("grade", "marginal", "again"):
        if name in old and name in new and old[name] != new[name]:
            yield f"The {name} was {old[name]} and is {new[name]}."
    found = [text for name in ("margins", "scalars") for text in _of_rows(old, new, name)]
    yield from found[:_MOST_NAMED]
    if len(found) > _MOST_NAMED:
        yield f"And {len(found) - _MOST_NAMED} more figures."


def _of_rows(old: Mapping[str, Any], new: Mapping[str, Any], table: str) -> Iterator[str]:
    then, now = (_by_row(_rows(each, table)) for each in (old, new))
    for row in [*then, *(row for row in now if row not in then)]:
        if row not in now or row not in then:
            when = "then and is not now" if row in then else "only now"
            yield f"{row} is in the {table} {when}."
            continue
        for name, value in then[row].items():
            other = now[row].get(name)
            if name != "reason" and not same(value, other):
                yield f"{row}: {name} was {value} and is {other}."


def _findings(
    old: Mapping[str, Any], new: Mapping[str, Any], not_asked: Collection[str]
) -> Iterator[str]:
    then, now = (Counter(_found(each)) for each in (old, new))
    for rule, what in sorted((then - now).keys()):
        if rule not in not_asked:
            yield f"{rule} {what} then and not now."
    for rule, what in sorted((now - then).keys()):
        yield f"{rule} {what} now and not then."


def _found(entry: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for one in _rows(entry, "findings"):
        accepted = ", accepted," if one.get("accepted") else ""
        yield str(one.get("rule")), f"({one.get('severity')}{accepted}) at {one.get('path')} told"
    for one in _rows(entry, "rules_not_run"):
        yield str(one.get("rule")), f"{one.get('how')}"


def _words(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[str]:
    """Other words for the same; nothing where the judgement is another one, which tells them."""
    if old.get("judgement") == new.get("judgement") and old.get("reason") != new.get("reason"):
        yield f"The reason read: {old.get('reason')} It reads now: {new.get('reason')}"


def same(one: object, other: object) -> bool:
    """Whether two values are the same, numbers but for their last digits."""
    numbers = isinstance(one, int | float) and isinstance(other, int | float)
    if numbers and not isinstance(one, bool):
        return math.isclose(one, other, rel_tol=_NEAR, abs_tol=_NEAR)  # type: ignore[arg-type]
    return one == other


def _by_row(rows: Sequence[Mapping[str, Any]]) -> dict[str, Mapping[str, Any]]:
    """The rows by what they are of, in words; those of one thing are numbered."""
    found: dict[str, Mapping[str, Any]] = {}
    for row in rows:
        parts = (row.get(name) for name in _ROW)
        name = " ".join("/".join(p) if isinstance(p, list) else str(p) for p in parts if p)
        count = sum(1 for one in found if one.partition(" (")[0] == name)
        found[name if not count else f"{name} ({count + 1})"] = row
    return found


def _problem(one: Mapping[str, Any]) -> tuple[str, str]:
    return str(one.get("source")), str(one.get("place"))


def _rows(entry: Mapping[str, Any], name: str) -> list[Mapping[str, Any]]:
    rows = entry.get(name)
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def _part(entry: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    found = entry.get(name)
    return found if isinstance(found, dict) else {}
