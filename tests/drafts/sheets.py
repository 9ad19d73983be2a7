"""Text tables of invented makes: titles in three lines, and headings that hold the delimiter."""

from .links import KHZ, PAIRS, Link, shifted

FEW = ("insertion_loss", "return_loss", "next")
GERMAN = {"insertion_loss": "Dämpfung", "return_loss": "Rückflussdämpfung", "next": "NEXT"}
ENGLISH = {"insertion_loss": "LOSS", "return_loss": "RETURN LOSS", "next": "NEXT"}
COLOURS = dict(zip(PAIRS, ("Orange", "Green", "Blue", "Brown"), strict=True))
WORST = (
    ("insertion_loss", None, ("3-6",), "3.1", 4, "ok"),
    ("return_loss", "near", ("4-5",), "0.4", 100, "ok (marginal)"),
    ("next", "far", ("1-2", "7-8"), "-0.2", 250, "not ok"),
)
"""Parameter, end, pairs, margin in dB, MHz, verdict; of no calculation, for the reading alone."""


def stacked(one: Link, *, broken: bool) -> str:
    """Titles in three lines above the sweeps: what is measured and where, pairs, units.

    Args:
        one: the link.
        broken: whether wire 8 is: then nothing is known of the last pair.
    """
    lines = ["Blatt 9", f"Kabelname;{one.label}", "Norm;Cat 6A PL TIA 568.2-D", "Ergebnis;i.O."]
    lines += ["", "Paar;Länge [m];Laufzeit [ns]"]
    for pair in PAIRS:
        gone = broken and pair == "7-8"
        metres = "k. A." if gone else f"{one.metres:.1f}".replace(".", ",")
        delay = "k. A." if gone else str(round(one.metres * 4.9))
        lines.append(f"{pair.replace('-', ',')};{metres};{delay}")
    names = [key for key in one.curves if key[0] in FEW]
    sides = {None: "", "near": " Ort 1", "far": " Ort 2"}
    lines += ["", "Sweep", ";".join(["Frequenz", *(f"{GERMAN[n]}{sides[e]}" for n, e, _ in names)])]
    pairs = ["-".join(pair.replace("-", ",") for pair in some) for *_, some in names]
    lines += [";".join(["", *pairs]), ";".join(["kHz", *["dB"] * len(names)])]
    for at, khz in enumerate(KHZ):
        cells = [
            "k. A." if broken and "7-8" in key[2] else shifted(one.curves[key][at], 2, ",")
            for key in names
        ]
        lines.append(";".join([str(khz), *cells]))
    return "\n".join(lines) + "\n"


def bracketed(links: list[Link]) -> str:
    """A heading in brackets a curve, with commas in it, and worst cases before the sweeps."""
    lines = ["Quill sheet", "Clock,UTC-03:00"]
    for one in links:
        lines += ["*** test", f"Cable label,{one.label}", "Norm,TIA-568.2-D Cat 6A PL"]
        lines += ["When,13/02/2026 05:05 PM", "Outcome,ok", "Left unit,Quill 2,SN 55", ""]
        lines += ["Right unit,Quill 2r,SN 56", "", "[PAIRS]", "Pair,Delay (ns),Length (m)"]
        lines += [f"{c},{round(one.metres * 4.9)},{one.metres:.1f}" for c in COLOURS.values()]
        lines += ["Limit,498,90", "", "[WORST]", "What,End,Pair,Margin,Value,Limit,MHz,Verdict"]
        for name, end, worst, margin, mhz, verdict in WORST:
            side = {None: "--", "near": "Left", "far": "Right"}[end]
            told = "-".join(COLOURS[pair] for pair in worst)
            lines.append(f"{ENGLISH[name]},{side},{told},{margin},9.9,9.0,{mhz},{verdict}")
        for (name, end, pairs), values in one.curves.items():
            if name in FEW:
                side = {None: "", "near": ", Left side", "far": ", Right side"}[end]
                told = "-".join(COLOURS[pair] for pair in pairs)
                lines += ["", f"[{ENGLISH[name]}, {told}{side}]", "MHz,Level,Limit"]
                points = zip(KHZ, values, strict=True)
                lines += [f"{shifted(khz, 3)},{shifted(db, 2)},60" for khz, db in points]
    return "\n".join(lines) + "\n"


def apart(links: list[Link]) -> tuple[str, str]:
    """Two files: a row a test, and a row a curve with the frequencies across the titles."""
    heads = [
        "Marram heads\n\nNr|Cable label|When|Norm|Outcome|Wire|Length m|Delay 12 ns|"
        "NEXT north margin dB|NEXT north margin at kHz|NEXT north margin pairs"
    ]
    rows = ["Marram rows", "Nr|What|Pair|End|" + "|".join(map(str, KHZ))]
    for number, one in enumerate(links, 1):
        stated = "2.5|4000|12/36" if number == 1 else "not tested|not tested|not tested"
        heads.append(
            f"{number}|{one.label}|2026-02-28 17:05|TIA-568.2-D Cat 6A PL|ok|RW 6A S/FTP|"
            f"{one.metres:.1f}|{round(one.metres * 4.9)}|{stated}"
        )
        for (name, end, pairs), values in one.curves.items():
            if name in FEW:
                told = "/".join(pair.replace("-", "") for pair in pairs)
                side = {None: "", "near": "north", "far": "south"}[end]
                cells = "|".join(shifted(-value, 2) for value in values)
                rows.append(f"{number}|{ENGLISH[name]}|{told}|{side}|{cells}")
    return "\n".join([*heads, "", "end of heads"]) + "\n", "\n".join(rows) + "\n"
