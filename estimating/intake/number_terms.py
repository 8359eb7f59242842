"""Words of a cell that change how many openings a line stands for, or which issue of the drawings it is of.

English, German, French, Spanish; common practice, no source. What COUNT does to a count is for a person to say.
"""

COUNT = {
    "pair": """
        pair; pairs; pr; prs; pair of; pair of doors|windows; pr of doors?; pr drs|doors|dr; pair drs|doors
        in pairs; paired; <n> pair|pairs|pr|prs; double window|windows|unit|units|opening; dbl window|windows|unit
        double; dbl; dble; doubled; paar; paarweise; paare; <n> paar; doppelfenster|zwillingsfenster; zweifach; 2 fach
        doppelt; paire; paires; par deux; <n> paire|paires; jumelé|jumelée|jumelés|jumelées; doublé; par de; pares
        <n> pares; en pareja; pareja; parejas; geminada|geminado; doble""",
    "twin": """
        twin; twins; twin window|windows|unit|units; zwilling; gemelo|gemela|gemelas|gemelos
        jumeau|jumeaux|jumelles; <n> wide; two|three|four wide""",
    "triple": """
        triple; triples; triple window|windows|unit|units; tripled; trip
        drilling|dreifach|drilings|drillingsfenster|vierfach; 3 fach; 4 fach; triplé|triplée; triplet|triplets; quad
        quadruple; quads""",
    "ganged": """
        ganged; gang; ganged with|w|to <id>?; <n> gang|ganged; ganged in <n>; in gangs of <n>
        ganged opening|openings|unit|units; composite; combined; combination; combo; combo unit; joined
        side by side; adjacent units?; common opening|ro; in? common r o; single opening
        one opening; one ro; one r o; single ro
        same opening|ro; shared opening|ro; shares opening|ro; grouped; group of <n>; set of <n>; sets of <n>
        <n> per opening|ro|set|group|frame; <n> units|lites|lights|windows|sash in one|single|a opening|ro?
        <n> units per opening; <n> in one|1|single|a opening|ro|frame?; <n> in one r o; <n> pack|packs; series of <n>
        ribbon
        strip window; window wall group; bank of <n>; bank; row of <n>
        gekoppelt|kopplung|gekoppelte|koppelelement|verbunden|fensterband; gekoppelt mit; gruppe von? <n>
        nebeneinander; zusammengesetzt; eine öffnung; couplé|couplée|couplés|couplées|accouplé|assemblé|assemblés
        groupe de <n>; ensemble composé?; composé; en bande; bandeau; une seule baie
        acoplado|acoplada|acoplados|acopladas; agrupado|agrupada; conjunto de <n>; conjunto; corrida; un solo hueco
        en grupo""",
    "mulled": """
        mulled; mull; mulled unit|units; mulled with|to|w <id>?; mulled in <n>; <n> mulled; mulled <n> wide|high|w|h
        mulled pair|twin|triple; mull unit|units; factory|field mulled|mull; mulled in pairs; stacked; stack
        stacked <n>; <n> high; <n> over <n>; mullion between; with transom|sidelite|sidelites|sidelight|sidelights
        with|w <mark> above|over|below|under; over|above|below|under|atop <mark>; <mark> over|above|below <mark>?
        sl & t; transom|sidelite|sidelight and|& sidelite|sidelites|sidelight|sidelights|transom
        w transom|sidelite|sidelites|sidelight|sidelights|sl; transom over|above; sidelite; sidelites; sidelight
        sidelights; side lite|lites|light|lights; louver|louvre|louvers|louvres above|over|below
        with|w louver|louvre|louvers|louvres; oberlicht; mit oberlicht|seitenteil|seitenteilen
        seitenteil|seitenteile; avec imposte|fixe latéral; imposte; avec impostes; w transom|transoms
        con montante|fijo lateral; fijo lateral; montante superior""",
    "typical": """
        typ; typical; typ x <n>; typical x <n>; typ of <n>; typical of <n>; typ <n>; typical <n>; <n> typ
        <n> typical; typ ( <n> ); typical ( <n> ); ( typ ); typ @ <n>; typ for <n>; typ at <n> locations|locs|places
        typ ea|each; typ all; typ everywhere; <n> thus; thus; <n> places|locations|locs|loc|pl|plcs
        at <n> places|locations|locs; <n> req|reqd|required; varies; var
        all; all locations; all similar; every; everywhere; throughout; repeat; repeats; repeated; repeat <n> times
        <n> times; <n> x; x <n>; × <n>; <n> off; <n> no; <n> nos; <n> ea; <n> each; <n> units; <n> pcs; <n> pc
        <n> total; total <n>; total of <n>; qty <n>; quantity <n>; qty of <n>; ( <n> ) typ; count <n>; no of <n>
        no = <n>; # = <n>
        typisch; <n> stk|stück|mal; je <n>; mehrfach; alle; überall; anzahl <n>; insgesamt <n>
        zusammen <n>; wiederholt; menge; courant|courante|typique; <n> u|unités|unité|ens|exemplaires|fois
        tous; toutes; partout; qté <n>; quantité <n>; au total <n>; répété
        típico|típica|tipo <n>; <n> uds|ud|unidades|unidad|veces; todos|todas; en todo; cantidad <n>
        cant <n>; total de <n>; repetido""",
    "per_floor": """
        per floor|flr|level|storey|story|fl; typ ea|each floor|flr|level|storey|fl
        each floor|flr|level|storey|story|fl; ea floor|flr|level|fl; every floor|level
        <n> per|each|ea floor|flr|level|storey|story|fl; <n> /|a floor|flr|level|fl
        typ floor|floors|flr|flrs|level|levels|fl; typical floor|floors|flr|level|levels|plan
        typ|typical at|on? all floors|flrs|levels|lvls|fls|storeys|stories
        typ floors|flrs|levels|fls|floor|level <n>; typical floors|levels <n>; all floors|flrs|levels; floors <n>
        levels|lvls|geschosse|etagen|plantas|niveaux|stockwerke|floors <n> thru|through|to|bis|a|à? <n>
        l <n> thru|to? l <n>
        <n> floors|flrs|levels|storeys|stories; ( <n> ) floors|flrs|levels|storeys|stories; upper floors|levels
        lower floors|levels; / floor|flr|level; je geschoss|etage|stockwerk; pro geschoss|etage|stockwerk
        jedes geschoss|stockwerk; alle geschosse|etagen; regelgeschoss|regelgeschosse
        <n> geschosse|etagen|stockwerke; in jedem geschoss; jede etage; auf jeder etage; <n> je geschoss|etage
        par niveau|étage; à chaque niveau|étage; chaque niveau|étage; tous niveaux|étages; tous les niveaux|étages
        étage|étages courant|courants; niveau courant; <n> niveaux|étages; <n> par niveau|étage
        por planta|nivel|piso; cada planta|nivel|piso; en cada planta|nivel|piso; todas las plantas
        planta tipo|tipos; plantas tipo; <n> plantas|niveles|pisos; <n> por planta|nivel|piso""",
    "per_building": """
        per building|bldg|unit|apartment|apt|house|suite|room
        per bay|elevation|elev|side|wing|tower|block|plot|type
        each|ea|every building|bldg|unit|apartment|apt|house|suite|room|elevation|elev|wing|tower|block|plot
        per|each|ea|every dwelling|dwellings|flat|home|villa|townhouse|cabin|classroom|bathroom|kitchen|bedroom|corridor
        per|each|ea|every stair|stairs|stairwell|core|entrance|entry|landing|balcony|lodge|guestroom|gable|corner
        each of <n>; <n> bays|stairs|cores|dwellings|flats alike|thus|same|typ|typical; <n> alike|identical
        of <n> identical|alike
        <n> per building|bldg|unit|apartment|apt|house|suite|room|elevation|elev|side|wing|tower|block|plot
        <n> per; <n> per rm|br|bay|stair|bath|kitchen|balcony|door
        <n> buildings|bldgs|houses|towers|blocks|plots|apartments|apts|suites|wings
        both|either wings|floors|levels|units|towers|buildings|bldgs|stairs|blocks|houses|wing|floor|tower|building|unit
        <n> buildings|bldgs|units|houses|apartments thus; ( <n> ) buildings|bldgs|houses|apartments thus?
        typ|typical at|on? all units|buildings|bldgs|elevations|elevs|sides|apts|apartments
        ( <n> ) units thus; typ unit|units; typ ea|each unit|bldg|building|elevation|elev|apt|side
        typical unit|units; all units|buildings|bldgs|elevations|elevs|sides; four sides; <n> sides
        / unit|bldg|building|apt; at each unit|building|bldg|apartment|room|elevation
        je gebäude|haus|wohnung|einheit|seite|fassade|raum; pro gebäude|haus|wohnung|einheit|seite|raum
        <n> gebäude|häuser|wohnungen|einheiten; alle gebäude|häuser|wohnungen|fassaden
        par bâtiment|logement|appartement|façade|maison|pièce|chambre; <n> bâtiments|logements|appartements|maisons
        chaque bâtiment|logement|façade|appartement; tous bâtiments|logements
        por edificio|vivienda|apartamento|fachada|casa|habitación|portal|bloque
        <n> edificios|viviendas|apartamentos|casas|portales|bloques; cada edificio|vivienda|fachada|casa""",
    "each_side": """
        each side; ea side; both sides; b/s; bs; either side; each end; both ends; ea end; each way
        on both|each|either side|sides|end|ends; both elevations|elevs|facades; front and|& back|rear
        <n> each|ea side; left and|& right; l & r; r & l; lh & rh; rh & lh; lh and rh; ea way
        beidseitig|beiderseits; beide seiten; jede seite; auf beiden seiten; links und|u|& rechts; vorne und hinten
        an jeder seite; de chaque côté; chaque côté; des deux côtés; deux côtés; par côté; gauche et droite
        avant et arrière; d et g; g et d; a cada lado; cada lado; ambos lados; a ambos lados; por lado
        izquierda|izq y derecha|dcha|der; izq y der; ambas fachadas""",
    "ditto": """
        ditto; dto; do; dtto; ditto above; same; same as above|below|previous|prev; see above|below
        as above; as per above; as previous; as prev; as for <id>; per above; like above
        same type|size|qty|quantity; identical; matches <mark>; match <mark>; to match <mark>
        wie vor|oben|vorstehend|vorher|zuvor; wie pos|position <id>; wie <mark>; siehe oben
        desgleichen|desgl|dsgl|dito|dgl; gleich|gleiche|gleicher|identisch; gleich wie; ebenso; idem; id
        idem <mark>; idem ci dessus; dito; comme ci dessus|dessus|précédent; voir ci dessus|dessus; même; identique
        identique à <mark>; même que; ci dessus; ídem; idéntico|idéntica; igual; igual que|a <mark>?
        como arriba|anterior; el mismo; misma|mismo; ver arriba; ver anterior""",
    "elsewhere": """
        same|repeat|repeats|repeated|also|again|ditto|likewise|identical on|at|in|for; mirrored on|at|in
        auch in|im|auf|an
        repeat at; ebenso in|im|auf|an; gleich in|im|auf; wiederholen; aussi au|à|en|sur; également au|à|en|sur
        idem au|sur|en
        see|refer|per|check|count to? plan|plans|elev|elevs|elevation|elevations for qty|quantity|count|counts|number
        see|refer|per|check|count to? dwg|dwgs|drawing|drawings|model for qty|quantity|count|counts|number
        for qty|quantity|count|number see|refer to? plan|plans|elev|elevs|elevation|elevations|dwg|dwgs|drawings
        qty|quantity|count|number from|on|see|per|by plan|plans|elev|elevs|elevation|elevations|dwg|dwgs|drawings
        anzahl siehe|laut|gemäß ansicht|ansichten|plan|plänen|zeichnung; quantité|nombre selon|voir plan|plans|façades
        cantidad según|ver plano|planos|alzados; répéter; también en; igual en; repetir; repetir en
        see count|qty|quantity|number on|in|at; duplicate; duplicated""",
    "same_place": """
        same|identical as|to <mark>; ditto|dto|see|as|like <mark>; incl|included|counted|covered in|with|w|under <mark>
        dup; dupe; dup|dupe|duplicate of|with <mark>; counted|included|incl|listed above|below|elsewhere|twice|already
        listed|counted|included|scheduled on|in|with door|window|louver|louvre|opening schedule|schedules|sched|list
        schon|bereits|doppelt gezählt|erfasst|enthalten; déjà compté|comptée|comptés|comptées
        compté|comptée avec <mark>
        ya contado|contada|incluido|incluida; ver <mark>; contado|contada en|con <mark>
        enthalten in <mark>; compris|inclus dans|avec <mark>; incluido|incluida en <mark>
        same|identical|mirror|mirrored|like|as|similar as|to|of? apt|apartment|unit|level|floor|bldg|building|suite <id>
        same|identical|mirror|mirrored|like|as|similar as|to|of? room|house|block|type|plot|flat|phase|tower|wing <id>
        same as <n>; identical to <n>; mirror of <n>; mirror image of? <id>
        mirror image of? building|bldg|unit|apt|level <id>
        wie wohnung|haus|geschoss|etage|gebäude <id>; identique au|à niveau|étage|bâtiment|logement <id>
        igual que|a planta|vivienda|edificio|nivel <id>""",
    "similar": """
        sim; similar; sim to <id>; similar to <id>; sim except; sim opp; sim & opp; sim opp hand; ähnlich; analog
        sinngemäß; ähnlich <id>; similaire|similaires; similaire à; analogue; semblable
        parecido|parecida|similares|análogo""",
    "opposite": """
        opp; opposite; opp hand; opposite hand; opp hand of <id>; oh hand; o h; mirrored; mirror; mirror image
        mirror of; mirrored unit|units|plan; reversed; reverse; rev hand; reverse hand; handed; handed unit
        opposite of <id>; opp of <id>; flipped; flip; <n> opp|opposite|reversed|mirrored|handed
        spiegelbildlich|gespiegelt|gegengleich|spiegelverkehrt|seitenverkehrt; spiegelbild
        gegenüber|gegenüberliegend; symétrique|symétriques|inversé|inversée|miroir|opposé|opposée; en miroir
        sens inverse; simétrico|simétrica|espejo|reflejado|reflejada|invertido|invertida|opuesto|opuesta; en espejo""",
    "hands": """
        <n> of each; <n> of? each hand; half lh|rh|left|right; <n> r / <n> l; <n> l / <n> r; <n> rh|lh|r|l
        <n> left|right; <n> left and? <n> right; <n> l , <n> r
        <n> r , <n> l; <n> links; <n> rechts; <n> gauche; <n> droite; <n> izq|dcha|izquierda|derecha""",
    "partly": """
        <n> of <n>; of <n>; <n> future; <n> existing; <n> nic; <n> new; <n> deleted; <n> by others; <n> only
        only <n>; only <n> of these|those; <n> of these|those|them; <n> on|at|in level|lvl|floor|flr|l <n>
        <n> on|at north|south|east|west|front|rear|ground|roof; <n> im|auf|in eg|og|ug|dg; <n> au niveau|rdc|étage <n>?
        <n> en planta|fachada <id>?
        rest im|am|auf|in|nord|süd|ost|west; le? reste au|à|en|sur; resto al|en|a
        upper|lower <n>; balance|rest|remainder at|on|in|of; the? remainder|balance; remaining; count both; counted once
        <n> spare; <n> alt|alternate; minus <n>; less <n>; plus <n>; + <n>; additional; add l; addl; <n> additional
        <n> more; and <n> more; <n> extra; davon <n>; zusätzlich <n>?; weitere <n>?; dont <n>; en plus <n>
        supplémentaire|supplémentaires; adicional|adicionales; más <n>""",
    "unconfirmed": """
        mehrere; diverse; plusieurs; divers; varios; varias; multiple; mult; several; various; many; <n> + / -; <n> ±
        verify qty|quantity|count|number; confirm qty|quantity|count|number; qty tbd|tbc|varies; count tbd
        field verify qty|count; approx <n>; approximately <n>; ca <n>; circa <n>; about <n>; est <n>; estimated
        estimate; approx; approximately; ca; circa; env <n>; environ <n>?; etwa <n>; aprox <n>?; aproximadamente
        min <n>; max <n>; at least <n>; up to <n>; <n> or <n>; <n> to <n>; mind <n>; bis zu <n>; anzahl prüfen
        nombre à vérifier; cantidad por verificar""",
    "multiplied": """
        two windows|doors|units|openings; three windows|doors|units|openings; four windows|doors|units|openings
        two|three|four|five|six|seven|eight|nine|ten; one each; one per; one ea; one of
        zwei|drei|vier|fünf|sechs|sieben|acht|neun|zehn; deux|trois|quatre|cinq|huit|dix
        dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez; dozen; <n> dozen; dutzend; douzaine; docena; twice; thrice
        zweimal|dreimal|viermal; deux fois; dos veces
        <n> windows|doors|openings|louvers|louvres|penetrations|pipes|ducts|vents|sleeves
        ( <n> ) windows|doors|openings|units|louvers|louvres|penetrations|pipes|ducts|vents|sleeves; ( <n> x )
        ( x <n> ); times <n>; thus <n>; <n> in total|all; <n> n|s|e|w / <n> n|s|e|w; <n> n|s|e|w , <n> n|s|e|w
        <n> fenster|türen|öffnungen|rohre; <n> fenêtres|portes|baies|ouvertures|châssis
        <n> ventanas|puertas|huecos|vanos""",
}
COUNT_DOUBTFUL = {
    "bracketed": "( <n> ); [ <n> ]; { <n> }",
}
DELTA = {
    "addendum": """
        addendum; addendum <id>; add <id>; add no <id>; add num <id>; addm <id>; adden <id>; add #
        added by add|addendum|asi|rev <id>; per addendum|add <id>; see addendum|add <id>
        changed by addendum|add <id>; revised by addendum|add|asi <id>; added per addendum|add|asi <id>; asi
        asi <id>; bulletin; bulletin <id>; bull <id>; ccd <id>; ccd; sk <id>; cor <id>; pco <id>; change order <id>?
        ifc set; co <id>; rfp <id>; pr # <n>; nachtrag; nachtrag <id>; zusatz; additif; additif <id>; avenant
        avenant <id>; adenda|adendum; adenda <id>; anexo <id>; modificado <id>""",
    "resized": """
        cut|trimmed|trim|reduced|reduce|enlarged|enlarge|widened|widen|lowered|raised|shortened|narrowed down? to
        cut down
        now|becomes|replaces|replaced|supersedes|superseded by? <mark>; in lieu|place of <mark>; instead of <mark>
        jetzt|nun|wird|ersetzt|ehemals|früher|vormals|statt <mark>; ersetzt durch <mark>; umbenannt in <mark>
        devient|remplace|ancien|ancienne|anciennement|ex <mark>; remplacé|remplacée par <mark>; au lieu de <mark>
        ahora|antes|sustituye|sustituida|sustituido|reemplaza a|por? <mark>; en lugar de <mark>
        renumbered|renamed|retagged|remarked to|as? <mark>; was|formerly|previously|old <mark>
        revised see <mark>; revised , see <mark>; resize|resized; resize|resized to; changed|chg|chgd to
        revised|changed|new|corrected size|qty|quantity|width|height
        now <n>
        vergrößert|verkleinert|verbreitert|gekürzt auf; agrandi|agrandie|réduit|réduite à?
        ampliado|ampliada|reducido|reducida a?""",
    "revision": """
        rev; rev <id>; revision; revision <id>; revised; revise
        revised type|location; rev d; revd; rev size; △; △ <id>; delta; delta <id>
        cloud; clouded; change; changed; changes; changed from; was; formerly; previously
        issue <n>; issued <n>; prev; updated; update; amended; modified; modify; mod; new mark
        renumbered; corrected; corr; correction; revidiert|geändert|änderung|index|korrigiert; index <id>
        rev index <id>; neu nummeriert; überarbeitet; stand; war; vorher; aktualisiert
        révision|révisé|révisée|modifié|modifiée|modification|indice|modif|changé|ancien|ancienne|mis à jour
        indice <id>; ind <id>; mise à jour; revisión|revisado|revisada|modificado|modificada
        modificación|cambio|cambiado|actualizado|antes|anterior; rev n <id>""",
    "added": """
        added; add; add opening|window|door|louver|unit; new opening; new added; additional opening
        hinzugefügt|ergänzt|hinzu|zusätzliche|neu hinzu; ajouté|ajoutée|ajout; rajouté
        añadido|añadida|añadir|agregado|agregada|agregar""",
}
