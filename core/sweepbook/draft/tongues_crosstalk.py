"""Sums of crosstalk and ratios of attenuation to crosstalk in some languages: from memory.

No source; as in `tongues`. A stroke with blanks around it stands for one without them, too.
The longest phrase counts, so that a sum is never taken for what it is the sum of.
"""

from sweepbook.word_lists import lists_of

PARAMETERS = lists_of(
    """
    psnext: paradiafonia cumulata, paradiafonia cumulativa, paradiafonia sommata,
        paradiafonia in somma di potenza, paradiafonia somma di potenza,
        somma di potenza paradiafonia, somma di potenza della paradiafonia,
        somma delle paradiafonie, next cumulato, next cumulata, next cumulativo,
        paradiaphonie cumulative, paradiaphonie sommée, paradiafonía acumulada,
        paradiafonía por suma de potencias, paradiafonia acumulada, soma de paradiafonia,
        paradiafonia por soma de potências, next acumulado,
        przesłuch zbliżny sumaryczny, sumaryczny przesłuch zbliżny, przesłuchy zbliżne sumaryczne,
        suma mocy przesłuchów zbliżnych, suma mocy przesłuchu zbliżnego, suma przesłuchu zbliżnego,
        przesłuch zbliżny suma mocy, przesłuch zbliżny suma, next sumaryczny, sumaryczny next
    psfext: telediafonia cumulata, telediafonia cumulativa, telediafonia sommata,
        telediafonia in somma di potenza, telediafonia somma di potenza,
        somma di potenza telediafonia, somma di potenza della telediafonia, fext cumulato,
        fext cumulata, télédiaphonie cumulative, télédiaphonie sommée, telediafonía acumulada,
        telediafonia acumulada, soma de telediafonia, fext acumulado,
        przesłuch zdalny sumaryczny, sumaryczny przesłuch zdalny, przesłuchy zdalne sumaryczne,
        suma przesłuchów zdalnych, suma mocy przesłuchów zdalnych, suma mocy przesłuchu zdalnego,
        fext sumaryczny, sumaryczny fext
    acr_n: rapporto attenuazione / paradiafonia, rapporto attenuazione paradiafonia,
        rapporto tra attenuazione e paradiafonia, rapporto attenuazione / diafonia,
        rapporto attenuazione diafonia, rapporto tra attenuazione e diafonia,
        rapport affaiblissement / paradiaphonie, rapport affaiblissement paradiaphonie,
        rapport affaiblissement / diaphonie, rapport affaiblissement diaphonie,
        relación atenuación / paradiafonía, relación atenuación paradiafonía,
        relación entre atenuación y paradiafonía, relación atenuación / diafonía,
        relación atenuación diafonía, relação atenuação / paradiafonia,
        relação atenuação paradiafonia, relação entre atenuação e paradiafonia,
        relação atenuação / diafonia, relação atenuação diafonia,
        dämpfungs nebensprech verhältnis, dämpfungs nahnebensprech verhältnis,
        dämpfungs übersprech verhältnis, nebensprechabstand, demping overspraak verhouding,
        stosunek tłumienności do przesłuchu zbliżnego, stosunek tłumienności do przesłuchu,
        odstęp tłumienności od przesłuchu zbliżnego
    psacr_n: rapporto attenuazione / paradiafonia cumulato,
        rapporto attenuazione / paradiafonia cumulata,
        rapporto attenuazione paradiafonia cumulato, rapporto attenuazione paradiafonia cumulata,
        rapporto cumulato attenuazione / paradiafonia,
        rapporto cumulato attenuazione paradiafonia,
        rapporto tra attenuazione e paradiafonia cumulata,
        rapporto attenuazione / paradiafonia in somma di potenza,
        rapporto attenuazione / diafonia cumulato, rapporto attenuazione / diafonia cumulata,
        rapporto attenuazione diafonia cumulato, acr cumulato, acr n cumulato,
        rapport affaiblissement / paradiaphonie cumulé,
        rapport affaiblissement / paradiaphonie cumulée,
        rapport affaiblissement paradiaphonie cumulé, acr cumulé, acr n cumulé,
        relación atenuación / paradiafonía acumulada,
        relación atenuación paradiafonía acumulada, relação atenuação / paradiafonia acumulada,
        relação atenuação paradiafonia acumulada, acr acumulado, acr n acumulado,
        acr n sumaryczny, sumaryczny acr n, acr sumaryczny
    acr_f: rapporto attenuazione / telediafonia, rapporto attenuazione telediafonia,
        rapporto tra attenuazione e telediafonia, telediafonia a pari livello,
        telediafonia di pari livello, telediafonia relativa,
        rapport affaiblissement / télédiaphonie, rapport affaiblissement télédiaphonie,
        télédiaphonie à niveau égal, relación atenuación / telediafonía,
        relación atenuación telediafonía, relación entre atenuación y telediafonía,
        telediafonía de igual nivel, relação atenuação / telediafonia,
        relação atenuação telediafonia, relação entre atenuação e telediafonia,
        telediafonia de igual nível, dämpfungs fernnebensprech verhältnis,
        stosunek tłumienności do przesłuchu zdalnego, odstęp tłumienności od przesłuchu zdalnego,
        wyrównany przesłuch zdalny, przesłuch zdalny wyrównany
    psacr_f: rapporto attenuazione / telediafonia cumulato,
        rapporto attenuazione / telediafonia cumulata,
        rapporto attenuazione telediafonia cumulato, rapporto attenuazione telediafonia cumulata,
        rapporto cumulato attenuazione / telediafonia,
        rapporto cumulato attenuazione telediafonia,
        rapporto tra attenuazione e telediafonia cumulata,
        rapporto attenuazione / telediafonia in somma di potenza,
        telediafonia a pari livello cumulata, telediafonia relativa cumulata, acr f cumulato,
        rapport affaiblissement / télédiaphonie cumulé,
        rapport affaiblissement / télédiaphonie cumulée,
        rapport affaiblissement télédiaphonie cumulé, télédiaphonie relative cumulée,
        acr f cumulé, relación atenuación / telediafonía acumulada,
        relación atenuación telediafonía acumulada, relação atenuação / telediafonia acumulada,
        relação atenuação telediafonia acumulada, acr f acumulado,
        acr f sumaryczny, sumaryczny acr f, wyrównany przesłuch zdalny sumaryczny
    """
)
