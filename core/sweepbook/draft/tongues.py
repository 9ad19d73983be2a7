"""Words of the trade in German, French, Spanish, Dutch and Italian: from memory, no source.

As in `trade_words`, a blank stands for whatever joins words. A letter with a mark is found without
it too, and the German ones spelt out: "Länge", "Laenge" and "Lange" are one word.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: einfügedämpfung, einfügungsdämpfung, dämpfung, affaiblissement d insertion,
        perte d insertion, pertes d insertion, affaiblissement, atténuation, pérdida de inserción,
        pérdidas de inserción, pérdida por inserción, atenuación, invoegdemping, invoegverlies,
        tussenvoegdemping, demping, verzwakking, tussenschakeldemping, perdita di inserzione,
        perdita d inserzione, attenuazione, insertieverlies, perdite di inserzione,
        perdite d inserzione, perdita per inserzione, attenuazione di inserzione,
        attenuazione d inserzione
    return_loss: rückflussdämpfung, reflexionsdämpfung, rückflußdämpfung,
        affaiblissement de réflexion, affaiblissement par réflexion, perte de retour,
        pertes de retour, perte par réflexion, pertes par réflexion, affaiblissement de retour,
        pérdida de retorno, pérdidas de retorno, pérdida por retorno, reflectiedemping,
        retourdemping, retourverlies, terugkeerverlies, perdita di ritorno, perdite di ritorno,
        attenuazione di riflessione, perdita per riflessione, perdite per riflessione,
        attenuazione di ritorno, perdite di riflessione
    next: nahnebensprechdämpfung, nahnebensprechen, nebensprechen nah, paradiaphonie, paradiafonía,
        diafonía cercana, nabij overspraak, nabije overspraak, overspraak nabij,
        overspraak nabije einde, paradiafonia, diafonia vicina, affaiblissement paradiaphonique,
        atenuación paradiafónica, diafonia prossima, diafonia all estremità vicina,
        attenuazione di paradiafonia, attenuazione paradiafonica
    psnext: leistungssumme nahnebensprechen, summe nahnebensprechen, leistungssumme next,
        leistungssumme nahnebensprechdämpfung, leistungssummierte nahnebensprechdämpfung,
        nahnebensprechen summe, next leistungssumme, next summe, paradiaphonie somme,
        paradiafonía suma, paradiafonia somma, next somma, next suma, next somme, next acumulada,
        next sommata, next cumulé, next somada, paradiaphonie cumulée,
        paradiaphonie en somme de puissance, suma de paradiafonía, suma de potencias next,
        paradiafonía de suma, vermogenssom next, somma paradiafonia, somma di potenza next
    fext: fernnebensprechdämpfung, fernnebensprechen, nebensprechen fern, télédiaphonie,
        telediafonía, diafonía lejana, ver overspraak, verre overspraak, overspraak ver,
        telediafonia, diafonia lontana, diafonia all estremità lontana,
        attenuazione di telediafonia
    psfext: summe fernnebensprechen, télédiaphonie cumulée, suma de telediafonía
    acr_f: ausgangsseitiges fernnebensprechen, télédiaphonie relative
    coupling_attenuation: kopplungsdämpfung, affaiblissement de couplage,
        atenuación de acoplamiento, koppelingsdemping, attenuazione di accoppiamento
    propagation_delay: signallaufzeit, laufzeit, verzögerung, temps de propagation,
        délai de propagation, retard de propagation, retardo de propagación, tiempo de propagación,
        retardo, voortplantingsvertraging, looptijd, vertraging, ritardo di propagazione,
        tempo di propagazione, ritardo, propagatievertraging, délai, tempo di transito,
        ritardo di trasmissione
    delay_skew: laufzeitdifferenz, laufzeitunterschied, écart de temps de propagation,
        écart de propagation, écart de délai, diferencia de retardo, looptijdverschil,
        vertragingsverschil, differenza di ritardo, differenza di propagazione,
        biais de propagation, diferencia de retardos, sesgo de retardo, sesgo, desfase de retardo,
        disallineamento del ritardo, scarto di ritardo, différence de délai,
        différence de temps de propagation, scostamento del ritardo, scostamento di ritardo,
        scostamento dei ritardi, differenza dei ritardi, differenza tra i ritardi,
        disallineamento ritardo, disallineamento di propagazione,
        sfasamento del ritardo, differenza del ritardo,
        sfasamento di ritardo, scarto dei ritardi, scarto di propagazione, skew di ritardo,
        skew del ritardo, dispersione del ritardo, dispersione dei ritardi, asimmetria di ritardo,
        variazione del ritardo
    length: länge, kabellänge, leitungslänge, longueur, longitud, largo, lengte,
        kabellengte, lunghezza, largo del cable, longueur du câble,
        longitud del cable, lunghezza del cavo, longueurs, längen, lunghezza cavo,
        lunghezza della tratta, lunghezza elettrica, lunghezze
    dc_loop_resistance: schleifenwiderstand, gleichstromwiderstand, widerstand, schleife,
        résistance de boucle, résistance, resistencia de bucle, resistencia, lusweerstand,
        weerstand, resistenza di anello, resistenza di loop, resistenza d anello, resistenza,
        resistencia del bucle, resistencia de lazo, resistencia del lazo, résistance de la boucle,
        résistance en boucle, resistenza dell anello, resistenza ad anello, resistenza di spira,
        resistenza in continua, resistenza in corrente continua, resistenza c c
    dc_resistance_unbalance_within_pair: widerstandsunsymmetrie, déséquilibre de résistance,
        weerstandsonbalans, desequilibrio de resistencia, squilibrio di resistenza,
        sbilanciamento di resistenza, sbilanciamento resistivo, squilibrio resistivo
    wire_map: verdrahtungsplan, verdrahtung, plan de câblage, schéma de câblage, mapa de cableado,
        mapa de hilos, bedradingsschema, mappa di cablaggio, mappa dei fili, mappa fili,
        mappatura dei fili, aderbelegung, aderschema, draadschema, adernbelegung, leiterplan,
        leiterzuordnung, carte de câblage, plan des fils, appariement des fils, mapa de conexiones,
        mapa de conductores, esquema de cableado, schema di cablaggio, mappa dei conduttori,
        mappa cablaggio, bedradingskaart, aderkaart, mappatura fili, mappatura dei conduttori,
        mappa conduttori, mappa delle connessioni, mappa connessioni, mappa dei collegamenti,
        schema dei fili, schema collegamenti
    """
)

