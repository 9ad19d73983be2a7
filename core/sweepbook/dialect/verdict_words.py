"""Words of the trade for a verdict, in all languages: common practice and memory, no source."""

from functools import lru_cache

from sweepbook.word_lists import lists_of

_PLAIN = lists_of(
    """
    pass: pass, passed, ok, good, accepted, bestanden, fehlerfrei, in ordnung, i.o., gut, erfüllt,
        korrekt, conforme, correct, correcte, réussi, réussie, bon, succès, pasa, aprobado,
        correcto, correcta, apto, cumple, geslaagd, goed, voldoet, goedgekeurd, akkoord, superato,
        superata, passato, positivo, positiva, idoneo, idonea, accettato, accettata, riuscito,
        aprovado, aprovada, passou, passa, correto, correta, corretto, corretta, poprawny, poprawna,
        prawidłowy, prawidłowa, w porządku, v pořádku, in orde, i orden, pozytywny, pozytywna,
        zaliczony, spełnia, zgodny, vyhověl, vyhovuje, vyhovělo, prošlo, godkendt, bestået,
        godkjent, bestått, godkänd, godkänt, 合格, соответствует,
        пройден, пройдено, прошёл, прошла, годен, норма, в норме, успешно, 通过, 符合, 良, 適合,
        geçti, başarılı, uygun, megfelelt, megfelel, 합격, 적합, 통과, đạt, đạt yêu cầu, đạt chuẩn,
        επιτυχία, επιτυχια, επιτυχές, επιτυχες, επιτυχής, επιτυχης, πέρασε, περασε, πέτυχε,
        πετυχε, αποδεκτό, αποδεκτο, εντός ορίων, εντος οριων
    pass*: pass*, passed*, ok*, good*, marginal pass, bestanden*, conforme*, réussi*, aprobado*,
        geslaagd*, superato*, aprovado*, pozytywny*, vyhověl*, godkendt*, godkjent*, godkänd*, 合格*
    fail*: fail*, failed*, not ok*, marginal fail, nicht bestanden*, non conforme*, échec*, fallo*,
        gezakt*, non superato*, reprovado*, negatywny*, nevyhověl*, ikke godkendt*, underkänd*,
        不合格*
    fail: fail, failed, not ok, nok, bad, poor, rejected, nicht bestanden, durchgefallen,
        fehlerhaft, nicht in ordnung, n.i.o., nicht erfüllt, schlecht, non conforme, échec, échoué,
        mauvais, falla, fallo, no pasa, no apto, no cumple, suspenso, rechazado, incorrecto,
        reprobado, gezakt, mislukt, fout, voldoet niet, afgekeurd, non superato, non superata,
        fallito, fallita, negativo, negativa, non idoneo, non idonea, non passato, non accettato,
        respinta, incorreto, incorreta, incorrecta, niepoprawny, niepoprawna, nieprawidłowy,
        nieprawidłowa, incorrect, incorrecte, slecht, onvoldoende, respinto,
        bocciato, reprovado, reprovada, falhou, falha, negatywny, negatywna, niezaliczony,
        niezgodny,
        nevyhověl, nevyhovuje, nevyhovělo, neprošlo, ikke godkendt, ikke bestået, ikke godkjent,
        ikke bestått, underkänd, underkänt, ej godkänd, ej godkänt, dumpet, afvist, kasseret,
        不合格, не соответствует, не пройден, не пройдено, не прошёл, не прошла, не годен, не норма,
        не в норме, неуспешно, брак, 未通过, 不通过, 不符合, 失败, 不良, 不適合, kaldı, geçmedi,
        başarısız, uygun değil, nem felelt meg, nem felel meg, 불합격, 부적합, 실패, không đạt,
        không đạt yêu cầu, không đạt chuẩn, chưa đạt, hỏng, αποτυχία, αποτυχια, ανεπιτυχές,
        ανεπιτυχες, ανεπιτυχής, ανεπιτυχης, απέτυχε, απετυχε, μη αποδεκτό, μη αποδεκτο,
        εκτός ορίων, εκτος οριων
    """
)
_ANSWERED = lists_of(
    """
    pass: p, yes, true, ja, wahr, oui, vrai, sí, verdadero, waar, vero, sim, tak, ano, да, 是,
        はい, evet, igen, 예, có, ναι
    fail: f, no, false, nein, falsch, non, faux, falso, nee, onwaar, não, nie, ne, нет, 否,
        いいえ, hayır, nem, 아니요, không, όχι, οχι
    """
)
ANSWERS = (*_ANSWERED["pass"], *_ANSWERED["fail"])
"""Words that are a verdict only where the key asks for one."""
VERDICTS = {word: (*some, *_ANSWERED.get(word, ())) for word, some in _PLAIN.items()}
"""All of them, by the record's word."""

_MARKS = " *.,:;_=#'\"`()[]{}<>|-"
"""Around a word; a sign that may mean not, such as "!" or a cross, is none of them."""


def _bare(text: str) -> str:
    """A text in small letters with single blanks between its words, and no marks around it.

    An i without a dot, of which capitals have two, is one with a dot.
    """
    small = text.casefold().replace("\u0131", "i").replace("i\u0307", "i")
    return " ".join(small.replace("_", " ").replace("-", " ").strip(_MARKS).split())


_SAID = {_bare(text): word.rstrip("*") for word, some in _PLAIN.items() for text in some}


@lru_cache(maxsize=256)
def plainly(text: str) -> str | None:
    """Pass or fail, where a text is nothing but a plain word for one; None for all else.

    An answer such as "no" is none: whether it is good depends on what was asked.
    """
    return _SAID.get(_bare(text))
