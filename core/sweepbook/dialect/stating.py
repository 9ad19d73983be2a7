"""Whether the texts of one row, or element, state anything by a form of single figures."""

from collections.abc import Collection

_GROUPS = ("worst_margin", "worst_value")
_WHICH = ("pairs", "second_pair", "end")


def states(filled: Collection[str], declared: Collection[str]) -> bool:
    """Whether some roles of a form state something.

    A frequency alone states nothing, nor does what says of which pairs or end a worst case is
    where the form looks for that case in the same place and nothing stands there.

    Args:
        filled: roles of which a text is there.
        declared: roles of which the form takes one.
    """
    found = set(filled) - {"frequency"}
    for group in _GROUPS:
        which = {f"{group}.{of}" for of in _WHICH}
        case = {of for of in declared if of.startswith(f"{group}.")} - which
        if case and case.isdisjoint(found):
            found -= which
    return bool(found)
