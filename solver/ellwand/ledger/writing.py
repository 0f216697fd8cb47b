"""Facts of fabrics and cloths as short texts and back, exactly: what is typed, and the cells of a spreadsheet."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from itertools import groupby

from ellwand.lengths import decimal_of, is_decimal, mixed, parse_length, parse_percent, unit_length
from ellwand.model import Pair
from ellwand.project.tables import Polygon

__all__ = [
    "decimal_sign", "length_text", "number_text", "parse_measure", "parse_number", "parse_shape", "parse_share",
    "parse_size", "price_text", "shape_text", "share_text", "step_text",
]  # fmt: skip

_EXACT = re.compile(r"(\d{1,300})/([1-9]\d{0,299})(?: in)?")  # what no other way of writing can say
_MARKED = re.compile(r"\d[\d.,]*[.,]\d+")
_IN_THREES = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")  # 1,250: one and a quarter, or a thousand and more
_SPACED = re.compile(r"(?<![\d/])(\d{1,3})((?:[ \u00a0\u202f]\d{3})+)(?!\d|\s*/)")
_UNIT = re.compile(r"[a-zA-Z]+$|[\"″”'′’]+$")
_TIMES = re.compile(r"\s*[x×X]\s*")
_EASY, _PLACES = 64, 4  # inches are written in fractions down to 1/64; decimals have at most so many places


def parse_measure(text: str, *, unit: str, sign: str = "") -> Fraction:
    """Read a length, also one written with thousands: ``1,250.5 mm``.

    Parameters
    ----------
    unit
        Of a bare number.
    sign
        The decimal sign where it is known, a point or a comma; else a number that can be read two ways is refused.

    Returns
    -------
    Fraction
        Inches, exact.

    Raises
    ------
    ValueError
        It is none; the message says what would be one.

    Examples
    --------
    >>> parse_measure("1.250,5 mm", unit="in") == parse_measure("125.05 cm", unit="in")
    True
    >>> parse_measure("1,250 m", unit="in", sign=",") == parse_measure("1.25 m", unit="in")
    True
    """
    return _measure(text.strip(), unit, sign)


@lru_cache(maxsize=4096)  # the same few lengths stand in thousands of rows
def _measure(text: str, unit: str, sign: str) -> Fraction:
    exact = _EXACT.fullmatch(text)
    if exact is not None and (text.endswith("in") or unit == "in"):
        return Fraction(int(exact[1]), int(exact[2]))
    named = (_unit_of(text) or unit).lower()
    return parse_length(_plain(text, "thousands" if named == "mm" else sign), unit=unit)


def length_text(length: Fraction, unit: str) -> str:
    """`length` exactly, in `unit` where that can say it: ``12 3/8 in``, ``6.5 cm``.

    Examples
    --------
    >>> length_text(Fraction(99, 8), "cm"), length_text(Fraction(99, 8), "in"), length_text(Fraction(1, 97), "in")
    ('31.4325 cm', '12 3/8 in', '1/97 in')
    """
    metric = length / unit_length("cm")
    ways = {
        "in": mixed(length) if _EASY % length.denominator == 0 else "",
        "cm": number_text(metric) if is_decimal(metric) and (metric * 10**_PLACES).denominator == 1 else "",
    }
    other = "cm" if unit == "in" else "in"
    name = next((name for name in (unit, other) if ways[name]), "")
    return f"{ways[name]} {name}" if name else f"{length.numerator}/{length.denominator} in"


def step_text(length: Fraction, unit: str) -> str:
    """A shop's step exactly, in yards where they say it shortly.

    Examples
    --------
    >>> step_text(Fraction(9, 2), "in"), step_text(Fraction(5), "in")
    ('1/8 yd', '5 in')
    """
    yards = length / unit_length("yd")
    return f"{mixed(yards)} yd" if unit == "in" and 16 % yards.denominator == 0 else length_text(length, unit)


def parse_number(text: str, *, sign: str = "") -> Fraction:
    """Read a plain number, such as a price.

    Raises
    ------
    ValueError
        It is none.

    Examples
    --------
    >>> parse_number("1 250,50"), parse_number("12.5")
    (Fraction(2501, 2), Fraction(25, 2))
    """
    plain = _plain(text.strip(), sign)
    exact = _EXACT.fullmatch(plain)
    if exact is not None:
        return Fraction(int(exact[1]), int(exact[2]))
    if re.fullmatch(r"\d{1,9}(?:[.,]\d{1,9})?", plain) is None:
        raise ValueError(f'cannot read "{text.strip()[:40]}" as a number; try 12.50')
    return Fraction(plain.replace(",", "."))


def number_text(number: Fraction) -> str:
    """`number` exactly: as a decimal, or as a fraction where that does not end; never with three places.

    Examples
    --------
    >>> number_text(Fraction(25, 2)), number_text(Fraction(9, 8)), number_text(Fraction(1, 3))
    ('12.5', '1.1250', '1/3')
    """
    if not is_decimal(number) or (number * 10**9).denominator != 1:
        return f"{number.numerator}/{number.denominator}"
    text = f"{decimal_of(number):f}"
    return f"{text}0" if len(text.partition(".")[2]) == 3 else text


def price_text(price: Fraction) -> str:
    """`price` exactly, with two places at the least where it has any.

    Examples
    --------
    >>> price_text(Fraction(25, 2)), price_text(Fraction(12))
    ('12.50', '12')
    """
    text = number_text(price)
    return f"{text}0" if len(text.partition(".")[2]) == 1 else text


def parse_share(text: str, *, sign: str = "") -> Fraction:
    """Read a share of 100, such as ``3 %``.

    Raises
    ------
    ValueError
        It is none.
    """
    exact = _EXACT.fullmatch(text.strip())
    if exact is not None:
        return Fraction(int(exact[1]), int(exact[2]))
    return parse_percent(_plain(text, sign))


def share_text(share: Fraction) -> str:
    """`share` exactly: ``3 %``, or a fraction where that cannot be.

    Examples
    --------
    >>> share_text(Fraction(1, 40)), share_text(Fraction(1, 30))
    ('2.5 %', '1/30')
    """
    hundredth = share * 100
    if hundredth >= 100 or (hundredth * 10**_PLACES).denominator != 1:
        return f"{share.numerator}/{share.denominator}"
    return f"{number_text(hundredth)} %"


def parse_size(text: str, *, unit: str, sign: str = "") -> Pair:
    """Read two lengths, across and along: ``10 x 18 in``.

    Raises
    ------
    ValueError
        It is none.

    Examples
    --------
    >>> parse_size("10 × 18 1/2 in", unit="cm")
    (Fraction(10, 1), Fraction(37, 2))
    """
    (size,) = _corners(text, unit, sign) if ";" not in text else ((),)
    if len(size) != 2:
        raise ValueError(f'cannot read "{text[:40]}" as a size; try 10 x 18 in, across the width first')
    return size[0], size[1]


def parse_shape(text: str, *, unit: str, sign: str = "") -> Polygon:
    """Read corners, in their order round the edge; of two corners, the rectangle between them.

    Raises
    ------
    ValueError
        It is none.

    Examples
    --------
    >>> parse_shape("3 x 5; 5 x 6 in", unit="cm")[2]
    (Fraction(5, 1), Fraction(6, 1))
    """
    corners = _corners(text, unit, sign)
    if len(corners) < 2 or any(len(corner) != 2 for corner in corners):
        tries = "0 x 0; 20 x 0; 20 x 15 in"
        raise ValueError(f'cannot read "{text[:40]}" as corners, across and along; try {tries}')
    shape = tuple((x, y) for (x, y), _ in groupby(corners))
    shape = shape[:-1] if len(shape) > 2 and shape[0] == shape[-1] else shape
    return _box(*shape) if len(shape) == 2 else shape


def shape_text(shape: Polygon, unit: str) -> str:
    """`shape` as its corners, or the two that make it, where it is a rectangle.

    Examples
    --------
    >>> shape_text(parse_shape("3 x 5 1/2; 5 x 6 in", unit="in"), "in")
    '3 x 5 1/2; 5 x 6 in'
    """
    ends = shape[0], shape[len(shape) // 2]
    corners = ends if shape == _box(*ends) else shape
    texts = [[length_text(length, unit) for length in corner] for corner in corners]
    names = {text.rpartition(" ")[2] for corner in texts for text in corner}
    written = "; ".join(" x ".join(corner) for corner in texts)
    if len(names) > 1:
        return written
    name = names.pop()  # of the last number; the others have it too
    return f"{written.replace(f' {name}', '')} {name}"


def _box(low: Pair, high: Pair) -> Polygon:
    return (low, (high[0], low[1]), high, (low[0], high[1]))


def _corners(text: str, unit: str, sign: str) -> list[tuple[Fraction, ...]]:
    """Lengths by corner; a bare number has the unit of the next one that has any."""
    corners = [_TIMES.split(corner.strip()) for corner in text.strip().strip(";").split(";")]
    name, read = "", []
    for corner in reversed(corners):
        lengths = []
        for length in reversed(corner):
            name = _unit_of(length) or name
            lengths.append(parse_measure(length, unit=name or unit, sign=sign))
        read.append(tuple(reversed(lengths)))
    return read[::-1]


def _unit_of(text: str) -> str:
    """The unit with which a length ends, if it is one."""
    match = _UNIT.search(text.strip())
    try:
        return match[0] if match and unit_length(match[0]) else ""
    except KeyError:
        return ""


def decimal_sign(texts: list[str]) -> str:
    """The decimal sign of a spreadsheet whose numbers are `texts`, if it can be told: a point or a comma, else nothing.

    Examples
    --------
    >>> decimal_sign(["1,250", "95,5 cm"]), decimal_sign(["1,250"]), decimal_sign(["1.5", "2,5"])
    (',', '', '')
    """
    signs = {_sign_of(number) for text in texts for number in _MARKED.findall(text)} - {""}
    return signs.pop() if len(signs) == 1 else ""


def _sign_of(number: str) -> str:
    """What is surely the decimal sign of a number."""
    marks = [mark for mark in number if mark in ".,"]
    if len(marks) == 1:
        return "" if _IN_THREES.fullmatch(number) else marks[0]
    return marks[-1] if marks.count(marks[-1]) == 1 else {".": ",", ",": "."}[marks[0]]


def _plain(text: str, sign: str) -> str:
    """`text` with the thousands of its numbers put together; `sign` may also say that three digits are thousands."""
    text = _SPACED.sub(lambda match: match[1] + re.sub(r"\D", "", match[2]), text)
    return _MARKED.sub(lambda match: _together(match[0], sign), text)


def _together(number: str, sign: str) -> str:
    """A number without marks of thousands.

    Raises
    ------
    ValueError
        It can be read two ways.
    """
    marks = [mark for mark in number if mark in ".,"]
    if len(marks) == 1 and not _IN_THREES.fullmatch(number):
        return number
    if len(marks) == 1 and sign == "thousands":
        return number.replace(marks[0], "")
    if len(marks) == 1 and not sign and marks[0] == ",":
        plain = number.replace(",", "")
        tries = f"{plain} or {number.replace(',', '.')}"
        raise ValueError(f'"{number}" can be read two ways; try {tries}')
    point = sign if sign in (".", ",") else "." if len(marks) == 1 else _sign_of(number)
    whole, _, part = number.partition(point)
    group = "," if point == "." else "."
    grouped = re.fullmatch(rf"\d{{1,3}}(?:\{group}\d{{3}})*|\d+", whole)
    return f"{whole.replace(group, '')}{'.' if part else ''}{part}" if grouped else number
