"""Parameters whose words are cut short by a point, and lines above a table that are no heading."""

from pathlib import Path

import pytest

from sweepbook.draft.phrases import parameter_in

from .drafting import curves, draft_of, read, written
from .links import KHZ, PAIRS, Link, link, shifted

WORDS = {"insertion_loss": "Pérd. inserción", "return_loss": "Pérd. ret.", "next": "NEXT"}
SIDES = {None: "--", "near": "local", "far": "remoto"}
WIRES = "Mapa de hilos: correcto (12345678S a 12345678S)"


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("Pérd. inserción 1-2", "insertion_loss"),
        ("perd. de ins.", "insertion_loss"),
        ("Pérd. de ret. (dB)", "return_loss"),
        ("Ret. loss", "return_loss"),
        ("Prop. delay", "propagation_delay"),
        ("Ins. Loss 12", "insertion_loss"),
        ("Pérd. 12", None),  # of what is not said
        ("Pé. inserción", None),
        ("Perdix. inserción", None),
        ("Fecha de ins. 4", None),
        ("Sr. No.", None),
    ],
)
def test_a_phrase_may_have_words_cut_short(text: str, meaning: str | None) -> None:
    found = parameter_in(text)
    assert (found.meaning if found else None) == meaning


def sheet(one: Link) -> str:
    """Titles in four lines; a mark for no end, and worst cases below titles that begin alike."""
    some = {key: of for key, of in one.curves.items() if key[0] in WORDS}
    lines = ["INFORME", "", f"Enlace: {one.label}", "Límite: TIA-568.2-D Cat 6A PL", WIRES, ""]
    lines += [
        "Par|Longitud m|Sesgo ns",
        *(f"{pair}|{one.metres}|{at}" for at, pair in enumerate(PAIRS)),
    ]
    lines += ["", "Curvas", "|".join(["Parámetro", *(WORDS[name] for name, _, _ in some)])]
    lines.append("|".join(["Pares", *(" y ".join(pairs) for _, _, pairs in some)]))
    lines.append("|".join(["Extremo", *(SIDES[end] for _, end, _ in some)]))
    lines.append("|".join(["MHz", *("dB" for _ in some)]))
    for at, khz in enumerate(KHZ):
        lines.append("|".join([shifted(khz, 3), *(shifted(of[at], 2) for of in some.values())]))
    lines += ["", "Peor margen", "Parámetro|Pares|Extremo|Margen dB|MHz|Límite dB"]
    lines += ["Pérd. inserción|n/d|n/d|n/d|n/d|n/d", "Pérd. ret.|3-6|remoto|4.03|186.00|9.30"]
    return "\n".join([*lines, "NEXT|1-2 y 3-6|local|5.00|142.00|37.33", ""])


def test_titles_cut_short_and_a_mark_for_no_end(tmp_path: Path) -> None:
    one = link("T-1", 31.5)
    draft = draft_of(tmp_path, sheet(one))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    document = records[0].document
    assert curves(document) == written(one, *WORDS)
    skews = [of["delay_ns"] for of in document["results"]["scalars"] if "delay_ns" in of]
    assert skews == [0.0, 1.0, 2.0, 3.0]
    margins = {of["parameter"]: of["worst_margin"] for of in document["stated"]["items"]}
    assert margins["return_loss"]["margin_db"] == 4.03
    assert margins["next"]["limit_db"] == 37.33


def test_the_line_of_a_wire_map_heads_no_table(tmp_path: Path) -> None:
    """Another test has another one, and its table is found all the same."""
    one = link("T-1", 31.5)
    draft = draft_of(tmp_path, sheet(one))
    assert 'heading = "Mapa' not in draft
    other = tmp_path / "other.csv"
    other.write_text(sheet(one).replace("correcto (12345678S a", "cruzado (12365478S a"), "utf-8")
    (record,), problems = read(other, draft)
    assert problems == []
    lengths = [of["length_m"] for of in record.document["results"]["scalars"] if "length_m" in of]
    assert lengths == [31.5] * 4
