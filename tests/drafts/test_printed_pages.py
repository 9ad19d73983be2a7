"""Drafts of files that are printed pages: two keys on a line, a heading without its table, words
for no value that no language knows.

The words are of the trade, from memory, but "zzq", which is none.
"""

from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import ReadProblem
from sweepbook.record.model import Record
from tests.program import run

from .drafting import curves, read, written
from .links import KHZ, PAIRS, Link, link, shifted

LINKS = [link("P1-A20", 35.5), link("P1-B21", 50.0), link("P2-B24", 20.0)]
COLOURS = ("Naranja", "Verde", "Azul", "Marrón")
SERIALS = ("QY-22081", "QY-22082")


def page(one: Link, *, measured: bool, gap: str, blank: str) -> str:
    """The pages of one test; the last lacks the table of worst cases and all curves."""
    pairs = [
        ("Enlace", one.label, "Norma / límite", "ISO/IEC 11801 Clase E, enlace permanente"),
        ("Informe", one.label[-2:], "Resultado general", "PASA" if measured else "NO PASA"),
        ("Obra", "Hospital Las Encinas", "Cable", "U/UTP Cat. 6"),
        ("Edificio", "Pabellón Norte", "NVP (%)", "69,0"),
        ("Recinto", "Sala 101", "Esquema de conexión", "T568B"),
        ("Técnico", "Ignacio Puelma", "Equipo local N.º de serie", SERIALS[0]),
        ("Fecha", "2025-11-19 10:23:53", "Equipo remoto N.º de serie", SERIALS[1]),
    ]
    lines = ["Quillay"]
    lines += [f"{key};{value};{blank}{name};{text}" for key, value, name, text in pairs]
    metres = [f"{one.metres + at:.1f}".replace(".", ",") for at in range(4)]
    ohms = ["8,6", "8,7", gap if not measured else "8,5", "8,8"]
    lines += ["", "MEDICIONES POR PAR", f"Magnitud;Unidad;{';'.join(COLOURS)};Resultado"]
    lines += [f"Longitud;m;{';'.join(metres)};PASA"]
    verdict = "PASA" if measured else gap
    lines += [f"Resistencia de bucle;Ω;{';'.join(ohms)};{verdict}", "", "RESUMEN DE PEOR CASO"]
    if not measured:
        return "\n".join([*lines, "Sin mediciones en frecuencia", "", "Fin del informe", ""])
    lines += ["Magnitud;Margen (dB);Par;Frecuencia (kHz);Resultado"]
    lines += ["Pérdida de inserción;6,4;Naranja;34000,0;PASA", ""]
    lines += ["PÉRDIDA DE INSERCIÓN (dB)", f"Frecuencia (kHz);{';'.join(COLOURS)}"]
    for at, khz in enumerate(KHZ):
        values = [one.curves["insertion_loss", None, (pair,)][at] for pair in PAIRS]
        lines.append(";".join([f"{khz},0", *(shifted(value, 2, ",") for value in values)]))
    return "\n".join([*lines, "", "Fin del informe", ""])


@pytest.fixture(params=[(";", "s/d"), (";", "zzq"), ("", "s/d")])
def export(request: pytest.FixtureRequest, tmp_path: Path) -> list[Path]:
    blank, gap = request.param
    paths = []
    for number, one in enumerate(LINKS, 1):
        path = tmp_path / f"Informe_{number}.csv"
        text = page(one, measured=number < len(LINKS), gap=gap, blank=blank)
        path.write_text(text, encoding="utf-8")
        paths.append(path)
    return paths


def drafted(paths: list[Path]) -> str:
    result = run("dialect", "draft", *paths)
    assert result.exit_code == 0, result.output
    return result.stdout


def all_of(paths: list[Path], draft: str) -> tuple[list[Record], list[ReadProblem]]:
    both = [read(path, draft) for path in paths]
    return [one for some, _ in both for one in some], [one for _, some in both for one in some]


def test_no_heading_is_left_out_for_lack_of_its_table_in_one_file(export: list[Path]) -> None:
    draft = drafted(export)
    (skipped,) = [line for line in draft.splitlines() if line.startswith("skip = ")]
    assert "RESUMEN DE PEOR CASO" not in skipped
    assert 'heading = "RESUMEN DE PEOR CASO"' in draft


def test_all_is_read_by_the_draft_as_it_comes(export: list[Path]) -> None:
    records, problems = all_of(export, drafted(export))
    assert problems == []
    assert [record.label for record in records] == [one.label for one in LINKS]
    for record, one in zip(records, LINKS, strict=True):
        facts_are_read(record.document, passed=one is not LINKS[-1])
    for record, one in zip(records[:-1], LINKS, strict=False):
        assert curves(record.document) == written(one, "insertion_loss")
        margins = [of.get("worst_margin") for of in record.document["stated"]["items"]]
        (margin,) = filter(None, margins)
        assert (margin["margin_db"], margin["frequency_mhz"]) == (6.4, 34)


def facts_are_read(document: dict[str, Any], *, passed: bool) -> None:
    test, link_ = document["test"], document["link"]
    assert document["resolved"]["limit"]["path"] == "iso-11801-1-2017/class-e/permanent-link"
    assert document["stated"]["overall"]["verdict"] == ("pass" if passed else "fail")
    assert [test[end]["instrument"]["serial"] for end in ("near", "far")] == [*SERIALS]
    assert test["operator"] == "Ignacio Puelma"
    assert link_["near"]["place"] == {
        "site": "Hospital Las Encinas", "building": "Pabellón Norte", "space": "Sala 101",
    }  # fmt: skip
    assert (link_["cable"]["part"], link_["cable"]["nvp"]) == ("U/UTP Cat. 6", 0.69)
    ohms = {
        of["pairs"][0]: of["resistance_ohm"]
        for of in document["results"]["scalars"]
        if of["parameter"] == "dc_loop_resistance" and "resistance_ohm" in of
    }
    whole = {"1-2": 8.6, "3-6": 8.7, "4-5": 8.5, "7-8": 8.8}
    assert ohms == {pair: ohm for pair, ohm in whole.items() if passed or pair != "4-5"}
    judged = {of["parameter"]: of.get("verdict") for of in document["stated"]["items"]}
    assert judged["length"] == "pass"
    assert judged.get("dc_loop_resistance") == ("pass" if passed else None)
