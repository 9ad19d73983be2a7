"""Exports in German, French and Italian, with codes for words, and tests as rows or in two files.

The words are of the trade, from memory.
"""

from .links import KHZ, PAIRS, Link, shifted

GERMAN = {
    "insertion_loss": "Einfügedämpfung",
    "return_loss": "Rückflussdämpfung",
    "next": "Nahnebensprechen",
}
FRENCH = {
    "insertion_loss": "Affaiblissement d'insertion",
    "return_loss": "Pertes de retour",
    "next": "Paradiaphonie",
    "fext": "Télédiaphonie",
}
ITALIAN = {
    "insertion_loss": "attenuazione",
    "return_loss": "perdita-di-ritorno",
    "next": "paradiafonia",
}
CODES = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT", "acr_f": "ACRF"}
NORM = "TIA-568.2-D Cat 6A PL"


def digits(pair: str) -> str:
    """A pair without the mark between its contacts."""
    return pair.replace("-", "")


def heads(links: list[Link]) -> str:
    """German: one row a test, without curves."""
    lines = ["Nr;Strecke;Norm;Messdatum;Prüfer;Ergebnis;Länge 12 (m)"]
    for number, one in enumerate(links, 1):
        metres = f"{one.metres:.1f}".replace(".", ",")
        verdict = "bestanden" if number == 1 else "nicht bestanden"
        lines.append(f"{number};{one.label};{NORM};02.03.2026 17:05;nb;{verdict};{metres}")
    return "\n".join(lines) + "\n"


def courses(links: list[Link]) -> str:
    """German: the curves of the same tests, one column each."""
    named = {key: values for key, values in links[0].curves.items() if key[0] in GERMAN}
    ends = {None: "", "near": " nah", "far": " fern"}
    titles = [
        f"{GERMAN[parameter]} {'/'.join(map(digits, pairs))}{ends[end]}"
        for parameter, end, pairs in named
    ]
    lines = [";".join(["Messung", "MHz", *titles])]
    for number, one in enumerate(links, 1):
        for at, khz in enumerate(KHZ):
            cells = [shifted(one.curves[key][at], 2, ",") for key in named]
            lines.append(";".join([str(number), shifted(khz, 3, ","), *cells]))
    return "\n".join(lines) + "\n"


def points(one: Link) -> str:
    """French: one row a point, limit and margin beside it, decimal commas, day and month alike."""
    lines = [f"Étiquette: {one.label}", f"Norme: {NORM}", "Date: 02/03/2026 17:05"]
    lines += ["Résultat: Échec", ""]
    lines.append("Mesure;Perturbatrice;Perturbée;Bout;Fréquence (kHz);Valeur (dB);Limite;Marge")
    ends = {None: "", "near": "proche", "far": "éloigné"}
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in FRENCH:
            first = pairs[0] if len(pairs) > 1 else ""
            name = f"{FRENCH[parameter]};{first};{pairs[-1]};{ends[end]}"
            lines += [
                f"{name};{khz};{shifted(value, 2, ',')};20,0;{shifted(value - 2000, 2, ',')}"
                for khz, value in zip(KHZ, values, strict=True)
            ]
    return "\n".join(lines) + "\n"


def lists(links: list[Link]) -> str:
    """Italian XML: lists of decimal commas with blanks between, an axis of its own a curve."""
    lines = ["<rapporto>"]
    for one in links:
        lines.append(f"<prova><collegamento>{one.label}</collegamento><limite>{NORM}</limite>")
        lines.append("<data>2026-03-02T17:05:09Z</data><esito>non superato</esito>")
        lines.append(f'<lunghezza coppia="36" unita="m">{one.metres:.1f}</lunghezza>')
        lines[-1] = lines[-1].replace(".", ",")
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in ITALIAN:
                side = {None: "", "near": ' lato="locale"', "far": ' lato="remoto"'}[end]
                named = f'tipo="{ITALIAN[parameter]}" coppie="{"/".join(map(digits, pairs))}"'
                axis = " ".join(shifted(khz, 3, ",") for khz in KHZ)
                text = " ".join(shifted(value, 2, ",") for value in values)
                lines.append(f"<misura {named}{side}><frequenze>{axis}</frequenze>")
                lines.append(f"<valori>{text}</valori></misura>")
        lines.append("</prova>")
    return "\n".join([*lines, "</rapporto>\n"])


def codes(one: Link) -> str:
    """XML: the axis in an attribute, ends 0 and 1, pairs by number, facts by name and value."""
    numbers = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
    facts = {"label": one.label, "norm": NORM, "when": "2026-03-02T17:05:09Z", "verdict": "pass"}
    lines = ["<dump><hdr>", *(f'<kv k="{key}" v="{text}"/>' for key, text in facts.items())]
    lines.append(f'</hdr><axis ghz="{",".join(shifted(khz, 6) for khz in KHZ)}"/>')
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in CODES:
            told = f't="{CODES[parameter]}" a="{numbers[pairs[0]]}"'
            told += f' b="{numbers[pairs[1]]}"' if len(pairs) > 1 else ""
            told += {None: "", "near": ' side="0"', "far": ' side="1"'}[end]
            lines.append(f'<m {told} db="{",".join(shifted(-value, 2) for value in values)}"/>')
    return "\n".join([*lines, "</dump>\n"])


