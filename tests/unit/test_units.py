"""Quantities as a planner writes them."""

from __future__ import annotations

import contextlib
import pickle

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.units import HOUSE_UNIT, UNITS, Module, Quantity, parse, parse_module, shown

_PLENTY = settings(deadline=None, derandomize=True, max_examples=300)


@pytest.mark.parametrize(
    ("written", "dimension", "value"),
    [
        ("12.5 mm", "length", 12.5),
        ("12.5mm", "length", 12.5),
        (" +1e2 mm ", "length", 100.0),
        (".5 in", "length", 12.7),
        ("1/2 in", "length", 12.7),
        ("1 1/2 in", "length", 38.1),
        ("1-1/2 in", "length", 38.1),
        ('-5/8"', "length", -15.875),
        ("2 ft", "length", 609.6),
        ("63 uin", "length", 0.0016002),
        ("1.6 µm", "length", 0.0016),
        ("1.6 μm", "length", 0.0016),
        ("2 mil", "length", 0.0508),
        (0, "length", 0.0),
        ("0", "mass", 0.0),
        ("20 deg", "angle", 20.0),
        ("20°", "angle", 20.0),
        ("20°30'", "angle", 20.5),
        ("-20° 30' 36\"", "angle", -20.51),
        ("20°30′36″", "angle", 20.51),
        ("6 arcsec", "angle", 1 / 600),
        ("1.3 t", "mass", 1300.0),
        ("2000 lb", "mass", 907.18474),
        ("5 d", "time", 7200.0),
        ("90 s", "time", 1.5),
        ("1 kN", "force", 1000.0),
        ("1 lbf", "force", 4.4482216152605),
        ("2.5 kN m", "torque", 2500.0),
        ("1 ft lbf", "torque", 1.3558179483314004),
        ("1 hp", "power", 0.74569987158227),
        ("320 1/min", "speed", 320.0),
        ("500 sfm", "cutting speed", 152.4),
        ("0.01 ipr", "feed", 0.254),
        ("24 m/min", "feed rate", 24000.0),
        ("1700 N/mm²", "pressure", 1700.0),
    ],
)
def test_quantities(written: object, dimension: str, value: float) -> None:
    """Factors of ISO 80000 and of the international inch and pound of 1959, from memory."""
    quantity = parse(written, dimension)
    assert float(quantity) == pytest.approx(value, rel=1e-12)
    assert str(quantity) == str(written).strip()


@pytest.mark.parametrize(
    ("written", "dimension", "words"),
    [
        ("12.5", "length", "'12.5' has no unit; a length is written with one, such as \"12.5 mm\""),
        (12.5, "length", "'12.5' has no unit"),
        ("12,5 mm", "length", r"'12,5 mm' is not a length.*\(decimals are written with a point\)"),
        ("abc", "length", "'abc' is not a length; write a number and a unit"),
        ("", "length", "'' is not a length"),
        ("12 kg", "length", "'kg' is a unit of mass, not of length; units of length: mm, cm, m"),
        ("12 mmm", "length", "unknown unit 'mmm'; units of length: mm"),
        ("12 MM", "length", "unknown unit 'MM'"),
        ("1/0 in", "length", "'1/0 in' divides by zero"),
        ("1/2 mm", "length", "unknown unit '/2 mm'|is not a length"),
        ("20°61'", "angle", "minutes and seconds of an angle stay below 60"),
        ("1e999 mm", "length", "'1e999 mm' is too large to be a length"),
        (float("nan"), "length", "'nan' is not a length"),
        (float("inf"), "length", "'inf' is not a length"),
        (True, "length", "True is not a length"),
        (None, "length", "None is not a length"),
        ([1], "length", r"\[1\] is not a length"),
        ("0 kg", "length", "'kg' is a unit of mass, not of length"),
        ("5 min", "angle", "'min' is a unit of time, not of angle"),
    ],
)
def test_no_quantities(written: object, dimension: str, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        parse(written, dimension)


@pytest.mark.parametrize(
    ("written", "module"),
    [
        ("8 mm", Module(8.0, "normal", "8 mm")),
        ("DP 4", Module(6.35, "either", "DP 4")),
        ("NDP 5", Module(5.08, "normal", "NDP 5")),
        ("TDP4", Module(6.35, "transverse", "TDP4")),
        ("1/4 in", Module(6.35, "normal", "1/4 in")),
    ],
)
def test_modules(written: str, module: Module) -> None:
    read = parse_module(written)
    assert (read.millimetres, read.system, read.text) == (
        pytest.approx(module.millimetres),
        module.system,
        module.text,
    )
    assert str(read) == written
    assert parse_module(read) is read


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("8", '\'8\' has no unit.*; a module is written "8 mm", a diametral pitch "DP 4"'),
        (8, "'8' has no unit"),
        ("DP 0", "'DP 0': a diametral pitch is above 0"),
        ("DP -4", "a diametral pitch is above 0"),
        ("0 mm", "'0 mm': a module is above 0"),
        ("-8 mm", "'-8 mm': a module is above 0"),
        ("DP 1e999", "'DP 1e999'"),
        ("DP 1e-320", "'DP 1e-320'"),
        ("m 8", "'m 8' is not a length"),
    ],
)
def test_no_modules(written: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        parse_module(written)


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (12.5, 3, "12.5"),
        (12.0, 3, "12"),
        (0.00049, 3, "0"),
        (-0.0001, 3, "0"),
        (901.39590669, 3, "901.396"),
        (1200.0, 0, "1200"),
        (0.1 + 0.2, 3, "0.3"),
    ],
)
def test_shown(value: float, decimals: int, text: str) -> None:
    assert shown(value, decimals) == text


