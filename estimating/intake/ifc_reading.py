"""The windows and doors of a building model as opening lines: units exact, sizes settled, doubts asked.

elements > unit > size (overall, else the hole's) > marks > lines of like elements > what is apart
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cells import read_cell_length
from estimating.intake.draft import Draft
from estimating.intake.ifc_lengths import differ, settle_size, settle_unit
from rates.core.texts import counted

SKYLIGHT, CURTAIN_WALL = "skylight", "part of a curtain wall"


@dataclass
class ModelReading:
    """Drafts with the elements of each, and what is reported beside them."""

    drafts: list[Draft] = field(default_factory=list)
    elements: list[list[dict[str, Any]]] = field(default_factory=list)
    apart: list[dict[str, Any]] = field(default_factory=list)

    def place(self, index: int, name: str | None = None) -> str:
        """The elements of a line by their ids."""
        del name
        return names(self.elements[index])


def names(elements: Sequence[dict[str, Any]]) -> str:
    """Elements as a person finds them in the model."""
    shown = ", ".join(f"#{element['id']}" for element in elements[:5])
    return shown + (f" and {len(elements) - 5:,} more" if len(elements) > 5 else "")


def read_elements(model: dict[str, Any], asker: Asker) -> ModelReading:
    """The opening lines of a model as ifc_model gives it."""
    scale = settle_unit(model["unit"], asker)
    elements = model["elements"]
    for element in elements:
        settle_size(element, scale)
    ask_sizes(elements, asker)
    settle_marks(elements, asker)
    reading = ModelReading()
    for key, group in group_alike(drop_double_tags(elements, asker)).items():
        add_line(reading, key, group, asker)
    report_apart(model, reading, asker)
    return reading


def ask_sizes(elements: Sequence[dict[str, Any]], asker: Asker) -> None:
    """Sizes taken from the hole are told; those that the model's own quantities contradict are asked about."""
    holes = [e for e in elements if e["width_from_hole"] or e["height_from_hole"]]
    if holes:
        sentence = f"No overall size is given for {counted(len(holes), 'element')}; that of the hole filled was taken."
        asker.tell("size_from_hole", sentence, cells=[names([e]) for e in holes])
    noisy = [e for e in elements if e["width_noise"] or e["height_noise"]]
    if noisy:
        elements_told = counted(len(noisy), "element")
        sentence = f"Sizes of {elements_told} were taken to the whole micrometre, such as {noisy[0]['width']}."
        asker.tell("size_rounded", sentence, cells=[names([e]) for e in noisy])
    for name in ("width", "height"):
        differing: dict[tuple[str, str], list[dict[str, Any]]] = {}
        for element in elements:
            pair = element[f"{name}_text"], element[f"{name}_quantity"]
            if pair[0] and pair[1] and differ(pair[0], pair[1]):
                differing.setdefault(pair, []).append(element)
        for (overall, quantity), group in differing.items():
            elements_told = counted(len(group), group[0]["kind"])
            answer = asker.ask(
                "size_disagrees", BLOCKS_ISSUE,
                f"The overall {name} of {elements_told} is {overall}; their quantities say {quantity}. Which is right?",
                about=(name, overall, quantity), choices=(overall, quantity), cells=[names([e]) for e in group],
            )  # fmt: skip
            for element in group if answer else ():
                element[f"{name}_text"] = answer


def settle_marks(elements: Sequence[dict[str, Any]], asker: Asker) -> None:
    """The mark that a property gives, else the type's name with the size; the tag is an authoring id and no mark."""
    kinds: dict[str, set[str]] = {}
    for element in elements:
        if element["mark"]:
            kinds.setdefault(element["mark"].upper(), set()).add(element["kind"])
    shared = sorted(mark for mark, found in kinds.items() if len(found) > 1)
    if shared:
        listed = ", ".join(shared[:5])
        sentence = f"Marks such as {listed} stand for a window and for a door; the kind is put before every mark."
        asker.tell("mark_of_two_kinds", sentence)
    unmarked = [element for element in elements if not element["mark"]]
    if unmarked:
        sentence = f"{len(unmarked):,} elements have no mark; their type's name and size stand for it."
        asker.tell("mark_from_type", sentence, cells=[names([e]) for e in unmarked])
    for element in elements:
        mark = element["mark"]
        if not mark:
            size = f"{element['width_text'] or '?'} x {element['height_text'] or '?'}"
            mark = f"{(element['type'] or element['kind'])[:40].strip()} {size}"
        elif shared:
            mark = f"{element['kind']} {mark}"
        element["mark_text"] = " ".join(mark.split())[:80]


def drop_double_tags(elements: Sequence[dict[str, Any]], asker: Asker) -> list[dict[str, Any]]:
    """The elements, those of one tag listed twice counted once where an answer says so."""
    groups: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for element in elements:
        groups.setdefault((element["kind"], element["tag"] or element["id"]), []).append(element)
    kept = []
    for (kind, tag), group in groups.items():
        if len(group) > 1:
            answer = asker.ask(
                "tag_listed_twice", BLOCKS_ISSUE,
                f"The {kind} with the tag {tag} is listed {len(group)} times, as happens in curtain walls. Is it one?",
                about=(kind, tag, str(len(group))), choices=("one", "all"), cells=[names([e]) for e in group],
            )  # fmt: skip
            group = group[:1] if answer == "one" else group
        kept.extend(group)
    return kept