def wrapped(links: list[Link]) -> str:
    """XML: facts as name and value, an axis for each parameter, ends as elements around curves."""
    lines = ["<Export>"]
    for one in links:
        facts = {"Name": one.label, "Limit": NORM, "Good": "false"}
        fields = "".join(
            f"<Field><Name>Cable {key}</Name><Value>{text}</Value></Field>"
            for key, text in facts.items()
        )
        axis = " ".join(str(khz) for khz in KHZ)
        lines.append(f"<Test><Fields>{fields}</Fields><Axes>")
        lines += [f'<Axis for="{code}" unit="kHz">{axis}</Axis>' for code in CODES.values()]
        lines.append("</Axes>")
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in CODES:
                named = f'of="{CODES[parameter]}" victim="{pairs[-1]}"'
                named += f' disturber="{pairs[0]}"' if len(pairs) > 1 else ""
                text = " ".join(shifted(value, 2) for value in values)
                side = {None: "Both", "near": "A", "far": "B"}[end]
                curve = f"<Curve {named}>{text}</Curve>"
                lines.append(f'<End id="{side}">{curve}</End>' if end else curve)
        lines.append("</Test>")
    return "\n".join([*lines, "</Export>\n"])


def dutch(links: list[Link]) -> str:
    """XML: one axis a test in an element without a word that is known."""
    lines = ["<map>"]
    for one in links:
        lines.append(f"<meting><kabelnaam>{one.label}</kabelnaam><norm>{NORM}</norm>")
        lines.append(
            f'<uitslag>voldoet niet</uitslag><lijst id="1">{" ".join(map(str, KHZ))}</lijst>'
        )
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in ITALIAN:
                named = f'grootheid="{CODES[parameter]}" paren="{" ".join(map(digits, pairs))}"'
                side = {None: "", "near": ' kant="1"', "far": ' kant="2"'}[end]
                text = " ".join(shifted(value, 2) for value in values)
                lines.append(f'<kromme {named}{side} lijst="1">{text}</kromme>')
        lines.append("</meting>")
    return "\n".join([*lines, "</map>\n"])


def ruled(links: list[Link]) -> str:
    """French: key=value below a line with the same mark in it, a section a parameter and end."""
    lines = []
    for one in links:
        lines += ["=== Rapport ===", f"Repère={one.label}", f"Norme={NORM}", "Bilan=conforme"]
        for parameter in ITALIAN:
            for end, side in ((None, ""), ("near", " (côté A)"), ("far", " (côté B)")):
                some = {k[2]: v for k, v in one.curves.items() if k[:2] == (parameter, end)}
                if some:
                    titles = ["/".join(map(digits, pairs)) for pairs in some]
                    lines += [f"* {FRENCH[parameter].upper()}{side}", "|".join(["Hz", *titles])]
                    lines += [
                        "|".join([f"{khz}000", *(shifted(-of[at], 2) for of in some.values())])
                        for at, khz in enumerate(KHZ)
                    ]
        lines.append("")
    return "\n".join(lines)


def coded(one: Link) -> str:
    """Two tables without headings, pairs by the codes of colours of IEC 60757."""
    code = {"1-2": "OG", "3-6": "GN", "4-5": "BU", "7-8": "BN"}
    lines = [f"Cable;{one.label}", f"Limit;{NORM}", "Result;PASS", ""]
    lines.append("Pair;Length (m);Delay (ns)")
    lines += [f"{code[pair]};{one.metres:.1f};{round(one.metres * 4.9)}" for pair in PAIRS]
    named = {key: values for key, values in one.curves.items() if key[0] in ITALIAN}
    ends = {None: "", "near": " near", "far": " far"}
    titles = [f"{CODES[p]} {'/'.join(code[q] for q in pairs)}{ends[e]}" for p, e, pairs in named]
    lines += ["", ";".join(["MHz", *titles])]
    for at, khz in enumerate(KHZ):
        cells = [shifted(values[at], 2) for values in named.values()]
        lines.append(";".join([shifted(khz, 3), *cells]))
    return "\n".join(lines) + "\n"


def rows(links: list[Link]) -> str:
    """One row a test: figures of every pair, headline margins, no curve."""
    titles = ["Cable ID", "Test Limit", "Date Time", "Pass/Fail"]
    titles += [f"Length {digits(pair)} (ft)" for pair in PAIRS]
    titles += ["NEXT Margin (dB)", "NEXT Margin Freq (MHz)"]
    lines = ["\t".join(titles)]
    for one in links:
        feet = [f"{one.metres / 0.3048:.1f}"] * len(PAIRS)
        lines.append("\t".join([one.label, NORM, "2026-03-02 17:05", "PASS", *feet, "4.2", "233"]))
    return "\n".join(lines) + "\n"


def pair_rows(links: list[Link]) -> str:
    """One row a pair of a test: figures, no curve."""
    lines = ["Job,Cable,Standard,Tested On,Verdict,Pair,Length (m),Delay (ns)"]
    for one in links:
        head = f"Hall,{one.label},{NORM},2026-03-02 17:05,FAIL"
        lines += [f"{head},{pair},{one.metres:.1f},{round(one.metres * 4.9)}" for pair in PAIRS]
    return "\n".join(lines) + "\n"
