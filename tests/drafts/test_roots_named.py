"""Drafts of tests with a file of XML for each parameter, whose root is called by it.

The words are Polish: common practice and memory, no source.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sweepbook.record.model import Record
from tests.joined.test_join import pipeline
from tests.program import run

from .drafting import curves, written
from .links import KHZ, Link, link, shifted

LINKS = [link("R2-W-014", 37.5), link("R2-W-015", 62.0), link("R2-W-016", 81.5)]
ROOTS = {
    "insertion_loss": "TłumienieWtrąceniowe",
    "return_loss": "StratyOdbić",
    "next": "PrzesłuchNaBliskimKońcu",
    "fext": "PrzesłuchNaDalekimKońcu",
}
ENDS = {None: "", "near": ' strona="A"', "far": ' strona="B"'}
Facts = Callable[[Link], str]


def part(one: Link, parameter: str, told: str, inner: str = "") -> str:
    """A file: what it says of the test, one axis, and the curves of a parameter."""
    root, hertz = ROOTS[parameter], " ".join(f"{khz}000" for khz in KHZ)
    lines = [f'<{root}{told}>{inner}<Siatka jednostka="Hz">{hertz}</Siatka>']
    for (of, end, pairs), values in one.curves.items():
        if of == parameter:
            names = ("para",) if len(pairs) == 1 else ("zakłócająca", "zakłócana")
            named = " ".join(f'{n}="{pair}"' for n, pair in zip(names, pairs, strict=True))
            text = " ".join(shifted(value, 2, ",") for value in values)
            lines.append(f"<Krzywa {named}{ENDS[end]}>{text}</Krzywa>")
    return "\n".join([*lines, f"</{root}>\n"])


def head(one: Link, label: bool = True) -> str:
    """What is known of a test: a figure each pair, and a margin by the word of its parameter."""
    called = f"<OznaczenieToru>{one.label}</OznaczenieToru>" if label else ""
    lines = [f"<Protokół>{called}<Ocena>Negatywny</Ocena><Norma>TIA-568.2-D Cat 6A PL</Norma>"]
    lines.append('<Kiedy data="21.03.2026" godzina="09:41:07"/>')
    metres = shifted(round(one.metres * 10), 1, ",")
    lines += [f'<DługośćToru para="{of}" jedn="m">{metres}</DługośćToru>' for of in ("1-2", "3-6")]
    lines.append(f'<Zapas dla="{ROOTS["return_loss"]}" para="7-8" strona="B" dB="-0,7"/>')
    return "\n".join([*lines, "</Protokół>\n"])


def in_folders(links: list[Link]) -> dict[str, str]:
    """A folder a test; each file repeats the label."""
    files = {}
    for at, one in enumerate(links):
        files[f"t{at}/karta.xml"] = head(one)
        for number, parameter in enumerate(ROOTS):
            files[f"t{at}/p{number}.xml"] = part(one, parameter, f' tor="{one.label}"')
    return files


def in_one(links: list[Link]) -> dict[str, str]:
    """All files in one folder, told by their names; the head alone knows the label."""
    files = {}
    for at, one in enumerate(links):
        files[f"badanie{at}.xml"] = head(one)
        for number, parameter in enumerate(ROOTS):
            files[f"badanie{at}_p{number}.xml"] = part(one, parameter, "")
    return files


def without_head(links: list[Link]) -> dict[str, str]:
    """Each file says all that is known of the test."""
    files = {}
    for at, one in enumerate(links):
        facts = "<Ocena>Negatywny</Ocena><Norma>TIA-568.2-D Cat 6A PL</Norma>"
        facts += f"<OznaczenieToru>{one.label}</OznaczenieToru>"
        for parameter in ROOTS:
            zapas = '<Zapas para="7-8" strona="B" dB="-0,7"/>' * (parameter == "return_loss")
            files[f"t{at}/{ROOTS[parameter]}.xml"] = part(one, parameter, "", facts + zapas)
    return files


def write(folder: Path, files: dict[str, str]) -> list[Path]:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return [folder / name for name in files]


def read(folder: Path, draft: str) -> tuple[list[dict[str, Any]], list[str]]:
    items = list(pipeline(folder, draft).read_all([folder]))
    records = [of.document for of in items if isinstance(of, Record)]
    return records, [str(getattr(of, "message", "")) for of in items if not isinstance(of, Record)]


@pytest.mark.parametrize(
    ("export", "form", "other"),
    [
        (in_folders, "{}/{any}.xml", "{}/karta.xml"),
        (in_one, "{}_{any}.xml", "{}.xml"),
        (without_head, "{}/{any}.xml", ""),
    ],
)
def test_files_of_a_parameter_each_are_one_test(
    export: Callable[[list[Link]], dict[str, str]], form: str, other: str, tmp_path: Path
) -> None:
    """Drafted from two of three tests; the third is read as well."""
    write(tmp_path / "in", export(LINKS))
    draft = run("dialect", "draft", *write(tmp_path / "some", export(LINKS[:2]))).stdout
    assert '\ntest = "/{parameter}"\n' in draft
    assert f'\nfile = "{form}"\n' in draft
    assert f'\nother = "{other}"\n' in draft if other else "other" not in draft
    records, problems = read(tmp_path / "in", draft)
    assert problems == []
    assert [of["link"]["label"] for of in records] == [one.label for one in LINKS]
    for document, one in zip(records, LINKS, strict=True):
        assert curves(document) == written(one, *ROOTS)
        assert document["stated"]["overall"]["verdict"] == "fail"
        assert document["test"]["limit"]["as_stated"] == "TIA-568.2-D Cat 6A PL"
        (item,) = document["stated"]["items"]
        assert (item["parameter"], item["end"]) == ("return_loss", "far")
        assert (item["pairs"], item["worst_margin"]["margin_db"]) == (["7-8"], -0.7)
        lengths = [of["length_m"] for of in document["results"].get("scalars", ())]
        assert lengths == [one.metres] * 2 * bool(other)


def test_a_file_of_another_link_in_the_folder_is_told(tmp_path: Path) -> None:
    """The label that each file repeats joins it to its head, besides the folder."""
    files = in_folders(LINKS)
    draft = run("dialect", "draft", *write(tmp_path / "in", files)).stdout
    assert '\nkey = "@tor"\nother_key = "OznaczenieToru"\n' in draft
    wrong = {"t0/p1.xml": files["t1/p1.xml"]}
    write(tmp_path / "in", wrong)
    records, problems = read(tmp_path / "in", draft)
    assert any(LINKS[1].label in problem for problem in problems)
    assert not any(
        key[0] == "return_loss"
        for of in records
        if of["link"]["label"] == LINKS[0].label
        for key in curves(of)
    )


def test_a_test_may_lack_its_head_or_a_parameter_where_one_of_the_examples_does(
    tmp_path: Path,
) -> None:
    files = in_folders(LINKS)
    del files["t1/karta.xml"], files["t2/p3.xml"]
    draft = run("dialect", "draft", *write(tmp_path / "in", files)).stdout
    assert "\nmay_lack = true\n" in draft
    records, _ = read(tmp_path / "in", draft)
    found = {of["link"].get("label"): curves(of) for of in records}
    assert found[LINKS[0].label] == written(LINKS[0], *ROOTS)
    assert found[LINKS[2].label] == written(LINKS[2], *[*ROOTS][:3])


def test_files_of_all_tests_each_are_no_parts_of_one(tmp_path: Path) -> None:
    """Of a parameter each, with an element a test in them."""
    files = {}
    for parameter, root in ROOTS.items():
        inner = [part(one, parameter, f' tor="{one.label}"') for one in LINKS]
        tests = "".join(inner).replace(f"{root}>", "Pomiar>").replace(f"<{root} ", "<Pomiar ")
        files[f"{root}.xml"] = f"<{root}>{tests}</{root}>"
    draft = run("dialect", "draft", *write(tmp_path / "in", files)).stdout
    assert 'test = "/{parameter}"' not in draft


@pytest.mark.parametrize("skew", ["1,4", "612,5"])
def test_a_difference_in_ns_beside_delays_is_their_skew(skew: str, tmp_path: Path) -> None:
    """It is none where it is no less than the delays themselves."""
    files = in_folders(LINKS[:1])
    rows = "".join(
        f'<Opóźnienie para="{pair}" jedn="ns">{delay}</Opóźnienie>'
        f'<Odstęp para="{pair}" jedn="ns">{skew}</Odstęp>'
        for pair, delay in (("1-2", "190,4"), ("3-6", "191,8"))
    )
    files["t0/karta.xml"] = files["t0/karta.xml"].replace("</Prot", f"{rows}</Prot")
    draft = run("dialect", "draft", *write(tmp_path / "in", files)).stdout
    assert ('\ndelay_skew = "Odstęp"\n' in draft) is (skew == "1,4")
