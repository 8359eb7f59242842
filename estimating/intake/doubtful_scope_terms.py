"""Words of a cell that are two-way by themselves: heard as words of scope with a doubt, some only as a whole remark.

Common practice, no source. Topics are keys.
"""

DOUBTFUL = {
    "future": "knockout; knock out; knock out panel; ko panel; breakout panel; blank opening",
    "existing": """
        ex; paint existing; refinish existing; existing opening new window|door|unit|frame
        new window|door|unit|frame in existing opening|ro; new in existing; new in (e); in (e) opening
        in existing opening; verify existing; see existing; existing condition|conditions; existing frame new door
        modify existing; modified existing; enlarge existing; enlarge existing opening; widen existing
        existing enlarged; neu in bestand|bestandsöffnung; im bestand neu; dans existant; dans baie existante
        en hueco existente""",
    "deleted": """
        strike; del; remove from schedule; out; x out; xxx; xxxx; xxxxx; raus; weg; old; draft; backup; back up
        copy of; archive; archived; outdated; entwurf; brouillon; borrador; sicherung; alt stand; ancienne version""",
    "not_in_contract": "n/c; caulk|caulking|sealant|seal|paint|repaint|refinish|glass|reglaze|clean only",
    "void": """
        at void; void space; over void; void above|below; vide; vacío; leer; leerraum; luftraum; open to below; otb""",
    "by_others": """
        panelized|panelised|prefab|prefabricated|premanufactured; modular unit|units|wall|panel; bathroom pod|pods
        in|with precast panel|panels; by; per tenant|owner|landlord; div|division <n>; per div|division <n>
        par le|la|les|l|l|un|une; durch; vom
        von der|dem; por el|la|los|las
        coord w|with mech|mechanical|elec|plumbing|owner|gc|others
        coordinate w|with mech|mechanical|elec|plumbing|owner|gc|others
        see mech|mechanical|mep|elec|electrical|plumbing|plumb
        see mech|mechanical|mep|elec|electrical|plumbing dwg|dwgs|drawing|drawings|plan|plans|schedule""",
    "interior": "interior glazing|frames",
    "relocate": "new location",
    "apart": "cw",
    "spare": "mirror glass; stub; stub up; capped; cap; plugged; unused sleeve",
    "fire_rated": "label; labelled",
}
ALONE = {
    "by_others": """
        ec; mc; pc; ti; bo; oths; supplier; vendor; shop; factory; modular; pod; pods; precast panel
        mech; mechanical; electrical; elec; plumbing; hvac; tenant; owner; landlord; gc; client; sprinkler; architect
        moa; ag; bauherr; auftraggeber; mieter; metallbau; metallbauer; schlosser; rohbau
        locataire; propriétaire; inquilino""",
    "not_in_contract": "n i; ni; nr; n r; h l; hl; ohne; bp <n>; pkg|package <n>; no work; n/w",
    "existing": """
        e; as is; no change; unchanged; done; complete; completed; installed; sealed; flashed; erhalten; remain
        fertig""",
    "existing_removed": "close; closed; blocked; patch; zu; fermé; cerrar",
    "interior": "inside; indoor; indoors",
    "future": "<n> ba",
    "fire_rated": "smoke",
    "alternate": "ve",
    "deleted": "see rev; see revision",
}  # as the whole of a remark