def test_a_quantity_is_read_as_it_is_and_travels_between_processes() -> None:
    quantity = parse("1/2 in", "length")
    assert parse(quantity, "length") is quantity
    copied = pickle.loads(pickle.dumps(quantity))
    assert (float(copied), copied.text) == (12.7, "1/2 in")
    assert repr(quantity) == "Quantity(12.7, '1/2 in')"


def test_first_unit_of_each_dimension_is_the_one_inside() -> None:
    assert all(UNITS[dimension][unit] == 1.0 for dimension, unit in HOUSE_UNIT.items())


@_PLENTY
@given(
    st.sampled_from([(dimension, unit) for dimension, units in UNITS.items() for unit in units]),
    st.floats(-1e12, 1e12, allow_nan=False).map(lambda value: round(value, 6)),
)
def test_every_unit_round_trips(unit: tuple[str, str], value: float) -> None:
    """Number and unit give the number times the factor, and the text reads to the same again."""
    dimension, name = unit
    quantity = parse(f"{value!r} {name}", dimension)
    assert float(quantity) == value * UNITS[dimension][name]
    assert parse(quantity.text, dimension) == quantity


@_PLENTY
@given(st.sampled_from(sorted(UNITS)), st.one_of(st.text(max_size=30), st.floats(), st.integers(), st.none()))
def test_any_text_is_a_finite_quantity_or_a_value_error(dimension: str, written: object) -> None:
    quantity = None
    with contextlib.suppress(ValueError):
        quantity = parse(written, dimension)
    assert quantity is None or (isinstance(quantity, Quantity) and abs(quantity) < float("inf"))


_ALPHABET = "0123456789+-.,eE/ °'\"′″mindeg DPTNx\u00bd\u0663\n"


@_PLENTY
@given(st.sampled_from(["length", "angle", "mass"]), st.text(_ALPHABET, max_size=12))
def test_text_that_looks_like_a_quantity(dimension: str, written: str) -> None:
    for read in (lambda text: parse(text, dimension), parse_module):
        with contextlib.suppress(ValueError):
            assert read(written) is not None


@_PLENTY
@given(st.floats(0.001, 1000).map(lambda value: round(value, 4)))
def test_diametral_pitch_and_module(pitch: float) -> None:
    assert parse_module(f"DP {pitch}").millimetres * pitch == pytest.approx(25.4)


@_PLENTY
@given(st.floats(-1e9, 1e9), st.integers(0, 6))
def test_shown_numbers_have_no_tail(value: float, decimals: int) -> None:
    text = shown(value, decimals)
    assert float(text) == pytest.approx(value, abs=0.5 * 10**-decimals * (1 + 1e-9) + abs(value) * 1e-15)
    assert text != "-0"
    assert "." not in text or not text.endswith(("0", "."))
