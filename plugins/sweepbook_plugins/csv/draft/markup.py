"""Which files are XML, of which no draft of text tables is made, whatever their lines hold."""

import re

from sweepbook_plugins.csv.draft.text import Text

_LOOKED_AT = 200
"""So many lines hold the beginning of a file with its remarks."""
_BLANK = r"(?>\s+|<!--.*?-->|<\?.*?\?>)*+"
_TEXT = r"""(?:"[^"<]*"|'[^'<]*')"""
_ROOT = re.compile(
    rf"{_BLANK}<(?P<root>[^\W\d][\w:.-]*)(?:\s+[^\W\d][\w:.-]*\s*=\s*{_TEXT})*\s*>"
    rf"{_BLANK}<[^\W\d][\w:.-]*[\s/>]",
    re.DOTALL,
)


def is_markup(text: Text) -> bool:
    """Whether a file says that it is XML, or begins with an element in another and ends with it.

    Lines between marks, such as `<SITE>` above those of a table, are no XML.
    """
    start = "\n".join(text.lines[:_LOOKED_AT]).lstrip("\ufeff \t\r\n")
    if start.startswith("<?xml"):
        return True
    found = _ROOT.match(start)
    last = next((line for line in reversed(text.lines) if line.strip()), "")
    return found is not None and (text.cut or last.endswith(f"</{found['root']}>"))
