"""Drafts take wire maps however an export writes them, and what they read are its wires.

Two links of invented data: a straight one, and one with contact 4 open and the pairs 3-6 and 7-8
swapped at the far end, which a tester rejects.
"""

import re
from pathlib import Path

import pytest

from sweepbook.draft.evidence import Evidence
from sweepbook.draft.wires_judged import judged
from sweepbook.draft.wires_told import find
from tests.program import run

from .drafting import draft_of, edited, read
from .links import Link, link, lists, wide
from .stated_worst import at_curves
from .test_csv import RAW, SETTLE, SETTLED

STRAIGHT = dict(zip("12345678", "12345678", strict=True))
BAD = {**STRAIGHT, "3": "7", "7": "3", "6": "8", "8": "6", "4": None}
LINKS = ((link("A-1", 31.0), STRAIGHT), (link("A-2", 52.4), BAD))
Wires = dict[str, str | None]


def _pins(wires: Wires) -> list[list[str | None]]:
    return [[near, far] for near, far in wires.items()]


def in_csv(folder: Path, lines: str, wires: Wires, one: Link) -> tuple[dict[str, object], str]:
    """The wire map that the draft of a file reads there, and the draft."""
    text = wide(one, *RAW).replace("Outcome;PASS", f"{lines}\nOutcome;FAIL")
    draft = draft_of(folder, text)
    (record,), problems = read(folder / "export.csv", edited(draft, (SETTLE, SETTLED)))
    assert problems == []
    found: dict[str, object] = record.document["results"]["wire_map"]
    assert found["pins"] == _pins(wires)
    assert not any(
        re.search("(?i)wire|pin|belegung", key) for key in record.document.get("extra", {})
    )
    return found, draft


def _texts(wires: Wires, nothing: str) -> list[str]:
    return [far or nothing for far in wires.values()]


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
@pytest.mark.parametrize(
    ("ends", "between", "nothing", "screen"),
    [("=", " ", "x", "S"), (" to ", ", ", "open", "screen"), (":", " / ", "-", "G")],
)
def test_wires_in_one_text(
    one: Link, wires: Wires, ends: str, between: str, nothing: str, screen: str, tmp_path: Path
) -> None:
    told = [f"{near}{ends}{far or nothing}" for near, far in wires.items()]
    line = f"Wire map;{between.join([*told, f'{screen}{ends}{screen}'])}"
    assert in_csv(tmp_path, line, wires, one)[0]["screen"] == "continuous"


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
@pytest.mark.parametrize("between", [" ", ",", ""])
def test_a_list_for_each_end(one: Link, wires: Wires, between: str, tmp_path: Path) -> None:
    near, far = between.join([*wires, "S"]), between.join([*_texts(wires, "x"), "S"])
    found, draft = in_csv(tmp_path, f"Wires local;{near}\nWires remote;{far}", wires, one)
    assert found["screen"] == "continuous"
    assert "of two lists" not in draft


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
def test_a_cell_a_contact(one: Link, wires: Wires, tmp_path: Path) -> None:
    far = ";".join([*_texts(wires, "--"), "Schirm"])
    lines = f"Belegung VT;{';'.join(wires)};Schirm\nBelegung DO;{far}"
    found, draft = in_csv(tmp_path, lines, wires, one)
    assert found["screen"] == "continuous"
    assert "ASSUMED: the first of two lists is taken for the near end" in draft


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
def test_a_key_a_contact(one: Link, wires: Wires, tmp_path: Path) -> None:
    lines = "\n".join(f"Pin {near};{far or '--'}" for near, far in wires.items())
    found, _ = in_csv(tmp_path, f"{lines}\nPin shield;shield", wires, one)
    assert found["screen"] == "continuous"


def test_far_contacts_alone_are_known_by_a_link_that_is_not_straight(tmp_path: Path) -> None:
    one, wires = LINKS[1]
    _, draft = in_csv(tmp_path, f"Wire map;{','.join(_texts(wires, '0'))}", wires, one)
    assert "ASSUMED: taken for the far contacts of the near contacts 1 to 8" in draft


