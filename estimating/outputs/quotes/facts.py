"""What an estimate holds, in words by which a company's texts are picked."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.core.estimate import Estimate
from estimating.core.kinds import BARRIERS, METHODS, OPENING_KINDS
from estimating.core.shapes import Pipe

WHOLE = (
    "perimeter_seal", "sheathing_joints", "allowances", "subcontracts", "set_aside", "alternates", "season_split",
)  # fmt: skip
OF_OPENINGS = ("kind", "method", "access", "substrate", "wall_barrier")
KNOWN = {"kind": OPENING_KINDS, "method": METHODS, "wall_barrier": BARRIERS}  # the others take any name of an edition


def facts_of(estimate: Estimate) -> tuple[str, ...]:
    """Sorted words such as `method:tape`, `kind:door`, `access:lift`, `perimeter_seal`."""
    return tuple(sorted(set(of_openings(estimate)) | set(of_request(estimate))))


def of_openings(estimate: Estimate) -> Iterator[str]:
    """What the priced openings are and how they are reached."""
    for part in estimate.parts:
        for work in part.works.values():
            if work.quantity:
                kind = work.kind
                yield f"kind:{'pipe' if isinstance(kind.shape, Pipe) else kind.kind}"
                yield f"method:{kind.method}"
                yield f"access:{kind.access or 'ground'}"
                yield f"substrate:{kind.substrate or 'not_told'}"
                yield f"wall_barrier:{kind.barrier or 'not_told'}"


def of_request(estimate: Estimate) -> Iterator[str]:
    """What else is part of the job, and what is not."""
    request, lines = estimate.request, estimate.request.schedule.lines
    held = {
        "perimeter_seal": request.seal is not None,
        "sheathing_joints": request.joints is not None,
        "allowances": bool(request.allowances),
        "subcontracts": bool(request.subcontracts),
        "set_aside": any(line.reason is not None for line in lines),
        "alternates": any(line.alternate is not None for line in lines),
        "season_split": len(request.parts) > 1,
    }
    return (name for name in WHOLE if held[name])
