"""The Annexe: nine links tested with the Tolk in three files, limits of ISO/IEC."""

from sweepbook_demo import mistakes
from sweepbook_demo.facts import TOLK, tolk_heads
from sweepbook_demo.limit_lines import LimitSet
from sweepbook_demo.plan import PlannedLink, Planted, channel, permanent_link
from sweepbook_demo.structure import Crush

_LINK = LimitSet("iso", "permanent-link")
_CHANNEL = LimitSet("iso", "channel")
_SPELLED = {
    "permanent-link": "ISO/IEC 11801-1:2017 Class EA PL",
    "channel": "ISO/IEC 11801-1:2017 Class EA CH",
}
_FILES = {"03": "tolk-annexe-3.csv.gz", "04": "tolk-annexe-4.csv.gz", "05": "tolk-annexe-5.csv.gz"}
_REFERENCE = {
    "03": "07.03.2023 08:02:00",
    "04": "28.12.2022 16:40:00",
    "05": "07.03.2023 13:05:00",
}
_OVERDUE = {
    "near_calibrated": "02.02.2022",
    "near_due": "02.02.2023",
}
_OLD_REFERENCE = Planted("reference-old", "the field reference is 69 days old")
_NOT_CALIBRATED = Planted("calibration-overdue", "the base unit's calibration had run out")


def _facts(limit: LimitSet, label: str, room: str, minute: int) -> dict[str, str]:
    """Facts of one link; `minute` counts from 08:00 and is when the test began."""
    level, port = label.split("-")
    floor = level.lstrip("0")
    clock = f"{8 + minute // 60:02d}:{minute % 60:02d}"
    initials = "".join(word[0] for word in room.split())
    more = _OVERDUE if level == "05" else {}
    return {
        **TOLK,
        **tolk_heads(limit.configuration),
        **more,
        "floor": floor,
        "label": label,
        "near_space": f"TR-{floor}",
        "near_cabinet": f"A{floor}",
        "near_panel": "P2",
        "near_port": port,
        "near_end": f"A{floor}-P2-{port}",
        "far_space": room,
        "far_end": f"{initials}-{port}",
        "cable_reel": f"W6A-2043{floor}",
        "limit": _SPELLED[limit.configuration],
        "configuration": "CH" if limit.is_channel else "PL",
        "reference_at": _REFERENCE[level],
        "started": f"07.03.2023 {clock}:10",
        "ended": f"07.03.2023 {clock}:41",
    }


_THIRD = (
    PlannedLink(
        file=_FILES["03"],
        seed=201,
        pieces=permanent_link(38.0),
        limit=_LINK,
        facts=_facts(_LINK, "03-11", "Children's Library", 20),
        spoils=(mistakes.add_power_sums,),
    ),
    PlannedLink(
        file=_FILES["03"],
        seed=202,
        pieces=permanent_link(71.0),
        limit=_LINK,
        facts=_facts(_LINK, "03-12", "Children's Library", 26),
    ),
    PlannedLink(
        file=_FILES["03"],
        seed=203,
        pieces=permanent_link(52.0),
        limit=_LINK,
        facts=_facts(_LINK, "03-13", "Story Corner", 33),
        judgement="unproven",
        recomputed="undecided",
        planted=(Planted("no-return-loss", "return loss of pair 7-8 was not exported"),),
        spoils=(lambda sheet: mistakes.lose_return_loss(sheet, "7-8"),),
    ),
    PlannedLink(
        file=_FILES["03"],
        seed=204,
        pieces=permanent_link(29.0, crush=Crush(at_m=11.0, length_m=0.3, factor=0.5)),
        limit=_LINK,
        facts=_facts(_LINK, "03-14", "Story Corner", 38),
        recomputed="fail",
        planted=(
            Planted("crushed-cable", "crushed 11 m from the near end: return loss, as stated"),
        ),
    ),
)

_FOURTH = (
    PlannedLink(
        file=_FILES["04"],
        seed=205,
        pieces=channel(3.0, 52.0, 2.0),
        limit=_CHANNEL,
        facts=_facts(_CHANNEL, "04-21", "Music Room", 75),
        planted=(_OLD_REFERENCE,),
    ),
    PlannedLink(
        file=_FILES["04"],
        seed=206,
        pieces=channel(3.0, 64.0, 5.0),
        limit=_CHANNEL,
        facts=_facts(_CHANNEL, "04-22", "Music Room", 81),
        planted=(
            _OLD_REFERENCE,
            Planted("stated-margin", "the stated worst NEXT margin does not follow"),
        ),
        spoils=(lambda sheet: mistakes.restate(sheet, "next", 9.4),),
    ),
    PlannedLink(
        file=_FILES["04"],
        seed=207,
        pieces=channel(3.0, 24.0, 2.0),
        limit=_CHANNEL,
        facts=_facts(_CHANNEL, "04-23", "Workshop", 88),
        judgement="overturned",
        planted=(
            _OLD_REFERENCE,
            Planted("stated-fail", "the export states NOT OK though everything passes"),
        ),
        spoils=(lambda sheet: mistakes.state_verdict(sheet, "fail"),),
    ),
)

_FIFTH = (
    PlannedLink(
        file=_FILES["05"],
        seed=208,
        pieces=permanent_link(44.0),
        limit=_LINK,
        facts=_facts(_LINK, "05-31", "Staff Office", 322),
        judgement="unproven",
        recomputed="undecided",
        planted=(
            _NOT_CALIBRATED,
            Planted("coarse-grid", "every fourth frequency only: a step too coarse for a pass"),
        ),
        spoils=(lambda sheet: mistakes.thin_out(sheet, 4),),
    ),
    PlannedLink(
        file=_FILES["05"],
        seed=209,
        pieces=permanent_link(90.0),
        limit=_LINK,
        facts=_facts(_LINK, "05-32", "Staff Office", 328),
        planted=(_NOT_CALIBRATED,),
    ),
)

LINKS = (*_THIRD, *_FOURTH, *_FIFTH)
