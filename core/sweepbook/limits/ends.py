"""What a link ends in, and what the tester is joined to it by."""

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class LinkEnd:
    """One end of the link under test.

    Attributes:
        fitting: "jack", "plug" (on the installed cable) or "cord" (the user's own).
        adaptor: kind of adaptor that the limits are for.
        must_be_named: whether a record must name the termination at this end.
    """

    fitting: str
    adaptor: str
    must_be_named: bool


@dataclass(frozen=True, slots=True)
class Ends:
    """Both ends as the record calls them; of a link with one plug, the plug is at the far end."""

    near: LinkEnd
    far: LinkEnd
    grade: str
    source: str
    support: tuple[str, ...]
    note: str


def build_ends(member: dict[str, Any]) -> Ends:
    """Make the ends out of a file that follows the schema."""
    return Ends(
        near=_end(member["near"]),
        far=_end(member["far"]),
        grade=member["grade"],
        source=member["source"],
        support=tuple(member.get("support", ())),
        note=member.get("note", ""),
    )


def _end(member: dict[str, Any]) -> LinkEnd:
    return LinkEnd(**{"must_be_named": False, **member})
