"""Drafts for lines that each begin with a mark: points without titles below a line with their name.

One test follows another in a file, key lines hold several names and values, and a summary has a
title that comes twice.
"""

from pathlib import Path

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

NAMES = {"insertion_loss": "Attenuation", "return_loss": "Return loss", "next": "NEXT"}
ENDS = {None: "*", "near": "cabinet", "far": "outlet"}
WORDS = '[words.ends]\nnear = "cabinet"\nfar = "outlet"\n'
NUMBERS = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}


def _dump(links: list[Link]) -> str:
    lines = [
        "% Umbel 9 dump, version 2",
        "% levels in dB; a point is: frequency in kHz, level, limit",
    ]
    lines += ["JOB/118/Harbour Mill", "PAIRING/T568B/Pair 1=4-5/Pair 2=1-2/Pair 3=3-6/Pair 4=7-8"]
    for at, one in enumerate(links, 1):
        lines += ["", f"LINK/{at}/{one.label}/2026-02-28 17:0{at}:00/PASS"]
        lines += ["RULE/Class EA channel", "PLACE/Building/Mill/Floor/2/Panel/P1/Port/7"]
        delays = "/".join(f"Pair {n}/{150 + at + n}" for n in (1, 2, 3, 4))
        lines += [f"DELAY/ns/{delays}/limit/555", f"SKEW/ns/{3 + at}/limit/50"]
        lines += [f"LENGTH/{one.metres}/m/limit/100.0"]
        lines += ["%WORST/Quantity/End/Pair/Margin/at kHz/Worst level/at kHz/Verdict"]
        lines += ["WORST/Attenuation/*/Pair 2/2.8/4000/16.1/500000/good"]
        lines += [f"WORST/NEXT/cabinet/Pair 1+Pair 3/1.{at}/52000/26.7/452000/good"]
        lines += ["WORST/Return loss/outlet/Pair 3/n.a./n.a./n.a./n.a./good"]
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in NAMES:
                named = "+".join(f"Pair {NUMBERS[pair]}" for pair in pairs)
                sort = 20 + list(NAMES).index(parameter)
                lines.append(f"SWEEP/{NAMES[parameter]}/{named}/{ENDS[end]}/{len(values)} points")
                lines += [
                    f"P/{khz}/{shifted(value, 2)}/{sort}.{n % 10}"
                    for n, (khz, value) in enumerate(zip(KHZ, values, strict=True))
                ]
        lines.append("END OF LINK")
    return "\n".join(lines).replace("/", "|") + "\n"


def test_marked_lines_need_no_change(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5), link("A-3", 60.0)]
    links[1].curves = {key: of for key, of in links[1].curves.items() if key[1] != "far"}
    draft = draft_of(tmp_path, _dump(links))
    records, problems = read(tmp_path / "export.csv", draft)
    assert [problem for problem in problems if "not read" in str(problem)] == []
    assert [record.label for record in records] == ["A-1", "A-2", "A-3"]
    for at, (one, record) in enumerate(zip(links, records, strict=True), 1):
        document = record.document
        assert curves(document) == written(one, *NAMES)
        assert document["test"]["started"]["as_stated"] == f"2026-02-28 17:0{at}:00"
        assert document["link"]["near"]["place"] == {
            "building": "Mill",
            "floor": "2",
            "panel": "P1",
            "port": "7",
        }
        found = {
            (one["parameter"], *one.get("pairs", ())): float(
                next(one[key] for key in ("delay_ns", "skew_ns", "length_m") if key in one)
            )
            for one in document["results"]["scalars"]
        }
        delays: dict[tuple[str, ...], float] = {
            ("propagation_delay", pair): 150.0 + at + int(n) for pair, n in NUMBERS.items()
        }
        assert found == {**delays, ("delay_skew",): 3.0 + at, ("length",): one.metres}
        margins = {
            item["parameter"]: (
                float(item["worst_margin"]["margin_db"]),
                float(item["worst_margin"]["frequency_mhz"]),
                float(item["worst_value"]["value_db"]),
                float(item["worst_value"]["frequency_mhz"]),
            )
            for item in document["stated"]["items"]
            if "worst_margin" in item
        }
        assert margins == {
            "insertion_loss": (2.8, 4.0, 16.1, 500.0),
            "next": (1.0 + at / 10, 52.0, 26.7, 452.0),
        }


def test_a_cell_further_right_is_of_the_pair_that_names_it(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, _dump([link("A-1", 31.0)]))
    assert '"Pair 1", "Pair 2", "Pair 3", "Pair 4"' in draft
    assert "DELAY/2" not in draft
    assert '1-2 = "Pair 2"' in draft  # as a line above says
    assert "END OF LINK" not in draft.partition("[fields]")[2]
    assert "levels in dB" not in draft.partition("[fields]")[2]
