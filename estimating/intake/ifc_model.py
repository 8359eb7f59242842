"""What a building model (IFC, ISO 16739) says of its windows and doors, as plain values; runs only in a child process.

Numbers stay as the file has them, in the project's unit; what they mean is decided outside.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import ifcopenshell.util.placement as placement
import numpy
from ifcopenshell import entity_instance, file

MOST_ELEMENTS = 50_000  # windows and doors
CLASSES = (("IfcWindow", "window"), ("IfcDoor", "door"))
MARK_NAMES = ("mark", "typemark", "type mark")
SIZE_NAMES = {"width": "width", "height": "height", "overallwidth": "width", "overallheight": "height"}
LEVEL = 0.999  # cosine: an axis this near to the vertical is taken as vertical


def read_model(model: file) -> dict[str, Any]:
    """The model's windows and doors, its unit, and what is reported beside them; their number where it is too large."""
    found = [(element, kind) for name, kind in CLASSES for element in model.by_type(name)]
    if len(found) > MOST_ELEMENTS:
        return {"too_many": len(found), "most": MOST_ELEMENTS}
    elements = [read_element(element, kind) for element, kind in found]
    holes = model.by_type("IfcOpeningElement")
    unfilled = [hole for hole in holes if not hole.HasFillings]
    hosts: dict[str, int] = {}
    for hole in unfilled:
        host = host_of(hole)
        hosts[host.is_a() if host else "none"] = hosts.get(host.is_a() if host else "none", 0) + 1
    walls = model.by_type("IfcCurtainWall")
    return {
        "schema": model.schema,
        "unit": length_unit(model),
        "elements": elements,
        "unfilled_holes": hosts,
        "curtain_walls": [{"id": wall.GlobalId, "name": text(wall.Name)} for wall in walls[:1000]],
        "curtain_wall_count": len(walls),
    }


def text(value: Any) -> str:
    """A text of the model, blank for none."""
    return str(value)[:200] if value is not None else ""


def number(value: Any) -> str | None:
    """A number as the shortest decimal that is it; None for none."""
    return repr(float(value)) if isinstance(value, int | float) and not isinstance(value, bool) else None


def length_unit(model: file) -> dict[str, Any] | None:
    """The project's length unit: its name, its size as a decimal of a metre or millimetre; None where it has none."""
    for project in model.by_type("IfcProject"):
        units = project.UnitsInContext.Units if project.UnitsInContext else ()
        for unit in units:
            if unit.is_a("IfcNamedUnit") and unit.UnitType == "LENGTHUNIT":
                return named_unit(unit)
    return None


def named_unit(unit: entity_instance) -> dict[str, Any]:
    """One unit of length."""
    if unit.is_a("IfcSIUnit"):
        return {"name": "METRE", "prefix": unit.Prefix, "factor": "1"}
    if unit.is_a("IfcConversionBasedUnit"):
        measure = unit.ConversionFactor
        base = measure.UnitComponent
        return {
            "name": text(unit.Name),
            "prefix": base.Prefix if base.is_a("IfcSIUnit") else "?",
            "factor": number(measure.ValueComponent.wrappedValue),
        }
    return {"name": text(getattr(unit, "Name", "")), "prefix": "?", "factor": None}


def read_element(element: entity_instance, kind: str) -> dict[str, Any]:
    """One window or door."""
    properties, quantities = properties_of(element)
    hole = hole_of(element)
    host = host_of(hole) if hole else None
    storey = storey_of(element) or (storey_of(host) if host else None)
    return {
        "id": element.GlobalId,
        "kind": kind,
        "name": text(element.Name),
        "tag": text(element.Tag),
        "type": type_name(element),
        "mark": next((text(properties[name]) for name in MARK_NAMES if text(properties.get(name))), ""),
        "width": number(element.OverallWidth),
        "height": number(element.OverallHeight),
        "quantity_width": number(quantities.get("width")),
        "quantity_height": number(quantities.get("height")),
        "hole": hole_size(hole) if hole and (element.OverallWidth is None or element.OverallHeight is None) else None,
        "fills_hole": hole is not None,
        "storey": text(storey.Name or storey.LongName) if storey else None,
        "storey_elevation": number(storey.Elevation) if storey else None,
        "external": external(properties.get("isexternal")),
        "skylight": is_skylight(element, host),
        "curtain_wall": part_of_curtain_wall(element),
        "host": {"class": host.is_a(), "type": type_name(host), "depth": depth_of(host)} if host else None,
    }


def external(value: Any) -> bool | None:
    """True, False, or None for unknown: absent, UNKNOWN, or no truth value."""
    return value if isinstance(value, bool) else None


def each_definition(element: entity_instance) -> Iterator[entity_instance]:
    """The property and quantity sets of a thing: its type's first, its own after them."""
    kind = type_of(element)
    yield from (kind.HasPropertySets or ()) if kind else ()
    for relation in element.IsDefinedBy:
        if relation.is_a("IfcRelDefinesByProperties"):
            definition = relation.RelatingPropertyDefinition
            yield from definition if isinstance(definition, tuple) else (definition,)


