"""Which rules are asked: by id, by the letters of a group, or by severity."""

from collections.abc import Iterable
from dataclasses import replace

from sweepbook.errors import SweepbookError
from sweepbook.findings import Severity
from sweepbook.rules.catalogue import SCHEDULE, Catalogue, built_in_entries
from sweepbook.rules.model import Entry


def selected(
    catalogue: Catalogue, only: Iterable[str] = (), left_out: Iterable[str] = ()
) -> Catalogue:
    """The catalogue with some of its rules.

    Args:
        catalogue: all that are at hand.
        only: words for the rules to ask; none for all.
        left_out: words for the rules not to ask; they go before `only`.

    Raises:
        SweepbookError: a word names no rule, no group and no severity, or no rule is left.
    """
    entries = catalogue.entries
    wanted = _named(entries, only) or {entry.id for entry in entries}
    kept = wanted - _named(entries, left_out)
    if not kept:
        raise SweepbookError(
            "No rule would be asked.", "Leave fewer of them out; `sweepbook rules list` lists them."
        )
    return replace(
        catalogue,
        rules=tuple(rule for rule in catalogue.rules if rule.entry.id in kept),
        set_rules=tuple(rule for rule in catalogue.set_rules if rule.entry.id in kept),
        left_out=tuple(entry.id for entry in entries if entry.id not in kept),
    )


def _named(entries: tuple[Entry, ...], words: Iterable[str]) -> set[str]:
    """Ids of the rules that the words mean."""
    found: set[str] = set()
    for word in words:
        meant = {entry.id for entry in entries if word in (entry.id, entry.id[:3])}
        if word in tuple(Severity):
            meant |= {entry.id for entry in entries if entry.severity == word}
        if not meant and word in _of_schedule():
            raise SweepbookError(
                f"{word!r} is not asked of tests: it says how they stand to the cable schedule.",
                "`sweepbook reconcile BOOK --schedule FILE` tells what it finds, and `sweepbook "
                "accept` lets that stand.",
            )
        if not meant:
            groups = ", ".join(sorted({entry.id[:3] for entry in entries}))
            raise SweepbookError(
                f"{word!r} is no rule, no group of rules and no severity.",
                f"Groups are {groups}; severities {', '.join(Severity)}; "
                "`sweepbook rules list` lists the rules.",
            )
        found |= meant
    return found


def _of_schedule() -> set[str]:
    """Ids and groups of the rules by which a reconciliation remarks."""
    ids = {entry.id for entry in built_in_entries() if entry.subject == SCHEDULE}
    return ids | {id_[:3] for id_ in ids}
