"""Rules about how a link and its ends are named."""

import unicodedata
from collections.abc import Iterator

from sweepbook.limits.names import letters
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

UNSEEN = ("Cc", "Cf", "Zl", "Zp")  # control and format characters of Unicode, separators of lines


def ends_differ(case: Case) -> Iterator[Hit]:
    """Yield a link of which both ends are said to be one and the same termination.

    By its label, and by every level of its place that both ends name.
    """
    near, far = (case.document["link"].get(end, {}) for end in ("near", "far"))
    here, there = near.get("place", {}), far.get("place", {})
    shared = set(here) & set(there)
    if any(letters(here[level]) != letters(there[level]) for level in shared):
        return
    said = near.get("termination", "")
    if letters(said):
        same = letters(said) == letters(far.get("termination", ""))
    else:
        same, said = "port" in shared and len(shared) > 1, here.get("port", "")
    if same:
        yield Hit("$.link.far", {"termination": said})


def label_is_plain(case: Case) -> Iterator[Hit]:
    """Yield a label with blanks around it, two in a row, or characters that cannot be seen."""
    label = case.record.label
    if not letters(label):
        problem = "has neither a letter nor a digit"
    elif any(unicodedata.category(char) in UNSEEN for char in label):
        problem = "holds characters that cannot be seen"
    elif label != " ".join(label.split()):
        problem = "has blanks around it, or two in a row"
    else:
        return
    yield Hit("$.link.label", {"label": label, "problem": problem})