def properties_of(element: entity_instance) -> tuple[dict[str, Any], dict[str, Any]]:
    """Single-valued properties and length quantities by lower-case name, whatever their sets are called."""
    properties: dict[str, Any] = {}
    quantities: dict[str, Any] = {}
    for definition in each_definition(element):
        if definition.is_a("IfcPropertySet"):
            for single in definition.HasProperties or ():
                if single.is_a("IfcPropertySingleValue") and single.NominalValue is not None:
                    properties[text(single.Name).lower()] = single.NominalValue.wrappedValue
        elif definition.is_a("IfcElementQuantity"):
            for quantity in definition.Quantities or ():
                name = SIZE_NAMES.get(text(quantity.Name).lower())
                if name and quantity.is_a("IfcQuantityLength"):
                    quantities[name] = quantity.LengthValue
    return properties, quantities


def type_of(element: entity_instance) -> entity_instance | None:
    """The type of a thing, in the old and the new schema."""
    for relation in (*getattr(element, "IsTypedBy", ()), *element.IsDefinedBy):
        if relation.is_a("IfcRelDefinesByType"):
            kind: entity_instance = relation.RelatingType
            return kind
    return None


def type_name(element: entity_instance) -> str:
    """The name of a thing's type, or what it says of its type itself."""
    kind = type_of(element)
    return text(kind.Name if kind and kind.Name else element.ObjectType)


def hole_of(element: entity_instance) -> entity_instance | None:
    """The hole that a window or door fills."""
    return next((relation.RelatingOpeningElement for relation in element.FillsVoids), None)


def host_of(hole: entity_instance) -> entity_instance | None:
    """What a hole is cut in."""
    relations = hole.VoidsElements
    relations = relations if isinstance(relations, tuple) else (relations,)
    return next((relation.RelatingBuildingElement for relation in relations if relation), None)


def parent_of(element: entity_instance) -> entity_instance | None:
    """What a thing is a part of."""
    return next((relation.RelatingObject for relation in element.Decomposes), None)


def storey_of(element: entity_instance) -> entity_instance | None:
    """The storey that a thing, or what it is part of, stands on."""
    for _ in range(20):
        container = next((r.RelatingStructure for r in getattr(element, "ContainedInStructure", ())), None)
        above = container or parent_of(element)
        if above is None or above.is_a("IfcBuildingStorey"):
            return above
        element = above
    return None


def is_skylight(element: entity_instance, host: entity_instance | None) -> bool:
    """Whether a window lies in a roof or slab, or says that it is a skylight."""
    said = text(getattr(element, "PredefinedType", "")).upper() == "SKYLIGHT"
    return said or bool(host and (host.is_a("IfcRoof") or host.is_a("IfcSlab")))


def part_of_curtain_wall(element: entity_instance) -> bool:
    """Whether a window or door is part of a curtain wall."""
    above = parent_of(element)
    for _ in range(20):
        if above is None:
            return False
        if above.is_a("IfcCurtainWall"):
            return True
        above = parent_of(above)
    return False


def depth_of(host: entity_instance) -> str | None:
    """The thickness of a host's material layers, of its own or its type's; None where none are given."""
    for thing in (host, type_of(host)):
        for relation in getattr(thing, "HasAssociations", ()) if thing else ():
            if relation.is_a("IfcRelAssociatesMaterial"):
                layers = relation.RelatingMaterial
                if layers.is_a("IfcMaterialLayerSetUsage"):
                    layers = layers.ForLayerSet
                if layers.is_a("IfcMaterialLayerSet"):
                    return number(sum(layer.LayerThickness for layer in layers.MaterialLayers))
    return None


def hole_size(hole: entity_instance) -> dict[str, str | None] | None:
    """Width and height of a hole that is one extruded profile: height is its extent along the vertical."""
    shape = hole.Representation
    items = [item for r in (shape.Representations if shape else ()) for item in r.Items]
    bodies = [item for item in items if item.is_a("IfcExtrudedAreaSolid")]
    if len(bodies) != 1:
        return None
    extent = profile_extent(bodies[0].SweptArea)
    if extent is None:
        return None
    body = bodies[0]
    local = placement.get_axis2placement(body.Position) if body.Position else numpy.eye(4)
    world = placement.get_local_placement(hole.ObjectPlacement) @ local
    along = numpy.array(body.ExtrudedDirection.DirectionRatios, dtype=float)
    vertical = [abs(world[2][0]), abs(world[2][1]), abs((world[:3, :3] @ (along / numpy.linalg.norm(along)))[2])]
    up = max(range(3), key=lambda axis: vertical[axis])
    if vertical[up] < LEVEL:
        return None
    if up == 2:  # extruded upwards: of the two sides on plan the shorter is the wall's depth
        return {"width": number(max(extent)), "height": number(body.Depth)}
    return {"width": number(extent[1 - up]), "height": number(extent[up])}


def profile_extent(profile: entity_instance) -> tuple[float, float] | None:
    """The extent of a profile along its own axes."""
    if profile.is_a("IfcRectangleProfileDef"):
        turned = profile.Position is not None and profile.Position.RefDirection is not None
        ratios = profile.Position.RefDirection.DirectionRatios if turned else (1.0, 0.0)
        if abs(ratios[0]) >= LEVEL:
            return profile.XDim, profile.YDim
        return (profile.YDim, profile.XDim) if abs(ratios[1]) >= LEVEL else None
    if profile.is_a("IfcArbitraryClosedProfileDef") and profile.OuterCurve.is_a("IfcPolyline"):
        points = [point.Coordinates for point in profile.OuterCurve.Points]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return max(xs) - min(xs), max(ys) - min(ys)
    return None
