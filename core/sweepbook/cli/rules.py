"""`sweepbook rules`: the catalogue, and what one rule means."""

import json
import re
from collections.abc import Mapping
from dataclasses import asdict

import click

from sweepbook.cli import options, table
from sweepbook.errors import SweepbookError

_FIELD = re.compile(r"\{(\w+)[^}]*\}")
"""A place in the template of a message that a value goes into."""
STATUS = {
    "preview": "may still change",
    "deprecated": "goes",
    "removed": "is no longer run",
}
FORCE = {
    "shall": "the document demands it",
    "provable": "the record contradicts itself or arithmetic",
    "practice": "common practice",
    "information": "neither demanded nor provable",
}
KNOWN = {
    "own": "the project's own specification",
    "public": "a text anybody can read",
    "recalled": "from memory, no final text was seen",
    "derived": "mathematics",
    "none": "no source",
}
"""What the words of the catalogue say, by the schema rules-0."""


@click.group("rules", short_help="List the rules, or explain one.")
def command() -> None:
    """List the rules, or explain one."""


@command.command("list")
@options.as_json
def list_rules(as_json: bool) -> int:
    """List the rules by their ids."""
    from sweepbook.cli.desk import Desk

    entries = Desk().rules.values()
    if as_json:
        document = {"rules": [asdict(entry) for entry in entries]}
        click.echo(json.dumps(document, ensure_ascii=False, indent=2, default=dict))
        return 0
    rows = [(entry.id, entry.severity.value, entry.subject, entry.title) for entry in entries]
    table.print_rows(("rule", "severity", "about", "what holds"), rows)
    return 0


@command.command("show")
@click.argument("rule")
def show_rule(rule: str) -> int:
    """Explain RULE: what holds, why, what to do, and which document says so."""
    from sweepbook.cli.desk import Desk

    desk = Desk()
    entry = desk.rule(rule.upper())
    if entry is None:
        group = [id_ for id_ in desk.rules if id_[:3] == rule.upper()]
        todo = f"Show one of {', '.join(group)}." if group else "See `sweepbook rules list`."
        raise SweepbookError(f"No rule has the id {rule!r}.", todo)
    columns = table.terminal_columns()
    facts = {
        "rule": f"{entry.id} {entry.name} ({entry.severity.value})",
        "status": _explained(entry.status, STATUS),
        "what holds": entry.title,
        "why": entry.why,
        "what to do": entry.fix,
        "reference": ", ".join(
            filter(None, (entry.reference["document"], entry.reference["clause"]))
        ),
        "force": _explained(entry.reference["force"], FORCE),
        "source": _explained(entry.reference["known"], KNOWN),
        "message": _FIELD.sub(r"<\1>", entry.message),
        "figures": ", ".join(f"{name} = {value}" for name, value in entry.parameters.items()),
    }
    for line in table.facts(facts.items(), columns):
        click.echo(line)
    return 0


def _explained(word: str, meanings: Mapping[str, str]) -> str:
    """A word of the catalogue with what it says; alone where that is not known."""
    return f"{word}: {meanings[word]}" if word in meanings else word
