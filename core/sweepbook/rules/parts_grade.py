"""Rules about the category of what was installed and the level of what it was tested with."""

from collections.abc import Iterator, Mapping

from sweepbook.limits.names import letters
from sweepbook.rules.case import Case
from sweepbook.rules.categories import rank
from sweepbook.rules.model import Hit

ENDS = ("near", "far")


def parts_reach_the_limit(case: Case) -> Iterator[Hit]:
    """Yield a cable, and every connector, of a lesser category than the limit is for."""
    wanted = case.needed_table.class_or_category
    for place, part, category in _parts(case):
        have, need = rank(category), rank(wanted)
        if have is not None and need is not None and have < need:
            yield Hit(f"{place}.category", {"part": part, "category": category, "wanted": wanted})


def limit_reaches_the_parts(case: Case) -> Iterator[Hit]:
    """Yield a limit that is for less than the least of the parts, where cable and ends are known.

    A link is no better than the least of its parts, so that only all of them together can ask for
    a higher limit.
    """
    parts = [(rank(category), category) for _, _, category in _parts(case)]
    have = [one for one, _ in parts if one is not None]
    need = rank(case.needed_table.class_or_category)
    if need is None or len(have) != 1 + len(ENDS) or not min(have) > need:
        return
    category = next(text for one, text in parts if one == min(have))
    limit = case.needed_table.class_or_category
    yield Hit("$.test.limit", {"category": category, "limit": limit})


def level_is_of_the_limit(case: Case, highest_mhz: Mapping[str, float]) -> Iterator[Hit]:
    """Yield every instrument whose accuracy level ends below the range of the limit.

    Args:
        case: the record, judged.
        highest_mhz: up to where each level is defined, by its name in small letters.
    """
    asked = case.needed_table.f_max_mhz
    for end in ENDS:
        instrument = case.document["test"].get(end, {}).get("instrument", {})
        level = instrument.get("accuracy_level", "")
        reaches = highest_mhz.get(letters(level).removeprefix("level"))
        if reaches is not None and reaches < asked:
            yield Hit(
                f"$.test.{end}.instrument.accuracy_level",
                {"end": end, "level": level, "reaches_mhz": reaches, "asked_mhz": asked},
            )


def _parts(case: Case) -> Iterator[tuple[str, str, str]]:
    """Place, name in words and category of the cable and the connectors that state one."""
    link = case.document["link"]
    if "category" in link.get("cable", {}):
        yield "$.link.cable", "the cable", link["cable"]["category"]
    for end in ENDS:
        connector = link.get(end, {}).get("connector", {})
        if "category" in connector:
            yield (
                f"$.link.{end}.connector",
                f"the connector at the {end} end",
                connector["category"],
            )
