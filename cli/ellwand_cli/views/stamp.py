"""What tells the sheets of one plan from those of another: a date and a number."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from hashlib import sha256

from ellwand.record import dumps

__all__ = ["plan_stamp"]


def plan_stamp(document: Mapping[str, object], day: date) -> str:
    """`day`, and a number that two plans share only if they are equal but for the search that found them.

    Examples
    --------
    >>> plan_stamp({"project": "A", "solve": {"seconds": 1}}, date(2026, 2, 3))
    '2026-02-03  ·  plan ef5bd4'
    >>> plan_stamp({"project": "B", "solve": {"seconds": 1}}, date(2026, 2, 3))
    '2026-02-03  ·  plan b8132f'
    """
    lasting = {key: value for key, value in document.items() if key != "solve"}
    number = sha256(dumps(lasting).encode()).hexdigest()[:6]
    return f"{day.isoformat()}  ·  plan {number}"
