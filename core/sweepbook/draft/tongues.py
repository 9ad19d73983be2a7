"""Words of the trade in German, French, Spanish, Dutch and Italian: from memory, no source.

As in `trade_words`, a blank stands for whatever joins words. A letter with a mark is found without
it too, and the German ones spelt out: "Länge", "Laenge" and "Lange" are one word.
"""

PARAMETERS: dict[str, tuple[str, ...]] = {
    "insertion_loss": (
        *("einfügedämpfung", "einfügungsdämpfung", "dämpfung", "affaiblissement d insertion"),
        *("perte d insertion", "pertes d insertion", "affaiblissement", "atténuation"),
        *("pérdida de inserción", "pérdidas de inserción", "pérdida por inserción", "atenuación"),
        *("invoegdemping", "invoegverlies", "tussenvoegdemping", "demping", "verzwakking"),
        *("tussenschakeldemping",),
        *("perdita di inserzione", "perdita d inserzione", "attenuazione"),
        *("insertieverlies",),
    ),
    "return_loss": (
        *("rückflussdämpfung", "reflexionsdämpfung", "rückflußdämpfung"),
        *("affaiblissement de réflexion", "affaiblissement par réflexion", "perte de retour"),
        *(
            "pertes de retour",
            "perte par réflexion",
            "pertes par réflexion",
            "affaiblissement de retour",
        ),
        *("pérdida de retorno", "pérdidas de retorno", "pérdida por retorno"),
        *("reflectiedemping", "retourdemping", "retourverlies", "terugkeerverlies"),
        *("perdita di ritorno", "perdite di ritorno", "attenuazione di riflessione"),
    ),
    "next": (
        *("nahnebensprechdämpfung", "nahnebensprechen", "nebensprechen nah", "paradiaphonie"),
        *("paradiafonía", "diafonía cercana", "nabij overspraak", "nabije overspraak"),
        *("overspraak nabij", "overspraak nabije einde", "paradiafonia", "diafonia vicina"),
        *("affaiblissement paradiaphonique", "atenuación paradiafónica"),
    ),
    "psnext": (
        *("leistungssumme nahnebensprechen", "summe nahnebensprechen", "leistungssumme next"),
        *("leistungssumme nahnebensprechdämpfung", "leistungssummierte nahnebensprechdämpfung"),
        *("nahnebensprechen summe", "next leistungssumme", "next summe", "paradiaphonie somme"),
        *("paradiafonía suma", "paradiafonia somma", "next somma", "next suma", "next somme"),
        *("next acumulada", "next sommata", "next cumulé", "next somada"),
        *("paradiaphonie cumulée", "paradiaphonie en somme de puissance", "suma de paradiafonía"),
        *("suma de potencias next", "paradiafonía de suma", "vermogenssom next"),
        *("somma paradiafonia", "somma di potenza next"),
    ),
    "fext": (
        *("fernnebensprechdämpfung", "fernnebensprechen", "nebensprechen fern", "télédiaphonie"),
        *("telediafonía", "diafonía lejana", "ver overspraak", "verre overspraak"),
        *("overspraak ver", "telediafonia", "diafonia lontana"),
    ),
    "psfext": ("summe fernnebensprechen", "télédiaphonie cumulée", "suma de telediafonía"),
    "acr_f": ("ausgangsseitiges fernnebensprechen", "télédiaphonie relative"),
    "coupling_attenuation": (
        *("kopplungsdämpfung", "affaiblissement de couplage", "atenuación de acoplamiento"),
        *("koppelingsdemping", "attenuazione di accoppiamento"),
    ),
    "propagation_delay": (
        *("signallaufzeit", "laufzeit", "verzögerung", "temps de propagation"),
        *("délai de propagation", "retard de propagation", "retardo de propagación"),
        *("tiempo de propagación", "retardo", "voortplantingsvertraging", "looptijd"),
        *("vertraging", "ritardo di propagazione", "tempo di propagazione", "ritardo"),
        *("propagatievertraging",),
        *("délai",),
    ),
    "delay_skew": (
        *("laufzeitdifferenz", "laufzeitunterschied", "écart de temps de propagation"),
        *("écart de propagation", "écart de délai", "diferencia de retardo", "looptijdverschil"),
        *("vertragingsverschil", "differenza di ritardo", "differenza di propagazione"),
        *("biais de propagation", "diferencia de retardos", "sesgo de retardo"),
        *("desfase de retardo", "disallineamento del ritardo", "scarto di ritardo"),
        *("différence de délai", "différence de temps de propagation"),
    ),
    "length": (
        *("länge", "kabellänge", "leitungslänge", "longueur", "longitud", "lengte"),
        *("kabellengte", "lunghezza", "longueur du câble", "longitud del cable"),
        *("lunghezza del cavo", "longueurs", "längen"),
    ),
    "dc_loop_resistance": (
        *("schleifenwiderstand", "gleichstromwiderstand", "widerstand", "résistance de boucle"),
        *("résistance", "resistencia de bucle", "resistencia", "lusweerstand", "weerstand"),
        *("resistenza di anello", "resistenza di loop", "resistenza d anello", "resistenza"),
        *("resistencia del bucle",),
    ),
    "dc_resistance_unbalance_within_pair": (
        *("widerstandsunsymmetrie", "déséquilibre de résistance", "weerstandsonbalans"),
        *("desequilibrio de resistencia", "squilibrio di resistenza"),
    ),
    "wire_map": (
        *("verdrahtungsplan", "verdrahtung", "plan de câblage", "schéma de câblage"),
        *("mapa de cableado", "mapa de hilos", "bedradingsschema", "mappa di cablaggio"),
        *("mappa dei fili", "mappa fili", "mappatura dei fili", "aderbelegung", "aderschema"),
        *("draadschema", "adernbelegung", "leiterplan", "leiterzuordnung"),
        *("carte de câblage", "plan des fils", "appariement des fils"),
        *("mapa de conexiones", "mapa de conductores", "esquema de cableado"),
        *("schema di cablaggio", "mappa dei conduttori", "mappa cablaggio", "bedradingskaart"),
        *("aderkaart",),
    ),
}

