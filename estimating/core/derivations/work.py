"""One kind of opening, or the sheathing joints, as the derivations of pieces, use and minutes see them alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.core.cuts import Cut, cuts
from estimating.core.derivations.nodes import Input
from estimating.core.derivations.printing import LENGTH, TEXT, Unit, Value
from estimating.core.derivations.scope import PartScope
from estimating.core.labour import Minutes
from estimating.core.shapes import Run
from estimating.core.strips import Stock, StockChoice
from estimating.core.takeoff import Use, lap_nm
from rates.core.fraction import Fraction
from rates.core.rows import MaterialRow


@dataclass(frozen=True)
class Work:
    """`name`: first words of its figures; `length`, `area`: its figures of perimeter (or length) and treated area."""

    scope: PartScope
    name: str
    method: str | None
    length: str
    area: str
    length_nm: Fraction
    area_nm2: Fraction
    runs: tuple[Run, ...]
    cuts: tuple[Cut, ...]
    choice: StockChoice | None
    primer: MaterialRow | None
    use: Use
    minutes: Minutes
    touch_minutes: Fraction
    access: str

    @property
    def stocks(self) -> Sequence[Stock]:
        """The mesh or tape rows that it may be cut from."""
        supplies = self.scope.supplies
        return supplies.tapes if self.method == "tape" else supplies.meshes

    @property
    def lap_nm(self) -> Fraction:
        """The lap between strips of its stock."""
        return lap_nm(self.method, self.scope.card.production)

    @property
    def lap_field(self) -> str:
        """The field of that lap in the table's geometry."""
        return "tape_lap" if self.method == "tape" else "mesh_lap"

    def geometry(self, name: str, field: str, nm: Fraction, term: int | None = None) -> Input:
        """A length of the production table's piece geometry."""
        return self.scope.production(name, f"geometry/{field}", nm, LENGTH, term)

    def access_input(self) -> Input:
        """The access as the line or the joints say it."""
        if self.name == "joints":
            return self.scope.asked("access", "/sheathing_joints/access", self.access, TEXT)
        return line_input(self.scope, int(self.name.split(".")[1]), "access", "access", self.access, TEXT)


def line_input(
    scope: PartScope, kind: int, name: str, field: str, value: Value, unit: Unit, term: int | None = None
) -> Input:
    """A value that all lines of a kind agree in, pointed at in the first of them."""
    return scope.lined(scope.worked[kind][0], name, field, value, unit, term)


def kind_work(scope: PartScope, kind: int) -> Work:
    """A kind of opening as worked in the part; KeyError where it is not."""
    work = scope.part.works[kind]
    takeoff, name = work.takeoff, f"kind.{kind}"
    return Work(
        scope=scope,
        name=name,
        method=work.kind.method,
        length=f"{name}.perimeter",
        area=f"{name}.treated_area",
        length_nm=takeoff.measure.perimeter_nm,
        area_nm2=takeoff.treated_area_nm2,
        runs=takeoff.measure.runs,
        cuts=cuts(work.kind, takeoff.measure, scope.card.production.geometry),
        choice=takeoff.choice,
        primer=takeoff.primer,
        use=takeoff.use,
        minutes=work.minutes,
        touch_minutes=work.touch_minutes_each,
        access=work.kind.access or "ground",
    )


def joint_work(scope: PartScope) -> Work:
    """The sheathing joints as worked in the part; KeyError where it does none."""
    joints, row = scope.part.joints, scope.card.production.sheathing_joint
    if joints is None or row is None:
        raise KeyError("joints")
    takeoff = joints.takeoff
    return Work(
        scope=scope,
        name="joints",
        method=takeoff.method,
        length="joints.length",
        area="joints.treated_area",
        length_nm=takeoff.length_nm,
        area_nm2=takeoff.treated_area_nm2,
        runs=(Run("joint", takeoff.length_nm, 1),),
        cuts=(Cut("joint", takeoff.length_nm, row.width_nm, 1),),
        choice=takeoff.choice,
        primer=takeoff.primer,
        use=takeoff.use,
        minutes=joints.minutes,
        touch_minutes=joints.touch_minutes,
        access=joints.access,
    )


def works(scope: PartScope) -> list[Work]:
    """Every work of the part: kinds in order, then the joints."""
    found = [kind_work(scope, kind) for kind in scope.part.works]
    return [*found, joint_work(scope)] if scope.part.joints is not None else found
