"""Rules about what a link ends in and what the testers were joined to it by."""

from collections.abc import Iterator
from typing import Any

from sweepbook.limits.names import letters
from sweepbook.rules.case import Case
from sweepbook.rules.categories import rank
from sweepbook.rules.model import Hit

ENDS = ("near", "far")

KINDS = {"channel": "channel", "permanentlink": "permanent-link", "patchcord": "patch-cord-jack"}
"""Words in the name of an adaptor, letters alone, and the kind of the limit tables they mean."""


def plug_end_is_named(case: Case) -> Iterator[Hit]:
    """Yield every end whose termination the limit wants named and the record does not name."""
    ends = case.needed_table.ends
    for end in ENDS if ends is not None else ():
        asked = getattr(ends, end)
        if asked.must_be_named and "termination" not in case.document["link"].get(end, {}):
            place = f"$.link.{end}" if end in case.document["link"] else "$.link"
            yield Hit(
                place, {"end": end, "fitting": asked.fitting, "limit": case.needed_table.path}
            )


def adaptors_are_of_limit(case: Case) -> Iterator[Hit]:
    """Yield every adaptor that by its own name or category is not one for the limit.

    Only words in full tell: a part number says nothing of the kind of the adaptor.
    """
    ends = case.needed_table.ends
    for end in ENDS:
        adaptor = case.document["test"].get(end, {}).get("adaptor", {})
        asked = "" if ends is None else getattr(ends, end).adaptor
        problem = _other_kind(adaptor, asked) or _lesser(
            adaptor, case.needed_table.class_or_category
        )
        if problem:
            yield Hit(
                f"$.test.{end}.adaptor",
                {"end": end, "problem": problem, "limit": case.needed_table.path},
            )


def _other_kind(adaptor: dict[str, Any], asked: str) -> str:
    """What the adaptor's name says it is for, where the limit asks for another; "" otherwise."""
    words = letters(" ".join((adaptor.get("part", ""), adaptor.get("category", ""))))
    named = [kind for word, kind in KINDS.items() if word in words]
    if not asked or not named or asked in named:
        return ""
    return f"is called one for {named[0]}, and the limit asks for one for {asked}"


def _lesser(adaptor: dict[str, Any], wanted: str) -> str:
    """The category of an adaptor that is too low for the limit; "" where it is not, or unknown."""
    stated = adaptor.get("category", "")
    have, need = rank(stated), rank(wanted)
    if have is None or need is None or have >= need:
        return ""
    return f'is stated as "{stated}", and the limit is for {wanted}'
