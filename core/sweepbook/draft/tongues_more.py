"""Words of the trade in Portuguese, Polish, Czech, Danish, Norwegian and Swedish: from memory.

No source; as in `tongues`. A letter with a stroke, such as the Polish l, is a letter of its own.
"""

PARAMETERS: dict[str, tuple[str, ...]] = {
    "insertion_loss": (
        *("perda de inserção", "perdas de inserção", "perda por inserção", "atenuação"),
        *("tłumienność wtrąceniowa", "straty wtrąceniowe", "tłumienność", "tłumienie"),
        *("vložný útlum", "vložená ztráta", "útlum vložením", "útlum", "indskudsdæmpning"),
        *("dæmpning", "indsætningstab", "innskuddsdempning", "demping", "dempning"),
        *("inkopplingsdämpning", "genomgångsdämpning", "insättningsdämpning", "dämpning"),
        *("indsætningsdæmpning",),
    ),
    "return_loss": (
        *("perda de retorno", "perdas de retorno", "perda por retorno"),
        *("tłumienność odbicia", "tłumienność odbiciowa", "straty odbiciowe", "straty odbicia"),
        *("útlum odrazu", "zpětný odraz", "returtab", "returdæmpning", "refleksionsdæmpning"),
        *("returtap", "refleksjonsdempning", "returdämpning", "returförlust"),
        *("reflektionsdämpning",),
    ),
    "next": (
        *("przesłuch zbliżny", "przesłuch bliski", "přeslech na blízkém konci", "blízký přeslech"),
        *("přeslech blízký", "nærkrydstale", "nærende krydstale", "nærkrysstale"),
        *("krysstale nær", "närkorskoppling", "överhörning nära", "näröverhörning"),
        *("närändsöverhörning", "nærendekrydstale"),
        *("närände överhörning", "diafonia próxima"),
    ),
    "psnext": ("suma przesłuchów zbliżnych", "effektsum nærkrydstale", "summa näröverhörning"),
    "fext": (
        *("przesłuch zdalny", "przesłuch daleki", "přeslech na vzdáleném konci"),
        *("vzdálený přeslech", "přeslech vzdálený", "fjernkrydstale", "fjernende krydstale"),
        *("fjernkrysstale", "krysstale fjern", "fjärrkorskoppling", "fjärröverhörning"),
        *("fjärrändsöverhörning", "fjernendekrydstale"),
    ),
    "propagation_delay": (
        *("atraso de propagação", "tempo de propagação", "atraso", "opóźnienie propagacji"),
        *("opóźnienie", "zpoždění šíření", "zpoždění", "udbredelsesforsinkelse"),
        *("udbredelsestid", "løbetid", "forsinkelse", "utbredelsesforsinkelse", "löptid"),
        *("utbredningsfördröjning", "fördröjning", "utbredningstid", "czas propagacji"),
    ),
    "delay_skew": (
        *("diferença de atraso", "różnica opóźnień", "rozdíl zpoždění", "forsinkelsesforskel"),
        *("løbetidsforskel", "forsinkelsesforskjell", "löptidsskillnad", "skillnad i löptid"),
        *("fördröjningsskillnad", "desvio de atraso", "rozrzut opóźnień"),
    ),
    "length": (
        *("comprimento", "comprimento do cabo", "długość", "długość kabla", "délka", "længde"),
        *("kabellængde", "lengde", "längd", "kabellängd"),
    ),
    "dc_loop_resistance": (
        *("resistência de malha", "resistência do laço", "resistência", "rezystancja pętli"),
        *("rezystancja", "odpor smyčky", "odpor", "sløjfemodstand", "modstand"),
        *("sløyfemotstand", "motstand", "slingresistans", "loopresistans", "resistans"),
        *("resistência de laço", "resistência do lacete"),
        *("loopmodstand",),
    ),
    "wire_map": (
        *("mapa de fios", "mapa de cablagem", "mapa połączeń", "mapa żył", "mapa zapojení"),
        *("trådkort", "ledningskart", "ledningskort", "ledningsføring", "trådføring"),
        *("kopplingsschema", "ledarkarta", "trådkarta", "ledningskarta", "ledarprov"),
        *("ledarschema", "mapa de ligações", "mapa de condutores", "esquema de ligações"),
        *("schemat połączeń", "układ żył", "mapa przewodów", "schéma zapojení", "mapa vodičů"),
        *("mapa žil", "lederkort", "ledningsdiagram", "koblingsskjema", "koblingskart"),
        *("ledningsoversikt",),
    ),
}

