"""Words of the trade for what is not there, in all languages: common practice, no source."""

from unicodedata import category

from sweepbook.draft import phrases
from sweepbook.word_lists import words_of

NO_VERDICT = words_of(
    """
    info, information, informative, not evaluated, not assessed, n/a, none, nicht bewertet,
    non évalué, no evaluado, niet beoordeeld, non valutato, não avaliado, nie oceniono,
    nehodnoceno, ikke vurderet, ikke vurdert, ej bedömd, ej bedömt, не оценено, не оценивалось,
    未评估, 未判定, değerlendirilmedi, không đánh giá, δεν αξιολογήθηκε, -
    """
)
"""Words that stand where verdicts stand and state none."""

NOT_MEASURED = words_of(
    """
    n/a, n.a., n/d, n.d., n/t, n/m, n.m., k. a., k.a., nan, null, nil, not tested, not measured,
    nicht gemessen, nicht geprüft, non mesuré, non testé, no medido, no probado, sin medir,
    niet gemeten, niet getest, non misurato, não medido, nie zmierzono, neměřeno, ikke målt,
    ej mätt, missing, not available, not applicable, keine angabe, entfällt, nicht verfügbar,
    sans objet, non disponible, no aplica, no disponible, n.v.t., niet van toepassing, onbekend,
    non disponibile, não aplicável, não disponível, nie dotyczy, brak, mangler, ikke relevant,
    ej tillämpligt, saknas, absent, absente, fehlt, ausente, assente, ontbreekt, n.v., n.b., s.o.,
    sin datos, s/ medição, ej uppmätt, i/a, s/d, s.d., sin dato, sem dados, sans données,
    ohne messwert, k/a, н/д, нет данных, не измерено, не измерялось, не применимо, 未测, 未测试,
    未测量, 不适用, 未測定, 未試験, 未実施, 該当なし, ölçülmedi, yok, non eseguito, non eseguita,
    non effettuato, non effectué, non exécuté, non réalisé, no realizado, no efectuado,
    no ejecutado, nicht durchgeführt, nicht ausgeführt, niet uitgevoerd, não realizado,
    não executado, nie wykonano, neprovedeno, ikke udført, ikke utført, ej utförd,
    не проводилось, 未进行, 미실시,
    미측정, nem mért, nincs mérve, không đo, chưa đo, không áp dụng, δ/υ, δεν υπάρχει, δ/μ,
    δεν μετρήθηκε, μη διαθέσιμο, δεν εφαρμόζεται, na, nd, not stated, not specified, not recorded,
    nicht angegeben, non renseigné, non précisé, no indicado, non indicato, não indicado,
    niet opgegeven, nie podano, brak danych, b.d., neuvedeno, ikke oplyst, ikke angivet,
    ikke oppgitt, ej angivet, uppgift saknas, не указано
    """
)
"""Words that stand where a figure stands and say that there is none."""

NOT = words_of(
    "not, nicht, kein, non, pas, no, niet, não, ej, inte, icke, ikke, nie, ne, не, không, μη, δεν"
)
"""Words beside that for a pass which turn it into a fail."""

_DASHES = " -\u2010\u2011\u2012\u2013\u2014\u2015\u2212._/\u00b7\u2026"


def is_dash(text: str) -> bool:
    """Whether a text is empty or a mark for nothing; a tick or a cross is none."""
    return not text.strip(_DASHES)


def is_sign(text: str) -> bool:
    """Whether a text has a sign such as a tick, a cross or "!", which may well be a verdict."""
    return any(char == "!" or category(char).startswith("S") for char in text)


def says(text: str) -> bool:
    """Whether a text says something, and not that there is nothing."""
    return any(map(str.isalnum, text)) and not phrases.whole(text, NOT_MEASURED)
