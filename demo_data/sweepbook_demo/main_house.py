"""The Main House: eleven links tested with the Heron 5, limits of TIA."""

from sweepbook_demo import mistakes
from sweepbook_demo.curves import Curve
from sweepbook_demo.facts import HERON, heron_heads
from sweepbook_demo.limit_lines import LimitSet
from sweepbook_demo.plan import PlannedLink, Planted, channel, permanent_link
from sweepbook_demo.structure import Crush

_LINK = LimitSet("tia", "permanent-link")
_CHANNEL = LimitSet("tia", "channel")
_SPELLED = {
    "permanent-link": "TIA-568.2-D Category 6A Permanent Link",
    "channel": "TIA-568.2-D Category 6A Channel",
}
_NEXT_LOST = Curve("next", "near", ("3-6", "4-5"))
_LOSS_LOST = Curve("insertion_loss", "", ("7-8",))


def _facts(limit: LimitSet, label: str, room: str, minute: int, /, **more: str) -> dict[str, str]:
    """Facts of one link; `minute` counts from 08:00 and is when the test began."""
    floor, panel, port = label[0], label.split("-")[1], label.split("-")[2]
    clock = f"{8 + minute // 60:02d}:{minute % 60:02d}"
    initials = "".join(word[0] for word in room.split())
    return {
        **HERON,
        **heron_heads(limit.configuration),
        "floor": floor,
        "label": label,
        "near_space": f"TR-{label[:2]}",
        "near_cabinet": f"K{floor}",
        "near_panel": panel,
        "near_port": port,
        "near_end": f"K{floor}-{panel}-{port}",
        "far_space": room,
        "far_end": f"{initials}-{port}",
        "cable_reel": f"W6A-2041{floor}",
        "limit": _SPELLED[limit.configuration],
        "configuration": limit.configuration.replace("-", " "),
        "started": f"2023-03-07T{clock}:10+01:00",
        "ended": f"2023-03-07T{clock}:29+01:00",
        **more,
    }


LINKS = (
    PlannedLink(
        file="heron-1A-P1-01.csv",
        seed=101,
        pieces=permanent_link(62.0),
        limit=_LINK,
        facts=_facts(_LINK, "1A-P1-01", "Reading Room", 12),
    ),
    PlannedLink(
        file="heron-1A-P1-02.csv",
        seed=102,
        pieces=permanent_link(15.0),
        limit=_LINK,
        facts=_facts(
            _LINK, "1A-P1-02", "Reading Room", 16, reference_at="2023-03-07T17:05:00+01:00"
        ),
        planted=(
            Planted("reference-after-test", "the field reference was made after the test"),
            Planted("end-mislabelled", "RR-20 was typed for the outlet at the far end, RR-02"),
        ),
        spoils=(lambda sheet: mistakes.mislabel(sheet, "far_end", "RR-20"),),
    ),
    PlannedLink(
        file="heron-1A-P1-03.csv",
        seed=103,
        pieces=permanent_link(47.0, near_jack_worse_db=16.0),
        limit=_LINK,
        facts=_facts(_LINK, "1A-P1-03", "Reading Room", 21),
        recomputed="fail",
        planted=(
            Planted(
                "bad-jack", "the jack at the near end is untwisted: 3-6/4-5 fails NEXT, as stated"
            ),
        ),
    ),
    PlannedLink(
        file="heron-1A-P1-04.csv",
        seed=104,
        pieces=permanent_link(55.0, crush=Crush(at_m=21.0, length_m=0.4, factor=0.55)),
        limit=_LINK,
        facts=_facts(_LINK, "1A-P1-04", "Reading Room", 26),
        judgement="overturned",
        recomputed="fail",
        planted=(
            Planted("crushed-cable", "crushed 21 m from the near end: return loss and NEXT fail"),
            Planted("stated-pass", "the export states PASS all the same"),
        ),
        spoils=(lambda sheet: mistakes.state_verdict(sheet, "pass"),),
    ),
    PlannedLink(
        file="heron-1A-P2-05.csv",
        seed=105,
        pieces=channel(5.0, 78.0, 3.0),
        limit=_CHANNEL,
        facts=_facts(_CHANNEL, "1A-P2-05", "Map Store", 52),
        planted=(
            Planted("wrong-asterisk", "NEXT is PASS* though it is not within declared accuracy"),
        ),
        spoils=(lambda sheet: mistakes.star(sheet, "next"),),
    ),
    PlannedLink(
        file="heron-2A-P1-06.csv.gz",
        seed=106,
        pieces=permanent_link(106.0),
        limit=_LINK,
        facts=_facts(_LINK, "2A-P1-06", "Quiet Study", 75),
        recomputed="fail",
        planted=(
            Planted("too-long", "the link is 106 m long: insertion loss and length, as stated"),
        ),
    ),
    PlannedLink(
        file="heron-2A-P1-07.csv.gz",
        seed=107,
        pieces=permanent_link(33.0),
        limit=_LINK,
        facts=_facts(_LINK, "2A-P1-07", "Quiet Study", 80),
        judgement="unproven",
        recomputed="undecided",
        planted=(Planted("no-far-next", "near-end crosstalk at the far end was not exported"),),
        spoils=(mistakes.lose_far_next,),
    ),
    PlannedLink(
        file="heron-2A-P1-08.csv.gz",
        seed=108,
        pieces=permanent_link(91.25, celsius=38.0),
        limit=_LINK,
        facts=_facts(_LINK, "2A-P1-08", "Quiet Study", 84, ambient_c="38.0"),
        judgement="unproven",
        recomputed="undecided",
        planted=(
            Planted(
                "one-decimal",
                "exported to 0.1 dB with a worst margin nearer to zero than 0.05 dB",
            ),
        ),
        spoils=(mistakes.round_to_tenth,),
    ),
    PlannedLink(
        file="heron-2A-P1-09.csv.gz",
        seed=109,
        pieces=channel(2.0, 41.0, 3.0),
        limit=_CHANNEL,
        facts=_facts(_CHANNEL, "2A-P1-09", "Quiet Study", 110, limit="TIA Cat 6A Channel"),
        planted=(Planted("no-edition", "the limit is spelled without its edition"),),
    ),
    PlannedLink(
        file="heron-2A-P1-10.csv.gz",
        seed=110,
        pieces=permanent_link(74.0),
        limit=_LINK,
        facts=_facts(_LINK, "2A-P1-10", "Local History", 134),
        planted=(
            Planted(
                "acr-f-by-driving-pair",
                "ACR-F was exported with the insertion loss of the disturbing pair",
            ),
        ),
        spoils=(lambda sheet: mistakes.add_acr_f(sheet, by_driving_pair=True),),
    ),
    PlannedLink(
        file="heron-2A-P1-11.csv.gz",
        seed=112,
        pieces=permanent_link(58.0),
        limit=_LINK,
        facts=_facts(_LINK, "2A-P1-11", "Local History", 139),
        judgement="unproven",
        recomputed="undecided",
        planted=(Planted("missing-points", "four readings were not exported"),),
        spoils=(
            lambda sheet: mistakes.lose_points(sheet, _NEXT_LOST, 150_500, 151_500),
            lambda sheet: mistakes.lose_points(sheet, _LOSS_LOST, 62_500, 62_500),
        ),
    ),
)
