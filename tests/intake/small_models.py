"""Building models made for the tests as text (ISO 10303-21), all content invented: a wall, a storey, a few openings."""

from __future__ import annotations

from dataclasses import dataclass

UNITS = {
    "m": "#11=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);",
    "mm": "#11=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);",
    "ft": "#12=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n#13=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);\n"
    "#14=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.3048),#12);\n#11=IFCCONVERSIONBASEDUNIT(#13,.LENGTHUNIT.,'FOOT',#14);",
}


@dataclass(frozen=True)
class Opening:
    """One window or door of a small model; lengths as they stand in the file."""

    kind: str = "WINDOW"
    width: str = "$"
    height: str = "$"
    tag: str = "1001"
    mark: str = ""
    external: str = ""  # .T., .F., .U. or blank: no property
    set_name: str = "'Pset_WindowCommon'"
    hole: tuple[str, str] | None = ("0.9", "1.2")  # width and height; None: fills no hole
    host: str = "wall"  # wall, roof, furniture, curtain_wall
    on_storey: bool = True
    quantities: tuple[str, str] | None = None
    empty_hole: bool = False  # the hole only, nothing in it


def model(openings: list[Opening], unit: str = "m", schema: str = "IFC2X3", storey: str = "'Level 1'") -> bytes:
    """The model's text."""
    lines = [
        "ISO-10303-21;", "HEADER;", "FILE_DESCRIPTION((''),'2;1');", "FILE_NAME('','',(''),(''),'','','');",
        f"FILE_SCHEMA(('{schema}'));", "ENDSEC;", "DATA;", "#1=IFCPERSON($,'',$,$,$,$,$,$);",
        "#2=IFCORGANIZATION($,'',$,$,$);", "#3=IFCPERSONANDORGANIZATION(#1,#2,$);",
        "#4=IFCAPPLICATION(#2,'','','');", "#5=IFCOWNERHISTORY(#3,#4,$,.NOCHANGE.,$,$,$,0);",
        "#6=IFCCARTESIANPOINT((0.,0.,0.));", "#7=IFCAXIS2PLACEMENT3D(#6,$,$);", "#8=IFCLOCALPLACEMENT($,#7);",
        "#9=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,#7,$);",
        UNITS.get(unit, ""), f"#15=IFCUNITASSIGNMENT(({'#11' if unit in UNITS else '#16'}));",
        "" if unit in UNITS else "#16=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);",
        f"#20=IFCPROJECT('{guid(20)}',#5,'Invented',$,$,$,$,(#9),#15);",
        f"#21=IFCBUILDINGSTOREY('{guid(21)}',#5,{storey},$,$,#8,$,$,.ELEMENT.,0.);",
        f"#22=IFCWALL('{guid(22)}',#5,'Wall',$,'Invented wall',#8,$,$);",
        f"#23=IFCROOF('{guid(23)}',#5,'Roof',$,$,#8,$,$,.FLAT_ROOF.);",
        f"#24=IFCFURNISHINGELEMENT('{guid(24)}',#5,'Table',$,$,#8,$,$);",
        f"#25=IFCCURTAINWALL('{guid(25)}',#5,'Glass front',$,$,#8,$,$);",
        "#26=IFCMATERIAL('Brick');", "#27=IFCMATERIALLAYER(#26,0.3,$);", "#28=IFCMATERIALLAYERSET((#27),$);",
        f"#29=IFCRELASSOCIATESMATERIAL('{guid(29)}',#5,$,$,(#22),#28);",
    ]  # fmt: skip
    for number, opening in enumerate(openings):
        lines += element(opening, 100 + 40 * number)
    return "\n".join([*filter(None, lines), "ENDSEC;", "END-ISO-10303-21;", ""]).encode()


def guid(number: int) -> str:
    """A global id of 22 characters."""
    return f"0Invented{number:013}"


