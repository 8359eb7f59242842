"""Words of a cell about how an opening is sealed and what makes it slower: English, German, French, Spanish.

Common practice, no source. They belong to fields of a line (method, sill, treated depth, access, substrate) and are
heard so that the reader can put them there or ask.
"""

METHOD = {
    "method": """
        tape; taped; tapes; flashing tape; self adhered|adhesive; self adhered flashing|membrane|tape; peel & stick
        peel and stick; saf; sa flashing; membrane; membrane flashing; sheet membrane; fluid applied; fluid; liquid
        liquid applied; liquid flashing|membrane; fluid applied flashing|membrane; fa flashing; lf; mesh
        reinforced mesh; reinforcing mesh; with mesh; flash; flashing; flashed; sub flashing; through wall flashing
        twf; flexible flashing; sheet metal flashing; metal flashing; head|sill|jamb flashing; primer; prime; primed
        backer rod; sealant; caulk; caulking; caulked; perimeter sealant|caulk; seal; sealed; drip; drip edge|cap
        weep; weeps; band|klebeband|dichtband|dichtungsband|folie
        anschlussfolie|flüssigkunststoff|flüssigabdichtung|abdichtung|abdichten; flüssig
        vorkomprimiertes dichtband?; kompriband; fugendichtband; dichtstoff|silikon|fuge; bande
        bande adhésive|d étanchéité; étanchéité; membrane d étanchéité?; étanchéité liquide; sel; mastic; joint
        compribande; calfeutrement; fond de joint; cinta; cinta adhesiva|autoadhesiva; membrana; membrana líquida
        impermeabilización; sellado; sellador; sellante; lámina; imprimación; sellar; wrb; air barrier; ab
        vapour|vapor barrier; luftdicht; pare air|pluie|vapeur; barrera de aire|vapor""",
    "sill": """
        sill pan; sill pans; pan; pan flashing; sloped sill; sloping sill; flat sill; threshold; back dam; end dam
        end dams; sill turn up; stool sill; sill; sills; sill only; head only; jambs only; jamb; jambs; head
        no sill; no head; no jamb|jambs; without sill; stone|precast|concrete|wood|metal|aluminum|aluminium sill
        door sill; flush sill|threshold; schwelle|fensterbank|sohlbank|brüstung; ohne schwelle|brüstung; seuil
        appui; bavette; sans seuil; umbral; alféizar|vierteaguas; sin umbral""",
    "treated_depth": """
        treated depth; return; returns; <n> return; depth; deep; wall depth; wall thickness; jamb depth; reveal
        reveals; deep reveal|return; recessed; inset; laibung|leibung|laibungstiefe|tiefe|wandstärke|wanddicke
        tableau; tableaux; profondeur; épaisseur; épaisseur de mur; retour|retours; ébrasement
        profundidad|espesor|mocheta|jamba|jambas; retorno""",
    "substrate": """
        gypsum sheathing; gyp sheathing; exterior gypsum; sheathing; plywood; ply; osb; cmu; block; blockwork
        concrete; conc; concrete block; cement board; cmu wall|opening; brick; brick veneer|opening; masonry
        masonry opening|wall; steel; steel stud|studs|frame; wood framing|stud|studs|framed|buck; buck; bucks
        wood buck; metal stud|studs; precast; stucco; eifs; siding; stone
        beton|mauerwerk|ziegel|kalksandstein|porenbeton|holzständer|holzrahmen|stahl|klinker
        béton|parpaing|parpaings|brique|maçonnerie|bois|ossature; ossature bois
        hormigón|ladrillo|bloque|fábrica|madera|acero""",
    "access": """
        ladder; step ladder; stepladder; scaffold; scaffolding; lift; boom|scissor lift; boom; swing stage
        swingstage; from lift|ladder|scaffold; gerüst|leiter|hubsteiger|arbeitsbühne; échafaudage|échelle|nacelle
        andamio|escalera|plataforma; from ground; ground access; high work; at height; above roof; hoist
        rope access; difficult access; limited access; access limited; schwer zugänglich; accès difficile
        acceso difícil""",
    "from_inside": """
        from inside; from interior; inside access; install from inside; worked from inside|floor; from floor
        from within; von innen; par l intérieur; de l intérieur; desde dentro|interior; desde el interior
        por dentro""",
    "factor": """
        night; night work; after hours; weekend; overtime; ot; occupied; congested; rework; winter; cold weather
        hot weather; phased; premium time; sequence <id>; nachtarbeit; wochenende; travail de nuit; turno de noche""",
}