Key = tuple[Any, ...]


def group_alike(elements: Sequence[dict[str, Any]]) -> dict[Key, list[dict[str, Any]]]:
    """Elements that make one line."""
    groups: dict[Key, list[dict[str, Any]]] = {}
    for e in elements:
        host = e["host"] or {"type": ""}
        what = (
            "curtain_wall"
            if e["curtain_wall"]
            else "skylight"
            if e["skylight"]
            else ""
            if e["fills_hole"]
            else "no_hole"
        )
        key = (e["mark_text"], e["kind"], e["width_text"], e["height_text"], e["storey"], e["external"])
        groups.setdefault((*key, host["type"], e["depth_text"], what), []).append(e)
    return groups


def add_line(reading: ModelReading, key: Key, group: list[dict[str, Any]], asker: Asker) -> None:
    """One line of like elements."""
    mark, kind, width, height, storey, external, host, depth, what = key
    index = len(reading.drafts)
    values: dict[str, Any] = {"mark": mark, "kind": kind, "quantity": len(group), "storey": storey or ""}
    draft = Draft(values, 0, index)
    reading.drafts.append(draft)
    reading.elements.append(group)
    values |= {name: text for name, text in (("width", width), ("height", height)) if text}
    if external is not None:
        values["external"] = external
    if host or depth:
        values["note"] = f"in {host or 'a wall'}{', ' + depth + ' deep' if depth else ''}"[:900]
    for name in ("width", "height"):
        if group[0][f"{name}_from_hole"]:
            draft.written[name] = f"hole {group[0]['hole'][name]}"
        elif group[0][f"{name}_noise"]:
            draft.written[name] = str(group[0][name])
        if not values.get(name):
            ask_size(name, draft, key, group, asker)
    if storey is None:
        asker.tell("storey_missing", f"{mark} stands on no storey in the model.", about=(mark,), cells=(names(group),))
    if what:
        ask_what(what, draft, reading, group, asker)


def ask_size(name: str, draft: Draft, key: Key, group: Sequence[dict[str, Any]], asker: Asker) -> None:
    """A size that neither the element nor its hole gives."""
    answer = asker.ask(
        "size_unknown", BLOCKS_COSTING, f"What is the {name} of {key[0]}? The model gives none.",
        about=(str(key[0]), str(key[4]), name), choices=("set_aside",), open_answer="a length", cells=(names(group),),
    )  # fmt: skip
    if answer == "set_aside":
        draft.values["excluded"] = {"reason": f"{name} unknown"}
    elif answer:
        found = read_cell_length(answer, "")
        if found.code:
            asker.refuse("size_unknown", (), found.detail)
        else:
            draft.values[name] = found.text


WHAT = {
    "skylight": (SKYLIGHT, "lies in a roof or slab: a skylight, however it is flagged"),
    "curtain_wall": (CURTAIN_WALL, "is part of a curtain wall"),
    "no_hole": ("fills no hole", "fills no hole in any wall"),
}


def ask_what(
    what: str, draft: Draft, reading: ModelReading, group: Sequence[dict[str, Any]], asker: Asker
) -> None:  # fmt: skip
    """What is apart from windows and doors in walls: reported, and priced or left out as answered."""
    reason, says = WHAT[what]
    values = draft.values
    size = (values.get("width", ""), values.get("height", ""))
    reading.apart.append(
        {"what": what, "mark": values["mark"], "kind": values["kind"], "count": len(group), "storey": values["storey"]}
        | {"width": size[0], "height": size[1], "external": values.get("external"), "line": len(reading.drafts) - 1}
    )
    answer = asker.ask(
        what, BLOCKS_ISSUE, f"{values['mark']} ({len(group)}) {says}. Is it priced as drawn, or set aside?",
        about=(values["mark"], values["storey"], *size), choices=("as_drawn", "set_aside"), cells=(names(group),),
    )  # fmt: skip
    if answer == "set_aside":
        values["excluded"] = {"reason": reason}


def report_apart(model: dict[str, Any], reading: ModelReading, asker: Asker) -> None:
    """Curtain walls, and holes that nothing fills."""
    count = model["curtain_wall_count"]
    if count:
        reading.apart.append({"what": "curtain_walls", "count": count})
        sentence = f"The model has {count:,} curtain walls; none of their glass is counted here."
        asker.tell("curtain_walls", sentence, cells=[f"#{wall['id']}" for wall in model["curtain_walls"]])
    if not reading.drafts:
        sentence = "The model has no window and no door."
        asker.ask("no_openings", BLOCKS_COSTING, sentence, about=("model",), choices=("nothing_to_price",))
    for host, holes in sorted(model["unfilled_holes"].items()):
        reading.apart.append({"what": "unfilled_holes", "host": host, "count": holes})
        if host.startswith("IfcWall"):
            sentence = (
                f"{holes:,} holes in walls hold neither window nor door. Are they louvres or penetrations to be priced?"
            )
            asker.ask(
                "holes_in_walls",
                BLOCKS_ISSUE,
                sentence,
                about=(str(holes),),
                choices=("not_priced",),
                open_answer="what they are",
            )
        else:
            asker.tell("holes_elsewhere", f"Left out: {counted(holes, 'unfilled hole')} in {host}.", about=(host,))
