"""German, French and Spanish texts about scope, shape and count, from common practice, no source.

A line is a text, " | ", and the topics that a price must wait for; "?" behind one that must be doubtful.
"""

FOREIGN = """
n. i. Auftrag | not_in_contract
Los 3 | not_in_contract
vorh. | existing
Zukunft | future
segunda fase | future
Zulage | alternate
châssis de toit | apart
tapiar | existing_removed
conservar | existing_to_remain
plantas 2 a 5 | per_floor
nicht Bestandteil des Auftrags | not_in_contract
nicht Gewünschtes | not_in_contract?
nur zur Information | not_in_contract
pour information | not_in_contract
no previsto | not_in_contract?
contrata aparte | not_in_contract
bauherrenseitig | by_others
durch Larchmere | by_others?
vom Heizungsbauer | by_others?
par le chauffagiste | by_others?
por la constructora | by_others?
lot serrurerie | by_others
a cargo de la propiedad | by_others
por cuenta de otros | by_others
suministro del cliente | by_others
auch im OG | elsewhere
aussi au RDC | elsewhere
biseauté | raked
nicht abdichten | not_in_contract?
sans étanchéité | not_in_contract?
2 Stk je Wohnung | per_building
nur im EG | exception
uniquement RDC | exception
entfällt | not_in_contract
entf. | not_in_contract
nicht enthalten | not_in_contract
nicht im Auftrag | not_in_contract
nicht beauftragt | not_in_contract
außerhalb des Auftrags | not_in_contract
bauseits | by_others
durch andere | by_others
durch Dritte | by_others
durch Bauherrn | by_others
Fremdgewerk | by_others
bauseits durch Rohbauer | by_others by_others
Leistung Bauherr | by_others
Bestand | existing
Bestandsfenster | existing
vorhanden | existing
bestehend | existing
Bestand bleibt | existing_to_remain
bleibt erhalten | existing_to_remain
kein Bestand | existing?
zugemauert | existing_removed
wird verschlossen | existing_removed
Rückbau | existing_removed
zukünftig | future
spätere Bauphase | future
2. Bauabschnitt | future
gestrichen | deleted
storniert | deleted
nicht gelöscht | deleted?
nicht belegt | not_used
nicht vergeben | not_used
innen | interior
Innentür | interior
Innenfenster | interior
Eventualposition | alternate
Alternativposition 2 | alternate
Bedarfsposition | alternate
Brandschutz | fire_rated
T30-RS | fire_rated
feuerhemmend | fire_rated
EI 90 | fire_rated
noch offen | hold
zu klären | hold
in Klärung | hold
Abbruch | demolition
ersetzen | demolition
versetzt | relocate
Attrappe | spare
Pfosten-Riegel-Fassade | apart
rund | round
Rundfenster | round
Ochsenauge | round
Rundbogen | half_round_top
Rundbogenfenster | half_round_top
halbrund | half_round_top
Segmentbogen | segmental_top
Stichbogen | segmental_top
Korbbogen | arch
Bogenfenster | arch
oval | ellipse
Achteck | octagon
Dreieck | triangle
Dreiecksfenster | triangle
Trapez | trapezoid
Schrägfenster | raked
Spitzbogen | gothic
Sonderform | polygon
Erker | bay
paarweise | pair
gekoppelt | ganged
Fensterband | ganged
mit Oberlicht | mulled
je Geschoss | per_floor
2 je Geschoss | per_floor
Regelgeschoss | per_floor
3 Stk | typical
je Wohnung | per_building
beidseitig | each_side
wie vor | ditto
wie Pos. 3 | ditto
dito | ditto
s.o. | ditto?
ähnlich | similar
spiegelbildlich | opposite
gespiegelt | opposite
hors lot | not_in_contract
HORS MARCHÉ | not_in_contract
non compris | not_in_contract
non prévu | not_in_contract
exclu | not_in_contract
sans objet | not_in_contract
par autres | by_others
par autre lot | by_others
par un autre lot | by_others
à la charge du client | by_others
lot plomberie | by_others
existant | existing
baie existante | existing
existant conservé | existing_to_remain
à conserver | existing_to_remain
à déposer | existing_removed
à reboucher | existing_removed
condamnée | existing_removed
futur | future
tranche 2 | future
supprimé | deleted
annulée | deleted
pas supprimé | deleted?
non utilisé | not_used
intérieure | interior
cloison | interior
variante | alternate
en option | alternate
PSE 2 | alternate
coupe-feu | fire_rated
CF 1h | fire_rated
à définir | hold
en attente | hold
à confirmer | hold
démolition | demolition
à remplacer | demolition
déplacé | relocate
factice | spare
mur-rideau | apart
plein cintre | half_round_top
baie en plein cintre | half_round_top
cintrée | arch
anse de panier | arch
surbaissé | segmental_top
rond | round
œil-de-bœuf | round
hublot | round
ovale | ellipse
octogonal | octagon
triangulaire | triangle
trapèze | trapezoid
rampant | raked
ogive | gothic
jumelées | pair
accouplé | ganged
avec imposte | mulled
par étage | per_floor
étage courant | per_floor
4 par niveau | per_floor
par logement | per_building
des deux côtés | each_side
idem | ditto
idem ci-dessus | ditto
similaire | similar
symétrique | opposite
no incluido | not_in_contract
no incluida | not_in_contract
fuera de contrato | not_in_contract
fuera de alcance | not_in_contract
excluido | not_in_contract
por otros | by_others
por la propiedad | by_others
por otro gremio | by_others
a cargo del propietario | by_others
existente | existing
hueco existente | existing
existente a conservar | existing_to_remain
se mantiene | existing_to_remain
tapiado | existing_removed
a tapiar | existing_removed
futuro | future
fase 2 | future
eliminado | deleted
anulada | deleted
no eliminado | deleted?
sin uso | not_used
interior | interior
puerta interior | interior
alternativa 1 | alternate
opcional | alternate
cortafuegos | fire_rated
RF-60 | fire_rated
por definir | hold
pendiente | hold
a demoler | demolition
a sustituir | demolition
reubicar | relocate
ciega | spare
muro cortina | apart
medio punto | half_round_top
arco de medio punto | half_round_top
arco | arch
en arco | arch
arco rebajado | segmental_top
redonda | round
ojo de buey | round
ovalada | ellipse
octogonal | octagon
triangular | triangle
trapecio | trapezoid
inclinado | raked
arco ojival | gothic
pareja | pair
geminada | pair
conjunto | ganged
por planta | per_floor
planta tipo | per_floor
2 por planta | per_floor
por vivienda | per_building
ambos lados | each_side
ídem | ditto
igual que V2 | ditto
simétrico | opposite
en espejo | opposite
"""
