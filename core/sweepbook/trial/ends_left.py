"""Keys in `extra` whose texts are the dialect's words for ends."""

from collections.abc import Collection, Iterator, Mapping

from sweepbook.draft.document import quoted
from sweepbook.draft.naming import settle
from sweepbook.judging import phrases
from sweepbook.trial.usable import Usable

_ROLE = "worst_margin.end"


def ends(
    extra: Mapping[str, str], usable: Usable, with_margin: Collection[str]
) -> Iterator[tuple[str, str]]:
    """Yield a key and what to add to the dialect; of keys with one template the first.

    Args:
        extra: texts by key that nothing took; several of one key are parted by line ends.
        usable: tries what is proposed.
        with_margin: parameters of which a worst margin is stated.
    """
    words = {text for text in usable.dialect.meaning.words.ends if text}
    held = {
        key: texts
        for key, text in extra.items()
        if (texts := {line.strip() for line in text.split("\n")} - {""}) and texts <= words
    }
    naming = settle(list(extra))
    seen: set[str] = set()
    for key, texts in held.items():
        part = naming.parse(key)
        shown = ", ".join(map(repr, sorted(texts)))
        if not part.parameter:
            if "\n" in extra[key]:  # and not a single text about the test
                says = f"{key!r} says which end: {shown}; take it as {{end}} into the names of what"
                yield key, f"{says} stands beside it"
            continue
        spelling, word = part.parameter
        if word not in with_margin or part.template in seen:
            continue
        if usable.figure(_ROLE, part.template, word, spelling, key):
            seen.add(part.template)
            yield (
                key,
                f"{key!r} has {shown}, the end of the worst margin of {phrases.name(word)}: add "
                f"{_ROLE} = {quoted(part.template)}",
            )
