"""The catalogue of rules: entries read from data, each bound to the function that looks."""

import inspect
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from importlib.resources import files
from pathlib import Path
from typing import Any

from sweepbook import schemas
from sweepbook.errors import SweepbookError
from sweepbook.findings import Severity
from sweepbook.rules.model import Entry, Hit, Rule, SetRule

SCHEDULE = "schedule"
"""Subject of the rules by which a reconciliation remarks."""
_DATA = "sweepbook_schemas"


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The rules of a run, in the order of their ids.

    Attributes:
        rules: those that look at one record.
        set_rules: those that look at all records together.
        sha256: digest of the catalogue's own file.
        contributed_sha256: digest of the entries that plugins brought, or None without any.
        left_out: ids of the rules that are not asked, by choice.
    """

    rules: tuple[Rule, ...]
    set_rules: tuple[SetRule, ...]
    sha256: str
    contributed_sha256: str | None = None
    left_out: tuple[str, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All entries, in the order of their ids."""
        every: list[Rule | SetRule] = [*self.rules, *self.set_rules]
        return tuple(sorted((rule.entry for rule in every), key=lambda entry: entry.id))

    def entry(self, rule: str) -> Entry:
        """The entry of this id.

        Raises:
            SweepbookError: there is no such rule.
        """
        for entry in self.entries:
            if entry.id == rule:
                return entry
        raise SweepbookError(
            f"No rule has the id {rule!r}.", "`sweepbook rules list` lists them all."
        )


def load(contributed: Iterable[Rule | SetRule] = ()) -> Catalogue:
    """Bind the catalogue's entries, and add the rules that plugins contribute.

    Raises:
        SweepbookError: an entry names a function that is not there, or an id is used twice.
    """
    entries = built_in_entries()
    rules = [_bound(entry) for entry in entries if _is_asked(entry)]
    return _put_together(rules, {entry.id for entry in entries}, contributed, _data("rules.json"))


def kept(
    path: Path, contributed: Iterable[Rule | SetRule] = ()
) -> tuple[Catalogue, tuple[str, ...]]:
    """A catalogue that was put aside, perhaps by another version of the program.

    Returns:
        The catalogue, and the ids of its rules that this program cannot ask, having no function
        for them.

    Raises:
        SweepbookError: the file cannot be read, or an id is used twice.
    """
    try:
        raw = path.read_bytes()
        entries = tuple(_entry(rule) for rule in json.loads(raw)["rules"])
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise SweepbookError(
            f"{path.name} holds no catalogue of rules that can be read: {error}.",
            "Restore it from a copy, or use the version of sweepbook that wrote it.",
        ) from error
    rules: list[Rule | SetRule] = []
    unknown: list[str] = []
    for entry in entries:
        try:
            if _is_asked(entry):
                rules.append(_bound(entry))
        except SweepbookError:
            unknown.append(entry.id)
    taken = {entry.id for entry in entries}
    return _put_together(rules, taken, contributed, raw), tuple(unknown)


def _put_together(
    rules: list[Rule | SetRule],
    taken: set[str],
    contributed: Iterable[Rule | SetRule],
    raw: bytes,
) -> Catalogue:
    """A catalogue of the rules of a file and of those that plugins contribute.

    Raises:
        SweepbookError: an id is used twice.
    """
    added = tuple(contributed)
    for rule in added:
        if rule.entry.id in taken:
            raise SweepbookError(
                f"The rule id {rule.entry.id} is used twice.", "Give the added rule another id."
            )
        taken.add(rule.entry.id)
        rules.append(rule)
    rules.sort(key=lambda rule: rule.entry.id)
    return Catalogue(
        rules=tuple(rule for rule in rules if isinstance(rule, Rule)),
        set_rules=tuple(rule for rule in rules if isinstance(rule, SetRule)),
        sha256=_sha256(raw),
        contributed_sha256=_digest(added) if added else None,
    )


@cache
def built_in_entries() -> tuple[Entry, ...]:
    """The entries of the catalogue's file, removed ones included, as the file has them."""
    return tuple(_entry(rule) for rule in json.loads(_data("rules.json"))["rules"])


def problems(document: Any) -> Iterator[str]:  # noqa: ANN401 - any JSON value
    """Hold a catalogue against its schema; one sentence a fault, with the place of it."""
    return schemas.problems(document, "rules-0.schema.json")


def _data(name: str) -> bytes:
    return files(_DATA).joinpath(name).read_bytes()


def _entry(fields: Mapping[str, Any]) -> Entry:
    plain = dict(fields)
    plain["severity"] = Severity(plain["severity"])
    plain["needs"] = tuple(plain["needs"])
    plain["arguments"] = tuple(plain["arguments"])
    return Entry(**plain)


def _is_asked(entry: Entry) -> bool:
    """Whether a run asks it: what is found about the schedule comes of holding tests against it."""
    return entry.status != "removed" and entry.subject != SCHEDULE


def _bound(entry: Entry) -> Rule | SetRule:
    """The rule of an entry, its function called with the entry's parameters.

    Raises:
        SweepbookError: the function is not there, or does not take these parameters.
    """
    from sweepbook.rules.bindings import CHECKS, SET_CHECKS  # loads numpy; entries do not need it

    if entry.subject == "set":
        return SetRule(entry, _with_parameters(entry, SET_CHECKS))
    return Rule(entry, _with_parameters(entry, CHECKS))


def _with_parameters(
    entry: Entry, checks: Mapping[str, Callable[..., Iterator[Hit]]]
) -> Callable[..., Iterator[Hit]]:
    try:
        check = checks[entry.check]
        inspect.signature(check).bind(None, **entry.parameters)
    except (KeyError, TypeError) as error:
        raise SweepbookError(
            f"Rule {entry.id} cannot be bound to {entry.check!r}: {error}.",
            "Install sweepbook anew; the catalogue and the code do not belong together.",
        ) from error
    return partial(check, **entry.parameters)


def _digest(rules: Iterable[Rule | SetRule]) -> str:
    """SHA-256 over what the contributed entries say, in the order of their ids."""
    said = sorted(
        (rule.entry.id, rule.entry.severity, rule.entry.message, rule.entry.check) for rule in rules
    )
    return _sha256(json.dumps(said).encode())


def _sha256(raw: bytes) -> str:
    from hashlib import sha256  # a list of the rules needs no digest

    return sha256(raw).hexdigest()
