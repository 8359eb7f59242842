"""Kinds of openings in words of four languages (common practice, no source)."""

import pytest

from estimating.intake.kind_words import kind_of


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("T\u00fcrliste", "door"),
        ("Fensterliste", "window"),
        ("Balkont\u00fcr", "door"),
        ("Holzfenster", "window"),
        ("Liste des portes", "door"),
        ("Gaine ventilation", "duct"),
        ("Travers\u00e9e tuyau", "pipe"),
        ("Ventana", "window"),
        ("Porte-fen\u00eatre", "door"),
        ("Refrigerant line set sleeve", "pipe"),
        ("PVC vent", "pipe"),
        ("Struktur", None),
        ("Window & door schedule", None),
    ],
)
def test_kinds(text: str, kind: str | None) -> None:
    assert kind_of(text) == kind
