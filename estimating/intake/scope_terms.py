"""Words of a cell that put an opening out of the work, or may: English, German, French, Spanish.

Common practice, no source. Topics are keys.
"""

_TRADES = (
    "other|others|owner|owners|client|tenant|tenants|landlord|mechanical|mech|electrical|elec|plumbing|plumber|plumb|plbg|"
    "hvac|mep|gc|cm|contractor|subcontractor|sub|subs|trade|trades|vendor|manufacturer|mfr|mfg|supplier|glazier|glazing|"
    "utility|fabricator|mason|masonry|roofer|roofing|sprinkler|division|div|steel|carpenter|framer|storefront|"
    "architect|city|util|bldr|builder|developer|door|window|curtainwall|waterproofer|waterproofing"
)

SCOPE = {
    "temporary": """
        temporary; temp opening|openings|door|window|access|closure; construction opening|access
        provisional opening; bauzeitlich|temporär|provisorisch|bauöffnung; ouverture provisoire|temporaire
        temporaire; temporal; hueco temporal|provisional""",
    "not_in_contract": """
        nic; n i c; not in contract|scope|bid|price|package|project|sow|base
        not in the|this|our contract|scope|bid|package|work; not part of the? contract|scope|work|bid|project
        not a part of the? contract|scope|work; out of scope|contract; outside of? the? scope|contract
        not included|incl|priced|bid|quoted|carried|covered|counted; no bid; no price
        do not price|bid|include|count|quote|carry|flash|seal|treat; don t price|bid|include|count; dnp; do not use
        excluded|exclude|excl|excludes|excluding|exclusion; nis; not in sow; not this contract
        not required|reqd|req|needed; not req d; omit|omitted|omits
        no work|flashing|treatment|sealing required|reqd?; no flashing|treatment|sealing|avb|wrb
        oos; o o s; no scope; not touched; another|other bid? package|pkg; n i b; nib
        n|ni i? auftrag; los <n>
        exclusion|exclusions|exempt|ignore|ignored; for? reference|ref|info|information only; for reference
        do not order|install
        not to be? priced|quoted|counted|sealed|treated; not quoted; no longer required; will not be priced|sealed
        nicht? bestandteil; nicht zu? bepreisen|zählen|kalkulieren; nur? zur information|info; nachrichtlich
        ohne? berechnung
        pour mémoire|information|info; à titre indicatif|informatif; hors? lots; para información; a título informativo
        solo informativo|referencia; contrata aparte|independiente
        not ours; not by us; not our work|scope|job; not mine; we do not do; none of ours; leave out; skip
        separate contract|bid|package|permit; under separate contract|permit; other contract; scope excluded
        nicht enthalten|beauftragt|inbegriffen|ausgeschrieben|vertraglich|kalkuliert|angeboten
        nicht im vertrag|auftrag|angebot|umfang|lv|leistungsumfang; keine leistung; nicht unsere leistung
        nicht leistung; nicht bestandteil|teil des? leistungsverzeichnisses
        nicht teil des? auftrags|vertrags|leistung|umfangs
        nicht ausführen|erforderlich|notwendig|nötig; entfällt|entfallen|entf|entfaellt
        kein leistungsumfang|auftrag; ohne leistung|auftrag; außerhalb des auftrags|vertrags|leistungsumfangs|lv
        eigenes los; anderes los; gesondert ausgeschrieben|beauftragt
        hors lot|marché|contrat|forfait|prestation|projet|chantier
        non compris|comprise|comprises|inclus|incluse|incluses|prévu|prévue|chiffré|chiffrée|dû|due
        pas compris|inclus|prévu|prévue; à exclure; exclu|exclus|exclue|exclues; sans objet; non concerné|concernée
        ne pas chiffrer|compter; autre lot; autres lots; lot séparé
        no incluido|incluida|incluidos|incluidas|contratado|contratada|contemplado|contemplada; no se incluye
        no valorar|contar; no incluye
        no presupuestado|presupuestada|aplica|procede|requerido|requerida|necesario|necesaria
        fuera de contrato|alcance|presupuesto|proyecto|obra; fuera del contrato|alcance|presupuesto|proyecto
        excluido|excluida|excluidos|excluidas; otro contrato|lote; sin alcance; no entra""",
    "by_others": f"""
        by {_TRADES}; by the {_TRADES}
        seal|seals|sealing|flash|flashes|does|do their|its|his? own work|openings|penetrations|pens; by own forces
        by another|other|others|separate|different trade|trades|contractor|contractors|sub
        by another|other|others|separate|different subs|contract|vendor|party|company; by div|division <n>
        by <n> other? contractor; others; other trade; other trades; otr; b o; b / o
        by|w|with gc|mech|elec|plumbing|mep|cw|cwc; by curtain wall sub?; by cw; furnished by {_TRADES}
        installed by {_TRADES}; provided by {_TRADES}; supplied by {_TRADES}; sealed by {_TRADES}
        flashed by {_TRADES}; work by {_TRADES}; in mechanical|mech|mep|electrical|elec|plumbing scope|contract
        mechanical|mech|mep|electrical|elec|plumbing|owner|others|mason|tenant|landlord|client scope
        glazier; roofer; plumber; electrician; ll work; gc to do|provide|install|seal|flash
        {_TRADES} to seal|flash|treat|waterproof; owner s contractor|vendor|sub
        cw|masonry|roofing|glazing|window|door|steel|framing|site contractor|contractors|sub|subcontractor
        tenant|landlord|client|owner work; tenant improvement|improvements work|scope?; ti work|scope
        tenant s scope|work
        by {_TRADES} sub|subcontractor|contractor|supplier|fabricator|trade|others
        by steel|door|window|glass fabricator
        in the? shop|factory|plant flashed|sealed|treated|installed; shop|factory|plant flashed|sealed|treated|installed
        flashed|sealed|treated|installed|applied in|at the? shop|factory|plant
        see mechanical|mech|elec|plumbing|mep for scope; w/ gc|mech|elec|owner|others; with gc scope?; gc scope
        cw sub; part of curtain wall; part of curtainwall|cw|storefront
        in|inside curtain wall; in|inside curtainwall|cw|storefront|sf
        mech|mechanical|hvac|elec|electrical|plumbing contractor|contractors|contr|sub|subcontractor; fbo; f b o
        ofci; ofoi; owner furnishes|supplies|provides
        owner furnishes|supplies seals|flashing|windows|doors|openings; contractor furnishes; ofvi; cfci; ocip; gfgi
        gfci by others; owner furnished|supplied|provided; owner furnished owner|contractor installed
        owner furn; furn by owner|gc|others; furnish by owner; nic by {_TRADES}; nic - by {_TRADES}
        bauseits|bauseitig|bauseitige
        bauherrenseits|bauherrenseitig|bauherrenseitige|bauherrnseitig|mieterseitig|mieterseits
        durch andere|dritte|bauherr|bauherrn|ag|auftraggeber|fremdgewerk|fremdfirma|anderes gewerk?
        von anderen|dritten|bauherrn; von anderem gewerk; anderes|fremdes gewerk
        fremdgewerk|fremdleistung|fremdleistungen; andere gewerke; gewerk hls|tga|elektro|sanitär|lüftung|heizung
        durch hls|tga|elektro|sanitär|lüftung|rohbau|rohbauer|metallbauer|fassadenbauer|gu|mieter
        seitens ag|bauherr|mieter; vom bauherrn|mieter|ag; leistung ag|bauherr|gu|dritter
        par autre|autres|tiers|ailleurs|plombier|électricien
        par chauffagiste|client|mo|moa|menuisier|façadier|maçon; par d autres
        par un? autre|autres lot|lots|corps|entreprise|entreprises d? état?; par le? maître d ouvrage
        par l électricien; autre corps d état; à charge|la du? client|mo|locataire|preneur|propriétaire
        à la charge du? client|mo|locataire|preneur|propriétaire; charge client|mo|locataire
        à la charge d autres|autrui; lot plomberie|cvc|électricité|menuiserie|façade|charpente; lot gros œuvre
        lot serrurerie|métallerie|maçonnerie|couverture|étanchéité|vitrerie|cloisons|peinture|bardage|chauffage
        lot sanitaire|ventilation|plâtrerie|electricité|gros oeuvre; lot <id>; fourni par autres|client|mo
        fourni par le client
        par le client|propriétaire|locataire|plombier|maçon|lot
        por otro|otros|otra|terceros|tercero|propietario|propiedad|cliente
        por mecánico|electricista|fontanero|plomero|instalador|inquilino|promotor|contratista
        por el? propietario|cliente|mecánico|electricista|fontanero|plomero|contratista|promotor|dueño
        por la propiedad; por otro gremio|oficio|contratista|subcontratista; otro gremio|oficio
        otros gremios|oficios; a cargo de otro|otros|terceros|propiedad|cliente; a cargo del propietario|cliente
        a cargo de|del la? propiedad|promotor|contratista|inquilino?; a cargo de; a cargo del; por cuenta de|del
        suministro|suministrado|suministrada|suministrados por|del|de la? cliente|propiedad|promotor|otros
        por parte de otros""",
    "existing_to_remain": """
        etr; e t r; existing to remain|stay; exist|exg|exstg|ex|exst to remain|stay; exist g to remain
        to remain|stay; remains; (e) to remain; (e) tr; etbr; existing remains; leave as is; leave in place
        retain|retained; retain existing; to be retained; existing to be retained; untouched; bleibt
        bleibt bestehen|erhalten; bestehend bleibt; bleibt bestand; bestand bleibt; zu erhalten; bestand zu erhalten
        erhalten bleiben; existant conservé|conservée|à conserver; à conserver
        conservé|conservée|conservés|conservées; existant maintenu|maintenue|à maintenir; à maintenir; maintenu
        existente a conservar|mantener|permanecer; a conservar; a mantener; se conserva|mantiene|conservan|mantienen
        permanece; conservar; existente se conserva|mantiene""",
    "existing": """
        existing; exist; exg; exist g; exstg; exst; exist ing; exis; (e); [e]; (ex); (exg); (exist)
        existing opening|openings|window|windows|door|doors|louver|frame|unit; pre existing; preexisting
        completed|complete|done|installed|sealed <n> / <n>
        previously installed; already installed|treated|flashed|sealed|done; already in place; pre installed
        preinstalled; vorh; bestand
        bestehend|bestehende|bestehender|bestehendes|bestehenden; best; im bestand
        vorhanden|vorhandene|vorhandener|vorhandenes; altbestand; existant|existante|existants|existantes
        ouverture existante; baie existante; déjà posé|posée|installé|réalisé|fait; existente|existentes; exis te
        hueco existente; ya instalado|instalada|existe""",
    "existing_removed": """
        remove existing|exist|(e)|exg; existing to be? removed|demolished|demoed; existing removed|demo|demolished
        remove; removed; to be removed; remove and|& infill|dispose|patch|block; rem existing; (e) removed
        (e) to be removed; infill|infilled|infills; in fill; to be infilled; infill opening; brick up|bricked
        boarded; board over; fill in; tapiar|cegar; bricked|walled|blocked up|in|over|off; vacated|vacate; walled
        bricked; block up; blocked up; close up|off
        closed up; close in; to be closed; wall over; walled over; close opening|opng|opg|window|door; brick|block in
        cover over; covered over; board up; boarded up; seal off; filled in; abandoned; abandon
        abandon|abandoned in place; aip; to be abandoned; zumauern|zugemauert|zugemauerte
        wird zugemauert|geschlossen|verschlossen|rückgebaut|abgebrochen|entfernt|ausgebaut
        zu schließen|verschließen; verschlossen; vermauert; rückbau|rückgebaut; ausbau; ausbauen
        à supprimer|déposer|boucher|condamner|reboucher|murer; déposé|déposée|dépose
        bouché|bouchée|rebouché|condamné|condamnée|muré|murée; dépose existant
        a retirar|tapiar|cegar|cerrar|desmontar; tapiado|tapiada|cegado|cegada|clausurado|clausurada
        se retira|tapia|ciega; retirar; retirado; desmontar""",
    "future": """
        future; fut; future phase|work|opening|openings|expansion|addition|tenant|use; phase <n> future?; ph <n>
        deferred; defer; zukunft; segunda|tercera fase; phase ii|iii|iv|two|three|four; ph ii|iii; second|third phase
        2 nd|3 rd phase
        (f); later phase; next phase; fut phase; for future; by future tenant; tenant fit out; shell only; later
        zukünftig|zukünftige|künftig|künftige|später|spätere; später
        spätere|zweite|nächste bauphase|phase|bauabschnitt; <n> bauabschnitt; ba <n>; bauabschnitt <n>; in zukunft
        futur|future|future|futures|futurs; à venir; phase ultérieure; ultérieur|ultérieure|ultérieurement
        tranche <n>; tranche conditionnelle|ultérieure|optionnelle; futuro|futura|futuros|futuras; etapa <n>
        fase|etapa siguiente|posterior; fase <n>; fase posterior|futura|siguiente; a futuro; posterior fase?""",
    "deleted": """
        deleted; delete; dele; (del); dltd; delet; deleted per add|addendum <id>; to be deleted; deletes
        removed from scope|contract; cancelled|canceled|cancel|canc|cxl|cncl; withdrawn; strike out; struck|stricken
        struck out; struck through; strikethrough; eliminated|eliminate|elim; descoped; de scoped; obsolete
        superseded; voided; dropped; gestrichen|gelöscht|storniert|streichen|löschen; wird gestrichen; fällt weg
        weggefallen; annulliert; ungültig
        supprimé|supprimée|supprimés|supprimées|suppr|annulé|annulée|annulés|annulées; suppression
        abandonné|abandonnée; eliminado|eliminada|eliminados|eliminadas|anulado|anulada
        suprimido|suprimida|borrado|borrada|cancelado|cancelada; eliminar; se elimina|anula|suprime""",
    "not_used": """
        not used; unused; n u; nu; n/u; number not used; mark not used; not assigned; unassigned; no such
        no longer used
        vacant; intentionally blank; left blank; reserved; reserve
        nicht verwendet|belegt|vergeben|benutzt|vorhanden; unbelegt; frei; reserviert; nicht besetzt
        non utilisé|utilisée|attribué|attribuée|affecté; inutilisé|inutilisée; libre; réservé|réservée
        no usado|usada|utilizado|utilizada|asignado|asignada|existe; sin usar|uso|asignar; reservado|reservada
        vacante""",
    "void": "void; void opening|number|mark; nul; nulo|nula; nichtig; hueco anulado",
    "interior": """
        interior; int; inter; (int); internal; inside partition; interior opening|openings|window|windows|door|doors
        interior partition|partitions|wall|walls|only|lite|borrowed; interior borrowed lite|light
        borrowed lite|light|lites|lights; relite; relites; interior sidelite|sidelites|transom
        inside vestibule|lobby|corridor|garage|hall|atrium|room|store|stair|stairwell|unit|building; inside the building
        int door|window|opening|wall|partition; in partition; corridor side; corridor; demising; innen
        shaft; shaft|party wall|walls; in|at|to|into elevator|stair|mech|pipe? shaft|shafts
        innenliegend|innenliegende; innentür|innentüren|innenfenster|innenwand|innenöffnung|innenöffnungen
        im innenbereich; trennwand; intérieur|intérieure|intérieurs|intérieures
        porte|fenêtre|cloison|baie|châssis intérieure|intérieur; cloison; interior|interiores
        puerta|ventana|hueco|tabique interior; tabique""",
    "alternate": """
        alternate|alternates|alternative|alternatives|alt|alts|altern
        alternate|alternative|alt no|number|nr|num? <id>; alternate|alternative|alt <id>
        add|additive|deduct|deductive|ded|deducted alternate|alternates|alternative|alt|alts no|number? <id>
        substitute|substitution|voluntary alternate|alternates|alternative|alt|alts no|number? <id>
        bid|base|owner alternate|alternates|alternative|alt|alts no|number? <id>
        add|additive|deduct|deductive alternate|alternates|alternative|alt|alts
        ded|substitute|substitution|voluntary|bid alternate|alternates|alternative|alt|alts
        alternate|alternative|alt no? <id> add|deduct|ded|substitute
        alternate|alternative|alt no? <id> ( add|deduct|ded|substitute )
        alternate|alternative|alt add|deduct|ded|substitute|only|bid|price|pricing; (alt)
        alternate|alternative|alt no? <id> only; aa <n>; da <n>; ba <n> alternate; optional; option; option <id>
        opt; opt <id>; unit price; unit price <id>; deduct; deductive; deduct item|price; add price
        price separately; separate price; priced separately; breakout price; break out; as an alternate
        as alternate; optional extra|extras; credit; credit for; credit <id>; value engineering; up <n>; zulage
        alternativ; alternative
        alternativposition|alternativpos; alternativposition <id>
        eventualposition|eventualpos; eventualposition <id>; bedarfsposition|bedarfspos|bedarf; bedarfsposition <id>
        wahlposition; wahlposition <id>; optional|optionale|option; zulageposition; ep; eventualpos <id>; variante
        variante <id>; en option; option <id>; en variante; pse; pse <id>; moins value; plus value; en plus value
        en moins value; optionnel|optionnelle; alternativa; alternativa <id>; alternativo
        opcional|opcionales|opción; opción <id>; alternativa n? <id>; en opción; variante""",
    "allowance": """
        allowance; allowances; allow; alw; allw; unscheduled; not scheduled|shown|detailed; allow for; allow <n>
        in allowance; cash allowance; carry; carry <n>; carry allowance; provisional; provisional sum; prov sum; ps
        pc sum; contingency; assume|assumed <n>?; assumed; pauschal|pauschale; vorbehalt; bereitstellungsposition
        angenommen; annahme; provision|provisions; forfait; à prévoir; prévoir; prévision; supposé|supposée
        asignación; provisión; partida alzada; p a; previsión; supuesto|supuesta; prever""",
    "fire_rated": """
        fire rated|rating; rated|rating; fire; frr; fr; fire resistance rating?
        fire door|doors|window|shutter|damper|frame|glass|glazing
        rated opening|openings|door|frame|assembly|wall|glass|glazing
        fire rated opening|openings|door|doors|window|windows|frame|assembly|wall|glass|glazing
        <n> min|mins|minute|minutes rated|label|labeled|fire?; <n> min|mins|minute|minutes
        <n> hr|hour|hours|hrs rated|label|fire|wall?; <n> hr|hour|hours|hrs; a|b|c label; ul label; labeled; fd <n>
        fd <n> s; firestop|firestopped|firestopping; fire stop|stopped|stopping|caulk; fire caulk
        smoke rated|sealed; fire smoke damper; fsd; brandschutz; brandschutztür|brandschutzfenster
        feuerhemmend|feuerbeständig; t30|t60|t90|f30|f60|f90|ei30|ei60|ei90|ei120; t30|t90 rs; t 30 rs; rs 1|2 tür?
        ei <n>; ei2 <n>
        ei <n> c?; rauchschutz; rauchdicht; brandschott|brandschottung; abschottung; coupe feu; cf; cf <n>; pf
        cf <n> h?; pare flamme|flammes; pf <n>; anti feu; résistant au feu; désenfumage; cortafuego|cortafuegos
        corta fuego|fuegos; rf; rf <n>; resistente al fuego; ei2 <n> c5; parallamas; contra incendio|incendios
        ignífugo""",
    "hold": """
        on hold; hold; holds; tbd; tbc; tba; tbv; t b d
        to be determined|confirmed|advised|verified|decided|resolved; to be det; pending; pend; under review
        in review; not confirmed; unconfirmed; awaiting; awaiting rfi|info|approval|response
        await rfi|info|approval; open issue; rfi; rfi pending; pending rfi <id>
        hold for rfi|approval|owner|info|design <id>?; design pending; not final; prelim; preliminary; placeholder
        undecided; unresolved; to follow; verify; confirm; to verify; to confirm; please confirm
        confirm w|with arch|architect|owner|gc; confirm if needed|required; if required|needed; as required
        as needed; possible; possibly; maybe; poss; in klärung; klären; zu klären; ungeklärt; noch offen; offen
        wird geklärt; noch zu klären; gesperrt; zurückgestellt; vorläufig; in planung; wird nachgereicht; ausstehend
        prüfen; zu prüfen; evtl; eventuell; ggf; gegebenenfalls; bei bedarf; falls erforderlich; en attente
        à définir|confirmer|préciser|valider|déterminer|vérifier; à voir; non défini|définie; en suspens
        sous réserve; réservé à valider; provisoire; éventuel|éventuelle|éventuellement; si nécessaire; si besoin
        peut être; à étudier; pendiente; pendientes; por definir|confirmar|determinar|verificar|aclarar
        a definir|confirmar|determinar|verificar; sin definir|confirmar; en espera; en estudio; en revisión
        si procede|necesario; según necesidad; posible|posiblemente; eventual; quizás""",
    "demolition": """
        demo; demolish; demolished; demolition; to be demolished; demo & replace; demo and replace
        demo existing|exist|(e); demo only; (dem); remove & replace; remove and replace existing?; r&r; r & r
        tear out; tear off; strip out; gut; selective demo|demolition; (d); replace; replaced; replacement
        replace existing|exist|(e); to be replaced; replace in kind; abbruch|abbrechen|abgebrochen; abbruch und neu
        demontage|demontieren|demontiert; abriss; ersetzen; ersatz; wird ersetzt; austausch; austauschen
        démolition|démolir|démoli|démolie; à démolir; à remplacer; remplacer|remplacement|remplacé|remplacée
        dépose et pose; dépose repose; demolición|demoler|demolido|demolida; a demoler; derribo|derribar
        a sustituir; sustituir|sustitución|sustituido; reemplazar|reemplazo; a reemplazar""",
    "relocate": """
        relocate; relocated; relocate existing; existing relocated; existing to be relocated; to be relocated; reloc
        relo; (r); moved; moved to; move to; move; reuse; reused; re use; reused frame; salvage; salvaged
        salvage and reinstall; reinstall; reinstalled; reset; re set; refurbish; refurbished; reglaze; reglazed
        re glaze|glazed; weatherize; restore; restored; restoration; repair; repaired; rehab; recondition
        versetzen|versetzt|umsetzen|umgesetzt; verschoben; wiederverwenden|wiederverwendet; wiedereinbau
        saniert|sanieren|sanierung; aufarbeiten|instandsetzen|instandsetzung; überarbeiten; reparatur
        déplacé|déplacée|déplacer; à déplacer; réemploi|réutilisé|réutilisée|repose|reposé; à réutiliser
        restauré|restaurée|rénové|rénovée|rénovation|restauration; réparation
        reubicar|reubicado|reubicada|trasladar|trasladado; a reubicar; reutilizar|reutilizado|reutilizada
        recolocar|recolocado; restaurar|restauración|rehabilitar|rehabilitación|reparar|reparación""",
    "spare": """
        spare; spares; attic stock; vmu; visual mock up; extra; extras; extra material; stock; overage; mock up
        mockup; mock ups?
        sample; samples; test unit; blind; blanked; blank; blank off; blanked off; dummy; false; faux
        fake; spandrel; blind window; dummy window; false window; shadow box; shadowbox; ersatzteil|vorrat
        muster|musterfenster; attrappe|blindfenster; blende; scheinfenster; rechange; de rechange; témoin|prototype
        factice|fausse|faux; fausse fenêtre; aveugle; repuesto|reserva; de repuesto; maqueta|muestra; ciega|ciego
        falsa|falso; simulado|simulada""",
    "not_applicable": """
        n/a; na; not applicable; doesn t apply; does not apply; entfaellt hier; k a; s / o; n a; n.v.t""",
    "apart": """
        curtain wall|walls; curtainwall|curtainwalls; window wall; storefront; storefronts; sf; skylight; skylights
        roof window|windows|hatch|hatches; smoke hatch|hatches; dachfenster|lichtkuppel|oberlichtband
        dachflächenfenster; vorhangfassade
        pfosten riegel; pfosten riegel fassade; mur rideau; murs rideaux; fenêtre|châssis de toit; lanterneau; verrière
        muro cortina; lucernario|claraboya; ventana de tejado; coiling door; overhead door; oh door; ohd; roll up
        rollup; rolling door|shutter; sectional door; garage door; rolltor|sectionaltor|garagentor
        porte de garage|sectionnelle; puerta de garaje|seccional; access hatch|panel; trapdoor; detached; shed
        canopy; unit in curtain wall; within curtain wall; within curtainwall|storefront|cw""",
    "exception": """
        except; except at|for|where|as; only at|on|in|for; nur in|im|auf|bei; nur eg|og|ug; seulement; uniquement
        solo en|planta; solamente; excepting; other than; unless; not at; not on; exclude at; sauf; hormis; excepté
        außer|ausgenommen; bis auf; excepto; salvo; menos; nicht auf|in|bei; not all; not every; partial; partially
        half of; some; one only; part of; portion; teilweise; zum teil; en partie; partie; partiel; parcial
        parcialmente""",
}
