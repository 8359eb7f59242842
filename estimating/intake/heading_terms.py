"""The words of column headings and the field that each means: English, German, French, Spanish, some Italian and Dutch.

Common practice, no source. A phrase under several fields is
two-way: the heading is asked about with these as choices (heading_choices has most of them).
"""

FIELDS = {
    "mark": """
        mark; tag; no; number; symbol; symb; sym; item; item no|number; id; ident; designation; mk
        window|door|opening|louver|unit mark|tag|no|number|id|symbol; mark no|number; mark|tag no; key; ref; ref no
        reference; reference no; equipment tag; #; window #; door #; opening #; dr no; wdw no; opng no
        win no; wndw no; win|wdw|wndw|dr|opng mark|tag|number|#|id
        schedule mark|ref; code; unit no; pos; pos nr|no; position; positionsnummer; positionsnr; nr; nummer
        fenster nr|nummer|pos|position; tür nr|nummer; element; elementnr; element nr; bauteil; bauteil nr; kennung
        kennzeichen; bezeichnung; kurzzeichen; kurzbezeichnung; lfd nr; ordnungszahl; oz; fe nr; tnr; öffnung nr
        fensternummer; türnummer; rep; repère; repere; rep n°; repère n°; n° repère; n°; numéro; num; réf; référence
        désignation; code; n° d ordre; menuiserie n°; n° menuiserie; marca; clave; código; cód; codigo; ref
        referencia; nº; n °; número; núm; denominación; designación; identificación; etiqueta; posición; pos; tag
        posizione; sigla; codice; merk; nummer""",
    "quantity": """
        qty; quantity; count; cnt; off; req d; reqd; bid qty|quantity; qty off; how often; nos; ea; each; pcs; pieces
        total qty|quantity|count; no of; no off; number of
        qty total; no of units|openings|windows|doors; number of units|openings|windows|doors; no req|reqd|required
        qty req|reqd|required|ea|each; total no; how many; qnty; qnt; quan; quant; count ea; total ea
        total units|openings; openings total; num of; nr of; # of; # of units|openings|windows|doors; # req|reqd
        q ty; units total; stück; stk; st; stückzahl; stzahl; anzahl; anz; menge; stück gesamt
        anzahl gesamt|stück|fenster|türen; gesamtanzahl; gesamtstückzahl; mge; qté; qte; quantité; quantités; nb
        nbre; nombre; nombre total; nb total|total; qté totale; quantité totale; nombre d unités; nb u; nbr; cant
        cantidad; uds; ud; unidades; nº uds|unidades; número de unidades; cantidad total; cdad; ctd
        total unidades|uds; u; quantità; aantal""",
    "width": """
        row; an; width; w; wide; wd; wdth; opening width|w; w width; width w; overall width
        width ft in; opng w|width; opg w|width; width of opening; size w|width; horiz; horizontal
        opening size w|width; breite; br; b; breite b; öffnungsbreite; lichte breite; rohbaubreite; fensterbreite
        türbreite; elementbreite; rb breite; larg; largeur; l; larg l; largeur l; largeur baie|tableau
        larg baie|tableau; ancho; anch; anchura; ancho a; ancho hueco|libre|vano; a; larghezza; breedte""",
    "height": """
        roh; height; h; ht; hgt; high; hght; height h; h height; opening height|h|ht; overall height|ht
        opng h|ht|height; opg h|ht|height; height of opening; size h|height; vert; vertical; tall
        opening size h|height; höhe; h höhe; höhe h; öffnungshöhe; lichte höhe; rohbauhöhe; fensterhöhe; türhöhe
        elementhöhe; hö; haut; hauteur; ht h; haut h; hauteur h; hauteur baie|tableau; haut baie|tableau; alto
        altura; alt; alto h; altura hueco|libre|vano; alto hueco|vano; altezza; hoogte""",
    "size": """
        row / roh; an / al; size; sizes; dimensions; dimension; dims; dim; w x h; wxh; b x h; bxh; l x h; lxh; a x h
        h x w; hxw; h x b
        h x l; width x height; width / height; w / h; width by height; height x width; opening size
        opening dimensions|dims|dim; opng size; opg size; size w x h; size width x height; dimensions w x h
        nominal size code; size code; call size; callout size; call out; size of opening; openings size
        measurements; meas; ro; r o; maße; maß; abmessung; abmessungen; größe; maße b x h; maß b x h; breite x höhe
        b / h; breite / höhe; öffnungsmaß; öffnungsmaße; öffnungsgröße; fenstergröße; lichtmaß; abmaße; abm
        dimensions l x h; dim l x h; largeur x hauteur; l x ht; larg x haut; dimensions baie; taille; format; cotes
        cote; mesures; medidas; medida; dimensiones; tamaño; dim a x h; ancho x alto; anchoxalto; medidas hueco
        dimensioni; afmeting; afmetingen""",
    "diameter": """
        diameter; dia; diam; ø; od; o d; outside diameter|dia; pipe size|dia|diameter; pipe od; nps
        nominal pipe size; nominal size pipe; sleeve od|o d; dn; hole size|dia|diameter; sleeve size|dia|diameter
        core size|dia
        penetration size; durchmesser; dm; rohrdurchmesser; nennweite; bohrdurchmesser; diamètre; ø ext; dn tube
        diámetro; diam ext; radius; diametro; diametre""",
    "kind": """
        kind; category; opening kind|type; type of opening; opening category; discipline; penetration type; art
        bauteilart; öffnungsart; elementart; nature; type d ouverture; type de baie; catégorie; clase
        component; genre; object; use; function; w / d; d / w; elemento; clase de hueco
        tipo de hueco|vano|abertura; categoría; class""",
    "type": """
        type; type mark; window|door|louver|unit type; wdw type; type no|code|id; style; style no; model
        series; typ; fenstertyp; türtyp; bauart; elementtyp; type de fenêtre|porte|menuiserie|châssis; modèle; tipo
        tipo de ventana|puerta|carpintería; modelo; operation; oper; op; operation type; configuration; config
        öffnungsart fenster; ouvrant; ouverture; sens d ouverture; apertura; sistema de apertura; panel type
        unit style""",
    "storey": """
        storey; story; level; floor; lvl; flr; fl; storeys; floors; levels; level / floor; floor / level
        storey / level; floor no; level no; at level; on floor; geschoss; geschoß; etage; stockwerk; stock; ebene
        gesch; étage; niveau; niv; étages; niveaux; planta; nivel; piso; niv planta; piano; verdieping""",
    "elevation": """
        elevation; elev; facade; face; side; orientation; exposure; direction; elevation name; facing; wall
        wall face; building|bldg face|side|elevation|elev; exterior wall; wall elevation|elev; elev side
        which elevation; elev ref; ansicht; fassade; himmelsrichtung
        ausrichtung; seite; orient; façade; orientation façade; exposition; côté; alzado; fachada; orientación; lado
        facciata; gevel""",
    "building": """
        building; bldg; block; tower; wing; house; bldg no; building no|name; gebäude; haus; bauteil gebäude
        bâtiment; bât; bat; edificio; bloque; torre; portal; area; zone; sector
        bereich; abschnitt; secteur; zona; plot""",
    "phase": """
        phase; phase no; construction phase; bauphase; bauabschnitt; tranche; phase de travaux; fase; fase de obra""",
    "unit": """
        apartment; apt; unit name|type name; dwelling; suite; apt no; apartment no; wohnung; we; whg; wohneinheit
        logement; appartement; appt; lot logement; vivienda; apartamento; unit id; house no|type""",
    "room": """
        room; room no|number|name; location; loc; room location; space; from room; to room; where; place; raum
        raumnr; raum nr; raumnummer; raumname; zimmer; ort; lage; einbauort; pièce; local; emplacement; localisation
        lieu; implantation; estancia; local; ubicación; situación; habitación; recinto; localización""",
    "wall_barrier": "wall barrier; air barrier; weather barrier; wrb; water resistive barrier",
    "access": """
        access; access method|by|equipment; means of access; zugang; gerüst; accès; moyen d accès; acceso
        medio de acceso; reach""",
    "substrate": """
        substrate; sheathing; wall type|construction|material; exterior wall type; wall assembly; backup; back up
        backup wall; untergrund; wandaufbau; wandart; wand; mauerwerk; support; paroi; type de mur; mur; soporte
        muro; tipo de muro; cerramiento""",
    "external": """
        external; exterior; is external; i / e; e / i; ext / int; int / ext; exterior / interior; interior / exterior
        isexternal
        ext or int; int or ext; außen; außen / innen; innen / außen; außenbauteil; extérieur; ext int; int ext
        intérieur / extérieur; interior; int""",
    "treated_depth": """
        treated depth; return depth; return; depth; reveal; reveal depth; wall depth; wall thickness; jamb depth
        wall thk; jamb width; throat; laibung; laibungstiefe; leibung; leibungstiefe; tiefe; wandstärke; wanddicke
        mauerstärke; profondeur; prof; tableau; épaisseur mur; épaisseur de mur; ép mur; ébrasement; profundidad
        espesor muro; espesor de muro; mocheta; jamba; depth of return""",
    "height_above_grade": """
        height above grade; above grade; height aff grade; elevation above grade; hag; height over grade
        height off ground; working height; höhe über gelände; höhe über gok; arbeitshöhe; hauteur sol
        hauteur par rapport au sol; altura sobre rasante; altura sobre suelo
        height afg; afg; above finish|finished grade""",
    "sill_height": """
        sill height; sill ht; sill hgt; sill aff; sill elev|elevation; sill h; sill height aff; ht to sill
        height to sill; aff; sill above floor; bottom of opening; bott of opening; brüstung; brüstungshöhe; brh
        br höhe; brüst; brüstungsh; allège; hauteur allège|d allège; ht allège; haut allège; antepecho
        altura antepecho; alféizar; altura alféizar""",
    "head_height": """
        head height; head ht; head hgt; hd ht; hd height; head aff; head elev|elevation; head h; head height aff
        ht to head; height to head; top of opening; t o opening; sturzhöhe; oberkante; ok sturz; uk sturz
        hauteur linteau|sous linteau; ht linteau; altura dintel; dintel""",
    "springline": """
        springline; spring line; spring; springline ht|height; spring line ht|height; ht to spring; height to spring
        ht to springline; height to springline; ht to spring line; spring ht|height; springing; spring point|pt
        ht @ spring; kämpfer; kämpferhöhe; höhe bis kämpfer; naissance; hauteur naissance; ht naissance; arranque
        altura arranque; línea de arranque; leg height|ht; leg; jamb height""",
    "rise": """
        head|arch radius; rise; arch rise; rise of arch; crown; arch height; stich; stichhöhe; bogenstich; pfeilhöhe
        flèche; flecha
        montée""",
    "shape": """
        shape; head shape; geometry; form; form öffnung; head type; head profile; top; head style; forme; géométrie
        forma; geometría; profile; bogenform; form fenster""",
    "note": """
        cmt; cmts; comm; note; notes; remark; remarks; comment; comments; description; desc; descr; misc
        see note|notes; note no
        keynote; keynotes; remarks notes; remarks / notes; notes / remarks; comments / notes; rmks; rem; memo
        additional info; bemerkung; bemerkungen; bem; anmerkung; anmerkungen; hinweis; hinweise; beschreibung
        kommentar; notiz; notizen; zusatz; remarque; remarques; rem; observation; observations; obs; commentaire
        commentaires; description; nota; notas; observación; observaciones; comentario; comentarios; descripción
        descr; opmerking; osservazioni""",
    "scope": """
        scope; in scope; nic; not in contract; priced; price; price y / n; include; included; incl; include y / n
        in contract; by others; by; excluded; exclude; excl; out of scope; not in scope; scope of work; in bid
        base bid; bid; responsibility; resp; furnished by; installed by; work by; trade; contract; contracted
        done by; quote; quoted; quote y / n; sow; seal; sealed; treat; treated; flash; flashing; wp; waterproof
        existing; new / existing
        existing / new; new / exist; e / n; n / e; new; demo; umfang; leistung; leistungsumfang; im auftrag
        beauftragt; enthalten; gewerk; ausgeführt durch; bauseits; bestand; neu / bestand; bestand / neu; lot; lots
        corps d état; compris; inclus; au marché; marché; hors lot; à charge de; existant; neuf / existant
        existant / neuf; alcance; incluido; en contrato; excluido; no incluido; por otros; gremio; oficio; existente
        nuevo / existente; a cargo de""",
    "status": """
        status; state; condition; stat; action; disposition; work type; nature of work; change; changed; delta
        rev status; zustand; stand; bearbeitungsstand; maßnahme; statut; état; avancement; estado; situación obra
        actuación; intervención; on hold; hold""",
    "alternate": """
        alternate; alt no; alternates; alt #; alternate no; bid item; bid alternate; base / alternate; base / alt
        base or alt; base or alternate; add alt; deduct alt; option; options; alternative; alternativposition
        eventualposition; bedarfsposition; variante; tranche optionnelle; alternativa; opción; add / deduct
        add / alt""",
    "revision": """
        rfi; rfi no|number|ref; rfi #; rev; revision; rev no; rev date; addendum; add no
        addenda; asi; bulletin; index; änderung; änderungsindex
        indice; ind; révision; revisión; fecha revisión; issue; date; datum; fecha; delta no""",
    "source": """
        checked; initials; init; chkd; ckd; drawn by; checked by; prepared by; counted by; sheet; dwg; dwg no; drawing
        drawing no; detail; details
        detail no; sheet no; plan; plan no; elevation ref
        det; dtl; head detail|det|dtl; sill detail|det|dtl; jamb detail|det|dtl; head / jamb / sill
        details head jamb sill; plan nr; zeichnung; zeichnungsnr; detail nr; blatt; n° plan; détail; coupe; planche
        plano; nº plano; detalle; lámina; hoja; spec; spec section; specification""",
    "sides": "sides; sides treated; sides to treat; seiten; côtés; lados",
    "sill": """
        sill kind|type; sill pan; pan; threshold type; thresh; schwelle; fensterbank; seuil; appui; vierteaguas
        umbral""",
    "method": """
        method; sealing method; flashing type|method; membrane; tape; system; verfahren; abdichtung; abdichtungsart
        étanchéité; méthode; sistema; sellado; método""",
    "property": """
        glass|screen|glazing|lite|pane|hardware|shutter|blind qty|quantity|count; page; ui; united inches; oitc; r value
        frame|door|panel|leaf elevation|elev type?; elevation|elev type; frame face width?; face width; sight line
        grids; grid; gridline; grid line; header; header size; jack studs; trimmers; priority; sequence; seq; perim lf
        sealant lf; budget; sheet count; trade size; glass; glass type; glazing; glazing type; frame material
        frame finish; frame type; primer; finish; finishes; fin
        material
        matl; mat; mfr; manufacturer; make; color; colour; hardware; hdw; hdwr; hw; hardware set|group; hw set
        hdw set; set; rating; fire rating; fire; fire rated; label; frr; rated; hand; handing; swing; lock; u value
        u factor; shgc; stc; door material|finish|type mat; screen; screens; grille; grilles; muntins; mullion
        tempered; egress; weight; wt; ext|extended price|cost|amount|total
        jamb ext|extension|extensions; area; sf; sq ft; perimeter; perim; lf; cost; unit cost; unit price; amount
        extension
        thickness; thk; thick; leaf; leaves; panels; lites; lite kit; head; jamb; jambs; lintel; threshold; closer
        louver free area; free area; cfm; throw; blade; supplier; vendor; phase code; cost code; csi; div; division
        glas; verglasung; material zarge; farbe; oberfläche; ral; beschlag; beschläge; brandschutz; feuerwiderstand
        schallschutz; uw; u wert; uw wert; hersteller; fabrikat; rahmen; rahmenmaterial; din; din l / r; anschlag
        öffnungsrichtung; fläche; umfang m; einzelpreis; gesamtpreis; ep; gp; einheit; gewicht; vitrage; matériau
        matière; finition; couleur; teinte; coupe feu; degré cf; quincaillerie; sens; main; fabricant; surface; prix
        pu; pt; vidrio; acristalamiento; material marco; acabado; color; herrajes; resistencia al fuego; mano
        fabricante; superficie; precio; importe; carpintería; volet; store; rollladen; persiana; sonnenschutz""",
}
BASIS = {
    "masonry": """
        mo; m o; masonry; masonry opening|opng|opg|op; mas; mas opg|opening; masonry dim|dims; brick opening
        mauerwerksmaß; maçonnerie; cote maçonnerie; maç; albañilería
        fábrica""",
    "rough": """
        fo; f o; framed|framing opening|opng|opg; wall opening|opng|opg; structural opening; structural; so; s o
        ro; r o; r / o; rough; rough opening|opng|opg|op; rgh opg|opng|opening; rgh; rough o; rohbau; rohbaumaß
        rohbaumaße; rbm; rohbaurichtmaß; rohbauöffnung; rohbaulichte; rohöffnung; rohmaß; rb; baie brute; brut
        brute; gros œuvre; réservation; baie; hueco; hueco obra|de obra; hueco en obra; vano; obra; en obra
        vano bruto; bruto; opening; opng; opg; öffnung; öffnungsmaß""",
    "nominal": "nominal; nom; call size; nenn; nennmaß; nennmaße; nominale; nominales; nominaux",
    "frame": """
        frame; fr; unit; net frame; frame size; unit size; unit dimension|dim|dims; overall frame; jamb to jamb
        frame overall; rahmen; rahmenmaß; rahmenaußenmaß; ram; blendrahmen; elementmaß; zarge; zargenmaß; hors tout
        ht dormant; dormant; cote dormant; cadre; menuiserie; châssis; marco; carpintería; cerco; premarco; net
        actual; window|door|louver|louvre size""",
    "leaf": """
        leaf; panel; slab; door leaf|panel|slab; sash; türblatt; blatt; blattmaß; flügel; vantail; hoja
        door size nominal""",
    "clear": """
        clear; clear opening; daylight; dlo; d l o; daylight opening; glass; visible; vision; licht; lichte; lichtes
        lichtmaß; durchgang; durchgangsmaß; clair; passage; passage libre; clair de jour; libre; luz; luz libre
        paso libre; paso""",
}
UNITS = {
    "mm": """
        mm; in|en|all|given mm; millimeter|millimeters|millimetre|millimetres|millimètres|milímetros
        in|en|all|given millimeter|millimeters|millimetre|millimetres|millimètres|milímetros""",
    "cm": """
        cm; in|en|all|given cm; centimeter|centimeters|centimetre|centimetres|centimètres|zentimeter|centímetros
        in|en|all|given centimeter|centimeters|centimetre|centimetres|centimètres|zentimeter|centímetros""",
    "m": """
        m; in|en m; meter|meters|metre|metres|mètre|mètres|metro|metros; m l
        in|en|all|given meter|meters|metre|metres|mètre|mètres|metro|metros""",
    "ft": "ft; feet; foot; in|decimal feet|ft|foot; in decimal feet|ft; '; fuß; in fuß; pieds; en pieds; pies; en pies",
    "in": """
        in; inch; inches; in inches|inch|zoll; decimal inches; "; zoll; pouce|pouces; en pouces; pulgada|pulgadas
        en pulgadas; pulg""",
    "ft_in": """
        ft in; ft & in; ft and in; feet inches; feet & inches; feet and inches; ft / in; feet / inches; ft inches
        in feet and inches; in feet & inches; in ft and in; ' "; f i""",
}
FILLER = """
    the; of; and; &; for; der; die; das; des; de; la; le; les; du; d; el; los; las; del; window; windows; door
    doors; louver; louvers; fenster; tür; türen; fenêtre; fenêtres; porte; portes; ventana; ventanas; puerta
    puertas; dim; dims; dimension; dimensions; size; sizes; maß; maße; medida; medidas; cotes; all; overall
    required; reqd; openings; total; (; ); [; ]; :; ,; *; /; |; x; approx; ca; unit no"""
