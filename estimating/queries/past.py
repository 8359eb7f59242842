"""What a company's own past schedules say: the sizes that it usually has, and how dense openings stand in its walls."""

from __future__ import annotations

import uuid

from estimating.intake.finishing import Company
from estimating.models import ScheduleRevision
from rates.core.fraction import Fraction

LEAST_PROJECTS = 5  # before there is anything usual
MOST_ROWS = 2_000
NM_OF_UM, NM2_OF_MM2 = 1_000, 10**12


def company_past(*, company: uuid.UUID, project: uuid.UUID, wall_area_nm2: Fraction | None) -> Company:
    """The band and densities of the company's other projects, by the last revision of each that can be costed."""
    rows = (
        ScheduleRevision.objects.of(company)
        .exclude(project_id=project)
        .filter(blocks_costing=0, opening_count__gt=0)
        .order_by("project_id", "-number")
        .values_list("project_id", "smallest_um", "largest_um", "opening_count", "wall_area_mm2")[:MOST_ROWS]
    )
    last: dict[uuid.UUID, tuple[int | None, int | None, int, int | None]] = {}
    for at, smallest, largest, count, area in rows:
        last.setdefault(at, (smallest, largest, count, area))
    sized = [(low, high) for low, high, _, _ in last.values() if low is not None and high is not None]
    band = None
    if len(sized) >= LEAST_PROJECTS:
        low, high = min(low for low, _ in sized), max(high for _, high in sized)
        band = (Fraction(low * NM_OF_UM), Fraction(high * NM_OF_UM))
    densities = tuple(Fraction(count, area * NM2_OF_MM2) for _, _, count, area in last.values() if area)
    return Company(band, wall_area_nm2, densities)
