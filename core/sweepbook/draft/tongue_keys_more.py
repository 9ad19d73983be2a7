"""Keys about a test in Portuguese, Polish, Czech, Danish, Norwegian and Swedish: from memory.

No source; as in `tongue_keys`.
"""

KEYS: dict[str, tuple[str, ...]] = {
    "link.label": (
        *("identificador", "identificação da ligação", "identyfikator"),
        *("identyfikator łącza", "gniazdo", "identifikátor", "zásuvka"),
        *("nome do cabo", "identificação do cabo", "etiqueta do cabo", "cabo", "tomada"),
        *("oznaczenie łącza", "oznaczenie kabla", "nazwa kabla", "nazwa łącza", "oznaczenie"),
        *("etykieta", "ligação", "etiqueta", "mærkning", "märkning"),
        *("łącze", "označení kabelu", "název kabelu", "označení", "linka"),
        *("kabelnavn", "kabel id", "forbindelse", "udtag", "uttak", "kabelnamn", "länk", "uttag"),
        *("ligação", "circuito", "märkning", "kabelmärkning", "länknamn", "mærkning"),
        *("identyfikator kabla", "numer kabla", "oznaczenie toru", "oznaczenie linku"),
        *("oznaczenie połączenia", "numer łącza", "designação da ligação", "código da ligação"),
        *("nome da ligação", "označení linky", "označení spoje", "název linky", "číslo linky"),
        *("linkbetegnelse", "forbindelsesnavn", "linknavn", "koblingsnavn", "linkmerking"),
        *("kabelmerking", "merking", "länkbeteckning", "länkmärkning", "beteckning"),
    ),
    "test.limit": (
        *("limite", "norma", "limit", "limit testu", "norma pomiaru", "wartości graniczne"),
        *("limite de teste", "requisito", "wymaganie", "wartość graniczna", "požadavek"),
        *("norma de ensaio", "krav", "grænseværdi", "grenseverdi", "gränsvärde"),
        *("padrão", "gräns", "testgräns", "grænse", "testgrænse", "wymagania"),
    ),
    "test.started": (
        *("czas", "data i czas", "data testu", "godzina pomiaru"),
        *("data e hora", "data do ensaio", "data do teste", "hora", "data i godzina"),
        *("data pomiaru", "godzina", "datum a čas", "datum měření", "čas", "tidspunkt"),
        *("medido em", "início", "czas pomiaru", "zmierzono", "målt den", "tidpunkt", "mätt"),
        *("dato og tid", "måledato", "dato", "tid", "klokkeslæt", "datum och tid", "mätdatum"),
        *("medido em", "mättid", "uppmätt", "målt den", "målt", "zmierzono"),
    ),
    "test.operator": (
        *("wykonawca", "mierzył", "osoba wykonująca", "técnico", "operador", "executante"),
        *("pomiary wykonał", "provedl", "zkoušel", "testet af", "testad av", "kontrollør"),
        *("realizado por", "executor", "responsável pelo ensaio", "wykonujący", "mierzący"),
        *("pomiar wykonał", "obsluha", "provádějící", "vykonal", "udfører", "udførende"),
        *("utfører", "utførende", "utført av", "installatør", "utförare"),
        *("provare", "kontrollant"),
        *("wykonał", "technik", "měřil", "tekniker", "målt af", "målt av", "mätt av"),
        *("montør", "montör", "operatør", "operatör", "utförd av", "pomiarowiec", "medido por"),
        *(
            "testado por",
            "executado por",
            "mättekniker",
            "utfört av",
            "installatör",
            "måletekniker",
            "udført af",
        ),
    ),
    "test.ambient_c": ("teplota", "temperatur"),
    "stated.overall": (
        *("wynik końcowy", "wynik testu", "resultado final", "situação"),
        *("resultado geral", "wynik ogólny", "wynik", "ocena", "celkový výsledek", "výsledek"),
        *("samlet resultat", "resultat", "bedømmelse", "samlet vurdering", "bedömning"),
        *("vurdering", "omdöme", "slutresultat"),
        *("veredito", "totalresultat", "konklusion"),
    ),
    "results.wire_map.screen": ("blindagem", "ekran", "stínění", "skærm", "skjerm", "skärm"),
    "link.cable.maker": ("fabricante do cabo", "producent kabla", "výrobce kabelu"),
    "link.cable.part": ("tipo de cabo", "typ kabla", "typ kabelu", "kabeltyp"),
    "link.near.place.site": (
        *("local da obra", "budowa"),
        *("obra", "obiekt", "lokalizacja", "stavba", "byggeplads", "sted", "anlegg"),
        *("anläggning", "plats"),
    ),
    "link.near.place.building": ("edifício", "budynek", "budova", "bygning", "byggnad"),
    "link.near.place.space": (
        *("serwerownia", "sala", "gabinete", "divisão", "compartimento", "kancelář", "kontor"),
        *("værelse",),
        *("pokój", "pomieszczenie", "místnost", "rum", "rom", "lokale"),
    ),
    "link.near.place.floor": (
        *("kondygnacja", "poziom"),
        *("piso", "andar", "piętro", "patro", "podlaží", "etasje", "våning"),
    ),
}

EQUIPMENT: dict[str, tuple[str, ...]] = {
    "instrument.serial": (
        *("numer seryjny", "nr seryjny", "výrobní číslo", "sériové číslo", "serienummer"),
        *("número de série", "n de série", "nº de série", "série"),
    ),
    "instrument.maker": ("producent", "výrobce", "fabrikant", "tillverkare"),
}

FIRMWARE = (
    *("versão do firmware", "versão de firmware", "oprogramowanie układowe"),
    *("oprogramowanie sprzętowe", "oprogramowanie wewnętrzne", "wersja firmware"),
    *("wersja firmware'u", "verze firmwaru", "verze firmware", "firmwareversion"),
    *("fastvare", "fastvareversjon", "firmwareversjon", "fast programvara"),
    *("inbyggd programvara", "apparatsoftware", "instrumentsoftware", "instrumentprogramvara"),
)
SOFTWARE = (
    *("versão do software", "versão de software", "versão do programa", "oprogramowanie"),
    *("wersja oprogramowania", "wersja programu", "verze softwaru"),
    *("verze software", "programové vybavení", "verze programu", "softwareversion"),
    *("programmel", "programversion", "programvare", "programvareversjon"),
    *("softwareversjon", "programvara", "programvaruversion", "mjukvara", "mjukvaruversion"),
)
