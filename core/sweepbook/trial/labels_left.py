"""A label that many tests share, while a key that nothing took is another in each of them."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from sweepbook.draft.document import UNSETTLED, quoted
from sweepbook.draft.fields import guess
from sweepbook.text import text_at

_LEAST = 3
"""Tests from which on a label that most share is doubted; of two one may be a retest."""
_MOST = 200
_SHORT = 60


@dataclass
class Labels:
    """Labels of tests, beside what was left over in each."""

    _seen: list[tuple[str, Mapping[str, str]]] = field(default_factory=list)

    def see(self, document: Mapping[str, Any]) -> None:
        """Take the label of a record and its short single texts in `extra`."""
        if len(self._seen) < _MOST:
            extra: Mapping[str, str] = document.get("extra", {})
            short = {
                key: text
                for key, text in extra.items()
                if text.strip() and "\n" not in text and len(text) <= _SHORT
            }
            self._seen.append((text_at(document, "link", "label") or "", short))

    def doubted(self) -> str:
        """What to say of a label that at least half of the tests share with others; "" for none."""
        count = Counter(label for label, _ in self._seen)
        if len(self._seen) < _LEAST or 2 * len(count) > len(self._seen):
            return ""
        first = self._seen[0][1]
        apart = {
            key: texts
            for key in first
            if len(texts := {short.get(key, "") for _, short in self._seen}) == len(self._seen)
        }
        if not apart:
            return ""
        key = min(apart, key=lambda one: _rank(one, [short[one] for _, short in self._seen]))
        label, tests = count.most_common(1)[0]
        shown = ", ".join(repr(short[key]) for _, short in self._seen[:2])
        shared = f"the label {label!r} is that of {tests} of {len(self._seen)} tests, while "
        return (
            f"{'' if label == UNSETTLED else shared}{key!r} is another in each ({shown}); if that "
            f"is the label, write link.label = {quoted(key)}"
        )


def _rank(key: str, texts: list[str]) -> tuple[bool, bool]:
    """Keys that read as that of a label come first, and texts with a letter before mere numbers."""
    reads = any(one.path == "link.label" for one in guess({key: texts}, None))
    return not reads, not any(map(str.isalpha, texts[0]))
