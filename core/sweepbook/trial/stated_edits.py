"""What takes the verdicts and margins that a dialect left over."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from sweepbook.draft.document import bare, quoted
from sweepbook.trial import stated_left
from sweepbook.trial.stated_left import Left
from sweepbook.trial.usable import Usable

_ROLES = {"verdict": "verdict", "margin": "worst_margin.margin"}
_LONGEST = 60
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
    """A template of the key of a single figure; of the wire map where the wires stand there too."""
    outer, _, last = key.rpartition("/")
    fields = usable.dialect.meaning.fields
    wires = [of for path, keys in fields.items() if path.startswith(_WIRE_MAP) for of in keys]
    word = "wire_map" if any(of.startswith(f"{outer}/") for of in wires) else ""
    template = f"{{parameter}}/{last}"
    if not outer or not word or not usable.figure(role, template, word, outer, key):
        return ""
    spelled = f"{bare(word)} = {quoted(outer)}"
    return f"add {role} = {quoted(template)} in [figures] and {spelled} in [words.parameters]"
