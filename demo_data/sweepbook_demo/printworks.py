"""The Printworks: six links tested with the Erruk 3, and one of them again after its repair."""

from sweepbook_demo import mistakes
from sweepbook_demo.facts import ERRUK, erruk_heads
from sweepbook_demo.limit_lines import LimitSet
from sweepbook_demo.plan import PlannedLink, Planted, channel, permanent_link

_LINK = LimitSet("tia", "permanent-link")
_LINK_6 = LimitSet("tia", "permanent-link", "6")
_CHANNEL = LimitSet("iso", "channel")
_SPELLED = {
    _LINK: "TIA 568.2-D 6A permanent",
    _LINK_6: "TIA 568.2-D 6 permanent",
    _CHANNEL: "ISO 11801-1:2017 EA channel",
}
_FIRST = "erruk-printworks-1.xml"
_SECOND = "erruk-printworks-2.xml.gz"
_ROOMS = {"TP": "Type & Press", "BI": "Bindery", "CP": "Café Platen"}
_BAD_JACK_DB = 17.0


def _facts(limit: LimitSet, label: str, room: str, minute: int, /, **more: str) -> dict[str, str]:
    """Facts of one link; `minute` counts from 07:00 UTC and is when the test began."""
    _, floor, port = label.replace("O", "0").split("-")
    clock = f"{7 + minute // 60:02d}:{minute % 60:02d}"
    day = more.pop("day", "2023-03-08")
    return {
        **ERRUK,
        **erruk_heads(limit.configuration),
        "floor": floor,
        "label": label,
        "near_space": f"TR-PW{floor}",
        "near_cabinet": f"W{floor}",
        "near_panel": "P1",
        "near_port": port,
        "near_end": f"W{floor}-P1-{port}",
        "far_space": _ROOMS[room],
        "far_end": f"{room}-{port}",
        "cable_reel": f"W6A-2045{floor}",
        "limit": _SPELLED[limit],
        "configuration": "channel" if limit.is_channel else "permanent",
        "reference_at": f"{day}T07:31:00Z",
        "started": f"{day}T{clock}:10Z",
        "ended": f"{day}T{clock}:33Z",
        **more,
    }


LINKS = (
    PlannedLink(
        file=_FIRST,
        seed=301,
        pieces=permanent_link(36.0),
        limit=_LINK,
        facts=_facts(_LINK, "PW-1-01", "TP", 72),
    ),
    PlannedLink(
        file=_FIRST,
        seed=302,
        pieces=permanent_link(58.0, far_jack_worse_db=_BAD_JACK_DB),
        limit=_LINK,
        facts=_facts(_LINK, "PW-1-02", "TP", 76),
        recomputed="fail",
        planted=(
            Planted(
                "bad-jack", "the jack at the far end is untwisted: 3-6/4-5 fails NEXT, as stated"
            ),
        ),
    ),
    PlannedLink(
        file=_FIRST,
        seed=303,
        pieces=permanent_link(49.0),
        limit=_LINK,
        facts=_facts(_LINK, "PW-1-03", "TP", 81),
        judgement="unproven",
        recomputed="undecided",
        planted=(Planted("no-far-talk", "far-end crosstalk of 3-6 on 7-8 was not exported"),),
        spoils=(lambda sheet: mistakes.lose_far_talk(sheet, "3-6", "7-8"),),
    ),
    PlannedLink(
        file=_FIRST,
        seed=304,
        pieces=permanent_link(27.0),
        limit=_LINK,
        facts=_facts(_LINK, "PW-1-O4", "BI", 95),
        planted=(
            Planted("label-slip", "the label has the letter O where the schedule has a nought"),
        ),
    ),
    PlannedLink(
        file=_FIRST,
        seed=305,
        pieces=permanent_link(66.0),
        limit=_LINK_6,
        facts=_facts(_LINK_6, "PW-1-05", "BI", 99),
        planted=(Planted("lesser-limit", "tested to Category 6, to 250 MHz; 6A was asked"),),
    ),
    PlannedLink(
        file=_FIRST,
        seed=306,
        pieces=channel(3.0, 44.0, 3.0),
        limit=_CHANNEL,
        facts=_facts(_CHANNEL, "PW-2-06", "CP", 130),
        planted=(
            Planted("nvp-changed", "the NVP was changed to 0.790 after the lengths were made"),
        ),
        spoils=(lambda sheet: mistakes.restate_nvp(sheet, "0.790"),),
    ),
    PlannedLink(
        file=_SECOND,
        seed=302,
        occasion=1,
        pieces=permanent_link(58.0),
        limit=_LINK,
        facts=_facts(
            _LINK,
            "PW-1-02",
            "TP",
            127,
            day="2023-03-14",
            purpose="again",
            note="tail jack terminated anew, see entry of 8 March",
        ),
        planted=(Planted("repaired", "the jack at the far end was terminated anew"),),
    ),
)
