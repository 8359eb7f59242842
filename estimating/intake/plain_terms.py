"""Words of a cell that change neither scope, shape, count nor method: English, German, French, Spanish.

Common practice, no source. The guards come first: phrases that hold a word of scope, shape or count and still mean
nothing of the kind. Where a reading by a person could go either way, a phrase does not belong here.
"""

GUARDS = {
    "author": """
        checked|drawn|prepared|issued|approved|reviewed|counted|designed|revised by; gezeichnet|geprüft|erstellt von
        dessiné|vérifié|établi par; dibujado|revisado|aprobado por""",
    "counted_parts": """
        how many; all sizes|dimensions|dims|openings|work
        page|sheet|seite|blatt|página|hoja|feuille <n> of|von|sur|de|/ <n>; page|seite <n>
        <n> lite|lites|light|lights|pane|panes|panel|panels|lock|locks|hinges
        <n> hinge|coat|coats|ply|point|track|tracks|leaf|leaves|step|steps
        two|three|four|six|eight panel|panels|lite|lites|light|lights|pane
        two|three|four|six|eight panes|coat|coats|leaf|leaves|track|tracks
        all glass|hardware|frames|around|new|wood|weather|glazing|finishes|trim|aluminum
        same finish|color|colour|material|hardware|glass|manufacturer as? frame?; <n> sidig|scheiben|flügel
        <n> carreaux|vitres; <n> panos|paños""",
    "compound": """
        do not scale|measure; do not scale|measure off? the? drawing|drawings|dwg|dwgs|plan|plans; not to scale
        not for construction; for construction; issued for construction|permit|bid|pricing|review
        by storey|story|floor|level|building|elevation|mark|room
        square edge|edged|corner|corners|stop|stops|feet|foot|ft|meter|metre|meters|profile
        mètre|mètres carré|carrés; metro|metros cuadrado|cuadrados; by pass; bypass; by spec; by type; by hand
        by plan; stand by; standby; vent|soil|waste|exhaust|plumbing|drain|sanitary stack; loading bay; bay <id>
        stock size|color|colour|unit|profile; extra wide|deep|large|tall|heavy; reverse bevel|swing
        fire alarm|riser|line|sprinkler|protection|department|extinguisher
        wind|impact|acoustic|stc|sound|temperature|hurricane|weather rated
        verify w|with mfr|manufacturer|supplier|field; verify height|width|head|sill|clearance
        passage|paso|luz|claro libre; freier durchgang; arch bronze; round column|columns|post|posts
        interior elevation ref; temp glass; <n> sf|sq; area sf; area ( sf ); sf area; free area; net free area
        trade size
        <n> sq ft|feet|m; see|per|re? rfi <id>; credit per; backup wall; back up wall
        existing conditions|condition to be verified; field? verify existing conditions; half of the glass|glazing|sash
        call out|outs; callout|callouts
        at all doors and sidelites|sidelights|windows; total|net|gross sf; ext|extended price; jamb ext
        sf ea|each draft stop|stopping|stop strip
        match old; par le haut|bas|dessus|dessous; par l extérieur; vom boden|gerüst|innen|dach|fußboden
        durch die? wand|decke|boden|mauer|fassade|dach|attika; durch den|das boden|dach|mauer
        por el|la exterior|interior|noche
        same at head|sill|jamb|jambs; fourniture et pose; suministro y colocación; lieferung und einbau
        factory glazed|primed""",
    "matching": """
        match existing|exist|exg|(e)
        to match existing|exist|exg|(e) finish|color|colour|trim|profile|adjacent|windows?; matching existing
        match existing finish|color|colour|trim|profile|sightlines; match adjacent; to match; matches existing
        align with|w|w/ existing; aligned with existing; flush with|w existing
        existing grade|adjacent|brick|masonry|stone|structure
        existing framing|wall|walls|finish|finishes|sheathing|lintel; in existing wall|masonry|brick
        attach to existing; tie into existing; adjacent to existing; wie bestand; an bestand angleichen|angepasst
        comme existant; idem existant; identique à l existant; igual que existente; como existente
        similar to existing finish""",
    "hardware": """
        hold open; holdopen; hold open arm|device|closer; hold opens; magnetic hold open; void filler; filler
        electric strike; elec strike; strike plate; strike side; strike jamb; panic; panic hardware|bar|device|exit
        exit device; closer; closers; lock; lockset; locks; deadbolt; dead bolt; latch; latchset; lever; levers
        hinge; hinges; butt hinges; kick plate; kickplate; stop; door stop|sweep|bottom; sweep
        weatherstrip|weatherstripping; weather strip; gasket|gaskets|gasketing; card reader; keyed; keyway; pull
        pulls; push bar|plate; handle; handles; round handle|knob|pull|bar; knob; mail slot; viewer; peephole
        vision panel|lite; vision lite|light; door lite|light; glass lite; auto|automatic operator; operator; ada
        ada operator; hardware; hardware set|group <id>?; hw; hw set? <id>?; hdw; hdw set? <id>?; hdwr
        hdwr set? <id>?; hs <id>
        beschlag|beschläge|griff|drücker|schloss|zylinder|türschließer|türstopper|panikschloss|bänder
        quincaillerie|poignée|serrure|paumelle|cylindre|gâche; ferme porte
        herraje|herrajes|manilla|cerradura|bisagra|bisagras|cierrapuertas; insect screen; screen; screens
        bug screen; bird screen; fliegengitter; insektenschutz; moustiquaire; mosquitera
        grille|grilles|muntin|muntins|gbg|sdl|tdl|divided lites?; simulated divided lite|lites; sprossen
        petits bois; shade|shades|blinds|shutters|awnings; roller blind|blinds|shade|shades
        rollladen|rolladen|raffstore|jalousie|sonnenschutz; volet|volets|store|stores; volet roulant
        volets roulants; brise soleil; persiana|persianas|toldo; limiter; limiters; opening limiter; restrictor
        fall protection; guard; guardrail; absturzsicherung; garde corps; barandilla""",
    "corners": """
        round|rounded corner|corners bead; corner bead; round bar|stock|rod|washer; round head bolt
        half round molding|moulding|trim|gutter; round molding|moulding|trim
        quarter round trim|molding|moulding|shoe; bullnose; arch bar; diamond plate; hex head|bolt|nut|key
        circle lock; oval knob|head; trap primer; rosette hardware|trim|plate; rake wall; rake board|trim
        round over; eased edge; ring|rings""",
    "architect": """
        see arch; per arch; arch to confirm color|colour|finish; by arch
        arch dwg|dwgs|drawing|drawings|plan|plans|detail|details|elev
        arch elevation|elevations|sheet|sheets|spec|set|note|notes|schedule
        see arch dwg|dwgs|drawing|drawings|plan|plans|detail|details|elev|elevations|sheet|sheets
        per arch dwg|dwgs|drawing|drawings|plan|plans|detail|details; architect; architectural; architects
        architecture; architekt; architecte; arquitecto; arch color|colour|finish|louver; coord w|with arch""",
    "interior_finish": """
        interior trim|finish|finishes|sill|stool|casing
        interior glazed|stop|stops|side|face|color|colour|paint|return|screen; interior air film
        int trim|finish|sill|stool|casing|color|finish; interior and|& exterior trim|finish|color|colour
        int and|&|/ ext trim|finish|color|colour; glazed from interior|inside; interior glazed; inside glazed
        inside glazing; innenseite|innenseitig; fensterbank innen; innen verglast; finition intérieure
        acabado interior; drywall return; drywall returns; gwb return""",
    "double_word": """
        double hung; dbl hung; dh; d h; double glazed|glazing|pane|paned|insulated; dbl glazed|pane
        triple glazed|glazing|pane|paned; double acting|swing|egress|lock|rabbet|casement|slider|action; dbl egress
        dbl acting; double door|doors; dbl door|doors; dbl dr|drs; double dr|drs; double leaf; two leaf; 2 leaf
        single leaf; 1 leaf; single; single hung; sh; single glazed|pane|door|doors|swing|flush; double stud
        double track; double sealed; twin wall; triple seal; triple track
        doppelverglasung|zweifachverglasung|dreifachverglasung|zweischeiben; 2 fach verglast|verglasung
        3 fach verglast|verglasung; zweiflügelig|einflügelig|einflüglig|zweiflüglig; 1 flügelig|flg; 2 flügelig|flg
        doppeltür; double vitrage; triple vitrage; simple vitrage; double battant|ouvrant; simple battant|ouvrant
        <n> vantaux|vantail; deux vantaux; un vantail; <n> hojas|hoja; doble acristalamiento|vidrio|hoja; dos hojas
        una hoja; dobles hojas; doble hoja; vidrio doble; triple vidrio""",
    "typical_detail": """
        typ detail|details|sill|head|jamb|uno; typ u n o; typ unless noted; typical detail|details|sill|head|jamb
        typ unless noted|otherwise otherwise?; typ sill|head|jamb detail; detail typ; typ u n o; uno; u n o
        unless noted|otherwise noted?; unless otherwise noted|indicated; un o; sim detail; detail sim
        similar detail; typ flashing detail; typical flashing detail""",
    "both_faces": """
        caulk|caulked|paint|painted|finish|finished both sides
        glazed|stained|primed|sealant|prefinished|veneer|laminate both sides; both sides painted|finished|caulked
        both sides of frame|glass|door""",
    "negated": """
        non rated; not rated; not fire rated; non fire rated; unrated; nr; n r; no rating; no fire rating
        ohne brandschutz; sans coupe feu; sin resistencia al fuego; not existing; non arched; no arch; not arched
        square head|top; square headed|top; flat head|top; flat headed; not round""",
    "in_scope": """
        in scope; in contract; included; include; incl; in base bid; base bid; base; in bid; priced; by us
        our scope; our work; in our scope; inkl; enthalten; inbegriffen; im auftrag; im lv; inclus; incluse; compris
        comprise; inclus au marché; au marché; incluido; incluida; en alcance; en contrato; new; (n); neu; neue
        neuer; neues; neuf; neuve; nouveau; nouvelle; nuevo; nueva; nuevos; nuevas; exterior; ext; (ext); external
        außen; außenwand; außenfenster; außentür; extérieur; extérieure; exteriores; active; current; approved
        issued; confirmed; verified; ok; okay; yes; final; ifc; ja; oui; sí; freigegeben|genehmigt|bestätigt
        validé|validée|approuvé|bon pour exécution; aprobado|confirmado|vigente; installed new; supply and|& install
        s&i; required; reqd; provide; furnish; furnish and|& install; f&i; standard""",
    "verification": """
        field verify; verify in field; vif; v i f; field measure; fv; verify size|dims|dimensions|opening size?
        verify ro|dims|size|dimension in field; verify rough opening|openings; vor ort prüfen; am bau prüfen
        maße am bau prüfen; örtlich prüfen; maße prüfen; cotes à vérifier sur place|chantier
        à vérifier sur place|chantier; vérifier sur place; verificar en obra; comprobar en obra
        medidas a verificar en obra""",
}
PLAIN = {
    "see_note": """
        note <id>; notes <id>; see|per note|notes|keynote|remark|remarks <id>; keynote <id>
        siehe hinweis|anmerkung <id>; voir note|remarque <id>; ver nota <id>; anm <id>; note n° <id>""",
    "glass": """
        glass; glazing; glazed; igu; ig; low e|e2|e3; lowe; insulated; insulating; insulated glass; tempered; temp
        tempered glass; laminated; lam; laminated glass; obscure; obscured; frosted; tinted; tint; clear
        clear glass; annealed; safety glass|glazing; wire|wired glass; argon; patterned; translucent; fritted; frit
        reflective; glas; verglasung; verglast; esg; vsg; vsg esg; isolierglas; klarglas; milchglas; satiniert
        sicherheitsglas; vitrage; vitré; vitrée; verre; feuilleté|trempé|dépoli|opale; vidrio; acristalamiento
        templado|laminado|translúcido|mate; u value; shgc; vt; stc <n>?; oitc <n>?; r value <n>?; u <n>; uw <n>?
        ug <n>?
        acoustic; schallschutz; schallschutzklasse <n>?; wärmeschutz; acoustique; acústico|acústica; impact
        impact resistant; hurricane; bullet resistant; blast; ballistic; missile impact""",
    "material": """
        aluminum; aluminium; alum; alu; aluminio; wood; clad; wood clad; alum clad; aluminum clad; vinyl; upvc; pvc
        fiberglass; fibreglass; frp; grp; composite frame; hm; h m; hollow metal; hollow core; hc; solid core; sc
        scw; sc wd; wd; fir; oak; maple; birch; pine; mahogany; cedar; holz; eiche; kiefer; fichte; lärche; holz alu
        holz aluminium; kunststoff; kst; stahlzarge; zarge; metall; edelstahl; bois alu; bois aluminium; chêne
        acier; métal; inox; metal; ss; stainless; stainless steel; galv; galvanized; galvanised; bronze
        thermally broken; thermal break; therm broken; thermal; insul; flush; flush panel; panel; paneled; panelled
        flush door; glass door; wood door; metal door; steel door; alum door; aluminum window; vinyl window; storm
        storm door|window; cast iron; ci; copper; cu; cpvc; abs; pex; pe; hdpe; emt; rmc; rigid; gal; stl; stl frame
        plastic""",
    "finish": """
        finish; finishes; painted; paint; pt; ptd; prefinished; anodized; anodised; clear anodized; anod; mill
        mill finish; powder coat; powder coated; pvdf; factory finish; primed finish; stain; stained; color; colour
        colors; ral <n>?; white; black; bronze finish; dark bronze; dk bronze; grey; gray; brown; green; red; blue
        beige; tan; silver; champagne; almond; natural; mirror finish; custom color|colour; weiß; schwarz; grau
        anthrazit; braun; grün; rot; blau; silber; natur; farbe; farblos; lackiert; eloxiert; pulverbeschichtet
        lasiert; beschichtet; blanc; blanche; noir; noire; gris; grise; marron; vert; verte; rouge; bleu; teinte
        couleur; laqué; laquée; thermolaqué; thermolaquée; anodisé; anodisée; peint; peinte; lasuré; blanco; blanca
        negro; negra; marrón; verde; rojo; azul; lacado; lacada; anodizado; pintado; acabado; satin; satin finish
        gloss; matt; matte; us <n> d?""",
    "operation": """
        lift & slide; lift and slide; lift slide; lift off hinges?; lift handle; fixed; fix; operable; oper; op
        casement; csmt; awning; awn; slider; sliding; slide; hung; hopper; hop; tilt
        tilt turn; tilt & turn; tilt and turn; pivot; picture; picture window; swing; swinging; outswing; inswing
        out swing; in swing; swing out|in; swings out|in; rh; lh; rhr; lhr; lhra; rhra; right hand; left hand; right
        left; lh reverse; rh reverse; hinged; bifold; bi fold; folding; folding door; multi slide; pocket; patio
        patio door; french; french door|doors; dutch door; revolving; entrance; entry; egress; egress window
        emergency; exit; jalousie window; louvered; vented; vent; venting; non operable; inoperable; stationary; o
        x o; o x; xo; ox; oxo; xox; oxxo; festverglasung|festverglast|fest|fix
        dreh|kipp|drehkipp|dk|schiebe|schiebetür|hebeschiebe|hst|psk|klapp|schwing|pfosten; dreh kipp
        drehkippfenster|drehflügel|kippfenster|kippflügel|stulp|flügel; links|rechts|anschlag|öffnungsrichtung
        din links|rechts|l|r; fixe; fixes; ouvrant; ouvrants; oscillo battant; ob; battant; battante; coulissant
        coulissante; coulissants; soufflet; à soufflet; basculant; pivotant; à la française; châssis; châssis fixe
        dormant; fijo; fija; abatible; oscilobatiente; corredera; corredero; practicable; basculante; proyectante
        guillotina; batiente; plegable; izquierda|derecha|izq|dcha|dch; gauche; droite; tirant|poussant; droit
        droite tirant; hoja; hojas; entrée; entrada""",
    "kind": """
        window; windows; win; wdw; wdws; wndw; door; doors; dr; drs; louver; louvers; louvre; louvres; lvr; duct
        ducts; ductwork; pipe; pipes; piping; conduit; conduits; sleeve; sleeves; penetration; penetrations; pen
        pens; vent pipe; dryer vent; dryer; exhaust; exhaust fan|vent|louver; intake; intake louver; outside air; oa
        supply; supply air; sa; return air; exhaust air; ea; relief air; gas; gas line|pipe; water; water line|pipe
        domestic water; hose bib|bibb; hose bibb; hb; refrigerant; refrigerant line|lines; line set; lineset
        condensate; drain; downspout; scupper; overflow; sanitary; storm drain; electrical; elec; electric; power
        meter; j box; junction box; light fixture; receptacle; cable; data; telecom; unit; units; opening; openings
        opng; opg; opgs; rough opening|openings; ro; r o; r o s; masonry opening mo; mo; m o; frame; frames; sash
        sashes; lite; lites; transom; mullion; mullions; panels; trim; casing; lintel; lintels; header; shim; shims
        curb; fenster; tür; türen; öffnung; öffnungen; haustür; balkontür; terrassentür; nebeneingangstür
        hauseingang; eingang; eingangstür; kellerfenster; rohr; rohre; leitung; lüftung; lüftungsgitter
        wetterschutzgitter; durchbruch; durchführung; rohrdurchführung; kernbohrung; kb; lamelle|lamellen; fenêtre
        fenêtres; porte; portes; baie; baies; ouverture; ouvertures; porte fenêtre; portes fenêtres; porte d entrée
        linteau; grille de ventilation; ventilation; tuyau; tuyaux; conduite; gaine; fourreau; réservation
        traversée; carottage; ventana; ventanas; puerta; puertas; hueco; huecos; vano; vanos; balconera; balcón
        ventanal; rejilla; rejillas; tubo; tubos; tubería; conducto; pasatubos; pasamuros; dintel; louver blade
        hvac; ac; a/c; ptac; vtac; mech; mechanical; mech louver; plumbing; plumb; sprinkler; fire dept connection
        fdc""",
    "place": """
        r + <n>; <n> st|nd|rd|th floor|floors|flr|flrs|level|fl|street|avenue?; north; south; east; west; front
        rear; back; side; elevation; elev; facade; floor; level; lvl; flr; grade; at grade; street; street side
        alley; courtyard; court; future street|st|ave|avenue|road|rd|lane|blvd; interior court|courtyard; lobby
        stair; stairs; stairwell; stairway; kitchen; kit; bath; bathroom; bed; bedroom; br; living; living room
        dining; dining room; office; conference; classroom; storage; mech room; mechanical room; electrical room
        elec room; garage; basement; attic; penthouse; ph; balcony; terrace; deck; patio side; restroom; toilet
        laundry; utility room; corridor window; hall; hallway; entry door; vestibule; vest; lounge; library; gym
        room; rm; rm <n>; room <n>; unit <id>; apt <id>; suite <id>; nord; süd; ost; west; keller; küche; bad; wc
        flur; treppenhaus; trh; wohnzimmer; wohnen; schlafzimmer; schlafen; büro; kinderzimmer; kind; diele
        eingangsbereich; lager; technik; technikraum; garten; straße; straßenseite; hof; hofseite; gartenseite; sud
        est; ouest; cuisine; salle de bain|bains; salle; chambre; séjour; salon; bureau; escalier; couloir; rue
        cour; jardin; côté rue|cour|jardin; cave; local technique; norte; este; oeste; cocina; baño; dormitorio
        salón; pasillo; calle; oficina; almacén; common; common area; public
        exterior wall|walls|door|doors|window|windows|opening|openings|elevation|side|face; main
        main entry|entrance; alcove; loading dock; dock""",
    "reference": """
        see; see detail|details|dwg|dwgs|drawing|drawings|plan|plans|elev
        see elevation|elevations|spec|specs|sheet|schedule|section|notes|note; per
        per plan|plans|spec|specs|code|detail|drawings|schedule|manufacturer|mfr|mfg; refer to; by code; ref
        reference; detail; details; det; dtl; dwg; dwgs; drawing; drawings; sheet; plan; plans; section; sect
        schedule; spec; specs; specification; notes; nts; furn; leaf; leaves; note; general notes
        refer to elev|elevation|elevations; see general notes; shop drawings; manufacturer; manufacturer s; mfr
        mfr s; mfg; model; model <id>; series; series <n>; type; type <id>; style; style <id>; siehe; s; lt; laut
        gem; gemäß; nach; plan nr; zeichnung; detailplan; siehe detail|plan|zeichnung; typ <id> fenster
        gemäß plan|detail|zeichnung; hersteller; voir; voir détail|plan|plans|coupe|cctp|élévation; selon
        selon plan|plans|détail|cctp; suivant plan|détail; coupe; détail; fabricant; modèle; ver
        ver detalle|plano|planos|alzado; según; según plano|planos|detalle|proyecto; plano; detalle; sección
        fabricante; modelo; submittal; approved equal; or equal; basis of design; bod; nfrc; energy star; astm; aama
        aw; cw <n>; lc; dp <n>; pg <n>; climate zone <n>?""",
    "dimension": """
        qty; quantity; count; shape; remark; remarks; comment; comments; page; sched; schedules; total; floors
        levels; storey; storeys; story; stories; geschoss; etage; stockwerk; niveau; planta; nivel; piso; roof
        ground; building; bldg; buildings; description; legend; springline; spring line; spring point|pt; spring
        springing; rise; head height; hd ht; head ht; sill height; sill ht; diameter; dia; diam; sch <n>
        schedule <n>; wall; walls; wide; thick; thk; thickness; durchmesser; stichhöhe; kämpferhöhe; brüstungshöhe
        sturzhöhe; brh; diamètre; flèche; allège; naissance; diámetro; flecha; antepecho; arranque; fl""",
    "function": """
        the; a; an; and; &; of; with; w; w/; to; at; @; in; on; for; from; is; are; be; as; this; that; each item
        all new; und; u; mit; der; die; das; des; den; dem; ein; eine; einer; für; auf; zu; zum; zur; am; im; et
        avec; le; la; les; un; une; du; de; d; l; en; au; aux; sur; pour; dans; y; con; el; los; las; una; al; para
        por; inc; etc; i e; e g; width; height; wide; high; w x h; h; size; sizes; dim; dims; dimension; dimensions
        nominal; nom; rough; overall; breite; höhe; größe; largeur; hauteur; dimensions; ancho; alto; medidas
        approx size; mark; aff; a f f; above finished floor; above floor; no <id>; nr <id>; n°; top; bottom; middle
        center; centre; centered; ctr; mid; upper; lower; above; below; beside; between; near; tall; small; large
        big; long; short; view; code; compliant; meets code|egress; meets""",
}
