"""Areas, volumes, coverages, beads and packs against published values."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rates.core.exact import print_quantity
from rates.core.problems import Unreadable
from rates.core.units import (
    AREA_NM2,
    LENGTH_NM,
    VOLUME_NM3,
    read_area,
    read_coverage,
    read_length,
    read_pack_size,
    read_volume,
)

HB44 = "NIST Handbook 44, Appendix C"
BULLETINS = "coating makers' bulletins and question columns, theoretical coverage"
SEALANT = "geometry with 1 gal = 231 in3 (Handbook 44); the same table is common in the trade"


@pytest.mark.parametrize(
    ("source", "text", "unit", "printed"),
    [
        (HB44, "1 gal", "L", "3.785411784"),
        (HB44, "1 fl oz", "mL", "29.5735295625"),
        (HB44, "1 gal", "in3", "231"),
        (HB44, "4 qt", "gal", "1"),
        (HB44, "8 pt", "gal", "1"),
        (HB44, "128 fl oz", "gal", "1"),
        (HB44, "10.1 fl oz", "in3", "18.22734375"),
        ("SI, 1 m3 = 1000 L", "1 m³", "L", "1000"),
    ],
)
def test_converts_volumes(source: str, text: str, unit: str, printed: str) -> None:
    assert print_quantity(read_volume(text) / VOLUME_NM3[unit], 10) == printed, source


def test_a_published_factor_for_ounces_per_cubic_inch_is_wrong() -> None:
    """A consumer table prints 0.542 fl oz per in3; Handbook 44 gives 128/231 = 0.554."""
    per_cubic_inch = print_quantity(VOLUME_NM3["in3"] / VOLUME_NM3["fl oz"], 3)
    assert per_cubic_inch == "0.554"
    assert per_cubic_inch != "0.542"


@pytest.mark.parametrize(
    ("source", "solids_percent", "film", "area", "volume", "places", "printed"),
    [
        (BULLETINS, "100", "10 mil", "ft2", "gal", 3, "160.417"),
        (BULLETINS, "65", "125 um", "m2", "L", 1, "5.2"),
        (BULLETINS, "100", "1 um", "m2", "L", 0, "1000"),
        (HB44, "100", "1 mil", "ft2", "gal", 4, "1604.1667"),
        (BULLETINS, "100", "40 mil", "ft2", "gal", 1, "40.1"),
        (BULLETINS, "100", "100 mil", "ft2", "gal", 2, "16.04"),
    ],
)
def test_coverage_is_one_over_film_thickness(
    source: str, solids_percent: str, film: str, area: str, volume: str, places: int, printed: str
) -> None:
    per_nm = Fraction(solids_percent) / 100 / read_length(film).nm
    assert print_quantity(per_nm * VOLUME_NM3[volume] / AREA_NM2[area], places) == printed, source


def test_coverage_text_reads_as_area_per_volume() -> None:
    assert read_coverage("40 ft2/gal") == 40 * AREA_NM2["ft2"] / VOLUME_NM3["gal"]
    # Bulletins: 65 % solids at 125 um dry cover 5.2 m2/L, exactly.
    assert read_coverage("5.2 m²/L") == Fraction(65, 100) / read_length("125 um").nm
    assert read_coverage(" 5.2 sq m / litre ") == read_coverage("5.2 m2/L")


@pytest.mark.parametrize(
    ("width", "depth", "per_gallon", "per_cartridge"),
    [
        ("1/4 in", "1/4 in", "308", "24.3"),
        ("3/8 in", "1/4 in", "205.33", "16.2"),
        ("1/2 in", "1/4 in", "154", "12.15"),
        ("1/2 in", "3/8 in", "102.67", "8.1"),
        ("1/2 in", "1/2 in", "77", "6.08"),
    ],
)
def test_feet_of_bead_per_gallon_and_cartridge(width: str, depth: str, per_gallon: str, per_cartridge: str) -> None:
    section = read_length(width).nm * read_length(depth).nm * LENGTH_NM["ft"]
    assert print_quantity(read_volume("1 gal") / section, 2) == per_gallon, SEALANT
    assert print_quantity(read_volume("10.1 fl oz") / section, 2) == per_cartridge, SEALANT


@pytest.mark.parametrize(
    ("text", "pack"),
    [
        ("150 ft", ("length", 150 * LENGTH_NM["ft"])),
        ("30 m", ("length", 30 * LENGTH_NM["m"])),
        ("5 gal", ("volume", 5 * VOLUME_NM3["gal"])),
        ("10.1 fl oz", ("volume", Fraction("10.1") * VOLUME_NM3["fl oz"])),
        ("600 mL", ("volume", 600 * VOLUME_NM3["mL"])),
        ("1 each", ("each", Fraction(1))),
        ("-1 each", ("each", Fraction(-1))),
    ],
)
def test_reads_pack_sizes(text: str, pack: tuple[str, Fraction]) -> None:
    assert read_pack_size(text) == pack


def test_reads_areas() -> None:
    assert read_area("1 ft²") == 144 * AREA_NM2["in2"]
    assert read_area("12.5 m2") == 12_500_000 * AREA_NM2["mm2"]
    assert read_area("-1 sq ft") == -AREA_NM2["ft2"]


@pytest.mark.parametrize(
    ("read", "text", "code"),
    [
        (read_area, "5", "unit_missing"),
        (read_area, "5 ft", "unknown_unit"),
        (read_area, "1e5 ft2", "not_an_area"),
        (read_volume, "5 ft2", "unknown_unit"),
        (read_volume, "five gal", "not_a_volume"),
        (read_volume, "9" * 10**6 + " gal", "too_long"),
        (read_coverage, "40 ft2", "not_a_coverage"),
        (read_coverage, "40/gal", "unit_missing"),
        (read_coverage, "40 gal/ft2", "not_a_coverage"),
        (read_coverage, "40 ft2/" + "g" * 10**6, "not_a_coverage"),
        (read_pack_size, "1/2 each", "not_a_pack_size"),
        (read_pack_size, "5 buckets", "unknown_unit"),
        (read_pack_size, "5", "unit_missing"),
    ],
)
def test_refuses_other_measures_with_a_code(read: object, text: str, code: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read(text)  # type: ignore[operator]
    assert (caught.value.code, len(caught.value.detail) < 400) == (code, True)
