"""Lengths as quilters write them, exact inside.

Every length in Ellwand is a :class:`~fractions.Fraction` of inches; an inch is 25.4 mm exactly.
Text is read by a small grammar of our own, because pint misreads mixed fractions without a word
(``2 1/2 in`` becomes 1 in). pint is handed one clean number and one unit, here and nowhere else.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import ceil, floor

__all__ = [
    "ROOT_2",
    "Notation",
    "decimal_of",
    "is_decimal",
    "mixed",
    "parse_length",
    "parse_percent",
    "round_down",
    "round_up",
    "unit_length",
]

ROOT_2 = Fraction(30122754096401, 21300003689580)  # a convergent of √2 from above: 10⁻²⁷ more
_UNITS = {
    "in": "inch", "inch": "inch", "inches": "inch", '"': "inch", "″": "inch", "”": "inch",
    "ft": "foot", "foot": "foot", "feet": "foot", "'": "foot", "′": "foot", "’": "foot",
    "yd": "yard", "yds": "yard", "yard": "yard", "yards": "yard",
    "mm": "millimeter", "cm": "centimeter",
    "m": "meter", "metre": "meter", "metres": "meter", "meter": "meter", "meters": "meter",
}  # fmt: skip
_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5",
    "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_FRACTION = r"(?:(?P<whole>\d{1,7})(?:\s+|\s*-\s*))?(?P<top>\d{1,7})\s*/\s*(?P<bottom>\d{1,7})"
_DECIMAL = r"(?P<decimal>\d{1,7}(?:[.,]\d{1,9})?|[.,]\d{1,9})"
_NUMBER = f"{_FRACTION}|{_DECIMAL}"
_TERM = re.compile(rf"\s*(?:{_NUMBER})\s*(?P<unit>[a-zA-Z]+|[\"″”'′’])?\s*")
_LONGEST_TEXT = 60
_FINEST, _NEAR = 64, 16  # inches are shown in fractions down to 1/64; what is finer is shown near, in 1/16


@cache
def unit_length(unit: str) -> Fraction:
    """Length of one `unit` in inches, exact.

    Parameters
    ----------
    unit
        A unit as written by people: ``in``, ``yd``, ``ft``, ``mm``, ``cm``, ``m`` …

    Returns
    -------
    Fraction
        Inches.

    Raises
    ------
    KeyError
        `unit` is none of those.

    Examples
    --------
    >>> unit_length("yd"), unit_length("cm")
    (Fraction(36, 1), Fraction(50, 127))
    """
    name = _UNITS[unit.lower()]
    if name == "inch":
        return Fraction(1)  # what all is counted in; pint takes 0.3 s to load
    return Fraction(_registry().Quantity(Fraction(1), name).to("inch").magnitude)


@cache
def _registry():  # type: ignore[no-untyped-def]  # pint's registry type is generic and not worth an import here
    import pint  # 0.3 s: only when a length with a unit is read

    return pint.UnitRegistry(non_int_type=Fraction)


def parse_length(text: str, *, unit: str) -> Fraction:
    """Read a length.

    Parameters
    ----------
    text
        ``2 1/2 in``, ``2½"``, ``2-1/2 in``, ``6.5 cm``, ``1,5 m``, ``3 ft 2 in``, or a bare number.
    unit
        The unit of a bare number: ``in`` or ``cm``.

    Returns
    -------
    Fraction
        Inches, exact; not negative.

    Raises
    ------
    ValueError
        `text` is not a length; the message says what would be one.

    Examples
    --------
    >>> parse_length("12 3/8 in", unit="in")
    Fraction(99, 8)
    >>> parse_length("2½", unit="in") == parse_length("63.5 mm", unit="in")
    True
    >>> parse_length("2 in 1/2", unit="in")
    Traceback (most recent call last):
    ValueError: cannot read "2 in 1/2" as a length; try 2 1/2 in, 2.5 in or 64 mm
    """
    clean = _plain(text)
    terms = _terms(clean)
    if not terms:
        raise ValueError(_refusal(text, clean, unit))
    if len(terms) == 1:
        number, name = terms[0]
        return number * unit_length(name or unit)
    names = [name for _, name in terms]
    falling = all(name and name.lower() in _UNITS for name in names)
    if not falling or not _units_fall(names):
        raise ValueError(_refusal(text, clean, unit))
    return sum((number * unit_length(name) for number, name in terms), Fraction(0))


def _plain(text: str) -> str:
    """`text` with vulgar fractions and odd spaces written plainly."""
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain} ")
    return re.sub(r"\s+", " ", text.replace("⁄", "/").replace("''", '"')).strip()


def _terms(text: str) -> list[tuple[Fraction, str]]:
    """Numbers with their units, in order; empty where `text` is no length."""
    if not text or len(text) > _LONGEST_TEXT:
        return []
    found = []
    at = 0
    while at < len(text):
        match = _TERM.match(text, at)
        if match is None or match.end() == at:
            return []
        number, name = _number(match), match["unit"] or ""
        if number is None or (name and name.lower() not in _UNITS):
            return []
        found.append((number, name))
        at = match.end()
    return found


def _number(match: re.Match[str]) -> Fraction | None:
    if match["decimal"]:
        return Fraction(match["decimal"].replace(",", "."))
    if int(match["bottom"]) == 0:
        return None
    return Fraction(int(match["top"]), int(match["bottom"])) + int(match["whole"] or 0)


def _units_fall(names: list[str]) -> bool:
    """Whether units come from the large to the small: 3 ft 2 in, not 2 in 3 ft."""
    lengths = [unit_length(name) for name in names]
    return all(longer > shorter for longer, shorter in pairwise(lengths))


def _refusal(text: str, clean: str, unit: str) -> str:
    shown = text if len(text) <= _LONGEST_TEXT else text[:_LONGEST_TEXT] + "…"
    guess = _guess(clean, unit)
    tries = guess or ("2 1/2 in, 2.5 in or 64 mm" if unit == "in" else "6.5 cm, 65 mm or 2 1/2 in")
    return f'cannot read "{shown}" as a length; try {tries}'


def _guess(clean: str, unit: str) -> str:
    """What the writer may have meant, as three ways to write it, or nothing."""
    swapped = re.fullmatch(r"(\d{1,4}) ?(in|\"|cm|yd) (\d{1,3}/\d{1,3})", clean)
    if swapped is None or swapped[3].endswith("/0"):
        return ""
    whole, name, part = swapped[1], swapped[2].replace('"', "in"), swapped[3]
    value = int(whole) + Fraction(part)
    metric = round(value * unit_length(name) * unit_length("in") / unit_length("mm"))
    return f"{whole} {part} {name}, {_decimal(value, 3)} {name} or {metric} mm"


def parse_percent(text: str) -> Fraction:
    """Read a share such as ``3 %`` or ``2.5%``.

    Returns
    -------
    Fraction
        The share: 3 % is 3/100.

    Raises
    ------
    ValueError
        `text` is not a percentage from 0 to under 100.

    Examples
    --------
    >>> parse_percent("2.5 %")
    Fraction(1, 40)
    """
    match = re.fullmatch(r"\s*(\d{1,2}(?:[.,]\d{1,4})?)\s*%\s*", text)
    if match is None:
        raise ValueError(f'cannot read "{text[:_LONGEST_TEXT]}" as a percentage; try 3 % or 2.5 %')
    return Fraction(match[1].replace(",", ".")) / 100


def round_up(length: Fraction, ruler: Fraction) -> Fraction:
    """`length` up to the next mark of the `ruler` (for what is cut).

    Examples
    --------
    >>> round_up(Fraction("9.05"), Fraction(1, 8))
    Fraction(73, 8)
    """
    return ceil(length / ruler) * ruler


def round_down(length: Fraction, ruler: Fraction) -> Fraction:
    """`length` down to the last mark of the `ruler` (for cloth that can be used)."""
    return floor(length / ruler) * ruler


def is_decimal(value: Fraction) -> bool:
    """Whether `value` can be written as a decimal number that ends."""
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return rest == 1


def decimal_of(value: Fraction) -> Decimal:
    """`value` as a decimal, exact.

    Raises
    ------
    ValueError
        The decimal does not end.

    Examples
    --------
    >>> decimal_of(Fraction(17, 8))
    Decimal('2.125')
    """
    if not is_decimal(value):
        raise ValueError(f"{value} does not end as a decimal")
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
    return Decimal(f"{int(value * 10**places)}E-{places}")


def _decimal(value: Fraction, places: int) -> str:
    text = f"{float(round(value, places)):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _up(value: Fraction) -> Fraction:
    """Up to the next hundredth."""
    return Fraction(ceil(100 * value), 100)


def _near(value: Fraction) -> Fraction:
    return Fraction(round(value * _NEAR), _NEAR)


def mixed(value: Fraction) -> str:
    """`value` as a whole number and a fraction: ``2 1/2``."""
    whole, part = divmod(value, 1)
    return " ".join(str(term) for term in (whole, part) if term) or "0"


@dataclass(frozen=True, slots=True)
class Notation:
    """How a project's lengths are shown.

    Parameters
    ----------
    unit
        ``in`` or ``cm``.
    """

    unit: str

    def show(self, length: Fraction) -> str:
        """`length` as the trade writes it; whole millimetres stay such where inches would only be near.

        Examples
        --------
        >>> Notation("in").show(Fraction(99, 8)), Notation("cm").show(unit_length("mm") * 65)
        ('12 3/8 in', '6.5 cm')
        """
        if self._is_foreign(length):
            return f"{_decimal(length / unit_length('mm'), 0)} mm"
        return f"{self.bare(length)} {self.unit}"

    def bare(self, length: Fraction) -> str:
        """`length` without its unit, for sums and rows: ``12 3/8``."""
        if length < 0:
            return "−" + self.bare(-length)
        value = length / unit_length(self.unit)
        if self.unit == "in" and _FINEST % value.denominator == 0:
            return mixed(value)
        if (value * 1000).denominator == 1:
            return _decimal(value, 3)
        return f"≈ {mixed(_near(value))}" if self.unit == "in" else f"≈ {_decimal(value, 2)}"

    def near(self, length: Fraction) -> str:
        """`length` in fractions or whole millimetres, for cloth that washing left at an odd size.

        Examples
        --------
        >>> Notation("in").near(Fraction("43.12")), Notation("in").near(Fraction("43.125"))
        ('≈ 43 1/8 in', '43 1/8 in')
        >>> Notation("cm").near(unit_length("cm") * Fraction("132.48"))
        '≈ 132.5 cm'
        """
        if self.unit == "cm" and (self.in_units(length) * 10).denominator != 1:
            return f"≈ {_decimal(self.in_units(length), 1)} cm"
        if self.unit == "in" and _FINEST % length.denominator:
            return f"≈ {mixed(_near(length))} in"
        return self.show(length)

    def pair(self, across: Fraction, along: Fraction) -> str:
        """A size, across first: ``10 × 12 1/2 in``."""
        if self._is_foreign(across) and self._is_foreign(along):
            return " × ".join(_decimal(length / unit_length("mm"), 0) for length in (across, along)) + " mm"
        return f"{self.bare(across)} × {self.bare(along)} {self.unit}"

    def _is_foreign(self, length: Fraction) -> bool:
        """Whether `length` is whole millimetres that inches cannot say."""
        return self.bare(length).startswith("≈") and (length / unit_length("mm")).denominator == 1

    def cloth(self, length: Fraction) -> str:
        """A length of cloth as a shop sells it: yards or metres; near ones are rounded up, so that they are enough.

        Examples
        --------
        >>> Notation("in").cloth(Fraction(63)), Notation("cm").cloth(unit_length("cm") * 160)
        ('1 3/4 yd', '1.6 m')
        """
        if self.unit == "cm":
            metres = length / unit_length("m")
            return f"{_decimal(metres, 3)} m" if (metres * 1000).denominator == 1 else f"≈ {_decimal(_up(metres), 2)} m"
        yards = length / unit_length("yd")
        if yards.denominator in (1, 2, 3, 4, 8, 16):
            return f"{mixed(yards)} yd"
        return f"≈ {_decimal(_up(yards), 2)} yd"

    def in_units(self, length: Fraction) -> Fraction:
        """`length` counted in the unit."""
        return length / unit_length(self.unit)

    def in_units_squared(self, area: Fraction) -> Fraction:
        """`area` (square inches) counted in the unit squared."""
        return area / unit_length(self.unit) ** 2

    def number(self, length: Fraction) -> Decimal:
        """`length` as a decimal number of the unit, exact.

        Raises
        ------
        ValueError
            The decimal does not end.
        """
        return decimal_of(self.in_units(length))

    def area(self, area: Fraction) -> Decimal:
        """`area` (square inches) as a decimal number of the unit squared, exact.

        Raises
        ------
        ValueError
            The decimal does not end.
        """
        return decimal_of(self.in_units_squared(area))
