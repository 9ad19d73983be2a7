"""The cable schedule: what was ordered, one row a link, and where it differs from what was tested.

Places, terminations and cables are those of the planned links, so that a row and a test meet.
"""

import csv
import io
from collections.abc import Sequence

from sweepbook_demo.limit_lines import LimitSet
from sweepbook_demo.plan import PlannedLink

TITLES = (
    "label",
    "site",
    *(f"from {name}" for name in ("building", "floor", "space", "cabinet", "panel", "port")),
    "from termination",
    *(f"to {name}" for name in ("building", "floor", "space", "termination")),
    "limit",
    "configuration",
    "cable",
)

UNTESTED = "1A-P2-06"
"""Scheduled and never tested; its row follows that of its neighbour."""

NEIGHBOUR = "1A-P2-05"
NOT_SCHEDULED = "05-32"
NEAR_MISS = {"PW-1-O4": "PW-1-04"}
"""Label as tested, label as scheduled."""

LESSER_LIMIT = {"PW-1-05": LimitSet("tia", "permanent-link")}
OTHER_CONFIGURATION = {"2A-P1-09": LimitSet("tia", "permanent-link")}
"""By label: what was asked, where it is not what was tested."""

_SPELLED = {
    LimitSet("tia", "permanent-link"): "TIA-568.2-D Category 6A Permanent Link",
    LimitSet("tia", "channel"): "TIA-568.2-D Category 6A Channel",
    LimitSet("iso", "permanent-link"): "ISO/IEC 11801-1:2017 Class EA PL",
    LimitSet("iso", "channel"): "ISO/IEC 11801-1:2017 Class EA CH",
}


def rows(links: Sequence[PlannedLink]) -> list[dict[str, str]]:
    """Rows of the schedule by title, in the order of the first tests."""
    found: list[dict[str, str]] = []
    for link in links:
        label = link.facts["label"]
        if label == NOT_SCHEDULED or link.occasion:
            continue
        found.append(_row(link))
        if label == NEIGHBOUR:
            found.append(_next_port(found[-1]))
    return found


def write(links: Sequence[PlannedLink]) -> bytes:
    """The schedule as comma-separated UTF-8 text."""
    text = io.StringIO()
    out = csv.DictWriter(text, TITLES, lineterminator="\n")
    out.writeheader()
    out.writerows(rows(links))
    return text.getvalue().encode("utf-8")


def _row(link: PlannedLink) -> dict[str, str]:
    facts, label = link.facts, link.facts["label"]
    asked = (LESSER_LIMIT | OTHER_CONFIGURATION).get(label, link.limit)
    near = {f"from {name}": facts[f"near_{name}"] for name in ("space", "cabinet", "panel", "port")}
    both = {
        f"{way} {name}": facts[name] for way in ("from", "to") for name in ("building", "floor")
    }
    return {
        "label": NEAR_MISS.get(label, label),
        "site": facts["site"],
        **both,
        **near,
        "from termination": facts["near_end"],
        "to space": facts["far_space"],
        "to termination": facts["far_end"],
        "limit": _SPELLED[asked],
        "configuration": asked.configuration.replace("-", " "),
        "cable": f"{facts['cable_maker']} {facts['cable_part']}",
    }


def _next_port(neighbour: dict[str, str]) -> dict[str, str]:
    """The row of the link that was never tested: the port after its neighbour's."""
    old, new = neighbour["from port"], UNTESTED.rsplit("-", 1)[1]
    changed = {
        title: neighbour[title].removesuffix(old) + new
        for title in ("from port", "from termination", "to termination")
    }
    return {**neighbour, "label": UNTESTED, **changed}
