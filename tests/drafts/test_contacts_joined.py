"""Drafts where a word of the export's own stands between the two contacts of a pair.

Figures stand in columns whose titles hold a unit in capitals, and the only crosstalk of two pairs
is ACR-N, given once for both orders: NEXT less the greater loss (common practice, no source).
"""

from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.draft.contacts_joined import joined_otherwise
from sweepbook.draft.naming import settle

from .drafting import curves, draft_of, read
from .links import KHZ, PAIRS, UNORDERED, Key, Link, link, shifted
from .test_tables_joined import drafted, gathered

LINKS = [link("K-7", 24.0), link("K-8", 61.5)]
SIDES = {None: "-", "near": "AQUI", "far": "ALLA"}


def measured(one: Link) -> dict[Key, list[int]]:
    """Insertion loss, return loss, and ACR-N of two pairs once, in hundredths of a dB."""
    found = {
        key: of for key, of in one.curves.items() if key[0] in ("insertion_loss", "return_loss")
    }
    loss = {pair: one.curves["insertion_loss", None, (pair,)] for pair in PAIRS}
    for end in ("near", "far"):
        for a, b in UNORDERED:
            talk = one.curves["next", end, (a, b)]
            worse = [max(both) for both in zip(loss[a], loss[b], strict=True)]
            found["acr_n", end, (a, b)] = [x - y for x, y in zip(talk, worse, strict=True)]
    return found


def files(links: list[Link], call: Callable[[str], str], between: str) -> dict[str, str]:
    """A table of tests with their figures, and one of points, joined by a number."""
    words = {"insertion_loss": "PERDIDA_INSERCION", "return_loss": "PERDIDA_RETORNO"}
    words["acr_n"] = "ACR-N"
    titles = [f"LONGITUD_M_{call(pair)}" for pair in PAIRS]
    titles += [f"RETARDO_NS_{call(pair)}" for pair in PAIRS]
    heads = ["|".join(["NUM", "ENLACE", "NORMA", "RESULTADO", *titles])]
    points = ["NUM|ENSAYO|PAR|LADO|FREC_MHZ|VALOR_DB"]
    for number, one in enumerate(links, 7041):
        metres = [f"{one.metres:.1f}"] * len(PAIRS)
        delays = [f"{one.metres * 4.9:.1f}"] * len(PAIRS)
        told = [str(number), one.label, "TIA-568.2-D Cat 6A PL", "APTO", *metres, *delays]
        heads.append("|".join(told))
        for (parameter, end, pairs), values in measured(one).items():
            name = f"{number}|{words[parameter]}|{between.join(map(call, pairs))}|{SIDES[end]}"
            points += [
                f"{name}|{shifted(khz, 3)}|{shifted(value, 2)}"
                for khz, value in zip(KHZ, values, strict=True)
            ]
    return {"resumen.txt": "\n".join([*heads, ""]), "curvas.txt": "\n".join([*points, ""])}


@pytest.mark.parametrize(
    ("joint", "between"), [("y", "x"), ("e", "x"), ("u.", "/"), (" i ", " - "), ("_", ":")]
)
def test_pairs_by_contacts_with_a_word_between_need_no_change(
    joint: str, between: str, tmp_path: Path
) -> None:
    texts = files(LINKS, lambda pair: pair.replace("-", joint), between)
    draft = drafted(tmp_path, texts)
    assert '"TO-BE-SETTLED"' not in draft
    assert 'spellings = { m = "M", ns = "NS" }' in draft
    assert "# ASSUMED: ACR-N comes once for two pairs" in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["K-7", "K-8"]
    for document, one in zip(documents, LINKS, strict=True):
        wanted = {key: [of / 100 for of in some] for key, some in measured(one).items()}
        assert curves(document) == wanted
        scalars = {
            (of["parameter"], *of["pairs"]): of.get("length_m", of.get("delay_ns"))
            for of in document["results"]["scalars"]
        }
        figures = {("length", pair): one.metres for pair in PAIRS}
        figures |= {("propagation_delay", pair): round(one.metres * 4.9, 1) for pair in PAIRS}
        assert scalars == pytest.approx(figures)


def test_next_beside_acr_n_shows_whether_it_is_the_worse_of_both_orders(tmp_path: Path) -> None:
    """With NEXT at hand the definition is held against the numbers; else it stays a question."""
    for shift, question in ((0, False), (150, True)):
        one = link("K-9", 40.0)
        some = measured(one) | {key: of for key, of in one.curves.items() if key[0] == "next"}
        titles = [f"{p} {'/'.join(pairs)} {SIDES[end]}" for p, end, pairs in some]
        lines = ["Link;K-9", "Result;PASS", "", ";".join(["MHz", *titles])]
        for at, khz in enumerate(KHZ):
            cells = [
                shifted(of[at] + (shift if key[0] == "acr_n" else 0), 2) for key, of in some.items()
            ]
            lines.append(";".join([shifted(khz, 3), *cells]))
        text = "\n".join([*lines, ""]).replace("AQUI", "local").replace("ALLA", "remote")
        (folder := tmp_path / str(shift)).mkdir()
        draft = draft_of(folder, text.replace(" -", ""))
        assert ('\nfirst = "TO-BE-SETTLED"\n' in draft) == question
        if not question:
            assert "# worked out: ACR-N comes once for two pairs" in draft
            (record,), problems = read(folder / "export.csv", draft)
            assert problems == []
            assert curves(record.document) == {
                key: [of / 100 for of in values] for key, values in some.items()
            }


@pytest.mark.parametrize(
    "texts",
    [
        ["NEXT 12/36", "NEXT 45/78"],
        ["NEXT 1-2", "NEXT 3-6", "NEXT 4-5", "NEXT 7-8"],
        ["NEXT 1x2", "NEXT 1x3", "NEXT 3x4"],
        ["RL 1e2", "RL 3e6", "RL 4e5", "RL 7u8"],
        ["RL 11e2", "RL 3e6", "RL 4e5", "RL 7e8"],
    ],
)
def test_nothing_is_between_contacts_unless_it_is_so_of_all_four(texts: list[str]) -> None:
    assert joined_otherwise(texts) is None


def test_a_list_of_contacts_calls_no_pairs() -> None:
    texts = ["RL 1", "RL 2", "RL 3", "RL 4", "1 2 3 6 4 5 7 8"]
    assert settle(texts).pairing.name == "numbers"