def element(o: Opening, n: int) -> list[str]:
    """The lines of one opening, ids from n."""
    name = f"'{o.kind.title()}'"
    lines = []
    if not o.empty_hole:
        lines.append(f"#{n}=IFC{o.kind}('{guid(n)}',#5,{name},$,$,#8,$,'{o.tag}',{o.height},{o.width});")
    if o.on_storey and not o.empty_hole:
        lines.append(f"#{n + 1}=IFCRELCONTAINEDINSPATIALSTRUCTURE('{guid(n + 1)}',#5,$,$,(#{n}),#21);")
    if o.external:
        lines.append(f"#{n + 2}=IFCPROPERTYSINGLEVALUE('IsExternal',$,{truth(o.external)},$);")
        lines.append(f"#{n + 3}=IFCPROPERTYSET('{guid(n + 3)}',#5,{o.set_name},$,(#{n + 2}));")
        lines.append(f"#{n + 4}=IFCRELDEFINESBYPROPERTIES('{guid(n + 4)}',#5,$,$,(#{n}),#{n + 3});")
    if o.mark:
        lines.append(f"#{n + 5}=IFCPROPERTYSINGLEVALUE('Mark',$,IFCTEXT('{o.mark}'),$);")
        lines.append(f"#{n + 6}=IFCPROPERTYSET('{guid(n + 6)}',#5,'Invented set',$,(#{n + 5}));")
        lines.append(f"#{n + 7}=IFCRELDEFINESBYPROPERTIES('{guid(n + 7)}',#5,$,$,(#{n}),#{n + 6});")
    if o.quantities:
        lines.append(f"#{n + 8}=IFCQUANTITYLENGTH('Width',$,$,{o.quantities[0]});")
        lines.append(f"#{n + 9}=IFCQUANTITYLENGTH('Height',$,$,{o.quantities[1]});")
        lines.append(f"#{n + 10}=IFCELEMENTQUANTITY('{guid(n + 10)}',#5,'BaseQuantities',$,$,(#{n + 8},#{n + 9}));")
        lines.append(f"#{n + 11}=IFCRELDEFINESBYPROPERTIES('{guid(n + 11)}',#5,$,$,(#{n}),#{n + 10});")
    if o.host == "curtain_wall":
        lines.append(f"#{n + 12}=IFCRELAGGREGATES('{guid(n + 12)}',#5,$,$,#25,(#{n}));")
    return lines + (hole(o, n) if o.hole else [])


def truth(word: str) -> str:
    """An IsExternal value: true, false or unknown."""
    return "IFCLOGICAL(.U.)" if word == ".U." else f"IFCBOOLEAN({word})"


def hole(o: Opening, n: int) -> list[str]:
    """A hole through the wall: its profile stands upright, extruded along the wall's depth."""
    assert o.hole is not None
    host = {"wall": 22, "roof": 23, "furniture": 24}[o.host]
    fills = [f"#{n + 31}=IFCRELFILLSELEMENT('{guid(n + 31)}',#5,$,$,#{n + 29},#{n});"] if not o.empty_hole else []
    return [
        f"#{n + 20}=IFCCARTESIANPOINT((0.,0.));",
        f"#{n + 21}=IFCAXIS2PLACEMENT2D(#{n + 20},$);",
        f"#{n + 22}=IFCRECTANGLEPROFILEDEF(.AREA.,$,#{n + 21},{o.hole[1]},{o.hole[0]});",
        f"#{n + 23}=IFCDIRECTION((0.,1.,0.));",
        f"#{n + 24}=IFCDIRECTION((0.,0.,1.));",
        f"#{n + 25}=IFCAXIS2PLACEMENT3D(#6,#{n + 23},#{n + 24});",
        f"#{n + 26}=IFCEXTRUDEDAREASOLID(#{n + 22},#{n + 25},#{n + 24},0.3);",
        f"#{n + 27}=IFCSHAPEREPRESENTATION(#9,'Body','SweptSolid',(#{n + 26}));",
        f"#{n + 28}=IFCPRODUCTDEFINITIONSHAPE($,$,(#{n + 27}));",
        f"#{n + 29}=IFCOPENINGELEMENT('{guid(n + 29)}',#5,'Hole',$,$,#8,#{n + 28},$);",
        f"#{n + 30}=IFCRELVOIDSELEMENT('{guid(n + 30)}',#5,$,$,#{host},#{n + 29});",
        *fills,
    ]