ENDS: tuple[tuple[str, str], ...] = (
    ("nahes ende", "fernes ende"),
    ("hauptgerät", "gegengerät"),
    ("hauptgerät", "fernes gerät"),
    ("hauptgerät", "gegenstelle"),
    ("messgerät", "gegengerät"),
    ("messgerät", "gegenstelle"),
    ("nah", "fern"),
    ("haupt", "fern"),
    ("seite 1", "seite 2"),
    ("ende 1", "ende 2"),
    ("lokal", "entfernt"),
    ("seite a", "seite b"),
    ("ende a", "ende b"),
    ("extrémité proche", "extrémité distante"),
    ("extrémité proche", "extrémité éloignée"),
    ("proche", "éloignée"),
    ("proche", "éloigné"),
    ("proche", "lointaine"),
    ("proche", "lointain"),
    ("proche", "distante"),
    ("proche", "distant"),
    ("local", "distant"),
    ("principal", "distant"),
    ("côté a", "côté b"),
    ("extrémité a", "extrémité b"),
    ("extremo cercano", "extremo lejano"),
    ("cercano", "lejano"),
    ("cercana", "lejana"),
    ("local", "remoto"),
    ("local", "remota"),
    ("principal", "remoto"),
    ("principal", "remota"),
    ("extremo a", "extremo b"),
    ("unidad principal", "unidad remota"),
    ("principal", "remota"),
    ("lado a", "lado b"),
    ("nabije zijde", "verre zijde"),
    ("hoofdtoestel", "tegenpost"),
    ("nabij", "ver"),
    ("dichtbij", "veraf"),
    ("lokaal toestel", "extern toestel"),
    ("lokaal", "extern"),
    ("hoofd", "extern"),
    ("hoofdunit", "externe unit"),
    ("hoofdtoestel", "tegenstation"),
    ("nabije einde", "verre einde"),
    ("nabije", "verre"),
    ("nabij", "veraf"),
    ("zijde a", "zijde b"),
    ("kant a", "kant b"),
    ("estremità vicina", "estremità lontana"),
    ("vicino", "lontano"),
    ("vicina", "lontana"),
    ("locale", "remoto"),
    ("locale", "remota"),
    ("principale", "remoto"),
    ("principale", "remota"),
    ("lato a", "lato b"),
)

VERDICTS: dict[str, tuple[str, ...]] = {
    "pass": (
        *("bestanden", "fehlerfrei", "in ordnung", "i.o.", "gut", "erfüllt", "ja", "wahr"),
        *("conforme", "correct", "correcte", "réussi", "réussie", "bon", "succès", "oui", "vrai"),
        *("pasa", "aprobado", "correcto", "apto", "cumple", "sí", "verdadero"),
        *("geslaagd", "goed", "voldoet", "goedgekeurd", "akkoord", "waar"),
        *("superato", "superata", "passato", "positivo", "idoneo", "riuscito", "vero"),
    ),
    "pass*": ("bestanden*", "conforme*", "réussi*", "aprobado*", "geslaagd*", "superato*"),
    "fail*": ("nicht bestanden*", "non conforme*", "échec*", "fallo*", "gezakt*", "non superato*"),
    "fail": (
        *(
            "nicht bestanden",
            "durchgefallen",
            "fehlerhaft",
            "nicht in ordnung",
            "n.i.o.",
            "nicht erfüllt",
        ),
        *(
            "nein",
            "falsch",
            "schlecht",
            "non conforme",
            "échec",
            "échoué",
            "mauvais",
            "non",
            "faux",
        ),
        *("falla", "fallo", "no pasa", "no apto", "no cumple", "suspenso", "rechazado"),
        *("incorrecto", "falso", "gezakt", "mislukt", "fout", "voldoet niet", "afgekeurd", "nee"),
        *("onwaar", "non superato", "non superata", "fallito", "negativo", "non idoneo"),
        *("incorrect", "incorrecte", "slecht", "onvoldoende", "respinto", "bocciato"),
    ),
}

