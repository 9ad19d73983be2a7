"""Files with more than curves in them: limit lines, rows of units, rules, keys in attributes."""

from .links import KHZ, PAIRS, WORDS, Link, shifted


def with_limits(one: Link) -> str:
    """One column a curve, a row of units, ends as (1) and (2), a limit line beside each curve."""
    names, units, columns = ["Frequency"], ["MHz"], []
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in WORDS:
            side = {None: "", "near": " (1)", "far": " (2)"}[end]
            name = f"{WORDS[parameter]} {'/'.join(pairs)}{side}"
            names += [name, f"Limit {name}"]
            units += ["dB", "dB"]
            columns += [values, [2_000] * len(values)]
    lines = ["Raceme export", f"Outlet,{one.label}", "Evaluation,passed", "", ",".join(names)]
    lines.append(",".join(units))
    for at, khz in enumerate(KHZ):
        lines.append(",".join([shifted(khz, 3), *(shifted(of[at], 2) for of in columns)]))
    return "\n".join(lines) + "\n"


def with_marks(links: list[Link]) -> str:
    """Sections, tests between marks that hold the label, pairs by number, rules between lines."""
    numbers = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
    lines = []
    for one in links:
        lines += [f"*** TEST {one.label} ***", "==========", "Test result|OK", "LENGTH AND DELAY"]
        lines.append("Pair|Length m|Delay ns")
        lines += [f"{numbers[pair]}|{one.metres:.1f}|{round(one.metres * 4.9)}" for pair in PAIRS]
        for parameter, word in WORDS.items():
            for end, side in ((None, ""), ("near", " FROM NEAR END"), ("far", " FROM FAR END")):
                some = {k[2]: v for k, v in one.curves.items() if k[:2] == (parameter, end)}
                if not some or parameter == "fext":
                    continue
                titles = ["-".join(numbers[pair] for pair in pairs) for pairs in some]
                lines += [f"{word.upper()}{side}", "|".join(["kHz", *titles])]
                for at, khz in enumerate(KHZ):
                    lines.append(
                        "|".join([str(khz), *(shifted(of[at], 2) for of in some.values())])
                    )
        lines += ["*** END ***", ""]
    return "\n".join(lines) + "\n"


def with_items(links: list[Link]) -> str:
    """XML: keys in attributes, names of curves in elements, each with frequencies of its own."""
    lines = ["<Panicle><Records>"]
    for one in links:
        lines += ["<Record>", f'<Item key="Label" value="{one.label}"/>']
        lines += ['<Item key="Technician" value="op-9"/>', '<Item key="Verdict" value="PASS"/>']
        for (parameter, end, pairs), values in one.curves.items():
            if parameter not in WORDS:
                continue
            side = {None: "", "near": "<End>Main</End>", "far": "<End>Remote</End>"}[end]
            two = " ".join(pair.replace("-", "") for pair in pairs)
            lines.append(f"<Curve><Type>{WORDS[parameter]}</Type><Pairs>{two}</Pairs>{side}")
            axis = " ".join(f"{khz}000" for khz in KHZ)
            text = " ".join(shifted(value, 2) for value in values)
            limit = " ".join("20" for _ in values)
            lines.append(f"<Data><Frequencies>{axis}</Frequencies><Values>{text}</Values>")
            lines.append(f"<Limits>{limit}</Limits></Data></Curve>")
        lines.append("</Record>")
    return "\n".join([*lines, "</Records></Panicle>\n"])


def limit_first(one: Link) -> str:
    """XML: three numbers a point, the limit before the measurement."""
    lines = [f'<trial id="{one.label}" verdict="pass">']
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in ("insertion_loss", "return_loss"):
            side = {None: "", "near": ' end="A"', "far": ' end="B"'}[end]
            lines.append(f'<trace of="{WORDS[parameter]}" pair="{pairs[0]}"{side}>')
            lines += [
                f'<pt f="{shifted(khz, 3)}" a="{20 + at}" b="{shifted(value, 2)}"/>'
                for at, (khz, value) in enumerate(zip(KHZ, values, strict=True))
            ]
            lines.append("</trace>")
    return "\n".join([*lines, "</trial>\n"])


