"""Words of the trade for what an export may call things: common practice, no source.

A blank in a phrase stands for nothing, blanks, a hyphen or an underline: "return loss" is also
returnLoss and RETURN_LOSS. Words of other languages than English come from `tongues` and its like.
"""

from collections.abc import Mapping

from sweepbook.draft import (
    tongues,
    tongues_chinese,
    tongues_crosstalk,
    tongues_greek,
    tongues_hungarian,
    tongues_japanese,
    tongues_korean,
    tongues_more,
    tongues_russian,
    tongues_turkish,
    tongues_vietnamese,
)
from sweepbook.word_lists import Words, lists_of, pairs_of, words_of

TONGUES = (
    *(tongues, tongues_more, tongues_japanese),
    *(tongues_russian, tongues_chinese, tongues_turkish, tongues_hungarian, tongues_korean),
    *(tongues_vietnamese, tongues_greek),
)


def _with(english: Mapping[str, Words], *others: Mapping[str, Words]) -> dict[str, Words]:
    """Words of English and those of other languages."""
    return {
        word: (*some, *(text for tongue in others for text in tongue.get(word, ())))
        for word, some in english.items()
    }


ENGLISH = lists_of(
    """
    insertion_loss: insertion loss, ins loss, attenuation, atten, attn, att, il
    return_loss: return loss, ret loss, rl
    next: near end crosstalk, near end cross talk, next
    psnext: power sum near end crosstalk, power sum next, ps next, sum next
    acr_n: attenuation to crosstalk ratio near end, attenuation to crosstalk ratio, acr n, acr
    psacr_n: power sum acr n, power sum acr, ps acr n, ps acr
    fext: far end crosstalk, far end cross talk, fext
    psfext: power sum far end crosstalk, power sum fext, ps fext
    acr_f: attenuation to crosstalk ratio far end, equal level far end crosstalk, equal level fext,
        acr f, el fext
    psacr_f: power sum equal level far end crosstalk, power sum acr f, power sum el fext, ps acr f,
        ps el fext
    tcl: transverse conversion loss, tcl
    tctl: transverse conversion transfer loss, tctl
    eltctl: equal level tctl, el tctl
    coupling_attenuation: coupling attenuation
    propagation_delay: propagation delay, prop delay, delay
    delay_skew: propagation delay skew, delay skew, skew
    length: length, cable length, len
    dc_loop_resistance: dc loop resistance, loop resistance, dc resistance, resistance, loop
    dc_resistance_unbalance_within_pair: dc resistance unbalance, resistance unbalance,
        resistance imbalance, unbalance, imbalance
    wire_map: wire map
    """
)
PARAMETERS = _with(ENGLISH, *(of.PARAMETERS for of in TONGUES), tongues_crosstalk.PARAMETERS)
"""Where a spelling is of a record's word. Unbalance between two pairs is spelt as that within."""

POWER_SUMS = {"next": "psnext", "fext": "psfext", "acr_n": "psacr_n", "acr_f": "psacr_f"}
"""The power sum over the disturbing pairs, by what it is the sum of."""
RATIOS = {"next": "acr_n", "psnext": "psacr_n", "fext": "acr_f", "psfext": "psacr_f"}
"""What each crosstalk is as a ratio to what a pair passes on: attenuation to crosstalk ratio, which
ISO/IEC 11801-1 calls ACR-N and ACR-F.
"""
RATIO_WORDS = ("ratio",)
SUM_WORDS = words_of(
    """
    power sum, powersum, ps, sum, leistungssumme, leistungssummiert, leistungssummierte, summe,
    somme de puissance, somme des puissances, en somme de puissance, somme, cumulé, cumulée,
    cumulés, suma de potencias, suma de potencia, acumulada, acumulado, soma de potências,
    soma de potência, soma, somma di potenza, somma, cumulata, cumulato, sommata, sommato,
    vermogenssom, gesommeerd, gesommeerde, opgeteld, effektsum, effektsum af, effektsumma,
    effektsumma av, suma mocy, sumaryczny, sumaryczna, součet výkonů, výkonový součet
    """
)
"""Words right beside one of these that make it the sum: from memory, no source."""

