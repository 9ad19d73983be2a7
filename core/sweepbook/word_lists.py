"""Lists of words as plain text: commas between the words, a name and a colon before each list."""

import re

Words = tuple[str, ...]

_BETWEEN = re.compile(r"[,\n]")


def words_of(text: str) -> Words:
    """The words of a text, each once."""
    return tuple(dict.fromkeys(filter(None, map(str.strip, _BETWEEN.split(text)))))


def entries_of(text: str) -> tuple[tuple[str, Words], ...]:
    """Names with their words, in order; a name may come again, with words that tell less."""
    parts = re.split(r"^ *([^,:\n]+):", text, flags=re.MULTILINE)[1:]
    return tuple((name, words_of(some)) for name, some in zip(parts[::2], parts[1::2], strict=True))


def lists_of(text: str) -> dict[str, Words]:
    """Words by their name."""
    return dict(entries_of(text))


def pairs_of(text: str) -> tuple[tuple[str, str], ...]:
    """Pairs of words, with a slash between blanks in each: "near / far"."""
    parted = (pair.partition(" / ") for pair in words_of(text))
    return tuple((one, other) for one, _, other in parted)
