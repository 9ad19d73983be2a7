"""Drafts where words for none stand among ends and verdicts: they are neither, and hide neither."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.program import run

from .drafting import curves, draft_of, read, written
from .headed import Export
from .links import KHZ, PAIRS, WORDS, Link, link, shifted, wide
from .test_tables_joined import drafted, gathered

RAW = ("insertion_loss", "return_loss", "next")


def points(links: Sequence[Link], near: str, far: str, parameters: Sequence[str] = RAW) -> str:
    """A row a point, with an end in a column of its own; what has none says so there."""
    sides = {None: "n/a", "near": near, "far": far}
    lines = ["Circuit,Norm,Quantity,Wires,Heard at,kHz,dB"]
    for one in links:
        for (name, end, pairs), values in one.curves.items():
            if name in parameters:
                on = "/".join(pair.replace("-", "") for pair in pairs)
                head = f"{one.label},Cat 6A PL,{WORDS[name]},{on},{sides[end]}"
                dots = zip(KHZ, values, strict=True)
                lines += [f"{head},{khz},{shifted(value, 2)}" for khz, value in dots]
    return "\n".join([*lines, ""])


@pytest.mark.parametrize(
    ("near", "far"),
    [("Main", "Far"), ("Local unit", "far"), ("Hauptgerät", "Remote"), ("Wren", "Swift")],
)
def test_any_word_for_near_goes_with_any_for_far(near: str, far: str, tmp_path: Path) -> None:
    links = [link("T-1", 31.0), link("T-2", 64.0)]
    draft = draft_of(tmp_path, points(links, near, far))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["T-1", "T-2"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
    assert f'\nnear = "{near}"\nfar = "{far}"\n' in draft


@pytest.mark.parametrize(("near", "far"), [("Near", "Far"), ("Main", "Far"), ("Left", "Right")])
@pytest.mark.parametrize("none", ["n/a", ""])
def test_the_far_end_may_come_first(near: str, far: str, none: str, tmp_path: Path) -> None:
    text = points([link("T-1", 31.0), link("T-2", 64.0)], near=far, far=near)
    draft = draft_of(tmp_path, text.replace("n/a", none))
    assert f'\nnear = "{near}"\nfar = "{far}"\n' in draft


@pytest.mark.parametrize("none", ["ikke oplyst", "Nie podano", "nicht angegeben", "b.d."])
def test_a_word_for_none_is_nobody_who_measured(none: str, tmp_path: Path) -> None:
    """From memory, no source."""
    some = [link("T-1", 31.0), link("T-2", 64.0), link("T-3", 70.5)]
    folder = tmp_path / "files"
    folder.mkdir()
    for one, person in zip(some, ("A. Vireo", none, "J. Serin"), strict=True):
        text = wide(one, *RAW).replace("Outcome;PASS", f"Outcome;PASS\nOperator;{person}")
        (folder / f"{one.label}.csv").write_text(text, encoding="utf-8")
    draft = run("dialect", "draft", *sorted(folder.iterdir())).stdout
    found = [read(path, draft)[0][0].document["test"] for path in sorted(folder.iterdir())]
    assert [test.get("operator") for test in found] == ["A. Vireo", None, "J. Serin"]


@pytest.mark.parametrize(("near", "far"), [("Hauptgerät", "Remote"), ("Left", "Right")])
def test_the_far_end_may_come_first_in_titles(near: str, far: str, tmp_path: Path) -> None:
    sides = {None: "", "near": far, "far": near}
    some = {key: of for key, of in link("T-1", 31.0).curves.items() if key[0] in RAW}
    titles = [f"{WORDS[name]} {'/'.join(on)} {sides[end]}".strip() for name, end, on in some]
    lines = ["Circuit;T-1", "Norm;Cat 6A PL", "", ";".join(["MHz", *titles])]
    for at, khz in enumerate(KHZ):
        lines.append(";".join([shifted(khz, 3), *(shifted(of[at], 2) for of in some.values())]))
    draft = draft_of(tmp_path, "\n".join([*lines, ""]))
    assert f'\nnear = "{near}"\nfar = "{far}"\n' in draft


@pytest.mark.parametrize("title", ["End", "Seite", "Lato"])
@pytest.mark.parametrize("none", ["Mezzo", "NA", "both"])
@pytest.mark.parametrize("parameters", [RAW, (*RAW, "fext")])
def test_a_third_word_below_ends_stands_for_none(
    parameters: tuple[str, ...], none: str, title: str, tmp_path: Path
) -> None:
    """Ends that nobody knows, and a word of its own where a curve has none: loss, FEXT one way."""
    one = link("T-1", 31.0)
    for key in [key for key in one.curves if key[:2] == ("fext", "near")]:
        one.curves["fext", None, key[2]] = one.curves.pop(key)
        one.curves.pop(("fext", "far", key[2]))
    text = points([one], "Wren", "Swift", parameters)
    text = text.replace(",n/a,", f",{none},").replace("Heard at", title)
    draft = draft_of(tmp_path, text)
    assert '\nnear = "Wren"\n' in draft
    assert '"Swift"' in draft
    settled = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    records, problems = read(tmp_path / "export.csv", settled)
    assert problems == []
    held = curves(records[0].document)
    raw = {key: of for key, of in held.items() if key[0] in RAW}
    assert raw == written(one, *RAW)
    assert len(held) - len(raw) == (12 if "fext" in parameters else 0)


def test_three_words_that_are_no_ends_stay_unread(tmp_path: Path) -> None:
    """A word for none stands where no end is needed; one beside return loss is a third end."""
    text = points([link("T-1", 31.0)], "Wren", "Swift").replace("Heard at", "End")
    text = text.replace(",RL,78,Wren,", ",RL,78,Heron,")
    draft = draft_of(tmp_path, text)
    assert '"Wren"' not in draft


def sheet(one: Link, verdicts: str) -> str:
    """A table with a row a pair, verdicts of each column below it, and one column a curve."""
    lines = [f"Circuit;{one.label}", "Norm;Cat 6A PL", "Measured;2026-03-04 14:22", ""]
    lines += ["Wires;Length (m);Delay (ns)"]
    lines += [f"{pair};{one.metres:.1f};{round(one.metres * 4.9)}" for pair in PAIRS]
    lines += [f"Outcome;{verdicts}", ""]
    some = {key: values for key, values in one.curves.items() if key[0] == "return_loss"}
    lines += [";".join(["MHz", *(f"RL {pairs[0]} {end}" for _, end, pairs in some)])]
    for at, khz in enumerate(KHZ):
        cells = (shifted(values[at], 2) for values in some.values())
        lines.append(";".join([shifted(khz, 3), *cells]))
    return "\n".join([*lines, ""])


def test_a_word_for_no_verdict_hides_no_verdicts(tmp_path: Path) -> None:
    said = {"V-1": "OK;OK", "V-2": "OK;N/A", "V-3": "OK;NOK"}
    texts = {f"{label}.csv": sheet(link(label, 40.0), of) for label, of in said.items()}
    draft = drafted(tmp_path, texts)
    assert "other_kinds" not in draft
    documents = gathered(tmp_path, texts, draft)
    stated = [
        {item["parameter"]: item["verdict"] for item in document["stated"]["items"]}
        for document in documents
    ]
    assert stated == [
        {"length": "pass", "propagation_delay": "pass"},
        {"length": "pass"},
        {"length": "pass", "propagation_delay": "fail"},
    ]


@pytest.mark.parametrize(("good", "bad"), [("✓", "✗"), ("OK", "!")])
def test_a_cross_is_no_word_for_no_verdict(good: str, bad: str, tmp_path: Path) -> None:
    """It may be a fail, and what it is a person says; so no reading drops it."""
    text = Export([link("V-1", 31.0), link("V-2", 64.0)]).text()
    text = text.replace("FAIL", bad).replace("PASS", good)
    draft = drafted(tmp_path, {"export.csv": text})
    assert "none = " not in draft and "\nmissing = " not in draft
    asked = draft.partition("what these words mean; ")[2].partition("[words.verdicts]")[0]
    assert f'"{bad}"' in asked
    settled = draft.replace("# fail = []", f'fail = "{bad}"')
    settled = settled.replace("# pass = []", f'pass = "{good}"')
    for document in gathered(tmp_path, {"export.csv": text}, settled):
        verdicts = [one["verdict"] for one in document["stated"]["items"] if "worst_margin" in one]
        assert verdicts == ["pass", "pass", "fail"]


def test_a_word_for_none_in_a_field_leaves_it_empty(tmp_path: Path) -> None:
    texts = {
        f"{label}.csv": f"Tested by;{who}\n{wide(link(label, 31.0), *RAW)}"
        for label, who in (("T-1", "I. Lowmoor"), ("T-2", "n/a"))
    }
    draft = drafted(tmp_path, texts)
    (first,), (second,) = (read(tmp_path / name, draft)[0] for name in texts)
    assert first.document["test"]["operator"] == "I. Lowmoor"
    assert "operator" not in second.document["test"]