ENDS = pairs_of(
    """
    nahes ende / fernes ende, hauptgerät / gegengerät, hauptgerät / fernes gerät,
    hauptgerät / gegenstelle, messgerät / gegengerät, messgerät / gegenstelle, nah / fern,
    haupt / fern, seite 1 / seite 2, ende 1 / ende 2, lokal / entfernt, seite a / seite b,
    ende a / ende b, extrémité proche / extrémité distante, extrémité proche / extrémité éloignée,
    proche / éloignée, proche / éloigné, proche / lointaine, proche / lointain, proche / distante,
    proche / distant, local / distant, principal / distant, côté a / côté b,
    extrémité a / extrémité b, extremo cercano / extremo lejano, cercano / lejano, cercana / lejana,
    local / remoto, local / remota, principal / remoto, principal / remota, extremo a / extremo b,
    unidad principal / unidad remota, lado a / lado b, nabije zijde / verre zijde,
    hoofdtoestel / tegenpost, nabij / ver, dichtbij / veraf, lokaal toestel / extern toestel,
    lokaal / extern, hoofd / extern, hoofdunit / externe unit, hoofdtoestel / tegenstation,
    nabije einde / verre einde, nabije / verre, nabij / veraf, zijde a / zijde b, kant a / kant b,
    estremità vicina / estremità lontana, vicino / lontano, vicina / lontana, locale / remoto,
    locale / remota, principale / remoto, principale / remota, lato a / lato b,
    unità principale / unità remota, unità locale / unità remota, lato vicino / lato lontano,
    lato locale / lato remoto, estremo vicino / estremo lontano, capo a / capo b,
    capo vicino / capo lontano
    """
)

