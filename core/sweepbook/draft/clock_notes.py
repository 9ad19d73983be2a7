"""Words in brackets behind a time of day that name no zone: "17.05 (ora di Roma)"."""

import re

from sweepbook.dialect.dates import LETTERS

_NOTED = re.compile(r"(.*[0-9]\S*(?: ?[^\W\d_]{1,4}\.?)?)( ?\([^\W\d_][^()0-9]{2,40}\))")
_NAME = re.compile(r" ?\((?:[A-Z]{2,5}|[A-Z][A-Za-z]+/[A-Za-z_/]+)\)")
"""A zone, which a form has a word for."""


def parted(text: str) -> tuple[str, str]:
    """A time and the words in brackets behind it, "" for none.

    Words that hold letters with a meaning in forms of dates are none, since no form could hold
    them.
    """
    found = _NOTED.fullmatch(text.strip())
    if found is None or _NAME.fullmatch(found[2]) or LETTERS.search(found[2]):
        return text, ""
    return found[1], found[2]
