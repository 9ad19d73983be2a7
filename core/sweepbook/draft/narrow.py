"""Templates of verdicts that would take keys with other texts, made to fit their own keys alone."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import PARAMETER
from sweepbook.draft.fields import are_verdicts

if TYPE_CHECKING:
    from sweepbook.draft.reading import Understood


def verdicts(properties: Mapping[str, Sequence[str]], found: "Understood") -> None:
    """Take words of a key out of its parameter into the template, as in "{parameter} map".

    A template of a verdict stands for the keys of all parameters. Where one of these holds a text
    that is no verdict, such as a unit, the test would not be read. A key that cannot be told from
    it is no figure.
    """
    templates = found.figures.get("verdict", {})
    for template, keys in list(templates.items()):
        if template != PARAMETER or not _takes_others(keys, properties, found):
            continue
        del templates[template]
        for key in keys:
            spelling, meaning = found.naming.parse(key).parameter or ("", "")
            word, _, rest = spelling.rpartition(" ")
            if not word:
                found.figure_keys.discard(key)
                continue
            found.naming.spell(meaning, word)
            templates.setdefault(f"{PARAMETER} {rest}", []).append(key)


def _takes_others(
    keys: Sequence[str], properties: Mapping[str, Sequence[str]], found: "Understood"
) -> bool:
    """Whether the bare name of another parameter is a key with a text that is no verdict."""
    return any(
        key not in keys
        and key not in found.figure_keys
        and found.naming.parse(key).template == PARAMETER
        and not are_verdicts(texts)
        for key, texts in properties.items()
    )
