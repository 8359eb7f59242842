"""Words of a cell that tell the shape of an opening, or may: English, German, French, Spanish.

Common practice, no source.
"""

SHAPE = {
    "rectangle": """
        rectangle; rectangles; rectangular; rect; square; square opening|window|shape; rechteck; rechteckig
        quadratisch; quadrat; rectangulaire; rectangulaires; carré; carrée; rectángulo; cuadrado; cuadrada
        rettangolare; rechthoekig""",
    "half_round_top": """
        half round|rnd|rd; halfround; 1/2 rd|circle; halfrd; half round top|head|transom|window; 1/2 round|rnd top?
        ½ round|rnd top?
        semi circle|circular|round; semicircle|semicircular; semi circular head|top; full round arch
        roman arch|head; round top|head|headed|topped|arch; circle top|head|topped; circletop; rd top|head
        radius top|head; radiused top|head; true arch; full arch; palladian; venetian; lunette; fanlight; fan light
        fan top; rundbogen|rundbogenfenster|halbrund|halbkreis|halbkreisförmig|halbrundfenster; halb rund; oben rund
        rundbogig; plein cintre; en plein cintre; demi lune|rond|cercle; demi circulaire; imposte cintrée; haut rond
        medio punto; arco de medio punto; en medio punto; semicircular|semicirculares; media luna|caña
        medio círculo""",
    "arch": """
        arch; arched; arches; arch top|head|headed|topped; arched top|head|opening|window|door; archtop
        arch window|door|opening|transom; curved top|head; curved; bowed top; radius; radiused; radius <n>; rad
        r = <n>; rad = <n>; radius = <n>; height|ht|dim|dims|dimension|measured|size to the? spring|springline|springing
        to spring|springline|springing; to spring line; bis kämpfer; à la naissance; hasta arranque; eased arch
        extended arch; elliptical arch|head|top; half ellipse|elliptical; basket handle arch?
        tudor arch?; three centered|centred arch; 3 centered|centred arch; parabolic; horseshoe arch?; camelback
        camel back; quarter arch|ellipse; bogen|bogenfenster|bogentür|gewölbt|gebogen|korbbogen|korbbogenfenster
        mit bogen; parabelbogen; hufeisenbogen; gekrümmt; geschwungen
        cintré|cintrée|cintrés|cintrées|arqué|arquée|arc|arche|voûté|voûtée; anse de panier; linteau cintré
        en anse de panier; bombé|bombée; courbe; arco|arcos|arqueado|arqueada|curvo|curva; en arco; arco carpanel
        carpanel; abovedado|abovedada; dintel curvo""",
    "segmental_top": """
        segmental; seg; seg top|head|arch; segment; segmental top|head|arch|headed; segment top|head|arch; segmented
        segmented arch|top|head
        eyebrow
        eye brow; eyebrow top|head|arch|window; brow top|head; brow; flat arch; jack arch; camber|cambered
        cambered head|top; low rise arch; shallow arch; scheme arch
        segmentbogen|segmentbogenfenster|stichbogen|stichbogenfenster|flachbogen|segmentförmig
        fledermaus|fledermausgaube; surbaissé|surbaissée; arc surbaissé|segmentaire; segmentaire; cintre surbaissé
        linteau bombé; rebajado|rebajada; arco rebajado|escarzano|segmental; escarzano""",
    "round": """
        round; circular; circle; circ; full circle|round; rnd; porthole; port hole; bullseye; bull s eye; bulls eye
        round window|opening|louver|louvre|duct|vent|pipe; ox eye; rosette|rose window; rose
        rund|kreisrund|kreisförmig|kreis|rundfenster|bullauge|ochsenauge|rosettenfenster|rundöffnung
        runde|runder|rundes; rond|ronde|rondes|ronds|circulaire|circulaires|cercle; œil de bœuf; oeil de boeuf
        hublot; rosace; redondo|redonda|redondos|redondas|círculo|circulares; ojo de buey; rosetón""",
    "ellipse": """
        eliptical|eliptic|ellipt; oval; ovals; ellipse; elliptical; elliptic; oval window; flat oval
        vertical|horizontal oval; cartouche
        ellipse|elliptisch|ovalfenster|ovale|ovaler|ovales; ovale|ovales|elliptique|ellipsoïdal
        óvalo|ovalado|ovalada|elipse|elíptico|elíptica""",
    "octagon": """
        octagon; octagonal; oct; 8 sided; eight sided; clipped corners; achteck|achteckig|oktogon
        octogone|octogonal|octogonale; octogonal|octógono|octagonal|ochavado""",
    "hexagon": """
        hexagon; hexagonal; hex; 6 sided; six sided; sechseck|sechseckig; hexagone|hexagonale; hexágono|hexagonal""",
    "polygon": """
        pentagon; pentagonal; 5 sided; five sided; diamond; rhombus|rhomboid; lozenge; parallelogram
        polygon|polygonal|polygone; kite; irregular; irregular shape; custom shape; special shape; odd shape; shaped
        dog leg; dogleg
        round|rounded|radius|radiused corner|corners|edge|edges
        geometric; non rectangular; out of square; unusual shape; see elev|elevation for shape; see shape
        shaped per elev|elevation; fünfeck|fünfeckig|raute|rautenförmig|vieleck
        sonderform|sonderformat|unregelmäßig|freiform; pentagone|losange|irrégulier|irrégulière|polygonal
        forme spéciale|particulière; hors équerre; pentágono|rombo|rombal|polígono|poligonal|irregular
        forma especial|irregular; fuera de escuadra""",
    "triangle": """
        triangle; triangular; triangles; gable; gable end; gable window; gable shape|shaped; tri; tri window
        peak head; peaked
        peak top; dreieck|dreieckig|dreiecksfenster|giebelfenster; giebel; triangulaire|triangulaires
        triángulo|triangulares; triangle isocèle; frontón""",
    "trapezoid": """
        trapezoid; trapezoidal; trapezium; trap; trapeze; trapez|trapezförmig|trapezfenster|trapezoid
        trapèze|trapézoïdal|trapézoïdale; trapecio|trapezoidal|trapecial""",
    "raked": """
        raked; rake; raking; raking head|top; cathedral; cathedral head|top|window; angled; raked head|top|sill
        rake head|top; sloped head|top; sloping head|top; slope top; slope head
        angled head|top; angle top; shed roof? shape; clipped corner; clipped; chamfered; chamfered corner; notched
        stepped; l shaped; l shape; schräg|schräge|schrägfenster|abgeschrägt|schrägen; schräger sturz; schräg oben
        mit schräge; rampant|rampante|biais|biaise|biseau|biseauté|biseautée|incliné|inclinée; en rampant; pan coupé
        linteau incliné
        inclinado|inclinada|sesgado|sesgada|oblicuo|oblicua; dintel inclinado; chaflán""",
    "quarter_round": """
        quarter round|rnd|circle; quarterround; 1/4 round|rnd|rd|circle; quarter rd; ¼ round|circle
        viertelkreis|viertelrund|viertelbogen; quart de rond|cercle; quart rond; cuarto de círculo|bocel
        cuarto círculo""",
    "gothic": """
        gothic; gothic top|head|arch|window; lancet; lancet arch|window; pointed; pointed arch|top|head; ogee; ogee arch
        spitzbogen|spitzbogenfenster|spitzbogig|gotisch|gotischer|lanzettfenster|kielbogen; ogive|ogival|ogivale
        arc brisé|ogival; en ogive; lancette; ojival; ojiva; arco ojival|apuntado; apuntado|apuntada; gótico|gótica""",
    "bay": """
        bay; bay window|windows; bow; bow window|windows; oriel; box bay; canted bay; corner window|windows
        corner unit; corner lite|opening|opng|glazed|glazing; wraps corner; wrap around|corner; butt glazed corner
        erker|erkerfenster|eckfenster|übereck
        fenêtre d angle; bow windows; en angle; oriel; mirador; ventana en? esquina; en esquina; bay <n> sided""",
    "shape_code": """
        c/o; cased opening; elevation shape; type shape; template; templated; per template; field template
        schablone; nach schablone; gabarit; sur gabarit; plantilla; según plantilla""",
}
SHAPE_DOUBTFUL = {
    "round": "rd",
    "arch": "r <n>",
}
