"""What takes the verdicts and margins that a dialect left over."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from sweepbook.draft.document import PARAMETER, quoted
from sweepbook.trial import stated_left
from sweepbook.trial.stated_left import Left
from sweepbook.trial.usable import Usable

_ROLES = {"verdict": "verdict", "margin": "worst_margin.margin"}
_LONGEST = 300
"""Characters of a key that is shown, since it has to be written as it is."""
_WIRE_MAP = "results.wire_map."


def edits(
    document: Mapping[str, Any], usable: Usable, known: Collection[str]
) -> Iterator[tuple[str, str]]:
    """Yield a key of `extra` with what is stated there and how it is taken.

    Args:
        document: of the record.
        usable: tries what is proposed.
        known: keys of which something else is told.
    """
    words = usable.dialect.meaning.words
    extra: Mapping[str, str] = document.get("extra", {})
    for left in stated_left.stated(extra, words.verdicts, {*words.ends, *words.pairs} - {""}):
        if left.key not in known:
            shown = left.key if len(left.key) <= _LONGEST else f"{left.key[: _LONGEST - 3]}..."
            yield (
                left.key,
                f"stated {left.kind}s were left over, so that nothing is held against them: "
                f"{shown} has {left.shown}; {_taken(left, document, usable)}",
            )


def _taken(left: Left, document: Mapping[str, Any], usable: Usable) -> str:
    """What to write that takes them."""
    role = _ROLES[left.kind]
    of_parameter = not _several_a_parameter(document)
    take, leave = usable.offer(left.key, role, of_parameter) if usable.offer else ("", "")
    if not take and "\n" not in document["extra"][left.key]:
        take = _by_template(left.key, role, usable)
    return (take or f"take them by {role} in a form of figures") + (
        f", or {leave} if they mean nothing" if leave else ""
    )


def _several_a_parameter(document: Mapping[str, Any]) -> bool:
    """Whether worst margins are stated of pairs or ends apart."""
    items = document.get("stated", {}).get("items", ())
    count = Counter(item["parameter"] for item in items if "worst_margin" in item)
    return any(number > 1 for number in count.values())


def _by_template(key: str, role: str, usable: Usable) -> str:
    """What takes the key of a single figure; of the wire map where the wires stand there too."""
    meaning = usable.dialect.meaning
    paths = (path for path in meaning.fields if path.startswith(_WIRE_MAP))
    wires = [of for path in paths for of in meaning.fields[path]]
    for template in meaning.figures.get(role, ()):
        word = _spelling(key, template)
        if not word or word in meaning.words.parameters:
            continue
        form = f"the form {quoted(template)} of figures.{role} takes it"
        if any(of.startswith(word) and not of[len(word) : len(word) + 1].isalpha() for of in wires):
            if usable.figure(role, template, "wire_map", word, key):
                return f"{form} with {_spelled(word)}"
        elif usable.figure(role, template, "wire_map", word, key):
            return f"{form} where {quoted(word)} is in [words.parameters], to what it is of"
    outer, _, last = key.rpartition("/")
    template = f"{{parameter}}/{last}"
    inside = outer and any(of.startswith(f"{outer}/") for of in wires)
    if not inside or not usable.figure(role, template, "wire_map", outer, key):
        return ""
    return f"add {role} = {quoted(template)} in [figures] and {_spelled(outer)}"


def _spelling(key: str, template: str) -> str:
    """What stands in a key for the parameter, where a form names nothing else; "" where none fits.

    It reads as words do: letters, and none of them beside it.
    """
    before, mark, after = template.partition(PARAMETER)
    word = key[len(before) : len(key) - len(after)]
    fits = mark and "{" not in f"{before}{after}" and f"{before}{word}{after}" == key
    whole = word.strip() == word and any(map(str.isalpha, word))
    return word if fits and whole and any(map(str.isalpha, f"{before}{after}")) else ""


def _spelled(word: str) -> str:
    return f"wire_map = {quoted(word)} in [words.parameters]"
