"""Rules about how a link and its ends are named."""

import unicodedata
from collections.abc import Iterator, Mapping

from sweepbook.limits.names import letters
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

UNSEEN = ("Cc", "Cf", "Zl", "Zp")  # control and format characters of Unicode, separators of lines


def ends_differ(case: Case) -> Iterator[Hit]:
    """Yield a link of which both ends are said to be one and the same termination.

    By its label, where no level of its place that both ends name differs, or where the label itself
    names the cabinet or panel; without labels by the port.
    """
    near, far = (case.document["link"].get(end, {}) for end in ("near", "far"))
    here, there = near.get("place", {}), far.get("place", {})
    shared = set(here) & set(there)
    one_place = all(letters(here[level]) == letters(there[level]) for level in shared)
    said = near.get("termination", "")
    if letters(said):
        same = letters(said) == letters(far.get("termination", ""))
        same = same and (one_place or _names_its_panel(said, here))
    else:
        same, said = one_place and "port" in shared and len(shared) > 1, here.get("port", "")
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


def _names_its_panel(termination: str, place: Mapping[str, str]) -> bool:
    """Whether a label holds the name of a cabinet or panel, which one letter is not."""
    names = [letters(place.get(level, "")) for level in ("cabinet", "panel")]
    return any(len(name) > 1 and name in letters(termination) for name in names)