_ENDS = pairs_of(
    """
    near end / far end, main unit / remote unit, near / far, main / remote, local / remote,
    main / rem, loc / rem,
    end a / end b, end 1 / end 2, side a / side b, side 1 / side 2, unit 1 / unit 2,
    unit a / unit b, head / tail, left / right, n / f, m / r, l / r, a / b
    """
)
ENDS = (
    *_ENDS,
    *(ends for of in TONGUES for ends in of.ENDS),
    *(
        (near, far)
        for near in words_of("near end, near unit, near, main unit, main, local unit, local")
        for far in words_of("far end, far unit, far, remote unit, remote end, remote")
    ),
)
"""Pairs of words for the near and the far end; those of two kinds, as main and far, come last."""

CONTACTS = tuple("12345678")
"""Titles or places of a wire map, and no frequencies."""
PIN_PAIRS = {"1-2": ("1", "2"), "3-6": ("3", "6"), "4-5": ("4", "5"), "7-8": ("7", "8")}
PAIR_NUMBERS = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
"""Numbers of pairs under T568B; T568A calls 3-6 pair 2 and 1-2 pair 3 (ANSI/TIA-568, recalled)."""

PAIR_LETTERS = {"1-2": "A", "3-6": "B", "4-5": "C", "7-8": "D"}
"""Letters of pairs as in BI_DA to BI_DD of 1000BASE-T (IEEE 802.3, recalled)."""

_COLOURS = lists_of(
    """
    1-2: orange, org, og
    3-6: green, grn, gn
    4-5: blue, blu, bu
    7-8: brown, brn, bn
    """
)
PAIR_COLOURS = _with(_COLOURS, *(of.COLOURS for of in TONGUES))
"""Colours of pairs under T568B; T568A changes orange and green (ANSI/TIA-568, recalled).

The codes of two letters are those of IEC 60757, recalled.
"""

MARGINAL = words_of(
    """
    marginal, marginally, borderline, within accuracy, grenzwertig, knapp, marginale, limite,
    au limite, al límite, marginaal, graniczny, mezní, cận ngưỡng, οριακό, οριακά
    """
)
"""Words beside a verdict that say that it is nearer to the limit than the accuracy of a tester."""

_OPPOSITES = pairs_of(
    """
    pass / fail, passed / failed, ok / not ok, good / bad, p / f, yes / no, true / false,
    accepted / rejected
    """
)
OPPOSITES = dict((*_OPPOSITES, *(pair for of in TONGUES for pair in of.OPPOSITES)))
"""The usual counterpart of a word, where the examples hold only one of the two."""

_WORDS = lists_of(
    """
    margin: margin, margins, worst margin, minimum margin, reserve, headroom
    limit: limit, limits, requirement
    worst: worst, worst value
    verdict key: verdict, result, outcome, status, evaluation, passed, pass fail, pass/fail, judge,
        judgement, judgment
    frequency: frequency, frequencies, freq, mhz, khz, ghz, hz, hertz, megahertz, kilohertz,
        frequency list
    unit: unit, units
    value: value, val, v, reading, level, text
    disturbing: disturbing, disturbing pair, disturbed by, disturber, aggressor, source, driven
    disturbed: disturbed, disturbed pair, victim, receiver, receiving
    from: from
    to: to, into, onto
    firmware: firmware, firmware version, firmware revision, version of the firmware, fw, fw ver,
        fw version, fw rev
    software: software, software version, software revision, version of the software
    """
)
_ALL = _with(_WORDS, *(of.WORDS for of in TONGUES))

