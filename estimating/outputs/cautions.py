"""The cautions that every output for a crew or a customer carries, in our own words (common practice, no source)."""

from __future__ import annotations

CAUTIONS = (
    "The product data sheet, the local code and the licensed design professional govern; this prices what is drawn "
    "and does not say that an assembly complies.",
    "Working at height: fall protection, guarded openings for people inside, trained operators on lifts and stages.",
    "Primers and fluids: fire, ventilation and respirators as the safety data sheets say; isocyanates can sensitise; "
    "heaters give off carbon monoxide; cutting cement board raises silica dust; mind heat and cold stress.",
    "Surfaces dry, free of frost, above the data sheet's lowest temperature and its margin over the dew point; no rain "
    "inside the drying time.",
    "Fire-rated and movement joints, pan design and vapour control belong to the design professional.",
)
