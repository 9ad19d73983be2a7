"""Rules about the screen of a link: on every part of it, and in the result of the test."""

from collections.abc import Iterator

from sweepbook.judging.screen import hint_of_screen, is_screened
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

ENDS = ("near", "far")
MAP = "$.results.wire_map"


def screen_is_throughout(case: Case) -> Iterator[Hit]:
    """Yield every connector without a screen on a link that is said to be screened."""
    if not is_screened(case.document):
        return
    link = case.document["link"]
    claim = link.get("cable", {}).get("construction", "a screen found by the wire map")
    for end in ENDS:
        if link.get(end, {}).get("connector", {}).get("screened") is False:
            yield Hit(f"$.link.{end}.connector.screened", {"end": end, "claim": claim})


def screen_result_is_there(case: Case) -> Iterator[Hit]:
    """Yield a screened link, or one that may be, whose screen was not tested though it is due."""
    if case.needed_table.wire_map.screen_obligation != "required":
        return
    found = case.document["results"].get("wire_map", {}).get("screen", "not-tested")
    claim = hint_of_screen(case.document)
    if is_screened(case.document):
        claim = f"the cable is {case.document['link'].get('cable', {}).get('construction', '')}"
    if claim and found == "not-tested":
        place = MAP if "wire_map" in case.document["results"] else "$.results"
        yield Hit(place, {"claim": claim, "limit": case.needed_table.path})


def screen_is_of_construction(case: Case) -> Iterator[Hit]:
    """Yield a screen that was found where the construction has none, or none where it has one."""
    found = case.document["results"].get("wire_map", {}).get("screen")
    construction = case.document["link"].get("cable", {}).get("construction", "")
    if not construction or found not in ("continuous", "open", "none"):
        return
    screened = is_screened({"link": {"cable": {"construction": construction}}})
    if screened is not None and screened is (found == "none"):
        yield Hit(f"{MAP}.screen", {"construction": construction, "found": found})
