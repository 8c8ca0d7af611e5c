"""How numbers are written on a page; `static/js/face/numbers.js` writes them the same way."""

from __future__ import annotations

import re

from site_src.model.answers import shown

MINUS = "−"

NO_NUMBER = "no number"
"""In place of an answer that this set-up does not have; the reason is beside it."""

NO_CELL = "—"
"""The same where there is little room."""


def power_of_ten(value: float) -> tuple[int, float]:
    """Return the largest whole power of ten that is not above a positive value.

    Found ten by ten, since logarithms differ in their last bits between engines.

    >>> power_of_ten(1000.0), power_of_ten(0.02)
    ((3, 1000.0), (-2, 0.01))
    """
    exponent, power, parts = 0, 1.0, 1.0
    while value >= 10.0 * power * (1.0 - 1e-12):
        exponent, power = exponent + 1, power * 10.0
    while value < power * (1.0 - 1e-12):
        exponent, parts = exponent - 1, parts * 10.0
        power = 1.0 / parts
    return exponent, power


def grouped(text: str) -> str:
    """Set commas between thousands and a real minus sign.

    >>> grouped("14300"), grouped("-1250.5"), grouped("850")
    ('14,300', '−1,250.5', '850')
    """
    sign, digits = (MINUS, text[1:]) if text.startswith("-") else ("", text)
    whole, point, rest = digits.partition(".")
    return f"{sign}{int(whole):,}{point}{rest}"


def plain(value: float, increment: float) -> str:
    """Write an entry's value, one digit finer than its increment, without zeros at the end.

    >>> plain(92.0, 1.0), plain(3.62205, 0.05), plain(6000.0, 100.0)
    ('92', '3.622', '6000')
    """
    return trimmed(shown(value, decimals_for(increment)))


def decimals_for(increment: float) -> int:
    """Return the decimals that are one digit finer than an increment.

    >>> decimals_for(1.0), decimals_for(0.05), decimals_for(100.0)
    (1, 3, 0)
    """
    exponent, _ = power_of_ten(increment)
    return max(0, 1 - exponent)


def fine(value: float, digits: int = 2) -> str:
    """Write a value with a few significant digits and no exponent.

    >>> fine(0.000123), fine(0.25), fine(12345.0, 4), fine(0.0)
    ('0.00012', '0.25', '12,345', '0')
    """
    if value == 0.0:
        return "0"
    exponent, _ = power_of_ten(abs(value))
    return grouped(trimmed(shown(value, max(0, digits - 1 - exponent))))


def shown_margin(margin: float, decimals: int) -> str:
    """Write what is left to a limit: "0 °C under" would be at it. In up to two digits more.

    >>> shown_margin(0.31, 0), shown_margin(12.3, 0), shown_margin(0.004, 0), shown_margin(0.0, 1)
    ('0.3', '12', '0', '0.0')
    """
    texts = [grouped(shown(margin, decimals + more)) for more in range(3)]
    return next((text for text in texts if re.search("[1-9]", text)), texts[0])


def with_unit(text: str, label: str) -> str:
    """Set a unit after a number; degrees of an angle follow at once (ISO 80000-1, 7.1.4).

    >>> with_unit("92", "mm"), with_unit("1.08", ""), with_unit("91", "°")
    ('92 mm', '1.08', '91°')
    """
    return f"{text}{'' if label in ('', '°') else ' '}{label}"


_BEFORE_UNIT = re.compile(
    r"(?<=\d) (?!(?:to|or|and|is|at|on|of|as|by|for|the|more)\b)"
    r"(?=[^\W\d_]{1,4}(?![^\W_])|[^\W\d_]{1,3}[·/²³₂]|[°%µΩ])"
)


def tied(text: str) -> str:
    r"""Tie each number to the unit after it, so that no line breaks between them.

    >>> tied("Chord 150 mm, 3 bolts").split(" ")
    ['Chord', '150\xa0mm,', '3', 'bolts']
    """
    return _BEFORE_UNIT.sub("\u00a0", text)


def trimmed(text: str) -> str:
    """Drop zeros at the end of a decimal fraction."""
    return text.rstrip("0").rstrip(".") if "." in text else text
