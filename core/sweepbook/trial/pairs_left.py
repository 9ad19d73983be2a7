"""Columns in `extra` with figures of a pair each, which their titles name."""

import re
from collections.abc import Mapping

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.paired_columns import TOLD_BY_TITLES


def template(extra: Mapping[str, str], pairs: Mapping[str, str]) -> tuple[str, list[str]]:
    """The template of the titles of such columns, and the titles; blanks where there are none.

    Args:
        extra: texts by key that nothing took; several of one key are parted by line ends.
        pairs: pair by spelling, as the dialect declares them.
    """
    held: dict[str, dict[str, str]] = {}
    for key, text in extra.items():
        lines = [line for line in text.split("\n") if line.strip()]
        if "/" in key or phrases.parameter_in(key) or 2 * sum(map(is_numeric, lines)) <= len(lines):
            continue
        for spelling, pair in pairs.items():
            told = re.sub(rf"(?<!\w){re.escape(spelling)}(?!\w)", "{pairs}", key, count=1)
            if spelling and told != key:
                held.setdefault(told, {}).setdefault(pair, key)
    most = max(held, key=lambda told: len(held[told]), default="")
    titles = list(held.get(most, {}).values())
    return (most, titles) if len(titles) >= TOLD_BY_TITLES else ("", [])
