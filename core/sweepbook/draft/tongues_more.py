"""Words of the trade in Portuguese, Polish, Czech, Danish, Norwegian and Swedish: from memory.

No source; as in `tongues`. A letter with a stroke, such as the Polish l, is a letter of its own.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: perda de inserção, perdas de inserção, perda por inserção, atenuação,
        tłumienność wtrąceniowa, straty wtrąceniowe, tłumienność, tłumienie, vložný útlum,
        vložená ztráta, útlum vložením, útlum, indskudsdæmpning, dæmpning, indsætningstab,
        innskuddsdempning, demping, dempning, inkopplingsdämpning, genomgångsdämpning,
        insättningsdämpning, dämpning, indsætningsdæmpning, indsættelsestab, indsættelsesdæmpning,
        indskudstab, innsettingstap, innskuddstap, insättningsförlust, perdas por inserção,
        atenuação de inserção,
        tłumienie wtrąceniowe, tłumienność wtrącenia, strata wtrąceniowa, straty wtrącenia
    return_loss: perda de retorno, perdas de retorno, perda por retorno, tłumienność odbicia,
        tłumienność odbiciowa, straty odbiciowe, straty odbicia, útlum odrazu, zpětný odraz,
        returtab, returdæmpning, refleksionsdæmpning, refleksionstab, returtap,
        refleksjonsdempning, refleksjonstap, returdämpning,
        returförlust, reflektionsdämpning, perdas por retorno, perda por reflexão,
        perdas por reflexão,
        strata odbiciowa, strata odbicia, straty odbić, tłumienność odbić, tłumienie odbicia,
        tłumienie odbiciowe
    next: przesłuch zbliżny, przesłuch bliski, přeslech na blízkém konci, blízký přeslech,
        přeslech blízký, nærkrydstale, nærende krydstale, nærkrysstale, krysstale nær,
        närkorskoppling, överhörning nära, näröverhörning, närändsöverhörning, närändesöverhörning,
        nærendekrydstale, nærendekrysstale, närände överhörning, diafonia próxima,
        diafonia na extremidade próxima,
        przesłuchy zbliżne, tłumienność przesłuchu zbliżnego, przesłuch na bliskim końcu,
        przesłuch na końcu bliskim, tłumienność przesłuchowa zbliżna
    psnext: suma przesłuchów zbliżnych, effektsum nærkrydstale, summa näröverhörning
    fext: przesłuch zdalny, przesłuch daleki, přeslech na vzdáleném konci, vzdálený přeslech,
        přeslech vzdálený, fjernkrydstale, fjernende krydstale, fjernkrysstale, krysstale fjern,
        fjärrkorskoppling, fjärröverhörning, fjärrändsöverhörning, fjärrändesöverhörning,
        fjernendekrydstale, fjernendekrysstale, telediafonia,
        diafonia distante, diafonia na extremidade distante,
        przesłuchy zdalne, tłumienność przesłuchu zdalnego, przesłuch na dalekim końcu,
        przesłuch na końcu dalekim, przesłuch odległy, tłumienność przesłuchowa zdalna
    propagation_delay: atraso de propagação, tempo de propagação, atraso, opóźnienie propagacji,
        opóźnienie, zpoždění šíření, zpoždění, udbredelsesforsinkelse, udbredelsestid, løbetid,
        forsinkelse, utbredelsesforsinkelse, löptid, utbredningsfördröjning, fördröjning,
        utbredningstid, gångtid, czas propagacji, tempo de atraso,
        opóźnienie sygnału, czas opóźnienia
    delay_skew: diferença de atraso, diferença de tempo de propagação, diferença de propagação,
        różnica opóźnień, rozdíl zpoždění, forsinkelsesforskel,
        løbetidsforskel, forsinkelsesforskjell, löptidsskillnad, skillnad i löptid,
        fördröjningsskillnad, gångtidsskillnad, desvio de atraso, rozrzut opóźnień,
        diferença de atrasos, diferença entre atrasos, desvio de propagação, dif de atraso,
        dif atrasos, variação de atraso, assimetria de atraso, distorção de atraso,
        różnica opóźnienia, różnice opóźnień, różnica opóźnień propagacji, rozrzut opóźnienia,
        różnica czasów propagacji, różnica czasu propagacji, zróżnicowanie opóźnień
    length: comprimento, comprimento do cabo, długość, długość kabla, délka, længde, kabellængde,
        lengde, längd, kabellängd, compr, compr cabo,
        długość toru, długość łącza, długość linii, długość przewodu
    dc_loop_resistance: resistência de malha, resistência do laço, resistência, rezystancja pętli,
        rezystancja, odpor smyčky, odpor, sløjfemodstand, modstand, sløyfemotstand, motstand,
        slingresistans, loopresistans, resistans, resistência de laço, resistência do lacete,
        loopmodstand, resistência de loop, resistência cc, resistência em corrente contínua,
        resistência do loop, resist malha, resist de laço, resist,
        rezystancja pętli dc, rezystancja pętli prądu stałego, rezystancja stałoprądowa pętli,
        rezystancja stałoprądowa, oporność pętli, opór pętli
    wire_map: mapa de fios, mapa de cablagem, mapa połączeń, mapa żył, mapa zapojení, trådkort,
        ledningskart, ledningskort, ledningsføring, trådføring, kopplingsschema, ledarkarta,
        trådkarta, ledningskarta, ledarprov, ledarschema, mapa de ligações, mapa de condutores,
        esquema de ligações, schemat połączeń, układ żył, mapa przewodów, schéma zapojení,
        mapa vodičů, mapa žil, lederkort, ledningsdiagram, koblingsskjema, koblingskart,
        ledningsoversikt
    dc_resistance_unbalance_within_pair: niezrównoważenie rezystancji, asymetria rezystancji,
        niesymetria rezystancji
    coupling_attenuation: tłumienność sprzężenia
    """
)