OPPOSITES = pairs_of(
    """
    bestanden / nicht bestanden, fehlerfrei / fehlerhaft, gut / schlecht, ja / nein,
    conforme / non conforme, réussi / échec, oui / non, aprobado / suspenso, apto / no apto,
    cumple / no cumple, pasa / falla, geslaagd / gezakt, goedgekeurd / afgekeurd,
    superato / non superato, idoneo / non idoneo, accettato / respinto,
    positiva / negativa, positivo / negativo, riuscito / fallito,
    correcto / incorrecto, bon / mauvais, goed / fout, voldoet / voldoet niet,
    erfüllt / nicht erfüllt, i.o. / n.i.o.
    """
)

COLOURS = lists_of(
    """
    1-2: naranja, oranje, arancione, arancio
    3-6: grün, vert, verte, verde, groen
    4-5: blau, bleu, bleue, azul, blauw, blu
    7-8: braun, marron, brun, brune, marrón, café, castaño, bruin, marrone
    """
)

WORDS = lists_of(
    """
    margin: abstand, marge, margen, margine, reserva, riserva, marges, spielraum,
        schlechteste reserve, kleinste reserve, pire marge, marge minimale, peor margen,
        margen mínimo, slechtste marge, kleinste marge, margine peggiore, margine minimo,
        peggior margine, margini, margini minimi, margine residuo
    limit: grenzwert, grenzwerte, grenze, limite, límite, limiet, grens, grenswaarde, gabarit,
        exigence, anforderung, sollwert, exigencia, requisito, eis, limiti, valore limite, soglia
    worst: schlechtester, pire, peor, slechtste, peggiore
    verdict key: ergebnis, gesamtergebnis, bewertung, urteil, bestanden, résultat, bilan,
        résultat global, conformité, resultado, dictamen, veredicto, estado, resultaat, uitslag,
        oordeel, beoordeling, esito, risultato, giudizio, stato, statut, esito complessivo,
        esito della prova, esito collaudo, conformità
    frequency: frequenz, frequenzen, fréquence, fréquences, frecuencia, frecuencias, frequentie,
        frequenties, frequenza, frequenze, frequenzliste, fréq, frec
    unit: einheit, unité, unidad, eenheid, unità
    value: wert, messwert, valeur, valor, waarde, meetwaarde, valore, valore misurato,
        misurato
    test: messung, prüfung, strecke, kabel, essai, liaison, câble, numéro, prueba, enlace, cable,
        número, meting, verbinding, prova, collegamento, cavo
    disturbing: paire perturbatrice, par perturbador, storend paar, coppia disturbante, störend,
        störendes, störendes paar, störer, störpaar, perturbatrice, perturbateur, perturbante,
        perturbador, perturbadora, storend, stoorpaar, disturbante, interferente, par interferente,
        störande, störande par, støyende, forstyrrende
    disturbed: paire perturbée, par perturbado, gestoord paar, coppia disturbata, gestört,
        gestörtes, gestörtes paar, perturbée, perturbé, perturbado, perturbada, gestoord,
        interferido, par interferido, störd, stört par, forstyrret, disturbata, disturbato,
        disturbada
    from: von, de, desde, van, da
    to: nach, zu, vers, hacia, naar, verso
    firmware: logiciel embarqué, version du logiciel embarqué, version interne, logiciel interne,
        firmwareversion, firmwarestand, firmwarerevision, gerätefirmware, gerätesoftware,
        betriebsprogramm, messgerätesoftware, micrologiciel, microprogramme,
        version du micrologiciel, version du firmware, microprograma, versión de firmware,
        versión del firmware, versione firmware, versione del firmware, firmwareversie,
        apparaatsoftware, toestelsoftware, apparaatfirmware
    software: softwareversion, softwarestand, programmversion, programmstand, logiciel,
        version logicielle, version du logiciel, versión de software, versión del software,
        versión del programa, versione software, versione del software, versione programma,
        softwareversie, programmatuur, programmaversie
    """
)

