"""Building models broken in every way that a text file can be."""

from __future__ import annotations

import random
from collections.abc import Iterator

from tests.intake.small_models import Opening, model

WINDOW = Opening(width="0.9", height="1.2", mark="W1", external=".T.")


def models() -> Iterator[tuple[str, bytes]]:
    """All of them."""
    sound = model([WINDOW, WINDOW])
    chance = random.Random(600)
    for number in range(6):
        yield f"model-cut-{number}.ifc", sound[: 40 + (len(sound) - 40) * number // 6]
    for number in range(6):
        data = bytearray(sound)
        for _ in range(1 + 3 * number):
            data[chance.randrange(40, len(data))] = chance.randrange(32, 127)
        yield f"model-damaged-{number}.ifc", bytes(data)
    yield "model-beginning-only.ifc", b"ISO-10303-21;"
    yield "model-text.ifc", b"ISO-10303-21;\nthis is no model\n" * 100
    yield "model-unknown-schema.ifc", model([WINDOW], schema="IFC99")
    yield "model-nul.ifc", sound.replace(b"Wall", b"W\0ll")
    yield "model-missing-reference.ifc", sound.replace(b"#22=IFCWALL", b"#9922=IFCWALL")
    yield "model-itself.ifc", sound.replace(b"#8=IFCLOCALPLACEMENT($,#7)", b"#8=IFCLOCALPLACEMENT(#8,#7)")
    yield "model-wild-size.ifc", model([Opening(width="1.E300", height="-1.2", mark="W1")])
    yield "model-many-brackets.ifc", sound.replace(b"DATA;", b"DATA;\n#99999=IFCX(" + b"(" * 100_000)
