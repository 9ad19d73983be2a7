"""The chosen numbers of some links, written a whole curve in each row."""

from collections.abc import Iterator

from .links import KHZ, WORDS, Link, shifted

TITLES = "Circuit;Norm;Tested on;Outcome;Quantity;Pairs;Side"


def rows(links: list[Link], *parameters: str) -> Iterator[tuple[str, list[str]]]:
    """What each row begins with, and its values."""
    for one in links:
        head = f"{one.label};TIA-568.2-D Cat 6A PL;28.02.2026 17:05;PASS"
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in parameters:
                side = {None: "", "near": "local", "far": "remote"}[end]
                name = f"{WORDS[parameter]};{'-'.join(p.replace('-', '') for p in pairs)};{side}"
                yield f"{head};{name}", [shifted(value, 2, ",") for value in values]


def in_titles(links: list[Link], *parameters: str) -> str:
    """The frequencies are titles; rows of a limit stand between the others."""
    lines = [";".join([TITLES, "Row", *(f"{shifted(khz, 3, ',')} MHz" for khz in KHZ)])]
    for head, values in rows(links, *parameters):
        lines += [f"{head};measured;{';'.join(values)}", f"{head};limit;{';'.join(['20,0'] * 23)}"]
    return "\n".join(lines) + "\n"


def above_units(links: list[Link], *parameters: str) -> str:
    """The frequencies are titles, and their unit stands in a row of its own below them."""
    lines = [";".join([TITLES, *(shifted(khz, 3, ",") for khz in KHZ)])]
    lines.append(";" * TITLES.count(";") + ";MHz" * len(KHZ))
    lines += [";".join([head, *values]) for head, values in rows(links, *parameters)]
    return "\n".join(lines) + "\n"


def beside_limits(links: list[Link], *parameters: str) -> str:
    """Rows of a limit stand between the others, and their names say so."""
    lines = [";".join([TITLES, *(f"{shifted(khz, 3, ',')} MHz" for khz in KHZ)])]
    for head, values in rows(links, *parameters):
        *link, quantity, _, _ = head.split(";")
        limits = ";".join([*link, f"{quantity} limit", "", "", *["20,0"] * 23])
        lines += [limits] * (limits not in lines) + [f"{head};{';'.join(values)}"]
    return "\n".join(lines) + "\n"


def in_a_line(links: list[Link], *parameters: str) -> str:
    """The frequencies stand in a line above the titles."""
    axis = ";".join(map(str, KHZ))
    lines = ["Umbel 3", f"Frequency (kHz);;;;;;;{axis}", TITLES]
    lines += [";".join([head, *values]) for head, values in rows(links, *parameters)]
    return "\n".join(lines) + "\n"


def in_each_test(links: list[Link], *parameters: str) -> str:
    """The frequencies stand in a row of each test."""
    lines = [f"{TITLES};Values"]
    for one in links:
        head = f"{one.label};TIA-568.2-D Cat 6A PL;28.02.2026 17:05;PASS"
        lines.append(";".join([head, "Frequency kHz", "", "", *map(str, KHZ)]))
        lines += [";".join([begin, *values]) for begin, values in rows([one], *parameters)]
    return "\n".join(lines) + "\n"


def in_cells(links: list[Link], *parameters: str) -> str:
    """Frequencies and values are lists in a cell each."""
    axis = "|".join(map(str, KHZ))
    lines = [f"{TITLES};Frequencies kHz;Values dB"]
    lines += [f"{head};{axis};{'|'.join(values)}" for head, values in rows(links, *parameters)]
    return "\n".join(lines) + "\n"


def in_sections(links: list[Link], *parameters: str) -> str:
    """A heading for each parameter and end, and the pairs in rows."""
    lines = []
    for one in links:
        lines += [f"*** Circuit {one.label} ***", "Norm=TIA-568.2-D Cat 6A PL", "Outcome=PASS"]
        for parameter in parameters:
            for end, side in ((None, ""), ("near", ", local"), ("far", ", remote")):
                some = {k[2]: v for k, v in one.curves.items() if k[:2] == (parameter, end)}
                if some:
                    lines += [f"[{WORDS[parameter]}{side}]", f"Pairs;{';'.join(map(str, KHZ))}"]
                for pairs, values in some.items():
                    name = "-".join(pair.replace("-", "") for pair in pairs)
                    lines.append(";".join([name, *(shifted(value, 2, ",") for value in values)]))
    return "\n".join(lines) + "\n"


def side_by_side(links: list[Link], *parameters: str) -> str:
    """Each column is a curve, with what it is of in seven cells above its values."""
    columns = [[*TITLES.split(";"), *map(str, KHZ)]]
    columns += [[*head.split(";"), *values] for head, values in rows(links, *parameters)]
    return "".join(f"{';'.join(cells)}\n" for cells in zip(*columns, strict=True))