KEYS = lists_of(
    """
    link.label: linkbezeichnung, strecken id, kabel id, messstrecke, anschlussdose,
        identifiant de liaison, identifiant de la liaison, identification de la liaison,
        référence de la liaison, repère du câble, repère, libellé, identificador de enlace,
        identificador del enlace, id de enlace, código del enlace, punto de red,
        identificativo del collegamento, identificativo collegamento, id collegamento,
        nome collegamento, punto rete, verbindingsnaam, verbindingscode, etiket, kabelbezeichnung,
        kabelname, kabelnummer, streckenbezeichnung, bezeichnung, streckenname,
        identifiant du câble, identificador del cable, sigla del cavo, kabelcode, kabellabel, link,
        strecke, kabel, nom du câble, nom de la liaison, identifiant, étiquette, repère, liaison,
        lien, câble, prise, nombre del cable, nombre del enlace, identificación del enlace,
        identificación enlace, identificacion enlace, etiqueta, identificador, enlace, toma,
        kabelnaam, verbinding, aansluiting, nome cavo, nome del cavo, etichetta, identificativo,
        collegamento, cavo, presa, tratta, circuito, identification du câble, linknaam,
        verbindungsbezeichnung, linkname, désignation de la liaison, désignation du lien,
        code de la liaison, nom du lien, denominación del enlace, designación del enlace,
        denominazione del collegamento, denominazione collegamento, sigla collegamento,
        codice collegamento, verbindingsaanduiding, aanduiding verbinding, linkcode,
        identificativo cavo, identificativo del cavo, identificativo presa, identificativo linea,
        codice cavo, punto presa, numero cavo
    test.limit: grenzwertprofil, prüfgrenzwert, messnorm, prüfvorschrift, limite de test,
        limite d essai, référentiel, norme appliquée, límite de prueba, límite de ensayo,
        limite ensayo, límite ensayo, norma aplicada, norma de ensayo, limite di prova,
        limite di test, norma applicata, normering, grenzwert, grenzwerte, grenzwertsatz, prüfnorm,
        anforderung, limite, norme d essai, norme, exigence, límite, norma, requisito, limiet,
        testnorm, grenswaarde, eis, grenzwertklasse, norme de test, norma de prueba, norma di prova,
        testlimiet, meetnorm, normativa, estándar, criterio, limite applicato, limite di collaudo,
        norma di riferimento, normativa di riferimento, limite selezionato, gabarit de test, gabarit
    test.started: uhrzeit, zeitstempel, messung vom, prüfung vom, messbeginn, prüfbeginn,
        testbeginn, beginn der messung, beginn der prüfung, messung begonnen, début de l essai,
        début de la mesure, début du test, inicio de la prueba, inicio de la medición,
        inizio prova, inizio misura, begin meting, start meting, begin van de meting,
        date de l essai, heure, hora,
        fecha de medición, fecha de ensayo, fecha del ensayo, fecha y hora de ensayo, ora,
        data collaudo, data del collaudo, data misura, data e ora della prova, tijd, datum meting,
        datum en tijd van de meting, getest, prüfdatum, messdatum, prüfzeit, datum und uhrzeit,
        datum, zeitpunkt, geprüft am, gemessen am, beginn, date et heure, date d essai,
        date du test, testé le, mesuré le, début, fecha y hora, fecha de prueba, fecha, inicio,
        datum en tijd, testdatum, meetdatum, getest op, gemeten op, aanvang, data e ora,
        data della prova, data prova, data, inizio, messzeitpunkt, horodatage, medido el, tijdstip,
        eseguito il, messzeit, date de mesure, misurato il, data della misura, data di collaudo,
        ora collaudo, data di misura
    test.ended: ende, fin, einde, fine
    test.operator: prüfperson, messender, ausgeführt von, durchgeführt von, réalisé par,
        exécuté par, contrôleur, operario, técnico responsable, ensayado por, prüfender,
        messung durch, vérificateur, exécutant, certificador, ejecutado por, probado por,
        responsable del ensayo, verificatore, provato da, controleur, messperson, ausführender,
        ausgeführt durch, effectué par, intervenant, ejecutante, verificador, comprobado por,
        effettuato da, rilevato da, verificado por, gecontroleerd door, esecutore, misurato da,
        addetto, getest door, meettechnieker, prüfer, techniker, bediener, messtechniker, opérateur,
        technicien, operador, técnico, monteur, operatore, tecnico, bearbeiter, gemessen von,
        geprüft von, mesuré par, instalador, medido por, uitvoerder, meettechnicus, gemeten door,
        collaudatore, eseguito da, testé par, installateur, uitgevoerd door, technicus,
        installatore, realizado por, verantwortlicher, verantwortliche person, verantwortlich,
        responsable, responsable de l essai, responsable du test, responsable des mesures,
        responsable de la prueba, responsable de la medición, responsabile,
        responsabile della prova, responsabile del test, verantwoordelijke, verantwoordelijk,
        tecnico collaudatore, eseguita da, incaricato, misuratore
    test.ambient_c: temperatur, température, temperatura, temperatuur
    stated.overall: gesamtresultat, prüfurteil, befund, résultat général, appréciation, statut,
        verdict global, resultado total, resultado final, calificación, evaluación, esito globale,
        esito finale, valutazione, totaalresultaat, eindbeoordeling, gesamtergebnis, gesamturteil,
        ergebnis, bewertung, urteil, résultat global, résultat, bilan, resultado general,
        resultado global, resultado, dictamen, veredicto, eindresultaat, resultaat, uitslag,
        oordeel, beoordeling, esito complessivo, esito, risultato, giudizio, eindoordeel,
        gesamtbewertung, prüfergebnis, conclusion, esito della prova, esito del collaudo,
        esito collaudo, risultato complessivo, risultato globale, conformità
    results.wire_map.screen: schirm, schirmung, blindage, pantalla, scherm, schermo
    link.cable.maker: kabelhersteller, fabricant du câble, fabricante del cable
    link.cable.part: kabelart, leitungstyp, référence du câble, modelo de cable, modello cavo,
        modello del cavo, kabelsoort, kabeltyp, type de câble, tipo de cable, kabeltype,
        tipo di cavo, tipo cavo, modello di cavo
    link.near.place.site: bauvorhaben, gelände, lieu, ubicación, centro, sito, vestiging, terrein,
        standort, baustelle, chantier, emplazamiento, sitio, locatie, sede, objekt, cantiere,
        inmueble, liegenschaft, areal, établissement, campus
    link.near.place.building: haus, immeuble, fabbricato, palazzina, pand, gebäude, bâtiment,
        edificio, gebouw, bauwerk, gebäudeteil, pavillon, pabellón, padiglione, nave,
        bloque, bloc, blok
    link.near.place.floor: ebene, nivel, livello, etage, stockwerk, geschoss, étage, niveau, planta,
        verdieping, piano
    link.near.place.space: verteilerraum, serverraum, zimmer, pièce, bureau, répartiteur,
        habitación, despacho, sala técnica, vano, ufficio, locale tecnico, kamer, recinto,
        dependencia, estancia, aula, oficina, büro, vertrek, zaal, raum, technikraum, salle, local,
        local technique, sala, cuarto, stanza, locale, ruimte, lokaal
    link.near.place.cabinet: baie, coffret, bastidor, schrank, verteilerschrank, armoire, armario,
        armadio, kast
    link.near.place.panel: verteilerfeld, verteilfeld, rangierfeld, feld, panneau, bandeau, paneel,
        pannello, panel de parcheo
    link.near.place.port: buchse, anschluss, puerto, poort, porta
    """
)
EQUIPMENT = lists_of(
    """
    instrument.serial: seriennummer, seriennr, serien nr, serie nr, numéro de série, n de série,
        número de serie, serienummer, numero di serie, matricola, serie, gerätenummer, no de série,
        no de serie, série, serienr, n série, núm de serie, n di serie, n serie, num serie,
        numero matricola, n matricola
    instrument.model: modell, modèle, modelo, modello
    instrument.maker: hersteller, fabricant, fabricante, fabrikant, costruttore
    instrument.calibrated_on: kalibriert am, étalonné le, calibrado el, gekalibreerd op,
        calibrato il
    """
)