ENDS: tuple[tuple[str, str], ...] = (
    ("extremidade próxima", "extremidade distante"),
    ("próximo", "distante"),
    ("próxima", "distante"),
    ("bliski koniec", "daleki koniec"),
    ("jednostka główna", "jednostka zdalna"),
    ("jednostki głównej", "jednostki zdalnej"),
    ("bliższy", "dalszy"),
    ("bliższym", "dalszym"),
    ("bliższego", "dalszego"),
    ("bliski", "daleki"),
    ("bliski", "zdalny"),
    ("lokalny", "zdalny"),
    ("koniec a", "koniec b"),
    ("strona a", "strona b"),
    ("blízký", "vzdálený"),
    ("blízká", "vzdálená"),
    ("místní", "vzdálený"),
    ("strana a", "strana b"),
    ("konec a", "konec b"),
    ("nærende", "fjernende"),
    ("hovedenhed", "fjernenhed"),
    ("närände", "fjärrände"),
    ("huvudenhet", "fjärrenhet"),
    ("huvudenhetens", "fjärrenhetens"),
    ("hovedenhedens", "fjernenhedens"),
    ("nær", "fjern"),
    ("lokal", "fjern"),
    ("när", "fjärr"),
    ("nära", "fjärran"),
    ("nära", "bortre"),
    ("lokal", "fjärr"),
    ("närände", "fjärrände"),
    ("huvudenhet", "fjärrenhet"),
    ("nærende", "fjernende"),
    ("hovedenhed", "fjernenhed"),
    ("hovedenhet", "fjernenhet"),
    ("ände a", "ände b"),
    ("sida a", "sida b"),
)

VERDICTS: dict[str, tuple[str, ...]] = {
    "pass": (
        *("aprovado", "aprovada", "passou", "passa", "sim", "pozytywny", "pozytywna", "zaliczony"),
        *("spełnia", "zgodny", "tak", "vyhověl", "vyhovuje", "vyhovělo", "prošlo", "ano"),
        *("godkendt", "bestået", "godkjent", "bestått", "godkänd", "godkänt"),
    ),
    "pass*": ("aprovado*", "pozytywny*", "vyhověl*", "godkendt*", "godkjent*", "godkänd*"),
    "fail*": ("reprovado*", "negatywny*", "nevyhověl*", "ikke godkendt*", "underkänd*"),
    "fail": (
        *(
            "reprovado",
            "reprovada",
            "falhou",
            "falha",
            "não",
            "negatywny",
            "negatywna",
            "niezaliczony",
        ),
        *("niezgodny", "nie", "nevyhověl", "nevyhovuje", "nevyhovělo", "neprošlo", "ne"),
        *("ikke godkendt", "ikke bestået", "ikke godkjent", "ikke bestått", "underkänd"),
        *("underkänt", "ej godkänd", "ej godkänt", "dumpet"),
        *("afvist", "kasseret"),
    ),
}

ANSWERS = ("sim", "não", "tak", "nie", "ano", "ne")

OPPOSITES = {
    "aprovado": "reprovado",
    "pozytywny": "negatywny",
    "vyhověl": "nevyhověl",
    "vyhovuje": "nevyhovuje",
    "godkendt": "ikke godkendt",
    "bestået": "ikke bestået",
    "godkjent": "ikke godkjent",
    "godkänd": "underkänd",
    "godkänt": "underkänt",
    "passou": "falhou",
    "passa": "falha",
    "zaliczony": "niezaliczony",
    "spełnia": "nie spełnia",
}

COLOURS: dict[str, tuple[str, ...]] = {
    "1-2": ("laranja", "pomarańczowa", "pomarańczowy", "oranžová", "oranžový"),
    "3-6": ("zielona", "zielony", "zelená", "zelený", "grøn", "grønn", "grön"),
    "4-5": ("niebieska", "niebieski", "modrá", "modrý", "blå"),
    "7-8": ("castanho", "marrom", "brązowa", "brązowy", "hnědá", "hnědý"),
}

MARGIN = (
    *("margem", "margines", "zapas", "rezerva", "margen", "marginal", "pior margem"),
    *("margem mínima", "najgorszy margines", "dårligste margen", "mindste margen"),
    *("sämsta marginal", "minsta marginal"),
)
LIMIT = (
    *("limity", "wartość graniczna", "grænse", "grænseværdi", "grense", "grenseverdi", "gräns"),
    *("gränsvärde", "granica", "mez", "hranice"),
)
WORST = (
    *("dårligste", "najgorsza"),
    *("pior", "najgorszy", "nejhorší", "værste", "verste", "sämsta"),
)
VERDICT_KEYS = (
    *("resultado", "parecer", "wynik", "ocena", "výsledek", "hodnocení"),
    *("resultat", "bedømmelse", "vurdering", "bedömning", "omdöme"),
    *("veredito",),
)
FREQUENCY = (
    *("frequência", "frequências", "częstotliwość", "częstotliwości", "kmitočet", "kmitočty"),
    *("frekvence", "frekvens", "frekvenser", "frekv", "częst"),
)
UNIT = ("unidade", "jednostka", "jednotka", "enhed", "enhet")
VALUE = (
    *("medido", "valor medido", "wartość", "zmierzone", "hodnota", "værdi", "verdi", "värde"),
    *("måleværdi", "måleverdi", "mätvärde"),
)
TEST = (
    *("teste", "ensaio", "cabo", "pomiar", "łącze", "kabel", "měření", "linka", "måling"),
    *("forbindelse", "mätning", "länk"),
)
DISTURBING = (
    *("forstyrrende par", "störande par", "para zakłócająca"),
    *("perturbador", "zakłócająca", "zakłócający", "rušící", "forstyrrende", "støyende"),
    *("störande",),
)
DISTURBED = (
    *("perturbado", "zakłócana", "zakłócany", "rušený", "forstyrret", "forstyrra", "störd"),
    *("forstyrret par", "stört par", "para zakłócana"),
)
FROM = ("fra", "från", "od")
TO = ("para", "til", "till", "do")
