"""XML with tables: an element a frequency, and a curve in each of its attributes or elements."""

from .links import KHZ, WORDS, Key, Link, shifted


def _name(key: Key, between: str) -> str:
    return between.join(pair.replace("-", "") for pair in key[2])


def in_the_test(links: list[Link]) -> str:
    """All curves in one table of each test; the name of an attribute says it all."""
    lines = ["<batch>"]
    for one in links:
        lines.append(f'<trial label="{one.label}" verdict="pass">')
        names = {}
        for key in one.curves:
            if key[0] in WORDS:
                side = {None: "", "near": "_main", "far": "_remote"}[key[1]]
                names[key] = f"{WORDS[key[0]]}_{_name(key, '-')}{side}"
        for at, khz in enumerate(KHZ):
            cells = [f'{names[key]}="{shifted(one.curves[key][at], 2)}"' for key in names]
            lines.append(f'<point freq="{shifted(khz, 3)}" {" ".join(cells)}/>')
        lines.append("</trial>")
    return "\n".join([*lines, "</batch>\n"])


def by_parameter(links: list[Link], *, told_by_attribute: bool) -> str:
    """A table a parameter and end; elements are the columns, or one name with an attribute."""
    lines = ["<batch>"]
    for one in links:
        lines.append(f"<trial><cable>{one.label}</cable><verdict>pass</verdict>")
        for kind in dict.fromkeys(key[:2] for key in one.curves if key[0] in WORDS):
            side = {None: "", "near": ' end="main"', "far": ' end="remote"'}[kind[1]]
            lines.append(f'<sweep of="{WORDS[kind[0]]}"{side}>')
            some = {_name(key, "-"): of for key, of in one.curves.items() if key[:2] == kind}
            for at, khz in enumerate(KHZ):
                texts = {pair: shifted(of[at], 2) for pair, of in some.items()}
                if told_by_attribute:
                    cells = [f'<v pair="{pair}">{text}</v>' for pair, text in texts.items()]
                else:
                    cells = [f"<p{pair}>{text}</p{pair}>" for pair, text in texts.items()]
                lines.append(f"<row><mhz>{shifted(khz, 3)}</mhz>{''.join(cells)}</row>")
            lines.append("</sweep>")
        lines.append("</trial>")
    return "\n".join([*lines, "</batch>\n"])


def with_a_limit(one: Link) -> str:
    """Attributes are the columns, a limit beside each; the element says the parameter."""
    lines = [f"<trial><cable>{one.label}</cable><verdict>pass</verdict>"]
    for parameter in ("insertion_loss", "next"):
        for end in (None, "near", "far"):
            some = {
                _name(key, "_"): of for key, of in one.curves.items() if key[:2] == (parameter, end)
            }
            if not some:
                continue
            side = {None: "", "near": ' end="main"', "far": ' end="remote"'}[end]
            lines.append(f"<{WORDS[parameter]}{side}>")
            for at, khz in enumerate(KHZ):
                cells = [
                    f'p{pair}="{shifted(of[at], 2)}" limit_p{pair}="20"'
                    for pair, of in some.items()
                ]
                lines.append(f'<row f="{shifted(khz, 3)}" {" ".join(cells)}/>')
            lines.append(f"</{WORDS[parameter]}>")
    return "\n".join([*lines, "</trial>\n"])