ENDS = pairs_of(
    """
    extremidade próxima / extremidade distante, próximo / distante, próxima / distante,
    bliski koniec / daleki koniec, jednostka główna / jednostka zdalna,
    jednostki głównej / jednostki zdalnej, bliższy / dalszy, bliższym / dalszym,
    bliższego / dalszego, bliski / daleki, bliski / zdalny, lokalny / zdalny, koniec a / koniec b,
    strona a / strona b, blízký / vzdálený, blízká / vzdálená, místní / vzdálený,
    strana a / strana b, konec a / konec b, nærende / fjernende, hovedenhed / fjernenhed,
    närände / fjärrände, huvudenhet / fjärrenhet, huvudenhetens / fjärrenhetens,
    hovedenhedens / fjernenhedens, nær / fjern, lokal / fjern, när / fjärr, nära / fjärran,
    nära / bortre, lokal / fjärr, hovedenhet / fjernenhet, ände a / ände b, sida a / sida b
    """
)

OPPOSITES = pairs_of(
    """
    aprovado / reprovado, pozytywny / negatywny, vyhověl / nevyhověl, vyhovuje / nevyhovuje,
    godkendt / ikke godkendt, bestået / ikke bestået, godkjent / ikke godkjent, godkänd / underkänd,
    godkänt / underkänt, passou / falhou, passa / falha, zaliczony / niezaliczony,
    spełnia / nie spełnia, correto / incorreto, correta / incorreta, poprawny / niepoprawny,
    prawidłowy / nieprawidłowy
    """
)

COLOURS = lists_of(
    """
    1-2: laranja, pomarańczowa, pomarańczowy, oranžová, oranžový
    3-6: zielona, zielony, zelená, zelený, grøn, grønn, grön
    4-5: niebieska, niebieski, modrá, modrý, blå
    7-8: castanho, marrom, brązowa, brązowy, hnědá, hnědý
    """
)

WORDS = lists_of(
    """
    margin: margem, margines, zapas, rezerva, margen, marginal, pior margem, margem mínima,
        najgorszy margines, dårligste margen, mindste margen, sämsta marginal, minsta marginal
    limit: limity, wartość graniczna, grænse, grænseværdi, grense, grenseverdi, gräns, gränsvärde,
        granica, mez, hranice
    worst: dårligste, najgorsza, pior, najgorszy, nejhorší, værste, verste, sämsta
    verdict key: resultado, parecer, wynik, ocena, výsledek, hodnocení, resultat, bedømmelse,
        vurdering, bedömning, omdöme, veredito
    frequency: frequência, frequências, częstotliwość, częstotliwości, kmitočet, kmitočty,
        frekvence, frekvens, frekvenser, frekv, częst
    unit: unidade, jednostka, jednotka, enhed, enhet
    value: medido, valor medido, wartość, zmierzone, hodnota, værdi, verdi, värde, måleværdi,
        måleverdi, mätvärde
    test: teste, ensaio, cabo, pomiar, łącze, kabel, měření, linka, måling, forbindelse, mätning,
        länk
    disturbing: forstyrrende par, störande par, para zakłócająca, perturbador, zakłócająca,
        zakłócający, rušící, forstyrrende, støyende, störande
    disturbed: perturbado, zakłócana, zakłócany, rušený, forstyrret, forstyrra, störd,
        forstyrret par, stört par, para zakłócana
    from: fra, från, od
    to: para, til, till, do
    firmware: versão do firmware, versão de firmware, oprogramowanie układowe,
        oprogramowanie sprzętowe, oprogramowanie wewnętrzne, wersja firmware, wersja firmware'u,
        verze firmwaru, verze firmware, firmwareversion, fastvare, fastvareversjon, firmwareversjon,
        fast programvara, inbyggd programvara, apparatsoftware, instrumentsoftware,
        instrumentprogramvara
    software: versão do software, versão de software, versão do programa, oprogramowanie,
        wersja oprogramowania, wersja programu, verze softwaru, verze software, programové vybavení,
        verze programu, softwareversion, programmel, programversion, programvare,
        programvareversjon, softwareversjon, programvara, programvaruversion, mjukvara,
        mjukvaruversion
    """
)