MULTIPLYING = """
    typ of; typical of; repeats; repeat; repetitions; repeated; multiplier; multiplied by; mult; multiply by; times
    no|nr|#|number|qty|quantity|count|units|lites of? wide|high|across|tall
    no|nr|#|number|qty|quantity|count of? units|lites|windows|sash wide|high|across|tall
    units|windows|lites|sash|#|no|nr|qty|quantity|count|number per|each|/ ro|opening|opng|frame|mo
    units in opening|ro|frame; no of|in group; ganged|mulled qty|quantity|count|units; # ganged|mulled
    factor; x; bldgs; flrs; # flrs|bldgs|buildings; no|number|# of flrs|floors|levels|stories|bldgs|buildings
    bldg|building|flr|floor|level qty|count; anzahl gebäude|häuser; nb bâtiments; nº edificios; wiederholungen
    répétitions; repeticiones; mal; fois; veces"""
TOTALS = {
    "total": """
        Σ; ∑; ttl; tot; tot gen; total; totals; grand total; overall total; project total
        total openings|windows|doors|qty|quantity|count|units; sum; sum total; summe; gesamt; gesamtsumme; insgesamt
        endsumme; total général; totaux; total général; somme; ensemble; suma; suma total; total general; totales
        totale; totaal""",
    "subtotal": """
        sub tot; zw summe; subtotal; sub total; subtotals; sub totals; page total; sheet total; floor total; level total
        total this page|sheet|floor|level|elevation; total per floor|level|page; zwischensumme; teilsumme
        seitensumme; sous total; sous totaux; total page|partiel|étage|niveau; subtotal planta|página; suma parcial
        total parcial|planta|página""",
    "carried": """
        carried|brought fwd; cfwd; bfwd; carried forward; carry forward; brought forward; c / f; b / f; c / fwd
        b / fwd; carried over; carry over
        to summary; to collection; übertrag; übertrag von|auf seite; report; à reporter; report page
        total à reporter; suma y sigue; suma anterior; a reportar; sigue""",
    "notes": """
        note; notes; general note|notes; schedule notes; window|door|opening|louver notes; keynotes; remarks; legend
        key; abbreviations; abbreviation; symbols; bemerkung; bemerkungen; anmerkung; anmerkungen; hinweis; hinweise
        legende; allgemeine hinweise; abkürzungen; remarque; remarques; notes générales; légende; nota; notas
        notas generales; observaciones; leyenda; abreviaturas; abréviations; nb; n b""",
    "end": """
        end; end of schedule|list; end schedule; ende; ende der liste; fin; fin de liste; fin du tableau
        fin de la lista""",
}