def test_a_list_alone_that_is_straight_is_left_to_a_person(tmp_path: Path) -> None:
    """It may as well be a list of the near contacts, which is straight in a crossed link too."""
    text = wide(LINKS[0][0], *RAW).replace("Outcome;PASS", "Wire map;1,2,3,4,5,6,7,8\nOutcome;PASS")
    draft = draft_of(tmp_path, text)
    assert '\n# results.wire_map.far = "Wire map"\n' in draft
    (record,), _ = read(tmp_path / "export.csv", edited(draft, (SETTLE, SETTLED)))
    assert "wire_map" not in record.document["results"]
    awake = edited(
        draft,
        (SETTLE, SETTLED),
        ('# results.wire_map.far = "Wire map"', 'results.wire_map.far = "Wire map"'),
        ('# between_wires = ","', 'between_wires = ","'),
    )
    (record,), _ = read(tmp_path / "export.csv", awake)
    assert record.document["results"]["wire_map"]["pins"] == _pins(dict(STRAIGHT))


def test_a_straight_list_that_is_called_far_is_of_the_far_end(tmp_path: Path) -> None:
    """Words for the ends are the trade's: common practice, no source."""
    text = wide(LINKS[0][0], *RAW).replace(
        "Outcome;PASS", "Wire map remote;1,2,3,4,5,6,7,8\nOutcome;PASS"
    )
    draft = draft_of(tmp_path, text)
    assert '\nresults.wire_map.far = "Wire map remote"\n' in draft
    assert "ASSUMED: taken for the far contacts of the near contacts 1 to 8" in draft


@pytest.mark.parametrize(
    "line", ["Reel;12345678", "Tester local;1-1", "Note;1 2 3 4 5 6 7 8", "Pins;12 36 45 78"]
)
def test_what_only_looks_like_contacts_is_no_wire_map(line: str, tmp_path: Path) -> None:
    text = wide(LINKS[0][0], *RAW).replace("Outcome;PASS", f"{line}\nOutcome;PASS")
    assert "wire_map" not in draft_of(tmp_path, text)


