"""Where elements of a dialect stand, the names of which may be words of the dialect."""

from collections.abc import Sequence

from sweepbook.dialect.names import Grammar
from sweepbook_plugins.xml.paths import Path, Stand, Step, qualified
from sweepbook_plugins.xml.spelled import words


def tags_of(steps: Sequence[Step]) -> tuple[tuple[int, Step], ...]:
    """How many elements above the last of some steps each template among them stands."""
    return tuple((len(steps) - 1 - at, step) for at, step in enumerate(steps) if step.is_template)


def test_at(test: Path, grammar: Grammar) -> tuple[Stand, ...]:
    """Where tests stand, from the root inwards.

    Raises:
        ValueError: a template among the steps cannot be used.
    """
    templates = [step.local for _, step in tags_of(test.steps)]
    return stand(test.steps, words(templates, grammar) if templates else ())[::-1]


def stand(steps: tuple[Step, ...], texts: tuple[frozenset[str], ...]) -> tuple[Stand, ...]:
    """Where elements at some steps stand, outwards, each template step being any of its words."""
    own = iter(texts)
    found = []
    for step in steps:
        names = next(own) if step.is_template else (step.local,)
        tags = frozenset(qualified(step.uri, local) for local in names if local)
        found.append(Stand(tags, tuple(of for of in step.conditions if of.kind == "@")))
    return tuple(reversed(found))