def in_attributes(one: Link) -> str:
    """XML: name, frequencies and values of a curve in its attributes."""
    lines = [f"<sheet><circuit>{one.label}</circuit><overall>PASS</overall>"]
    axis = " ".join(shifted(khz, 3) for khz in KHZ)
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in ("insertion_loss", "return_loss", "next"):
            side = {None: "", "near": " Main", "far": " Remote"}[end]
            name = f"{WORDS[parameter]} {'-'.join(p.replace('-', '') for p in pairs)}{side}"
            text = " ".join(shifted(value, 2) for value in values)
            lines.append(f'<curve name="{name}" mhz="{axis}" db="{text}"/>')
    return "\n".join([*lines, "</sheet>\n"])


def one_table(links: list[Link]) -> str:
    """One column a curve, all tests in one table with columns beside the axis; GHz, minus signs."""
    heads, lines = [], []
    for one in links:
        some = {k: v for k, v in one.curves.items() if k[0] in ("insertion_loss", "return_loss")}
        names = [
            f"{WORDS[parameter]}_{pairs[0].replace('-', '')}"
            + {None: "", "near": "_A", "far": "_B"}[end]
            for parameter, end, pairs in some
        ]
        heads = [",".join(["Link", "Standard", "Verdict", "GHz", *names])]
        lines += [
            ",".join(
                [one.label, "TIA-568.2-D Cat 6A PL", "PASS", shifted(khz, 6)]
                + [shifted(-of[at], 2) for of in some.values()]
            )
            for at, khz in enumerate(KHZ)
        ]
    return "\n".join([*heads, *lines]) + "\n"


def all_numbers(links: list[Link]) -> str:
    """XML: pairs by number and ends by number, in attributes of their own; no FEXT but ACR-F."""
    numbers = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
    words = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT", "acr_f": "ACR-F"}
    axis = ",".join(str(khz) for khz in KHZ)
    lines = ["<log>"]
    for one in links:
        lines.append(f"<job><cableId>{one.label}</cableId><testDate>2026-02-28</testDate>")
        lines.append(f"<testTime>17:05:09</testTime><gauge><f>{axis}</f>")
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in words:
                second = f' second="{numbers[pairs[1]]}"' if len(pairs) > 1 else ""
                side = {None: "", "near": ' e="1"', "far": ' e="2"'}[end]
                text = ",".join(shifted(value, 2) for value in values)
                named = f't="{words[parameter]}" first="{numbers[pairs[0]]}"{second}{side}'
                lines.append(f"<y {named}>{text}</y>")
        lines.append("</gauge></job>")
    return "\n".join([*lines, "</log>\n"])


def ends_by_elements(one: Link) -> str:
    """XML: names of elements say the end and the parameter, an attribute the pair."""
    tags = {"insertion_loss": "InsertionLoss", "return_loss": "ReturnLoss", "next": "NEXT"}
    lines = [f"<CableTest><Header><CableLabel>{one.label}</CableLabel></Header>"]
    for side, near in (("LocalEnd", True), ("RemoteEnd", False)):
        lines.append(f"<{side}>")
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in tags and (end == "near" or end is None) == near:
                two = "-".join(pair.replace("-", "") for pair in pairs)
                lines.append(f'<{tags[parameter]} Pair="{two}">')
                lines += [
                    f'<P F="{shifted(khz, 3)}" V="{shifted(value, 2)}"/>'
                    for khz, value in zip(KHZ, values, strict=True)
                ]
                lines.append(f"</{tags[parameter]}>")
        lines.append(f"</{side}>")
    return "\n".join([*lines, "</CableTest>\n"])


def with_a_closing_line(one: Link) -> str:
    """Keys with a colon right above the titles, words that no trade has, a line at the end."""
    words = {"insertion_loss": "DIMNESS", "return_loss": "ECHO"}
    some = {key: values for key, values in one.curves.items() if key[0] in words}
    titles = ["MHz"]
    for parameter, end, pairs in some:
        side = {None: "", "near": "_N", "far": "_F"}[end]
        titles.append(f"{words[parameter]}_{pairs[0].replace('-', '')}{side}")
    lines = [f"Label: {one.label}", "Date: 28-Feb-2026 17:05", "Result: PASS", "\t".join(titles)]
    for at, khz in enumerate(KHZ):
        cells = [shifted(of[at], 2) for of in some.values()]
        lines.append("\t".join([shifted(khz, 3), *cells]))
    return "\n".join([*lines, "end of file"]) + "\n"
