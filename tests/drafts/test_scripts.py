"""Drafts of exports in scripts other than Latin ones: words, units, code pages and times."""

from pathlib import Path
from typing import Any

from tests.program import run

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, lists, shifted
from .test_tables_joined import gathered

LINKS = [link("Т-1", 31.0), link("Т-2", 88.5), link("Т-3", 12.0)]
RUSSIAN = {
    "insertion_loss": "Вносимые потери",
    "return_loss": "Возвратные потери",
    "next": "NEXT",
    "fext": "FEXT",
}
SIDES = {None: "", "near": "основной блок", "far": "удалённый блок"}
PAIRS = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4", "": ""}


def _points(links: list[Link]) -> str:
    lines = ["Номер\tВеличина\tВлияющая пара\tПара\tСторона\tЧастота, кГц\tЗначение, дБ"]
    for nr, one in enumerate(links, 71):
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RUSSIAN:
                first, last = pairs[0] if len(pairs) > 1 else "", pairs[-1]
                told = f"{nr}\t{RUSSIAN[parameter]}\t{PAIRS[first]}\t{PAIRS[last]}\t{SIDES[end]}"
                lines += [
                    f"{told}\t{khz}\t{shifted(value, 2, ',')}"
                    for khz, value in zip(KHZ, values, strict=True)
                ]
    return "\n".join([*lines, ""])


def _heads(links: list[Link]) -> str:
    lines = [
        "Номер\tЛиния\tПредел\tДата и время\tИсполнитель\tИтог\tЭтаж\tСер. № основного блока\t"
        + "\t".join(f"Длина пары {nr}, м" for nr in "1234")
        + "\tСопротивление шлейфа пары 1, Ом\tNEXT: наименьший запас, дБ\tNEXT: сторона\tЖилы"
    ]
    for nr, one in enumerate(links, 71):
        metres = "\t".join(f"{one.metres:.1f}".replace(".", ",") for _ in "1234")
        wires = (
            "1:1 2:2 3:3 4:обрыв 5:5 6:6 7:7 8:8" if nr == 72 else "1:1 2:2 3:3 4:4 5:5 6:6 7:7 8:8"
        )
        verdict = "не пройден" if nr == 72 else "пройден"
        lines.append(
            f"{nr}\t{one.label}\tTIA-568.2-D Cat 6A PL\t28.02.2026 {nr - 68}:05:00 вечера\t"
            f"Р. Соколов\t{verdict}\t2\tВК-{nr}1\t{metres}\t{nr},5\t1,5\tудалённый блок\t{wires}"
        )
    return "\n".join([*lines, ""])


def _scalars(document: dict[str, Any], parameter: str, member: str) -> list[float]:
    return [
        float(of[member]) for of in document["results"]["scalars"] if of["parameter"] == parameter
    ]


def test_russian_tables_in_windows_1251_need_only_the_words_for_half_of_the_day(
    tmp_path: Path,
) -> None:
    paths = [tmp_path / "испытания.csv", tmp_path / "точки.csv"]
    for path, text in zip(paths, (_heads(LINKS), _points(LINKS)), strict=True):
        path.write_bytes(text.encode("cp1251"))
    draft = run("dialect", "draft", *paths).stdout
    assert draft.count('encoding = "cp1251"') == 2
    draft = draft.replace('# before_noon = ["вечера"]', 'before_noon = "утра"')
    draft = draft.replace('# after_noon = ["вечера"]', 'after_noon = "вечера"')
    documents = gathered(tmp_path, {path.name: "" for path in paths}, draft)
    assert [of["link"]["label"] for of in documents] == ["Т-1", "Т-2", "Т-3"]
    for at, (document, one) in enumerate(zip(documents, LINKS, strict=True)):
        assert curves(document) == written(one, *RUSSIAN)
        test = document["test"]
        assert test["started"]["rfc3339"] == f"2026-02-28T{15 + at}:05:00-00:00"
        assert test["operator"] == "Р. Соколов"
        assert test["near"]["instrument"]["serial"] == f"ВК-{71 + at}1"
        assert document["link"]["near"]["place"]["floor"] == "2"
        assert document["stated"]["overall"]["verdict"] == ("fail" if at == 1 else "pass")
        assert _scalars(document, "length", "length_m") == [one.metres] * 4
        assert _scalars(document, "dc_loop_resistance", "resistance_ohm") == [71.5 + at]
        (item,) = document["stated"]["items"]
        assert (item["parameter"], item["end"]) == ("next", "far")
        assert item["worst_margin"]["margin_db"] == 1.5
        opened = [near for near, far in document["results"]["wire_map"]["pins"] if far is None]
        assert opened == (["4"] if at == 1 else [])


def test_chinese_words_run_together_and_a_time_of_twelve_hours_are_drafted(tmp_path: Path) -> None:
    """XML: a key of two words without a blank is the serial number of one unit."""
    text = lists(LINKS[:2]).replace("Т-", "L-")
    text = text.replace("requirement>", "测试标准>").replace("outcome>", "总结果>")
    text = text.replace(">good<", ">合格<").replace(">bad<", ">不合格<")
    gear = '<gear side="local" serial="S1"/><gear side="remote" serial="S2"/>'
    text = text.replace(gear, '<仪表 主机序列号="LJ-40771" 远端机序列号="LJ-40772"/>')
    text = text.replace("started>2026-02-28T17:05:09Z<", "started>2026年2月28日 下午5:05:09<")
    text = text.replace("started>", "测试时间>")
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert len(records) == 2
    for record in records:
        test = record.document["test"]
        assert test["started"]["rfc3339"] == "2026-02-28T17:05:09-00:00"
        assert test["limit"]["as_stated"] == "TIA-568.2-D Cat 6A PL"
        assert test["near"]["instrument"]["serial"] == "LJ-40771"
        assert test["far"]["instrument"]["serial"] == "LJ-40772"
        assert record.document["stated"]["overall"]["verdict"] == "pass"
