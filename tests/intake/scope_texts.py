"""English texts about scope, and all texts in which something must be heard; from common practice, no source.

A line is a text, " | ", and the topics that a price must wait for; "?" behind one that must be doubtful.
"""

from tests.intake.foreign_texts import FOREIGN
from tests.intake.shape_count_texts import SHAPE_AND_COUNT

SCOPE = """
OOS | not_in_contract
O.O.S. | not_in_contract
n.i.b. | not_in_contract
another bid package | not_in_contract
no scope | not_in_contract
caulk only | not_in_contract?
glazier | by_others
CW contractor | by_others
masonry contractor | by_others
GC to do | by_others
LL work | by_others
owner's contractor | by_others
Div. 23 | by_others?
deferred | future
value engineering | alternate
UP-3 | alternate
boarded | existing_removed
board over | existing_removed
fill in | existing_removed
pre-installed | existing
factory flashed | by_others
EXCLUSIONS | not_in_contract
Exclusions: | not_in_contract
---- reference only ---- | not_in_contract
items below for reference only, not priced | not_in_contract not_in_contract
For information only | not_in_contract
WINDOW SCHEDULE - FOR REFERENCE ONLY | not_in_contract
ignore | not_in_contract
exempt | not_in_contract
n/c | not_in_contract?
not Larchmered | not_in_contract?
Courtyard windows (tenant scope) | by_others
Level 3 (shell only - fit-out by tenant) | future by_others
TI work | by_others
per tenant | by_others?
flashed in shop | by_others
prefabricated, flashed in shop | by_others
shop installed | by_others
by glazing sub | by_others
frames and glazing by others | by_others
by owner: screens | by_others
inside vestibule | interior
Interior glazing | interior?
Roof hatches & skylights | apart apart
phase II | future
walled in | existing_removed
bricked | existing_removed
vacated | existing_removed
Optional extras | alternate
credit | alternate
optional window | alternate
alternate 2 glazing | alternate
DRAFT | deleted?
Copy of Sheet1 | deleted?
Old | deleted?
checked by T. NIC | not_in_contract
NIC | not_in_contract
N.I.C. | not_in_contract
n.i.c | not_in_contract
(NIC) | not_in_contract
NOT IN CONTRACT | not_in_contract
Not in scope | not_in_contract
NOT IN THIS CONTRACT | not_in_contract
not part of contract | not_in_contract
out of scope | not_in_contract
Excluded | not_in_contract
excl. | not_in_contract
not included | not_in_contract
No bid | not_in_contract
DO NOT PRICE | not_in_contract
under separate contract | not_in_contract
omit | not_in_contract
4 NIC | partly not_in_contract
temporary opening | temporary
not sealed | not_in_contract?
no sealant | not_in_contract?
do not seal | not_in_contract
MECH. CONTRACTOR | by_others
only at Level 2 | exception
TYP. EA. FLOOR | per_floor
knock-out panel | future?
unscheduled | allowance
owner furnishes seals | by_others
NIC - by owner | by_others
by others | by_others
BY OTHERS. | by_others
BY OWNER | by_others
by mech | by_others
BY MECH. | by_others
by mechanical contractor | by_others
BY DIV 23 | by_others
by GC | by_others
W/ GC | by_others
w/GC | by_others
by tenant | by_others
by other trades | by_others
F.B.O. | by_others
FBO | by_others
OFCI | by_others
OFOI | by_others
owner furnished, contractor installed | by_others
furnished by others | by_others
sleeve by plumber | by_others
louver by HVAC sub | by_others
see mech dwgs | by_others?
by Larchmere Bros. | by_others?
in mechanical scope | by_others
part of curtain wall | by_others
E.T.R. | existing_to_remain
ETR | existing_to_remain
(E) to remain | existing_to_remain
EXISTING TO REMAIN | existing_to_remain
exist. to remain | existing_to_remain
existing - to remain | existing_to_remain
retain | existing_to_remain
leave as is | existing_to_remain
EXISTING | existing
EXIST. | existing
exg | existing
(E) | existing
(E) window | existing
existing opening | existing
already flashed | existing
EX. | existing?
new window in existing opening | existing?
PAINT EXISTING | existing?
existing? | existing?
no existing | existing?
remove existing | existing_removed
Existing to be removed | existing_removed
infill | existing_removed
bricked up | existing_removed
to be infilled | existing_removed
abandoned in place? | existing_removed?
FUTURE | future
fut. | future
future phase | future
for future tenant | future
phase 2 | future
(F) | future
DELETED | deleted
delete | deleted
deleted per Add. 2 | deleted
cancelled | deleted
DEL | deleted?
W3 DEL | deleted?
struck | deleted
not deleted | deleted?
isn't deleted? | deleted?
NOT USED | not_used
unused | not_used
number not used | not_used
VOID | void
void? | void?
interior | interior
INT. | interior
interior opening | interior
interior window | interior
borrowed lite | interior
relite | interior
int. partition | interior
ALT | alternate
ALT #1 | alternate
ALT. 2 (DEDUCT) | alternate
ALTERNATE NO. 3 | alternate
ADD ALT | alternate
ADD ALT 1 | alternate
add alternate A | alternate
deduct alternate #2 | alternate
Alternate | alternate
optional | alternate
Option B | alternate
deduct | alternate
unit price | alternate
allowance | allowance
allow 6 | allowance
provisional | allowance
assumed | allowance
fire rated | fire_rated
FIRE-RATED | fire_rated
90 MIN | fire_rated
90 min. label | fire_rated
1 hr | fire_rated
1-HR RATED | fire_rated
rated | fire_rated
C label | fire_rated
FRR 45 | fire_rated
fsd | fire_rated
HOLD | hold
ON HOLD | hold
TBD | hold
T.B.D. | hold
size to be confirmed | hold
pending RFI 12 | hold
to be determined | hold
confirm w/ architect | hold
if required | hold
DEMO | demolition
demo & replace | demolition
remove and replace | demolition
to be demolished | demolition
replace in kind | demolition
relocate | relocate
relocated | relocate
(R) | relocate
moved to W7 | relocate
salvage and reinstall | relocate
spare | spare
attic stock | spare
mock-up | spare
spandrel | spare
blanked off | spare
N/A | not_applicable
storefront | apart
curtain wall | apart
CURTAINWALL | apart
skylight | apart
roof hatch | apart
overhead door | apart
except Level 3 | exception
all but north; sauf nord | typical exception
"""


def rows() -> list[tuple[str, tuple[str, ...]]]:
    """The texts with the topics that must be heard."""
    lines = (SCOPE + SHAPE_AND_COUNT + FOREIGN).split("\n")
    split = (line.rpartition(" |") for line in lines if line.strip())
    return [(text, tuple(topics.split())) for text, _, topics in split]
