"""The perimeter seal of an opening: its beads, with the weep gaps left in the sill's."""

from __future__ import annotations

from estimating.core.figures.figure import Step, figure
from estimating.core.figures.printing import LENGTH, RUN
from estimating.core.figures.rules import product, shortfall, total
from estimating.core.kinds import Kind
from estimating.core.worked import Worked
from rates.core.fraction import Fraction


class Sealing(Worked):
    """Bead and rod of one opening."""

    kind: Kind

    @property
    def sealed(self) -> bool:
        """Whether the perimeter seal is done, and there is a bead."""
        return self.request.seal is not None and self.kind.sealed is not False and bool(self.bead)

    @property
    def has_gaps(self) -> bool:
        """Whether the bead has weep gaps: only where a sill is treated."""
        seal = self.request.seal
        if seal is None or not (seal.weep_count and seal.weep_length_nm):
            return False
        return self.kind.shape.has_sill and "sill" in self.kind.sides

    @figure("Weep gaps", LENGTH, when=lambda s: s.sealed and s.has_gaps)
    def weeps(self) -> Step:
        seal = self.request.seal
        return product, "gaps × length of a gap", seal.weep_count, seal.weep_length_nm  # type: ignore[union-attr]

    def around(self) -> Step:
        """Once around, less the weep gaps."""
        if self.has_gaps:
            return shortfall, "perimeter − weep gaps, at least 0", self.perimeter, self.weeps
        return total, "the perimeter; gaps only where a sill is treated", self.perimeter

    @property
    def has_beads(self) -> bool:
        """Whether there is more than one bead."""
        return self.request.seal is not None and self.request.seal.beads > 1

    @figure("Length of one bead", RUN, step="bead.one", label="one bead", when=lambda s: s.sealed and s.has_beads)
    def one_bead(self) -> Step:
        return self.around()

    @figure("Length of the bead", RUN, when=lambda s: s.sealed)
    def bead(self) -> Step:
        if self.has_beads:
            return product, "one bead × beads", self.one_bead, self.request.seal.beads  # type: ignore[union-attr]
        return self.around()

    @property
    def bead_nm(self) -> Fraction:
        """The length of bead and rod, 0 unsealed."""
        return self.bead if self.sealed else Fraction(0)
