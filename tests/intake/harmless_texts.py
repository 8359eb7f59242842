"""Texts of cells that raise no question of scope, shape or count.

Written by hand from common practice, no source.
"""

HARMLESS = """
Prepared by R. Sample
Finish as selected by architect
color selected by owner
quantities by owner
Safety glazing at all doors and sidelites.
Existing conditions to be verified.
Alternate materials must be approved.
Half of the glass is obscure.
Total SF
Ext. price
Jamb ext.
RS
mechanical
screen by manufacturer
screens furnished by mfr
painted by others
glazing by glass supplier
hardware by supplier
exterior trim by carpenter
colour by architect
color by owner
Insektenschutz bauseits
peinture par autres
alternate glazing colour
optional screen
vent free area 2.4 sf
Area (sf)
15 sf
R.O. +1/2" each side
RFI 14
see RFI 14
Warehouse
Drawn by R. Sample
Trade size
backup wall
par le haut
durch die Wand
fourniture et pose
qty was 3
ROUND CORNER BEAD
VOID FILLER
FUTURE STREET elevation
COMMON
match existing
paint to match existing
align w/ existing
EXISTING MASONRY
interior glazed
int. trim: oak
interior finish by code
hold open
HOLD-OPEN DEVICE
see arch dwgs
per arch. details
architectural louver
double hung
DBL HUNG
double glazed
triple glazed
double door
DBL DR
single
single leaf
typ. detail 5/A501
TYP. SILL DETAIL
typ. U.N.O.
caulk both sides
non-rated
not rated
square head
electric strike
strike plate
mirror finish stainless
aluminum
clear anodized aluminum, low-e glass
fixed
casement
awning over fixed
tilt & turn
low-e IGU
tempered glass
laminated
hollow metal
HM frame
wood clad
vinyl
bronze
white, RAL 9010
screens
no screens
egress
ADA operator
panic hardware
hardware set 3
HW 12
closer
LH
RHR
see detail 5/A501
see A501
per spec section 08 51 13
field verify
V.I.F.
verify in field
exterior
included
in scope
base bid
new
(N)
required
kitchen
Lobby 101
stair 2
unit 4B
STC 35
U-0.28
24x18
3'-0" x 6'-8"
4" dia
DN 100
R.O. 36 x 80
sill 3'-0" AFF
springline 5'-0"
head ht 7'-0"
fluid applied
self-adhered tape
sill pan w/ back dam
from inside
5 1/2" return
gypsum sheathing
CMU
scaffold
Drehkipp
Festverglasung
Holz-Alu, RAL 7016
2-flügelig
DIN links
Isolierglas
Küche
siehe Detail 3
Maße am Bau prüfen
außen
Laibung 20 cm
mit Schwelle
von innen
fixe
oscillo-battant
coulissant 2 vantaux
double vitrage
bois alu
cuisine
voir détail 3
à vérifier sur chantier
extérieur
compris
fijo
corredera 2 hojas
oscilobatiente
vidrio templado
doble acristalamiento
cocina
verificar en obra
exterior
incluido
lado del patio
aluminio lacado blanco
vent stack
loading bay
dated Oct 12
as of 10/12/2025
4 lites
6-panel
all glass tempered
same finish as frame
by-pass door
impact rated
fire alarm panel
verify w/ mfr
stock size
paso libre
Qty
Shape
no primer
OKFF +0,90
DBL. EGRESS
Rectangle
square
12 square feet
1. Windows by type
Page 1 of 3
1st Floor
R+1
NOT FOR CONSTRUCTION
checked by T.
ID1
"""
