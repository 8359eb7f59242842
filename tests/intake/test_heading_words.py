"""Headings of columns and labels of rows in four languages."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.intake.heading_words import read_heading_words
from estimating.intake.reading import read_file
from estimating.intake.row_labels import read_row_label

SURE = """
Mark = mark; Tag = mark; Window No. = mark; WINDOW MARK = mark; Door # = mark; Item = mark; Opening No. = mark
Mark No. = mark; Pos. = mark; Pos.-Nr. = mark; Fenster-Nr. = mark; Positionsnummer = mark; Rep. = mark
Repère = mark; N° repère = mark; Marca = mark; Código = mark; Clave = mark; Sigla = mark; Qty = quantity
QTY. = quantity; Quantity = quantity; Count = quantity; Total Qty = quantity; No. Req'd = quantity
# of units = quantity; EA = quantity; Stück = quantity; Stk. = quantity; Anz. = quantity; Anzahl = quantity
Menge = quantity; Qté = quantity; Nbre = quantity; Quantité = quantity; Cant. = quantity; Cantidad = quantity
Uds. = quantity; Width = width; W = width; Breite = width; B = width; Larg. = width; Largeur = width
Ancho = width; Width ft = width ft; Width (in) = width in; W (mm) = width mm; Breite (cm) = width cm
Breite in mm = width mm; Largeur (m) = width m; WIDTH [mm] = width mm; R.O. Width = width rough
RO W = width rough; Rough Opening Width = width rough; Rohbaubreite = width; Opening Width (ft-in) = width ft_in
Masonry Opg W = width masonry; M.O. Width = width masonry; MO W = width masonry; Unit W = width frame
Frame Width = width frame; Nominal Width = width nominal; Nom. W = width nominal; DLO Width = width clear
Door Leaf Width = width leaf; Lichte Breite = width; Largeur tableau = width; Ancho hueco (cm) = width cm
Width (R.O.) = width rough; Height = height; H = height; Ht. = height; HGT = height; Höhe = height; Haut. = height
Hauteur = height; Alto = height; Altura = height; Frame Ht = height frame; R.O. Ht. = height rough
Rough opening height [mm] = height rough mm; Höhe (mm) = height mm; M.O. Height = height masonry; Size = size
Dimensions = size; W x H = size; WxH = size; Size (W x H) = size; R.O. (W x H) = size rough
Rough Opening = size rough; R.O. = size rough; R.O. Size = size rough; Masonry Opening = size masonry
Unit Size = size frame; Nominal Size = size nominal; Rohbaumaß B x H = size rough; Rohbaumaße = size rough
B x H = size; L x H = size; Ancho x Alto = size; Width / Height = size; Medidas = size; Maße (B x H) = size
Dimensions L x H = size; Size H x W = size height_first; Höhe x Breite = size height_first; Diameter = diameter
Dia. = diameter; Ø = diameter; Pipe Size = diameter; O.D. = diameter; DN = diameter; Durchmesser = diameter
Diamètre = diameter; Sill Height = sill_height; Sill Ht. = sill_height; Sill Height AFF = sill_height
BRH = sill_height; Brüstungshöhe = sill_height; Allège = sill_height; Antepecho = sill_height
Head Height = head_height; Head Ht = head_height; Sturzhöhe = head_height; Ht. to Spring = springline
Springline = springline; Spring Line Ht. = springline; Kämpferhöhe = springline; Rise = rise; Stichhöhe = rise
Flèche = rise; Flecha = rise; Shape = shape; Head Shape = shape; Forma = shape; Treated Depth = treated_depth
Jamb Depth = treated_depth; Laibungstiefe = treated_depth; Wall Thickness = treated_depth; Level = storey
Floor = storey; Storey = storey; Geschoss = storey; Etage = storey; Étage = storey; Niveau = storey
Planta = storey; Elevation = elevation; Facade = elevation; Fassade = elevation; Ansicht = elevation
Façade = elevation; Fachada = elevation; Building = building; BLDG = building; Gebäude = building
Bâtiment = building; Edificio = building; Apartment = unit; Wohnung = unit; Logement = unit; Vivienda = unit
Room = room; Room No. = room; Raum = room; Pièce = room; Type = type; Window Style = type?; Fenstertyp = type?
Remarks = note; Comments = note; NOTES = note; Description = note; Bemerkungen = note; Remarques = note
Observations = note; Notas = note; Observaciones = note; In scope = scope; NIC = scope; Priced = scope
By others = scope; Existing = scope; New / Existing = scope; Bauseits = scope; Hors lot = scope; Status = status
Zustand = status; État = status; Estado = status; Alternate = alternate; Alt No. = alternate
Base / Alternate = alternate; Eventualposition = alternate; Access = access; Substrate = substrate
Wall Type = substrate; Exterior = external; Interior = external; Height above grade = height_above_grade
Glazing = property; Glass Type = property; Frame Material = property; Finish = property; Hardware Set = property
Fire Rating = property; Verglasung = property; Vitrage = property; Acabado = property; Rev. = revision
Sheet = source; Detail = source; Method = method; North = count_at; South Elevation = count_at; Level 2 = count_at
L2 = count_at; 1.OG = count_at; Nordseite = count_at; EG = count_at; Bldg A = count_at; R+1 = count_at
Planta baja = count_at; 3rd Floor = count_at; Cnt = quantity; Off = quantity; Req'd = quantity; Bid qty = quantity
Quantity of openings = quantity
ROW/ROH = size; R.O.H. = height; An./Al. = size; FO W = width rough; Framed opening height = height rough
Wall opening width = width rough; S.O. Width = width rough; Structural opening = size rough; Bldg. Elev. = elevation
OPENINGS MASONRY W = width masonry; OPENINGS ROUGH H = height rough; Height AFG = height_above_grade
Trade size = property
Wall barrier = wall_barrier; Drawn by = source; Quote = scope
Glass qty = property; Initials = source; Page = property; North Qty = count_at; Qty North = count_at
"""
PERHAPS = """
No. = mark quantity; Nr. = mark quantity; # = mark quantity; Ref. = mark source; Unit = unit mark property
Window = mark type note; Door = mark type note; Opening = mark size note; Baie = mark size; Hueco = mark size
Vano = mark size; Frame = property size; Alt. = alternate height; Location = room elevation storey
Sill = sill_height sill source; Head = head_height source shape; L = width length; N = count_at mark quantity
E = count_at scope; Window Type = type mark; Depth = treated_depth property; Area = property building
Opng. = mark size note; Amount = quantity property; ROW = width property; Bauteil = mark kind; Component = kind property
Product = kind type property; W/D = kind mark; Exterior wall = elevation substrate treated_depth
Where = room elevation storey; Head radius = rise diameter; Per floor = quantity storey; Each unit = quantity unit
"""


def split(text: str) -> list[tuple[str, list[str]]]:
    """The headings of a table with what they mean."""
    parts = [part.partition(" = ") for line in text.strip().splitlines() for part in line.split("; ")]
    return [(heading, says.split()) for heading, _, says in parts if not says.endswith("?")]


@pytest.mark.parametrize(("heading", "says"), split(SURE))
def test_headings_that_are_understood_exactly(heading: str, says: list[str]) -> None:
    for text in (
        heading,
        heading.upper() if "ß" not in heading else heading,
        f" {heading}\u00a0",
        heading.replace(" ", "\n"),
    ):
        said = read_heading_words(text)
        told = [part for part in (said.field, said.basis, said.unit, said.order) if part]
        assert (told, said.sure, said.residue) == (says, True, ""), text


@pytest.mark.parametrize(("heading", "choices"), split(PERHAPS))
def test_headings_that_are_two_way_keep_their_choices(heading: str, choices: list[str]) -> None:
    said = read_heading_words(heading)
    assert (list(said.choices), said.sure) == (choices, False)


@pytest.mark.parametrize(
    ("heading", "part"), [("ft", "feet"), ("Ft.", "feet"), ("in.", "inches"), ("(in)", "inches"), ("inches", "inches")]
)
def test_a_unit_alone_is_part_of_the_heading_beside_it(heading: str, part: str) -> None:
    assert read_heading_words(heading).part == part


@pytest.mark.parametrize(
    ("heading", "field", "residue"),
    [
        ("Width blorp", "width", "blorp"),
        ("Blorp", "", "Blorp"),
        ("Mulled with", "", "Mulled with"),
        ("Lead time", "", "Lead time"),
        ("", "", ""),
    ],
)
def test_a_heading_with_words_left_over_is_not_sure(heading: str, field: str, residue: str) -> None:
    said = read_heading_words(heading)
    assert (said.field, said.residue, said.sure) == (field, residue, False)


@pytest.mark.parametrize(
    "heading",
    ["Typ. of", "Repeats", "Multiplier", "Times", "x", "Bldgs", "Flrs", "# Flrs", "Bldg Qty"],
)
def test_a_heading_of_multipliers_names_no_field(heading: str) -> None:
    said = read_heading_words(heading)
    assert (said.field, said.sure, said.places) == ("count_at", False, ())


def test_places_of_a_heading_are_named() -> None:
    assert read_heading_words("Typical floors 2-4").places == ("Floor 2", "Floor 3", "Floor 4")


@given(st.text(max_size=40))
def test_any_heading_is_read(text: str) -> None:
    said = read_heading_words(text)
    assert not said.sure or (said.field in said.choices and not said.residue)


@pytest.mark.parametrize(
    ("text", "kind", "sure"),
    [
        ("Total", "total", True),
        ("TOTALS", "total", True),
        ("Total:", "total", True),
        ("TOTAL WINDOWS: 45", "total", True),
        ("Summe", "total", True),
        ("Gesamt", "total", True),
        ("Grand Total", "total", True),
        ("Total g\u00e9n\u00e9ral", "total", True),
        ("Totaux", "total", True),
        ("Suma", "total", True),
        ("Subtotal", "subtotal", True),
        ("Sub-total", "subtotal", True),
        ("Zwischensumme", "subtotal", True),
        ("Sous-total", "subtotal", True),
        ("Page total", "subtotal", True),
        ("Carried forward", "carried", True),
        ("c/f", "carried", True),
        ("\u00dcbertrag", "carried", True),
        ("Suma y sigue", "carried", True),
        ("Total north side", "total", False),
        ("NOTES:", "notes", True),
        ("Notes: 1. W3 by others", "notes", True),
        ("General Notes", "notes", True),
        ("Bemerkungen", "notes", True),
        ("Remarques :", "notes", True),
        ("Notas", "notes", True),
        ("LEGEND", "notes", True),
        ("End of schedule", "end", True),
        ("\u2211", "total", True),
        ("Tot.", "total", True),
        ("Brought fwd", "carried", True),
        ("Zw.-Summe", "subtotal", True),
        ("W1", "", False),
        ("Totally fixed", "", False),
        ("", "", False),
        ("12", "", False),
    ],
)
def test_labels_of_rows(text: str, kind: str, sure: bool) -> None:
    label = read_row_label(text)
    assert (label.kind, label.sure) == (kind, sure)


@pytest.mark.parametrize(
    ("heading", "cells"),
    [
        ("Call-out", ("SH-2", "FX-1")),
        ("Callout", ("SH-2", "FX-1")),
        ("CALL OUT", ("SH", "FX")),
        ("Perim (LF)", ("16", "18")),
    ],
)
def test_call_outs_and_perimeters_are_no_question_of_scope_or_size(heading: str, cells: tuple[str, str]) -> None:
    text = "Mark,Kind,Qty,Width,Height,{}\nA,Window,2,36 in,60 in,{}\nB,Window,2,48 in,60 in,{}\n".format(
        heading, *cells
    )
    asked = [one.code for one in read_file(text.encode()).questions if one.severity == "blocks_costing"]
    assert asked == []


def asked(heads: str, *rows: str) -> dict[str, tuple[str, ...]]:
    """The questions before costing of a list, by code, with their cells."""
    text = "\n".join((f"Mark,Kind,Qty,{heads}", *rows))
    return {one.code: one.cells for one in read_file(text.encode()).questions if one.severity == "blocks_costing"}


@pytest.mark.parametrize(
    "heads",
    ["Width,Ht @ Jamb,Ht @ Center", "Width,Ht @ Center,Ht @ Jamb", "Width,Side Ht,Center Ht", "Width,Wall Ht,Height"],
)
def test_a_second_height_is_asked_about_whatever_else_its_heading_may_mean(heads: str) -> None:
    found = asked(heads, "A,Window,2,48 in,60 in,72 in", "B,Window,2,36 in,60 in,60 in")
    assert "columns_of_numbers" in found


@pytest.mark.parametrize("heading", ["SF Each", "SF EA", "SF Total", "Area/ea", "Area per unit", "Cost each"])
def test_areas_of_each_and_of_all_are_no_storefront(heading: str) -> None:
    assert asked(f"Width,Height,{heading}", "A,Window,2,36 in,60 in,15", "B,Window,2,48 in,60 in,20") == {}


@pytest.mark.parametrize("heading", ["UOM", "Unit", "Units", "Dim. units"])
def test_a_column_of_one_unit_says_that_of_bare_numbers(heading: str) -> None:
    rows = "A,Window,2,36,60,{0}", "B,Window,2,48,60,{1}"
    said = [row.format("IN", "in.") for row in rows]
    assert asked(f"Width,Height,{heading}", *said) == {}
    mixed, none = [row.format("in", "mm") for row in rows], [row.format("EA", "EA") for row in rows]
    assert "unit_unknown" in asked(f"Width,Height,{heading}", *mixed)
    assert "unit_unknown" in asked(f"Width,Height,{heading}", *none)


def read_numbers(heads: str, *numbers: int) -> tuple[list[object], list[object], bool]:
    """Marks and counts under headings of which the first is over these numbers; whether its meaning is asked about."""
    rows = (f"{number},{kind},36 in,84 in,1" for number, kind in zip(numbers, "FNGT", strict=False))
    intake = read_file("\n".join((heads, *rows)).encode())
    asked = any(one.code == "columns" and one.severity == "blocks_costing" for one in intake.questions)
    return [line["mark"] for line in intake.lines], [line.get("quantity") for line in intake.lines], asked


@pytest.mark.parametrize("heads", ["No.,Type,Width,Height,Frame Type", "No.,Type,W,H,Panel type", "#,Type,W,H,Oper"])
def test_a_second_heading_of_types_makes_no_counts_of_door_numbers(heads: str) -> None:
    marks, counts, asked = read_numbers(heads, 101, 102, 103)
    assert (marks, asked) == (["101", "102", "103"], True)
    assert not [count for count in counts if isinstance(count, int) and count > 100]


@pytest.mark.parametrize(
    ("numbers", "asks"),
    [((101, 102, 103), True), ((1, 2, 3), True), ((101, 201), True), ((4, 2, 6), False), ((4, 5), False)],
)
def test_numbers_that_run_on_beside_marks_are_asked_about(numbers: tuple[int, ...], asks: bool) -> None:
    assert read_numbers("No.,Mark,Width,Height,Rev", *numbers)[2] is asks


@pytest.mark.parametrize(
    ("numbers", "asks"), [("4 2 3", True), ("12 12 8", True), ("101 102 103", False), ("1 2 3", False)]
)
@pytest.mark.parametrize("heads", ["Key,Number,Width,Height", "Type,Number,Width,Height", "Ref,Width,Height,Number"])
def test_numbers_that_may_be_counts_are_no_marks_in_silence(heads: str, numbers: str, asks: bool) -> None:
    cells = {"Key": "ABC", "Type": "ABC", "Ref": "ABC", "Width": ["36 in"] * 3, "Height": ["60 in"] * 3}
    rows = zip(*({**cells, "Number": numbers.split()}[head] for head in heads.split(",")), strict=True)
    intake = read_file("\n".join((heads, *(",".join(row) for row in rows))).encode())
    assert any(one.code == "columns" and one.severity == "blocks_costing" for one in intake.questions) is asks


@pytest.mark.parametrize("mark", ["Win #", "Window No.", "Mark", "Door No."])
def test_number_beside_marks_is_the_count(mark: str) -> None:
    intake = read_file(f"{mark},Number,W,H\nW1,10,36 in,60 in\nW2,12,48 in,60 in\nW3,8,30 in,54 in\n".encode())
    assert [(line["mark"], line["quantity"]) for line in intake.lines] == [("W1", 10), ("W2", 12), ("W3", 8)]


@pytest.mark.parametrize("heads", ["Head,Jamb,Sill", "HEAD,SILL,JAMB", "Head,Jambs,Sill"])
def test_small_numbers_under_head_jamb_and_sill_are_of_details(heads: str) -> None:
    assert asked(f"Width,Height,{heads}", "A,Window,2,36 in,60 in,1,2,3", "B,Window,2,48 in,60 in,4,5,6") == {}
    assert asked(f"Width,{heads}", "A,Window,2,36 in,1,2,3", "B,Window,2,48 in,4,5,6")