ANSWERS = (
    *("ja", "nein", "wahr", "falsch", "oui", "non", "vrai", "faux", "sí", "verdadero", "falso"),
    *("nee", "waar", "onwaar", "vero"),
)

OPPOSITES = {
    "bestanden": "nicht bestanden",
    "fehlerfrei": "fehlerhaft",
    "gut": "schlecht",
    "ja": "nein",
    "conforme": "non conforme",
    "réussi": "échec",
    "oui": "non",
    "aprobado": "suspenso",
    "apto": "no apto",
    "cumple": "no cumple",
    "pasa": "falla",
    "geslaagd": "gezakt",
    "goedgekeurd": "afgekeurd",
    "superato": "non superato",
    "idoneo": "non idoneo",
    "positivo": "negativo",
    "riuscito": "fallito",
    "correcto": "incorrecto",
    "bon": "mauvais",
    "goed": "fout",
    "voldoet": "voldoet niet",
    "erfüllt": "nicht erfüllt",
    "i.o.": "n.i.o.",
}

COLOURS: dict[str, tuple[str, ...]] = {
    "1-2": ("naranja", "oranje", "arancione", "arancio"),
    "3-6": ("grün", "vert", "verte", "verde", "groen"),
    "4-5": ("blau", "bleu", "bleue", "azul", "blauw", "blu"),
    "7-8": ("braun", "marron", "brun", "brune", "marrón", "bruin", "marrone"),
}

MARGIN = (
    *("abstand", "marge", "margen", "margine", "reserva", "riserva", "marges", "spielraum"),
    *("schlechteste reserve", "kleinste reserve", "pire marge", "marge minimale", "peor margen"),
    *("margen mínimo", "slechtste marge", "kleinste marge", "margine peggiore", "margine minimo"),
)
LIMIT = (
    *(
        "grenzwert",
        "grenzwerte",
        "grenze",
        "limite",
        "límite",
        "limiet",
        "grens",
        "grenswaarde",
    ),
    *("gabarit", "exigence", "anforderung", "sollwert", "exigencia", "requisito", "eis"),
)
WORST = ("schlechtester", "pire", "peor", "slechtste", "peggiore")
VERDICT_KEYS = (
    *("ergebnis", "gesamtergebnis", "bewertung", "urteil", "bestanden", "résultat", "bilan"),
    *("résultat global", "conformité", "resultado", "dictamen", "veredicto", "estado"),
    *("resultaat", "uitslag", "oordeel", "beoordeling", "esito", "risultato", "giudizio", "stato"),
    *("statut",),
)
FREQUENCY = (
    *("frequenz", "frequenzen", "fréquence", "fréquences", "frecuencia", "frecuencias"),
    *("frequentie", "frequenties", "frequenza", "frequenze", "frequenzliste"),
    *("fréq", "frec"),
)
UNIT = ("einheit", "unité", "unidad", "eenheid", "unità")
VALUE = ("wert", "messwert", "valeur", "valor", "waarde", "meetwaarde", "valore")
TEST = (
    *("messung", "prüfung", "strecke", "kabel", "essai", "liaison", "câble", "numéro", "prueba"),
    *("enlace", "cable", "número", "meting", "verbinding", "prova", "collegamento", "cavo"),
)
DISTURBING = (
    *("paire perturbatrice", "par perturbador", "storend paar", "coppia disturbante"),
    *(
        "störend",
        "störendes",
        "störendes paar",
        "störer",
        "störpaar",
        "perturbatrice",
        "perturbateur",
    ),
    *("perturbante", "perturbador", "perturbadora", "storend", "stoorpaar", "disturbante"),
)
DISTURBED = (
    *("paire perturbée", "par perturbado", "gestoord paar", "coppia disturbata"),
    *("gestört", "gestörtes", "gestörtes paar", "perturbée", "perturbé", "perturbado"),
    *("perturbada", "gestoord", "disturbata", "disturbato", "disturbada"),
)
FROM = ("von", "de", "desde", "van", "da")
TO = ("nach", "zu", "vers", "hacia", "naar", "verso")