MARGIN, LIMIT, WORST = _ALL["margin"], _ALL["limit"], _ALL["worst"]
NO_VALUE = (*MARGIN, *LIMIT, *WORST, "status", "verdict")
"""Words of columns and elements that hold no measured value, though numbers stand in them."""
VERDICT_KEYS = _ALL["verdict key"]
FIGURES = {
    "margin": MARGIN,
    "limit": LIMIT,
    "worst": WORST,
    "accuracy": words_of("accuracy"),
    "verdict": VERDICT_KEYS,
}
"""What a name says of a single figure; of several words the first of these counts."""
AT = words_of("at, bei, bij, przy, při, ved, vid, στα, στη, στην, στους, sti, stin, stous")
"""Words between a figure and where it is, in all languages."""
AND = words_of("and, und, et, y, e, i, en, og, och, ja, a, és, и, ve, và, και, kai, ke")
"""Words between two pairs, in all languages."""
FREQUENCY = _ALL["frequency"]
"""Words for an axis; a lone f is one too."""
UNIT = _ALL["unit"]
VALUES = _ALL["value"]
"""Words for where a figure stands in what is called by its parameter."""
FIRMWARE = _ALL["firmware"]
"""What only an instrument has: software may be that of the computer which made the export."""
SOFTWARE = _ALL["software"]
"""What is an instrument's where a key names that, or an end, beside it."""
DISTURBING, DISTURBED = _ALL["disturbing"], _ALL["disturbed"]
FROM, TO = _ALL["from"], _ALL["to"]
"""Words for the pair that disturbs and for that which is disturbed."""

RUN = lists_of(
    """
    start: start, first, from, begin, fmin, f min, f start, f0, lowest, von, ab, début, de, inicio,
        desde, van, inizio, da, início, od, fra, från, anfang, beginn, początek
    step: step, f step, increment, spacing, df, delta f, delta, schritt, schrittweite, pas, paso,
        stap, passo, krok, trin, steg, skritt
    count: count, points, number of points, n, samples, npts, num, size, anzahl, punkte, nombre,
        puntos, aantal, punti, pontos, liczba, počet, antal, antall, cantidad, quantidade,
        número de puntos, número de pontos, numero punti, liczba punktów
    stop: stop, end, last, to, until, fmax, f max, f stop, highest, bis, ende, fin, à, hasta, tot,
        fine, até, do, til, till
    """
)
"""Words for frequencies in even steps, in all languages: common practice, no source."""

PAIR_WORDS = words_of(
    """
    pair, pairs, paar, paare, paire, paires, par, pares, paren, coppia, coppie, pary, para, pár,
    páry, aderpaar, aderparen, parkombination, пара, пары, пар, 线对, 線對, 対, ペア, çift, 最悪対,
    最悪ペア, érpár, 페어, cặp, cặp dây, đôi dây, ζεύγος, ζεύγη, zeugos, zeugi, zevgos, zevgi
    """
)

WIRES = words_of(
    """
    wires, wire, wiring, pins, pin, contacts, contact, belegung, ader, adern, aders, kontakt,
    kontakte, bedrading, pennen, broche, broches, brochage, fil, fils, conducteurs, hilo, hilos,
    pines, contactos, filo, fili, contatti, fio, fios, contatos, żyła, żyły, styki, žíla, žíly,
    vodiče, kontakty, ledare, leder, ledere, johdin, johtimet, erek, érintkezők,
    жила, жилы, провод, контакт, контакты, 线芯, 芯线, 心線, ピン, 핀, αγωγός, αγωγοί, επαφή, επαφές
    """
)
"""Wires and contacts, in keys of wire maps."""

END_TITLES = words_of(
    """
    end, side, ende, seite, bout, extrémité, côté, lato, estremità, extremo, lado, extremidade,
    kant, uiteinde, zijde, strona, koniec, strana, konec, сторона, конец, 端, 测试端, 端部,
    uç, taraf, vég, oldal, 측정 끝, 측정단, đầu, phía, đầu đo, άκρο, πλευρά, akro, plevra
    """
)
"""What a column or key is called that says at which end: common practice, no source."""
