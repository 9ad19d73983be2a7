"""Links with chosen numbers, whole hundredths of a dB and kHz, and the files they are in.

Insertion loss grows with the root of frequency and NEXT falls by 15 dB a decade, as handbooks have
it; all other numbers are only of the right size. What a record must hold is known from these
numbers, never from the reader.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

PAIRS = ("1-2", "3-6", "4-5", "7-8")
ORDERED = [(a, b) for a in PAIRS for b in PAIRS if a != b]
UNORDERED = [(a, b) for a, b in ORDERED if a < b]
KHZ = [round(1000 * 1.32**step) for step in range(22)] + [500_000]
Key = tuple[str, str | None, tuple[str, ...]]


@dataclass
class Link:
    """One link: values in hundredths of a dB by what a curve is of."""

    label: str
    metres: float
    curves: dict[Key, list[int]] = field(default_factory=dict)


def link(label: str, metres: float) -> Link:
    """A link of some length with insertion loss, return loss, NEXT, FEXT and ACR-F."""
    made = Link(label, metres)
    roots = [math.sqrt(khz / 1000) for khz in KHZ]
    for number, pair in enumerate(PAIRS):
        loss = [round((2.0 + 0.1 * number) * metres * root) for root in roots]
        made.curves["insertion_loss", None, (pair,)] = loss
        for end, shift in (("near", 0), ("far", 90)):
            echo = [2_800 + shift - 30 * at + 10 * number for at in range(len(KHZ))]
            made.curves["return_loss", end, (pair,)] = echo
    for end, shift in (("near", 0), ("far", 70)):
        for number, pairs in enumerate(UNORDERED):
            talk = [round(7_500 + shift + 90 * number - 3_000 * math.log10(root)) for root in roots]
            made.curves["next", end, pairs] = talk
        for number, (a, b) in enumerate(ORDERED):
            ratio = [
                round(7_000 + shift + 40 * number - 4_000 * math.log10(root)) for root in roots
            ]
            loss = made.curves["insertion_loss", None, (b,)]
            made.curves["acr_f", end, (a, b)] = ratio
            made.curves["fext", end, (a, b)] = [r + x for r, x in zip(ratio, loss, strict=True)]
    return made


def shifted(whole: int, places: int, mark: str = ".") -> str:
    """A whole number with its decimal mark moved."""
    digits = str(abs(whole)).rjust(places + 1, "0")
    text = f"{digits[:-places]}{mark}{digits[-places:]}" if places else digits
    return f"-{text}" if whole < 0 else text


WORDS = {"insertion_loss": "Attenuation", "return_loss": "RL", "next": "NEXT", "fext": "FEXT"}


def wide(one: Link, *parameters: str, ratio: str = "ACR-F") -> str:
    """One column a curve: semicolons, decimal commas, kHz, the disturbed pair first."""
    digits = {pair: pair.replace("-", "") for pair in PAIRS}
    names, columns = [], []
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in parameters:
            word = {**WORDS, "acr_f": ratio}[parameter]
            side = {None: "", "near": " local", "far": " remote"}[end]
            names.append(f"{word} {'+'.join(digits[pair] for pair in pairs[::-1])}{side}")
            columns.append(values)
    lines = ["Umbel 2 wide report", f"Circuit no;{one.label}", "Limit;Cat 6A PL TIA 568.2-D"]
    lines += ["Tested on;28.02.2026 17:05", "Outcome;PASS", f"Length [m];{one.metres:.1f}"]
    lines[-1] = lines[-1].replace(".", ",")
    lines += ["", ";".join(["Frequency/kHz", *names])]
    for at, khz in enumerate(KHZ):
        lines.append(";".join([str(khz), *(shifted(of[at], 2, ",") for of in columns)]))
    return "\n".join(lines) + "\n"


def long(links: list[Link], turn: Callable[[str, str | None], str | None]) -> str:
    """One row a point, several tests: a column each for from, to and end, losses with minus signs.

    Args:
        links: one test each.
        turn: the end to write for a parameter and an end of the record.
    """
    lines = ["No,Link,Norm,Date,Verdict,Quantity,From,To,End,f (MHz),dB"]
    for number, one in enumerate(links, 1):
        head = f"{number},{one.label},TIA-568.2-D Cat 6A PL,2026/02/28 17:05,OK"
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in WORDS:
                to = pairs[1] if len(pairs) > 1 else ""
                side = {None: "", "near": "M", "far": "R"}[turn(parameter, end)]
                name = f"{WORDS[parameter]},{pairs[0]},{to},{side}"
                lines += [
                    f"{head},{name},{shifted(khz, 3)},{shifted(-value, 2)}"
                    for khz, value in zip(KHZ, values, strict=True)
                ]
    return "\n".join(lines) + "\n"


def blocks(links: list[Link]) -> str:
    """Headings and tables of their own, several tests: tab stops, Hz, pairs by colour."""
    colours = dict(zip(PAIRS, ("orange", "green", "blue", "brown"), strict=True))
    lines = ["Corymb listing"]
    for one in links:
        lines += [f"Cable label\t{one.label}", "Requirement\tTIA-568.2-D Cat 6A PL"]
        lines += ["Started\t2026-02-28T17:05:09Z", "Result\tpass"]
        lines += ["Pairs", "Pair\tLength (ft)\tDelay"]
        feet = f"{one.metres / 0.3048:.1f}"
        lines += [f"{colours[pair]}\t{feet}\t{round(one.metres * 4.9)}" for pair in PAIRS]
        for parameter, word in WORDS.items():
            for end, side in ((None, ""), ("near", " at side A"), ("far", " at side B")):
                some = {k[2]: v for k, v in one.curves.items() if k[:2] == (parameter, end)}
                if parameter == "fext" or not some:
                    continue
                lines.append(f"{word}{side}")
                titles = ["/".join(colours[pair] for pair in pairs) for pairs in some]
                lines.append("\t".join(["Hz", *titles]))
                for at, khz in enumerate(KHZ):
                    cells = [shifted(of[at], 2) for of in some.values()]
                    lines.append("\t".join([f"{khz}000", *cells]))
    return "\n".join(lines) + "\n"


def lists(links: list[Link]) -> str:
    """XML: value lists over one shared axis in Hz, attributes that name curves, pairs by number."""
    numbers = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
    axis = " ".join(f"{khz}000" for khz in KHZ)
    lines = ["<survey>", f'<grid id="a" unit="Hz">{axis}</grid>']
    for one in links:
        lines.append(f'<link name="{one.label}"><requirement>TIA-568.2-D Cat 6A PL</requirement>')
        lines.append("<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>")
        lines.append('<gear side="local" serial="S1"/><gear side="remote" serial="S2"/>')
        metres = f"{one.metres:.1f}".replace(".", ",")
        lines += [f'<length pair="{n}" unit="m">{metres}</length>' for n in "1234"]
        for (parameter, end, pairs), values in one.curves.items():
            side = {None: "", "near": ' side="local"', "far": ' side="remote"'}[end]
            keys = ("pair",) if len(pairs) == 1 else ("from", "to")
            told = [f'{key}="{numbers[pair]}"' for key, pair in zip(keys, pairs, strict=True)]
            named = " ".join(told)
            word = {**WORDS, "acr_f": "ACR-F"}[parameter]
            text = ";".join(shifted(-value, 2, ",") for value in values)
            lines.append(f'<sweep kind="{word}" {named}{side} grid="a">{text}</sweep>')
        lines.append("</link>")
    return "\n".join([*lines, "</survey>\n"])


def elements(one: Link) -> str:
    """XML in a namespace: an element a point, and names of elements that say the parameter."""
    tags = {"insertion_loss": "insertionLoss", "return_loss": "returnLoss", "next": "next"}
    lines = ['<?xml version="1.0"?>', '<s:sheet xmlns:s="urn:example:sheet"><s:head>']
    lines.append(f"<s:cable-id>{one.label}</s:cable-id><s:verdict>fail</s:verdict></s:head>")
    for parameter, tag in tags.items():
        lines.append(f"<s:{tag}>")
        for (name, end, pairs), values in one.curves.items():
            if name == parameter:
                side = {None: "", "near": ' end="main"', "far": ' end="remote"'}[end]
                lines.append(f'<s:trace pairs="{"/".join(pairs)}"{side}>')
                lines += [
                    f"<s:p><s:f>{shifted(khz, 3)}</s:f><s:v>{shifted(value, 2)}</s:v></s:p>"
                    for khz, value in zip(KHZ, values, strict=True)
                ]
                lines.append("</s:trace>")
        lines.append(f"</s:{tag}>")
    return "\n".join([*lines, "</s:sheet>\n"])