KEYS = lists_of(
    """
    link.label: identificador, identificação da ligação, identyfikator, identyfikator łącza,
        strækning, strekning, sträcka,
        gniazdo, identifikátor, zásuvka, nome do cabo, identificação do cabo, etiqueta do cabo,
        cabo, tomada, oznaczenie łącza, oznaczenie kabla, nazwa kabla, nazwa łącza, oznaczenie,
        etykieta, ligação, etiqueta, mærkning, märkning, łącze, označení kabelu, název kabelu,
        označení, linka, kabelnavn, kabel id, forbindelse, udtag, uttak, kabelnamn, länk, uttag,
        circuito, kabelmärkning, länknamn, identyfikator kabla, numer kabla, oznaczenie toru,
        oznaczenie linku, oznaczenie połączenia, numer łącza, designação da ligação,
        código da ligação, nome da ligação, označení linky, označení spoje, název linky,
        číslo linky, linkbetegnelse, forbindelsesnavn, linknavn, koblingsnavn, linkmerking,
        kabelmerking, merking, länkbeteckning, länkmärkning, beteckning
    test.limit: limite, norma, limit, limit testu, norma pomiaru, wartości graniczne,
        limite de teste, requisito, wymaganie, wartość graniczna, požadavek, norma de ensaio, krav,
        grænseværdi, grenseverdi, gränsvärde, padrão, gräns, testgräns, grænse, testgrænse,
        wymagania
    test.started: czas, data i czas, data testu, godzina pomiaru, data e hora, data do ensaio,
        data do teste, hora, data i godzina, data pomiaru, godzina, datum a čas, datum měření, čas,
        tidspunkt, medido em, início, czas pomiaru, zmierzono, målt den, tidpunkt, mätt,
        dato og tid, måledato, dato, tid, klokkeslæt, datum och tid, mätdatum, mättid, uppmätt, målt
    test.operator: wykonawca, mierzył, osoba wykonująca, técnico, operador, executante,
        pomiary wykonał, provedl, zkoušel, testet af, testad av, kontrollør, realizado por,
        executor, responsável pelo ensaio, wykonujący, mierzący, pomiar wykonał, obsluha,
        provádějící, vykonal, udfører, udførende, utfører, utførende, utført av, installatør,
        utförare, provare, kontrollant, wykonał, technik, měřil, tekniker, målt af, målt av,
        mätt av, montør, montör, operatør, operatör, utförd av, pomiarowiec, medido por,
        testado por, executado por, mättekniker, utfört av, installatör, måletekniker, udført af,
        responsável, responsável técnico, técnico responsável, responsável pelo teste,
        responsável pela medição, responsável pelas medições, odpowiedzialny, osoba odpowiedzialna,
        odpovědná osoba, odpovědný, ansvarlig, ansvarlig tekniker, ansvarig, ansvarig tekniker
    test.ambient_c: teplota, temperatur
    stated.overall: wynik końcowy, wynik testu, resultado final, situação, resultado geral,
        wynik ogólny, wynik, ocena, celkový výsledek, výsledek, samlet resultat, resultat,
        bedømmelse, samlet vurdering, bedömning, vurdering, omdöme, slutresultat, veredito,
        totalresultat, konklusion, samlet
    results.wire_map.screen: blindagem, ekran, stínění, skærm, skjerm, skärm
    link.cable.maker: fabricante do cabo, producent kabla, výrobce kabelu
    link.cable.part: tipo de cabo, typ kabla, typ kabelu, kabeltyp
    link.near.place.site: local da obra, local, budowa, obra, obiekt, lokalizacja, stavba,
        byggeplads, sted, anlegg, anläggning, plats, místo, místo stavby, lokalita, areál
    link.near.place.building: edifício, budynek, budova, bygning, byggnad, prédio, pavilhão,
        galpão, hus, bloco, blok
    link.near.place.space: serwerownia, sala, gabinete, divisão, compartimento, kancelář, kontor,
        værelse, pokój, pomieszczenie, místnost, rum, rom, lokale
    link.near.place.floor: kondygnacja, poziom, piso, andar, pavimento, piętro, patro, podlaží,
        etasje, våning
    """
)
EQUIPMENT = lists_of(
    """
    instrument.serial: numer seryjny, nr seryjny, výrobní číslo, sériové číslo, serienummer,
        número de série, n de série, nº de série, série, num de série, núm série, núm de série,
        numer fabryczny, nr fabryczny, målernummer, måler nr, instrumentnummer, apparatnummer
    instrument.maker: producent, výrobce, fabrikant, tillverkare
    """
)
