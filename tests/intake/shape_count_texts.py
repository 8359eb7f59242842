"""English texts about shape and count, written by hand from common practice, no source.

A line is a text, " | ", and the topics that a price must wait for; "?" behind one that must be doubtful.
"""

SHAPE_AND_COUNT = """
levels 2 through 5 | per_floor
L2-L5 | per_floor
times 4 | multiplied
both wings | per_building
12 thus | typical
6 in total | multiplied
3 N / 3 S | multiplied
height to spring, R=18 | arch arch?
R18 | arch?
R18" | arch?
36 in R | arch?
Heights are to springline. | arch
half-rd | half_round_top
1/4 rd | quarter_round
rd. | round?
segmented | segmental_top
eliptical | ellipse
ellipt. | ellipse
tri | triangle
angled | raked
cathedral | raked
raking head | raked
pointed | gothic
rounded corners | polygon
dog-leg | polygon
same on south | elsewhere
repeat on level 3 | elsewhere
also on east | elsewhere
at each stair | per_building
per dwelling | per_building
14 bays alike | per_building
6-pack | ganged
2 on level 1 / 2 on level 2 | partly partly
only 3 of these, see plan | partly
SAME AS APT 101 | same_place
APT 102 - SAME AS 101 | same_place
identical to level 2 | same_place
Building 2 is a mirror image of building 1 | same_place
half round | half_round_top
HALF-ROUND | half_round_top
1/2 round | half_round_top
half round transom | half_round_top
semicircular head | half_round_top
round top | half_round_top
RD TOP | half_round_top
circle top | half_round_top
radius top | half_round_top
arch | arch
ARCHED | arch
arch top | arch
arched head | arch
curved head | arch
elliptical arch | arch
radius head | half_round_top
segmental | segmental_top
segmental arch | segmental_top
EYEBROW | segmental_top
eyebrow window | segmental_top
cambered head | segmental_top
ROUND | round
circular | round
full circle | round
porthole | round
round window | round
bull's eye | round
36" round | round
round or square | round?
round? | round?
OVAL | ellipse
ellipse | ellipse
elliptical | ellipse
octagon | octagon
octagonal | octagon
OCT. | octagon
hexagon | hexagon
triangle | triangle
triangular | triangle
gable end | triangle
trapezoid | trapezoid
TRAP. | trapezoid
trapezoidal transom | trapezoid
raked | raked
raked head | raked
sloped head | raked
angled top | raked
quarter round | quarter_round
1/4 round | quarter_round
gothic | gothic
gothic arch | gothic
lancet | gothic
pointed arch | gothic
diamond | polygon
pentagon | polygon
custom shape | polygon
bay window | bay
bow window | bay
corner window | bay
clipped corners | octagon
not arched? fixed |
PAIR | pair
PR | pair
pr. | pair
PR. DOORS | pair
2 pr | pair
pair of doors | pair
twin | twin
twin window | twin
2 wide | twin
triple | triple
triple window | triple
quad | triple
ganged | ganged
ganged with W4 | ganged
gang of windows | ganged
combination unit | ganged
2 in one opening | ganged
3 units in one R.O. | ganged
group of 3 | ganged
common opening | ganged
mulled | mulled
MULLED 3 WIDE | mulled
3 mulled | mulled
factory mulled | mulled
w/ transom | mulled
with sidelites | mulled
2 over 2 | mulled
TYP | typical
TYP. | typical
typical | typical
TYP x 4 | typical
TYP. OF 8 | typical
4 TYP | typical
(TYP) | typical
typ of 4 | typical
x2 | typical
x 3 | typical
2x | typical
10 thus | typical
4 places | typical
3 locations | typical
several | unconfirmed
varies | typical
all | typical
4 ea. | typical
qty 6 | typical
(2) | bracketed?
(4) windows | multiplied
two windows | multiplied
PER FLOOR | per_floor
4 per floor | per_floor
each floor | per_floor
2/floor | per_floor
typ floors | per_floor
TYP FLOORS 2-5 | per_floor
TYP. FLRS 2-5 | per_floor
(4) FLOORS | per_floor
4 floors | per_floor
all floors | per_floor
upper floors | per_floor
per unit | per_building
2 per apt | per_building
4 buildings thus | per_building
each elevation | per_building
typ. unit | per_building
EACH SIDE | each_side
ea. side | each_side
both sides | each_side
1 each side | each_side
left & right | each_side
both ends | each_side
ditto | ditto
DO. | ditto
" | ditto
-"- | ditto
'' | ditto
same as above | ditto
see above | ditto
same as W2 | same_place
as above | ditto
see W3 | same_place
SIM | similar
SIM. | similar
sim to W3 | similar
similar | similar
OPP | opposite
OPP. HAND | opposite
opposite hand | opposite
mirrored | opposite
reversed | opposite
handed | opposite
2 opp | opposite
3R/2L | hands
2 L, 3 R | hands
2 left and 1 right | hands
4 (2 future) | partly future
1 NEW 2 EXISTING | partly existing
to match W2 | ditto
12 of 16 | partly
verify qty | unconfirmed
qty TBD | unconfirmed
approx. 6 | unconfirmed
2 or 3 | unconfirmed
"""
