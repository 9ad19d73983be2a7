"""Facts that the links of the scenario share. Everything and everybody here is invented."""

from collections.abc import Mapping

ACCURACY = {"insertion_loss": 0.3, "return_loss": 0.9, "next": 0.8, "fext": 0.9}
"""What the Heron and the Erruk declare, in dB; the Tolk declares nothing."""

_COMMON = {
    "site": "Thornquay Lending Library",
    "near_jack_maker": "Quernlock",
    "near_jack_part": "QJ-6A",
    "near_jack_category": "6A",
    "far_jack_maker": "Quernlock",
    "far_jack_part": "QJ-6A",
    "far_jack_category": "6A",
    "cable_maker": "Pellumbra",
    "cable_part": "Weft 6A",
    "cable_category": "6A",
    "cable_construction": "U/UTP",
    "cable_conductor": "solid copper 23 AWG",
    "cable_nvp": "0.685",
    "ambient_c": "20.0",
    "wire_map_verdict": "",
    "screen": "none",
}

HERON: Mapping[str, str] = {
    **_COMMON,
    "building": "Main House",
    "purpose": "initial",
    "operator": "op-17",
    "near_serial": "BH5-00412",
    "near_firmware": "5.2.1",
    "near_level": "IIIe",
    "near_calibrated": "2022-09-14",
    "near_due": "2023-09-14",
    "far_serial": "BH5-00413",
    "far_firmware": "5.2.1",
    "far_level": "IIIe",
    "far_calibrated": "2022-09-14",
    "far_due": "2023-09-14",
    "near_adaptor_category": "6A",
    "far_adaptor_category": "6A",
    "reference_at": "2023-03-07T07:48:00+01:00",
    "reference_near_unit": "BH5-00412",
    "reference_far_unit": "BH5-00413",
    "wire_map": "1-1 2-2 3-3 4-4 5-5 6-6 7-7 8-8",
    "wire_map_verdict": "PASS",
    **{f"accuracy_{name}": f"{value:.1f}" for name, value in ACCURACY.items()},
}

TOLK: Mapping[str, str] = {
    **_COMMON,
    "building": "Annexe",
    "purpose": "first",
    "operator": "op-23",
    "near_serial": "TK-7731",
    "near_firmware": "2.08",
    "near_level": "IIIe",
    "near_calibrated": "11.08.2022",
    "near_due": "11.08.2023",
    "far_serial": "TK-7732",
    "far_firmware": "2.08",
    "far_level": "IIIe",
    "far_calibrated": "11.08.2022",
    "far_due": "11.08.2023",
    "near_adaptor_category": "6A",
    "far_adaptor_category": "6A",
    "reference_near_unit": "TK-7731",
    "reference_far_unit": "TK-7732",
    "wire_map": "1>1 2>2 3>3 4>4 5>5 6>6 7>7 8>8",
    "wire_map_verdict": "OK",
}


ERRUK: Mapping[str, str] = {
    **_COMMON,
    "building": "Printworks",
    "purpose": "new",
    "operator": "op-31",
    "near_serial": "ER3-0561",
    "near_firmware": "3.0.4",
    "near_level": "IIIe",
    "near_calibrated": "2022-11-02",
    "near_due": "2023-11-02",
    "near_charge": "81",
    "far_serial": "ER3-0562",
    "far_firmware": "3.0.4",
    "far_level": "IIIe",
    "far_calibrated": "2022-11-02",
    "far_due": "2023-11-02",
    "far_charge": "77",
    "near_adaptor_category": "6A",
    "far_adaptor_category": "6A",
    "reference_near_unit": "ER3-0561",
    "reference_far_unit": "ER3-0562",
    "wire_map": "1:1 2:2 3:3 4:4 5:5 6:6 7:7 8:8",
}


def heron_heads(configuration: str) -> dict[str, str]:
    """Adaptors of the Heron for a configuration."""
    kind, first = ("HC-6A", 3107) if configuration == "channel" else ("HP-6A", 2204)
    return _heads(kind, f"{kind[:2]}-{first}", f"{kind[:2]}-{first + 1}")


def tolk_heads(configuration: str) -> dict[str, str]:
    """Measuring heads of the Tolk for a configuration."""
    kind, first = ("TL-CH6A", 140) if configuration == "channel" else ("TL-PL6A", 118)
    return _heads(kind, f"H-{first}", f"H-{first + 1}")


def erruk_heads(configuration: str) -> dict[str, str]:
    """Probes of the Erruk for a configuration."""
    kind, first = ("EC-6A", 905) if configuration == "channel" else ("EP-6A", 871)
    return _heads(kind, f"{kind[:2]}-{first}", f"{kind[:2]}-{first + 1}")


def _heads(kind: str, near: str, far: str) -> dict[str, str]:
    """One part at both ends, and the field reference made with the same two."""
    return {
        "near_adaptor_part": kind,
        "near_adaptor_serial": near,
        "far_adaptor_part": kind,
        "far_adaptor_serial": far,
        "reference_near_adaptor": near,
        "reference_far_adaptor": far,
    }
