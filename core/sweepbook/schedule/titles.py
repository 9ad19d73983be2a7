"""What the titles of a schedule mean: its columns by role.

A role is "label", "limit", "configuration", "cable", "reel", a level of a place such as "floor",
or a level or the termination of one end: "from panel", "to termination".
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from sweepbook.schedule.model import LEVELS

ENDS = ("from", "to")
ROLES = (
    "label", "limit", "configuration", "cable", "reel",
    *LEVELS,
    *(f"{end} {part}" for end in ENDS for part in (*LEVELS, "termination")),
)  # fmt: skip

_NUMBERING = (
    "label", "identifier", "id", "no", "nr", "number", "ref", "reference", "name", "tag", "code",
)  # fmt: skip
"""Words behind the name of a thing that say that it is called by this, the surest first."""

_LABELS = (
    "label",
    *(f"link {word}".strip() for word in (*_NUMBERING, "")),
    *(f"cable {word}" for word in _NUMBERING),
    *(f"circuit {word}".strip() for word in (*_NUMBERING, "")),
    "identifier", "id", "reference", "ref",
)  # fmt: skip
"""Titles of the label, the surest first: a table may hold several of them."""

_OF_LINK = {
    "limit": (
        "limit", "limit asked", "required limit", "asked for", "requirement", "test to",
        "test standard", "limit line", "required class",
    ),
    "configuration": ("configuration", "link configuration", "test configuration", "link type"),
    "cable": ("cable", "cable type", "cable part", "cable product", "cable description"),
    "reel": ("reel", "drum", "box", "batch"),
}  # fmt: skip
_OF_PLACE = {
    "site": ("site", "campus"),
    "building": ("building", "bldg", "block"),
    "floor": ("floor", "storey", "level"),
    "space": ("space", "room"),
    "cabinet": ("cabinet", "rack", "frame"),
    "unit": ("unit", "rack unit", "u"),
    "panel": ("panel", "patch panel"),
    "port": ("port", "position"),
    "termination": (
        "termination", "termination point", "outlet", "wall outlet", "faceplate", "label",
    ),
}  # fmt: skip
_END_WORDS = {
    "from": (
        "from", "near end", "near", "end a", "a end", "side a", "a side", "end 1", "origin",
        "source", "a", "from a",
    ),
    "to": (
        "to", "far end", "far", "end b", "b end", "side b", "b side", "end 2", "destination",
        "b", "to b",
    ),
}  # fmt: skip
_OF_ENDS = frozenset(role for role in ROLES if role.partition(" ")[0] in ENDS)
_ROLE_OF = {title: role for role, titles in _OF_LINK.items() for title in titles}
_PART_OF = {title: part for part, titles in _OF_PLACE.items() for title in titles}


def roles(titles: Sequence[str], chosen: Mapping[str, int] | None = None) -> dict[str, int]:
    """The columns of a line of titles, by role; the first of two with one role counts.

    Without a label no column has a role: this is no line of titles then.

    Args:
        titles: of the columns.
        chosen: columns by role, where somebody said so; the titles tell only the others.
    """
    plain = [_plain(title) for title in titles]
    found = dict(chosen or {})
    taken = set(found.values())
    if "label" not in found:
        free = [title if column not in taken else "" for column, title in enumerate(plain)]
        label = next((name for name in (*_LABELS, "cable") if name in free), None)
        if label is None:
            return {}
        found["label"] = free.index(label)
        taken.add(found["label"])
    for column, title in enumerate(plain):
        role = role_of(title)
        if column not in taken and role is not None:
            found.setdefault(role, column)
    return found


def role_of(title: str) -> str | None:
    """The role of one title other than the label's, or None."""
    title = _plain(title)
    if title in _ROLE_OF:
        return _ROLE_OF[title]
    if _ROLE_OF.get(_names(title)[-1]) == "reel":  # a cable's number is not what it is made of
        return "reel"
    for end, part in _ends(title):
        for name in _names(part):
            if name in _PART_OF:
                return f"{end} {_PART_OF[name]}"
    parts = (_PART_OF.get(name, "") for name in _names(title))
    return next((part for part in parts if part in LEVELS), None)


def _names(title: str) -> tuple[str, ...]:
    """A title, and what it is without a word that only says how a thing is called: "room no"."""
    name, _, word = title.rpartition(" ")
    return (title, name) if name and word in _NUMBERING else (title,)


def joined(groups: Sequence[str], titles: Sequence[str]) -> list[str]:
    """Titles below headings that span several columns: "from" over "floor" gives "from floor".

    A heading reaches to the next one. A title that means something without it keeps to itself,
    unless the two together name a part of an end, or the title comes again under another heading.
    """
    above, heading = [], ""
    for place in range(len(titles)):
        heading = groups[place] if place < len(groups) and groups[place] else heading
        above.append(heading)
    repeated = {title for title, count in Counter(titles).items() if count > 1}
    return [
        f"{head} {title}" if head and _belong(head, title, title in repeated) else title
        for head, title in zip(above, titles, strict=True)
    ]


def _belong(heading: str, title: str, repeated: bool) -> bool:
    """Whether a title means something only below its heading, or more than without it."""
    if repeated or role_of(f"{heading} {title}") in _OF_ENDS:
        return True
    return role_of(title) is None and _plain(title) not in _LABELS


def _ends(title: str) -> Iterator[tuple[str, str]]:
    """The ends that a title may name, each with the rest of the title."""
    for end, words in _END_WORDS.items():
        for word in words:
            if title.startswith(f"{word} "):
                yield end, title[len(word) + 1 :]
            if title.endswith(f" {word}"):
                yield end, title[: -len(word) - 1]


def _plain(title: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", title.casefold()))
