"""XML of invented makes that states worst cases, limit lines and figures beside its curves."""

from .links import KHZ, PAIRS, WORDS, Link, shifted

NAMES = {"1-2": "12", "3-6": "36", "4-5": "45", "7-8": "78"}
ENDS = {None: "both", "near": "unit 1", "far": "unit 2"}
FEW = ("insertion_loss", "return_loss", "next")


def in_children(links: list[Link]) -> str:
    """Worst cases as rows of children, limit lines beside curves, figures in attributes, a list a
    wire map; the second test lacks a delay, and one verdict is for information."""
    axis = " ".join(f"{khz}000" for khz in KHZ)
    lines = ["<round>", f'<points unit="Hz">{axis}</points>']
    for number, one in enumerate(links):
        lines.append(
            f'<trial label="{one.label}" norm="TIA-568.2-D Cat 6A PL" length="{one.metres:.1f}">'
        )
        lines.append('<outcome>ok</outcome><wires ends="1 2 3 4 5 6 7 8 S"/>')
        for pair in PAIRS:
            delay = "not tested" if number and pair == "7-8" else round(one.metres * 4.9)
            lines.append(f'<wire pair="{NAMES[pair]}" delay="{delay}" delayUnit="ns"/>')
        for parameter in FEW:
            lines.append(f'<kind of="{WORDS[parameter]}">')
            if parameter == "next":
                lines.append(f"<ceiling>{' '.join(['65.00'] * len(KHZ))}</ceiling>")
            for (name, end, pairs), values in one.curves.items():
                if name == parameter:
                    side = f' at="{ENDS[end]}"' if end else ""
                    told = "/".join(NAMES[pair] for pair in pairs)
                    text = " ".join(shifted(value, 2) for value in values)
                    lines.append(f'<curve pairs="{told}"{side}>{text}</curve>')
            lines.append("</kind>")
        lines.append("<worst>")
        for parameter, end, pair, margin, at, word in WORST:
            lines.append(
                f"<case><what>{WORDS[parameter]}</what><where>{ENDS[end]}</where><on>{pair}</on>"
                f"<margin>{margin}</margin><freq>{at}000000</freq><reading>13.2</reading>"
                f"<verdict>{word}</verdict></case>"
            )
        lines.append("</worst></trial>")
    return "\n".join([*lines, "</round>\n"])


WORST = (
    ("insertion_loss", None, "36", "3.1", 4, "ok"),
    ("return_loss", "near", "45", "0.4", 100, "ok (marginal)"),
    ("next", "far", "12/78", "-0.2", 250, "info"),
)
"""Parameter, end, pairs, margin in dB, MHz, verdict; of no calculation, for the reading alone."""


def at_curves(one: Link) -> str:
    """An element a point, and the worst of them stated again at the end of each curve."""
    lines = [f"<sheet><cable>{one.label}</cable><verdict>ok</verdict>"]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in FEW:
            side = f' at="{ENDS[end]}"' if end else ""
            told = "/".join(NAMES[pair] for pair in pairs)
            lines.append(f'<graph of="{WORDS[parameter]}" pairs="{told}"{side}>')
            points = zip(KHZ, values, strict=True)
            lines += [f'<dot khz="{khz}" db="{shifted(db, 2)}" limit="60"/>' for khz, db in points]
            lines.append(
                f'<low khz="{KHZ[3]}" db="{shifted(values[3], 2)}" margin="2.5" limit="60"/>'
                "</graph>"
            )
    return "\n".join([*lines, "</sheet>\n"])
