"""Rules that plugins bring: whole, and not in each other's way, before any of them is asked."""

import inspect
import re
import string
from collections.abc import Callable, Collection, Iterator, Sequence
from functools import partial
from typing import Any

from sweepbook.errors import SweepbookError
from sweepbook.rules import catalogue
from sweepbook.rules.model import Rule, SetRule

_ID = re.compile(r"[A-Z]{3}[0-9]{3}")
_SAID = ("name", "title", "why", "fix", "message")


def hold(rules: Sequence[Rule | SetRule], taken: Collection[str]) -> None:
    """Hold the rules of one plugin against what the catalogue asks of its own.

    Args:
        rules: of the plugin.
        taken: ids of rules that other plugins have brought.

    Raises:
        SweepbookError: an id is used twice, or an entry is not whole or not of its function.
    """
    known = {*taken, *(entry.id for entry in catalogue.built_in_entries())}
    for rule in rules:
        if not isinstance(rule, Rule | SetRule):
            raise SweepbookError(f"{rule!r} is no Rule and no SetRule.", "Give rules only.")
        if rule.entry.id in known:
            raise SweepbookError(
                f"The rule id {rule.entry.id} is used twice.", "Give the added rule another id."
            )
        known.add(rule.entry.id)
        if faults := tuple(_faults(rule)):
            raise SweepbookError(
                f"The rule {rule.entry.id} cannot be used: {'; '.join(faults)}.",
                "Put its entry right; `sweepbook formats --guide` shows one that is whole.",
            )


def _faults(rule: Rule | SetRule) -> Iterator[str]:
    entry = rule.entry
    if not _ID.fullmatch(entry.id):
        yield "its id is not three letters and three digits, such as ABC001"
    if empty := [name for name in _SAID if not getattr(entry, name).strip()]:
        yield f"there is no word of {' and '.join(empty)}"
    if (entry.subject == "set") is not isinstance(rule, SetRule):
        yield f"its subject is {entry.subject!r}, and it is a {type(rule).__name__}"
    named = _name_of(rule.check)
    if entry.check != named:
        yield f"its check is called {entry.check!r}, and its function {named!r}"
    try:
        inspect.signature(rule.check).bind(None)
    except (TypeError, ValueError) as error:
        yield f"its function does not take what a rule is handed ({error})"
    used = {name for _, name, _, _ in string.Formatter().parse(entry.message) if name}
    if lacking := sorted(used - {*entry.arguments}):
        yield f"its message uses {', '.join(lacking)}, and its arguments do not"


def _name_of(check: Callable[..., Any]) -> str:
    """The name of a function, or of the one that another was made of."""
    while isinstance(check, partial):
        check = check.func
    return str(getattr(check, "__name__", type(check).__name__))
