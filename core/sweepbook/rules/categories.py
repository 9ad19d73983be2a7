"""Categories of parts and classes of links, in order, by the names that people give them."""

from functools import lru_cache

from sweepbook.limits.names import letters

RANKS = ("3", "5", "5e", "6", "6a", "7", "7a", "8")
"""Categories from the least; parts of a greater one serve the lesser ones as well."""

CATEGORY_OF_CLASS = {"c": "3", "d": "5e", "e": "6", "ea": "6a", "f": "7", "fa": "7a"}
"""Category of the parts that make a class, as ISO/IEC 11801 pairs them; recalled."""


@lru_cache(maxsize=256)
def rank(text: str) -> int | None:
    """The rank of a category or class by its name, such as "Cat 6A" or "Class EA".

    None where it is none of those, or the text says more than one thing.
    """
    word = letters(text)
    for start in ("category", "cat", "class"):
        if word.startswith(start):
            word = word.removeprefix(start)
            word = CATEGORY_OF_CLASS.get(word, word) if start == "class" else word
            break
    return RANKS.index(word) if word in RANKS else None
