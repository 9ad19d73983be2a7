"""Exports that name things by words of their own: units in each cell, odd headings, code pages."""

from .links import KHZ, PAIRS, Link, shifted

PORTUGUESE = {
    "insertion_loss": "Atenuação",
    "return_loss": "Perda de retorno",
    "next": "Paradiafonia",
    "fext": "Telediafonia",
}
POLISH = {"insertion_loss": "Tłumienność", "return_loss": "Straty odbiciowe"}
OWN = {"insertion_loss": "Fading", "return_loss": "Ripple", "next": "Spill (same)"}
COLOURS = dict(zip(PAIRS, ("orange", "green", "blue", "brown"), strict=True))


def with_units(one: Link) -> str:
    """A row a point; each number with its unit, decimals with points, cells between commas."""
    lines = ["Cabo,Limite,Data,Resultado,Grandeza,Par,Lado,Onde,Medido"]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in PORTUGUESE:
            side = {None: "", "near": "local", "far": "remoto"}[end]
            head = f"{one.label},TIA-568.2-D Cat 6A PL,2026-02-28 17:05,Aprovado"
            name = f"{PORTUGUESE[parameter]},{' -> '.join(pairs)},{side}"
            for khz, value in zip(KHZ, values, strict=True):
                lines.append(f"{head},{name},{shifted(khz, 3)} MHz,{shifted(value, 2)} dB")
    return "\n".join(lines) + "\n"


def own_words(one: Link) -> str:
    """A heading a curve, with words for parameters and ends that no trade has."""
    lines = [f"Cable\t{one.label}", "Limit\tTIA-568.2-D Cat 6A PL", "Saved\t2026-02-28T17:05:09Z"]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in OWN:
            side = {None: "", "near": "; hither side", "far": "; yonder side"}[end]
            pair = " onto ".join(f"pair {one}" for one in pairs)
            lines += ["", f"[{OWN[parameter]}; {pair}{side}]", "Hz\tdB"]
            lines += [f"{x}000\t{shifted(-y, 2)}" for x, y in zip(KHZ, values, strict=True)]
    return "\n".join(lines) + "\n"


def polish(one: Link) -> bytes:
    """One column a curve, in the code page of the middle of Europe, the axis without a unit."""
    some = {key: values for key, values in one.curves.items() if key[0] in POLISH}
    titles = ["Częstotliwość"]
    for parameter, end, pairs in some:
        side = {None: "", "near": " bliższy", "far": " dalszy"}[end]
        titles.append(f"{POLISH[parameter]} {pairs[0]}{side}")
    lines = [f"Oznaczenie łącza;{one.label}", "Norma;TIA-568.2-D Cat 6A PL", "Wynik;Pozytywny"]
    lines += ["", ";".join(titles)]
    for at, khz in enumerate(KHZ):
        lines.append(";".join([str(khz), *(shifted(of[at], 2, ",") for of in some.values())]))
    return ("\n".join(lines) + "\n").encode("cp1250")


def titles_above(one: Link) -> str:
    """A line of titles and one of values above the table of the curves."""
    some = {key: values for key, values in one.curves.items() if key[0] == "insertion_loss"}
    lines = ["Cable ID,Limit,Date and time,Overall result"]
    lines += [f"{one.label},TIA-568.2-D Cat 6A PL,2026-02-28 17:05,Pass", ""]
    lines.append(",".join(["Frequency (kHz)", *(f"IL {pairs[0]}" for _, _, pairs in some)]))
    for at, khz in enumerate(KHZ):
        lines.append(",".join([str(khz), *(shifted(of[at], 2) for of in some.values())]))
    return "\n".join(lines) + "\n"


def over_two_lines(one: Link) -> str:
    """Titles over two lines: what is measured, once for its columns, and the pairs below."""
    some = {key: values for key, values in one.curves.items() if key[0] in OWN}
    upper, lower, last = ["Sweep"], ["kHz"], ""
    for parameter, end, pairs in some:
        title = f"{parameter.replace('_', ' ')}{f' {end}' if end else ''}"
        upper.append(title if title != last else "")
        lower.append("/".join(pairs))
        last = title
    lines = [f"Label;{one.label}", "Limit;TIA-568.2-D Cat 6A PL", "", ";".join(upper)]
    lines.append(";".join(lower))
    for at, khz in enumerate(KHZ):
        lines.append(";".join([str(khz), *(shifted(of[at], 2, ",") for of in some.values())]))
    return "\n".join(lines) + "\n"


def named_outside(one: Link) -> str:
    """XML: the list of a curve in an element of its own, all that names it around that."""
    lines = [f'<w:record xmlns:w="urn:w"><w:prop name="Label" value="{one.label}"/>']
    lines.append(f'<w:freq id="F" unit="Hz">{" ".join(f"{khz}000" for khz in KHZ)}</w:freq>')
    words = {"insertion_loss": "Insertion loss", "return_loss": "Return loss"}
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in words:
            side = {None: "", "near": ' end="1"', "far": ' end="2"'}[end]
            name = f'kind="{words[parameter]}" pairs="{COLOURS[pairs[0]]}"{side} freq="F"'
            numbers = " ".join(shifted(value, 2) for value in values)
            lines.append(f"<w:trace {name}><w:db>{numbers}</w:db></w:trace>")
    return "\n".join([*lines, "</w:record>"])


def ends_in_ids(links: list[Link]) -> str:
    """XML, all of a curve in attributes; labels hold the letters that ends are called by."""
    lines = ["<v>"]
    for one in links:
        lines.append(f'<link n="{one.label}" std="TIA-568.2-D Cat 6A PL">')
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in ("insertion_loss", "return_loss"):
                name = {"insertion_loss": "IL", "return_loss": "RL"}[parameter]
                side = {None: "", "near": ".A", "far": ".B"}[end]
                mhz = ";".join(shifted(khz, 3) for khz in KHZ)
                db = ";".join(shifted(value, 2) for value in values)
                pair = pairs[0].replace("-", "")
                lines.append(f'<c id="{name}{side}.{pair}" mhz="{mhz}" db="{db}"/>')
        lines.append("</link>")
    return "\n".join([*lines, "</v>"])
