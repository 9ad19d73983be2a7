"""What a bag's tests were judged by, out of the bag and not out of what is installed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal, cast

from sweepbook import __version__
from sweepbook.audit.context import Context
from sweepbook.bag import layout
from sweepbook.errors import SweepbookError
from sweepbook.findings import Severity
from sweepbook.judging.accuracy_model import Terms
from sweepbook.judging.settings import JudgeSettings
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.practice import Practice
from sweepbook.project.load import load as load_project
from sweepbook.rules import catalogue
from sweepbook.rules.catalogue import Catalogue
from sweepbook.rules.model import Rule, SetRule
from sweepbook.rules.select import selected

_OWN = ("not-usable", "vocabulary-", "record-")
"""Beginnings of names of files that the program has of its own and does not take from a bag."""
_TODO = "Restore the audit document from a copy."

Accuracy = Literal["worst-case", "root-sum-square"]
_HOWS = ("worst-case", "root-sum-square")


@dataclass(frozen=True, slots=True)
class JudgedBy:
    """What a bag's tests are judged by anew.

    Attributes:
        context: made of the bag.
        not_asked: ids of rules that were asked and that this program does not have.
        remarks: what is not as it was when the bag was made, a sentence each.
    """

    context: Context
    not_asked: frozenset[str]
    remarks: tuple[str, ...]


def judged_by(
    root: Path, head: Mapping[str, Any], contributed: Sequence[Rule | SetRule] = ()
) -> JudgedBy:
    """Take from a bag what its tests were judged by.

    Args:
        root: the bag's folder.
        head: members of its audit document, with the options.
        contributed: rules that plugins bring here; asked where the bag's were the same.

    Raises:
        SweepbookError: something of it is missing or cannot be used.
    """
    options = _texts(head, "options")
    rules, unknown = _rules(root, head, contributed)
    practice, lacking = Practice.kept(root / layout.PRACTICE)
    project_file = root / layout.PROJECT
    project = load_project(project_file) if project_file.exists() else None
    accuracy = options.get("accuracy", "")
    settings = JudgeSettings(
        interpretations=_readings(root, head),
        grade_c=options.get("grade_c") == "used",
        practice=practice,
        accuracy=cast(Accuracy, accuracy) if accuracy in _HOWS else None,
        terms=Terms.kept(root / layout.ACCURACY) if accuracy in _HOWS else None,
        asterisk="any-frequency" if options.get("asterisk") == "any-frequency" else "worst-margin",
    )
    not_asked = _asked(head) - {entry.id for entry in rules.entries} | set(unknown)
    library, faults = Library.kept(root / layout.LIMITS)
    if project is not None:
        meant = project.spellings.limits.items()
        used = {spelling: name for spelling, name in meant if library.knows(name)}
        library = library.calling(used, project.name)
    context = Context(
        library=library,
        settings=settings,
        practice=practice.with_values(project.practice if project else {}),
        catalogue=_selected(rules, options),
        against=options.get("against") or None,
        project=project,
        options=options,
    )
    unusable = (fault.replace(f"{root}/", "") for fault in faults)
    remarks = (*_remarks(root, head, sorted(not_asked), lacking), *unusable)
    return JudgedBy(context, frozenset(not_asked), remarks)


def _rules(
    root: Path, head: Mapping[str, Any], contributed: Sequence[Rule | SetRule]
) -> tuple[Catalogue, tuple[str, ...]]:
    """The bag's catalogue, with the rules of plugins where they are those that were asked."""
    told = _member(head, "digests").get("contributed_rules")
    if told and contributed:
        found, unknown = catalogue.kept(root / layout.RULES, contributed)
        if found.contributed_sha256 == told:
            return found, unknown
    return catalogue.kept(root / layout.RULES)


def _readings(root: Path, head: Mapping[str, Any]) -> Interpretations:
    switches = _member(head, "interpretations")
    on = [name for name, switch in switches.items() if switch.get("on")]
    fixed = [name for name, switch in switches.items() if switch.get("fixed")]
    return Interpretations.load(root / layout.INTERPRETATIONS).switched(on, fixed)


def _asked(head: Mapping[str, Any]) -> set[str]:
    """Ids of the rules that were asked when the bag was made."""
    rows = _member(head, "summary").get("rules")
    return {str(row.get("rule")) for row in rows} if isinstance(rows, list) else set()


def _selected(rules: Catalogue, options: Mapping[str, str]) -> Catalogue:
    """The rules that were asked then; words for rules that are not at hand are passed over."""
    ids = {entry.id for entry in rules.entries}
    known = {*ids, *(id_[:3] for id_ in ids), *Severity}
    asked = options.get("rules", "all")
    only = [] if asked == "all" else [word for word in _words(asked) if word in known]
    left_out = [word for word in _words(options.get("rules_left_out", "")) if word in known]
    if asked != "all" and not only:
        return replace(rules, rules=(), set_rules=())
    return selected(rules, only, left_out)


def _remarks(
    root: Path,
    head: Mapping[str, Any],
    not_asked: Sequence[str],
    lacking: Sequence[str],
) -> Iterator[str]:
    """What may make a difference that is none of the evidence."""
    version = _member(head, "tool").get("version")
    if version != __version__:
        yield f"Sweepbook {version} made the audit, and sweepbook {__version__} repeated it."
    if not_asked:
        yield f"Rules that are not at hand here were not asked again: {', '.join(not_asked)}."
    if lacking:
        listed = ", ".join(lacking)
        yield f"Practice figures that the bag does not have are the program's own: {listed}."
    yield from _other_data(root)


def _other_data(root: Path) -> Iterator[str]:
    """Files of a bag that the program has otherwise, or not at all, and does not take from there.

    The words for what is measured and the form of a record are part of the program: what it reads
    is named with a number, and never changes under that.
    """
    own = files("sweepbook_schemas")
    for folder in (layout.JUDGED_BY, layout.SPECIFICATIONS):
        for file in sorted((root / folder).glob("*.json")):
            installed = own.joinpath(file.name)
            if not file.name.startswith(_OWN):
                continue
            place = f"{folder}/{file.name}"
            if not installed.is_file():
                yield (
                    f"This version of the program does not know the bag's {place}; one that does "
                    "may judge otherwise."
                )
            elif installed.read_bytes() != file.read_bytes():
                yield f"The program has a file of its own that differs from the bag's {place}."


def _words(text: str) -> list[str]:
    return [word for word in text.split(", ") if word]


def _texts(head: Mapping[str, Any], name: str) -> dict[str, str]:
    return {key: text for key, text in _member(head, name).items() if isinstance(text, str)}


def _member(head: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    found = head.get(name)
    if not isinstance(found, dict):
        raise SweepbookError(f"The audit document does not say its {name}.", _TODO)
    return found