S = {"S": "S"}
IN_XML = {
    "an element a wire": lambda wires: "".join(
        f'<wire tester="{near}" partner="{far or "x"}"/>' for near, far in {**wires, **S}.items()
    ),
    "an element a wire of its own name": lambda wires: "".join(
        f"<pin{near}>{far or 'x'}</pin{near}>" for near, far in {**wires, **S}.items()
    ),
    "an element a wire with its contacts in others": lambda wires: "".join(
        f"<hilo><local>{near}</local><remoto>{far or 'abierto'}</remoto></hilo>"
        for near, far in {**wires, **S}.items()
    ),
    "far contacts first": lambda wires: "".join(
        f"<hilo><remoto>{far or 'x'}</remoto><local>{near}</local></hilo>"
        for near, far in {**wires, **S}.items()
    ),
    "an element a wire called by the ends": lambda wires: "".join(
        f'<strand far="{far or "Coupé"}" near="{near}"/>' for near, far in {**wires, **S}.items()
    ),
    "two lists": lambda wires: (
        f"<main>{''.join(wires)}S</main><remote>{''.join(_texts(wires, 'x'))}S</remote>"
    ),
    "one text": lambda wires: ", ".join(
        f"{near} to {far or 'open'}" for near, far in {**wires, "screen": "screen"}.items()
    ),
}


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
@pytest.mark.parametrize("form", IN_XML)
def test_wires_in_xml(form: str, one: Link, wires: Wires, tmp_path: Path) -> None:
    inside = f"<verdict>ok</verdict><wiring>{IN_XML[form](wires)}</wiring>"
    text = at_curves(one).replace("<verdict>ok</verdict>", inside)
    draft = draft_of(tmp_path, text, "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert not [of.message for of in problems if "wire" in of.message]
    found = record.document["results"]["wire_map"]
    assert found["pins"] == _pins(wires)
    assert found["screen"] == "continuous"


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
@pytest.mark.parametrize("name", ["WireMap", "Correlat"])
@pytest.mark.parametrize("form", IN_XML)
def test_wires_beside_their_verdict_in_xml(
    form: str, name: str, one: Link, wires: Wires, tmp_path: Path
) -> None:
    inside = f'<verdict>ok</verdict><{name} result="ok">{IN_XML[form](wires)}</{name}>'
    text = at_curves(one).replace("<verdict>ok</verdict>", inside)
    draft = draft_of(tmp_path, text, "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert not [of.message for of in problems if "wire" in of.message.casefold()]
    assert record.document["results"]["wire_map"]["pins"] == _pins(wires)
    (item,) = [of for of in record.document["stated"]["items"] if of["parameter"] == "wire_map"]
    assert item["verdict"] == "pass"


@pytest.mark.parametrize("tag", ["wiremap", "WireMap"])
def test_contacts_in_attributes_beside_their_verdict_are_no_pairs(tag: str, tmp_path: Path) -> None:
    """Though pairs are called by numbers, as contacts are."""
    contacts = " ".join(STRAIGHT)
    inside = f'<{tag} outcome="good" nearPins="{contacts}" farPins="{contacts}"/>'
    text = lists([link("L-1", 35.5), link("L-2", 80.0)])
    text = text.replace("<outcome>", f"{inside}<outcome>")
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for record in records:
        assert record.document["results"]["wire_map"]["pins"] == _pins(dict(STRAIGHT))
        items = record.document["stated"]["items"]
        assert [(of["parameter"], of["verdict"]) for of in items] == [("wire_map", "pass")]


def test_a_form_that_takes_the_verdict_beside_wires_takes_it_once(tmp_path: Path) -> None:
    """As the verdict of a length stands in an attribute of the same name at the same depth."""
    wires = IN_XML["an element a wire called by the ends"](STRAIGHT)
    length = '<Length unit="m" p12="31.0" p36="31.5" p45="32.0" p78="31.2" result="ok"/>'
    inside = f'<verdict>ok</verdict><Strands result="ok">{wires}</Strands>{length}'
    text = at_curves(LINKS[0][0]).replace("<verdict>ok</verdict>", inside)
    draft = draft_of(tmp_path, text, "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    items = record.document["stated"]["items"]
    told = {of["parameter"]: of["verdict"] for of in items if "worst_margin" not in of}
    assert told == {"wire_map": "pass", "length": "pass"}


def test_wires_are_judged_by_words_that_the_export_has_for_figures() -> None:
    keys = {f"Strands/s[@near={at}]/@far": [at] for at in "12345678"}
    keys |= {"Summary": ["within bounds"], "Strands/@result": ["within bounds", "out of bounds"]}
    wires = find(keys, None)
    assert judged(keys, wires, Evidence()) == ("", [])
    told = judged(keys, wires, Evidence(verdicts=["out of bounds", "within bounds"]))
    assert told == ("Strands", ["Strands/@result"])


def test_the_only_verdict_is_that_of_the_test_though_wires_stand_beside_it(tmp_path: Path) -> None:
    wires = IN_XML["an element a wire"](STRAIGHT)
    inside = f"<Summary><verdict>ok</verdict>{wires}</Summary>"
    text = at_curves(LINKS[0][0]).replace("<verdict>ok</verdict>", inside)
    draft = draft_of(tmp_path, text, "export.xml")
    (record,), _ = read(tmp_path / "export.xml", draft)
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    assert "wire_map =" not in draft


def test_a_word_for_no_contact_is_shown_where_it_was_seen(tmp_path: Path) -> None:
    one, wires = LINKS[1]
    texts = [",".join(STRAIGHT.values()), ",".join(_texts(wires, "Open"))]
    lines = [f"Remote pins;{text}" for text in texts]
    for number, line in enumerate(lines):
        text = wide(one, *RAW).replace("Outcome;PASS", f"{line}\nOutcome;PASS")
        text = text.replace("Circuit no;A-2", f"Circuit no;A-{number}")
        (tmp_path / f"{number}.csv").write_text(text, encoding="utf-8")
    draft = run("dialect", "draft", *sorted(tmp_path.glob("*.csv"))).stdout
    above = draft[: draft.index('\nopen = ["Open"]')].rpartition('= ","')[2]
    assert "Open" in above
    assert "'1,2,3,4,5,6,7,8'" not in above


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
@pytest.mark.parametrize("nothing", ["open", "ouvert", "offen", "przerwa", "x"])
def test_a_verdict_and_two_lists_in_one_line(
    nothing: str, one: Link, wires: Wires, tmp_path: Path
) -> None:
    lists = [",".join(wires), ",".join(_texts(wires, nothing))]
    text = wide(one, *RAW).replace("Outcome;PASS", f"Wire map;PASS;{';'.join(lists)}\nOutcome;PASS")
    draft = edited(draft_of(tmp_path, text), (SETTLE, SETTLED))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.document["results"]["wire_map"]["pins"] == _pins(wires)
    assert "the first of two lists is taken for the near end" in draft


def test_a_trial_tells_of_a_wire_map_that_was_left_over(tmp_path: Path) -> None:
    """With what is to be added, and what it says is read: contact 4 open, two pairs swapped."""
    one, wires = LINKS[1]
    lines = f"Belegung VT;{';'.join(wires)}\nBelegung DO;{';'.join(_texts(wires, '--'))}"
    text = wide(one, *RAW).replace("Outcome;PASS", f"{lines}\nOutcome;FAIL")
    draft = edited(draft_of(tmp_path, text), (SETTLE, SETTLED))
    without = re.sub(r"(?m)^(?:results\.wire_map|between_wires|open|\[wire_map).*\n", "", draft)
    assert without != draft
    (tmp_path / "mine.toml").write_text(without, encoding="utf-8")
    result = run("dialect", "try", tmp_path / "mine.toml", tmp_path / "export.csv")
    said = " ".join(result.output.split())
    added = re.search(
        r"[Aa]dd (results\.wire_map\.near = \S+ \S+), (results\.wire_map\.far = \S+ \S+), and "
        r'(between_wires = ";"), (open = "--") in \[wire_map\]',
        said,
    )
    assert added is not None, said
    mended = without.replace("[fields]\n", f"[fields]\n{added[1]}\n{added[2]}\n")
    (record,), problems = read(
        tmp_path / "export.csv", f"{mended}\n[wire_map]\n{added[3]}\n{added[4]}\n"
    )
    assert problems == []
    assert record.document["results"]["wire_map"]["pins"] == _pins(wires)


@pytest.mark.parametrize(
    "told",
    ["1-2\n3-6\n4-5\n7-8", "1-2 2-1 3-6 6-3 4-5 5-4 7-8 8-7"],
    ids=["named by their contacts", "by their contacts either way"],
)
def test_pairs_are_taken_for_no_wires(told: str) -> None:
    """Neither a draft nor a trial names them, unless the key says that wires stand there."""
    assert find({"Length/value/@pair": [told]}, None) is None
    assert find({"Wire map": ["1-2\n3-6\n4-5\n7-8"]}, None) is None
    assert find({"Cable": ["1-1 2-2 3-6 6-3 4-4 5-5 7-7 8-8"]}, None) is not None


def test_a_word_that_nobody_knows_in_place_of_a_contact_is_none() -> None:
    """The wires of eight keys are known by the rest; a word for what was not measured is none."""
    keys = {f"Pin {near}": [near, "zzyx"] if near in "45" else [near] for near in "12345678"}
    found = find(keys, None)
    assert found is not None
    assert found.form.open == {"zzyx"}
    assert find({**keys, "Pin 3": ["3", "not measured"]}, None) is None
    assert find({**keys, "Pin 3": ["3", "yxz"], "Pin 6": ["6", "xzy"]}, None) is None
