"""Paths with templates in them: every path that such a one stands for."""

from collections.abc import Iterable

from sweepbook.dialect.names import Grammar, Namer, placeholders
from sweepbook_plugins.xml.paths import Names, Path, Step, parse
from sweepbook_plugins.xml.tree import Node


def words(templates: Iterable[str], grammar: Grammar) -> tuple[frozenset[str], ...]:
    """Every text that each of some templates stands for.

    Raises:
        ValueError: a template cannot be used.
    """
    return Namer([(template,) for template in templates], grammar).texts()


def spelled(path: Path, grammar: Grammar) -> list[Path]:
    """The paths that a path with templates in its steps and its attribute stands for.

    Raises:
        ValueError: a template cannot be used.
    """
    found = [path._replace(steps=(), attribute=None)]
    for step in path.steps:
        texts = sorted(*words([step.local], grammar)) if step.is_template else [step.local]
        steps = [step._replace(local=text) for text in texts if text]
        found = [of._replace(steps=(*of.steps, each)) for of in found for each in steps]
    attribute = path.attribute or ""
    texts = sorted(*words([attribute], grammar)) if placeholders(attribute) else [attribute]
    return [of._replace(attribute=text or None) for of in found for text in texts]


def columns(texts: Iterable[str], names: Names) -> tuple[dict[Path, str], str]:
    """The columns of a table; words that can be no names of elements make some of them void.

    Args:
        texts: all that templates of paths stand for.
        names: the namespaces of the dialect.

    Returns:
        what names a column, by its path from a row; and why there is none, "" where there is one.
    """
    found: dict[Path, str] = {}
    faults: list[str] = []
    for text in sorted(filter(None, texts)):
        try:
            path = parse(text, names)
        except ValueError as error:
            faults.append(str(error))
            continue
        if path.up or path.absolute:
            faults.append(f"{text!r} leads out of the point")
        else:
            found[path] = text
    return found, "" if found else [*faults, "no declared word fits it"][0]


def spread(root: Node, steps: tuple[Step, ...], texts: tuple[frozenset[str], ...]) -> list[Node]:
    """Nodes at some steps, each template step spread over its own texts."""
    nodes = [root]
    at = 0
    for step in steps:
        own = sorted(text for text in texts[at] if text) if step.is_template else ()
        at += step.is_template
        nodes = [found for node in nodes for found in node.grow([step], own)]
    return nodes
