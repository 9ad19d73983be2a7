"""Keys about a test in German, French, Spanish, Dutch and Italian: from memory, no source."""

KEYS: dict[str, tuple[str, ...]] = {
    "link.label": (
        *("kabelbezeichnung", "kabelname", "kabelnummer", "streckenbezeichnung", "bezeichnung"),
        *("streckenname", "identifiant du câble", "identificador del cable", "sigla del cavo"),
        *("kabelcode", "kabellabel", "kabelnummer", "link"),
        *("strecke", "kabel", "nom du câble", "nom de la liaison", "identifiant", "étiquette"),
        *("repère", "liaison", "lien", "câble", "prise", "nombre del cable", "nombre del enlace"),
        *("identificación del enlace", "identificación enlace", "identificacion enlace"),
        *("etiqueta", "identificador", "enlace", "toma", "kabelnaam", "verbinding"),
        *("aansluiting", "nome cavo", "nome del cavo", "etichetta", "identificativo"),
        *("collegamento", "cavo", "presa", "tratta", "streckenname", "kabelcode", "circuito"),
        *("identification du câble", "linknaam"),
    ),
    "test.limit": (
        *("grenzwert", "grenzwerte", "grenzwertsatz", "prüfnorm", "anforderung", "limite"),
        *("norme d essai", "norme", "exigence", "límite", "norma", "requisito", "limiet"),
        *("testnorm", "grenswaarde", "eis", "grenzwertklasse", "norme de test"),
        *("norma de prueba", "norma di prova"),
        *("testlimiet", "meetnorm", "normativa", "estándar"),
    ),
    "test.started": (
        *("prüfdatum", "messdatum", "prüfzeit", "datum und uhrzeit", "datum", "zeitpunkt"),
        *("geprüft am", "gemessen am", "beginn", "date et heure", "date d essai", "date du test"),
        *("testé le", "mesuré le", "début", "fecha y hora", "fecha de prueba", "fecha", "inicio"),
        *("datum en tijd", "testdatum", "meetdatum", "getest op", "gemeten op", "aanvang"),
        *("data e ora", "data della prova", "data prova", "data", "inizio", "messzeitpunkt"),
        *("horodatage", "medido el", "tijdstip", "eseguito il"),
        *("messzeit", "date de mesure", "misurato il", "data della misura"),
    ),
    "test.ended": ("ende", "fin", "einde", "fine"),
    "test.operator": (
        *("prüfer", "techniker", "bediener", "messtechniker", "opérateur", "technicien"),
        *("operador", "técnico", "monteur", "operatore", "tecnico", "bearbeiter"),
        *("gemessen von", "geprüft von", "mesuré par", "instalador", "medido por", "uitvoerder"),
        *("meettechnicus", "gemeten door", "collaudatore", "eseguito da"),
        *(
            "testé par",
            "installateur",
            "uitgevoerd door",
            "technicus",
            "installatore",
            "realizado por",
        ),
    ),
    "test.ambient_c": ("temperatur", "température", "temperatura", "temperatuur"),
    "stated.overall": (
        *("gesamtergebnis", "gesamturteil", "ergebnis", "bewertung", "urteil", "résultat global"),
        *("résultat", "bilan", "resultado general", "resultado global", "resultado", "dictamen"),
        *("veredicto", "eindresultaat", "resultaat", "uitslag", "oordeel", "beoordeling"),
        *("esito complessivo", "esito", "risultato", "giudizio", "eindoordeel"),
        *("gesamtbewertung", "prüfergebnis", "conclusion"),
    ),
    "results.wire_map.screen": ("schirm", "schirmung", "blindage", "pantalla", "scherm", "schermo"),
    "link.cable.maker": ("kabelhersteller", "fabricant du câble", "fabricante del cable"),
    "link.cable.part": (
        *("kabeltyp", "type de câble", "tipo de cable", "kabeltype", "tipo di cavo", "tipo cavo"),
    ),
    "link.near.place.site": (
        *("standort", "baustelle", "chantier", "emplazamiento", "sitio", "locatie", "sede"),
        *("objekt", "cantiere", "liegenschaft", "areal", "établissement", "campus"),
    ),
    "link.near.place.building": ("gebäude", "bâtiment", "edificio", "gebouw"),
    "link.near.place.floor": (
        *("etage", "stockwerk", "geschoss", "étage", "niveau", "planta", "verdieping", "piano"),
    ),
    "link.near.place.space": (
        *("raum", "technikraum", "salle", "local", "local technique", "sala", "cuarto"),
        *("stanza", "locale", "ruimte", "lokaal"),
    ),
    "link.near.place.cabinet": (
        *("schrank", "verteilerschrank", "armoire", "armario", "armadio", "kast"),
    ),
    "link.near.place.panel": (
        *("verteilerfeld", "verteilfeld", "rangierfeld", "feld", "panneau", "bandeau"),
        *("paneel", "pannello", "panel de parcheo"),
    ),
    "link.near.place.port": ("anschluss", "puerto", "poort", "porta"),
}

EQUIPMENT: dict[str, tuple[str, ...]] = {
    "instrument.serial": (
        *(
            "seriennummer",
            "seriennr",
            "serien nr",
            "serie nr",
            "numéro de série",
            "n de série",
            "número de serie",
            "serienummer",
        ),
        *("numero di serie", "matricola", "serie", "gerätenummer", "no de série", "no de serie"),
        *("série", "serienr", "n série"),
    ),
    "instrument.model": ("modell", "modèle", "modelo", "modello"),
    "instrument.maker": ("hersteller", "fabricant", "fabricante", "fabrikant", "costruttore"),
    "instrument.calibrated_on": (
        *("kalibriert am", "étalonné le", "calibrado el", "gekalibreerd op", "calibrato il"),
    ),
}
