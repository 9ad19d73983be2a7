"""How often Python looks for objects that hold each other and nobody else holds.

A reader makes thousands of small objects a test, which go when the test goes, and hardly any that
hold each other: to look through them every 700, as Python does unasked, takes a twelfth of the time
that a reader of long lists needs.
"""

import gc

EVERY = 50_000
"""New objects between two looks: a few MB."""


def seldom() -> None:
    """Look for such objects seldom, from now on and in this process."""
    gc.set_threshold(EVERY, *gc.get_threshold()[1:])
