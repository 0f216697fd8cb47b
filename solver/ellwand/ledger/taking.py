"""From a plan document to what is taken out of the ledger and put back into it.

A cloth on hand that came from the ledger has its short id under the key ``ledger``; a fabric has its name in the
ledger there, where that is not its id in the project.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from hashlib import sha256
from typing import Any

from ellwand.errors import InputError
from ellwand.ledger.ids import read_id
from ellwand.ledger.nouns import BoughtCloth, FabricTaking, TakenCloth, Taking
from ellwand.lengths import unit_length
from ellwand.model import Offcut, Source
from ellwand.pieces import kept_id
from ellwand.project.tables import Polygon
from ellwand.verdict import judge_plan

__all__ = ["taking_of"]

_NEAR = Fraction(3, 10**6)  # of the unit: a project puts foreign lengths at a millionth of it
Node = Mapping[str, Any]  # a table of a document


def taking_of(document: Node, only: tuple[str, ...] = ()) -> Taking:
    """What a plan takes.

    Parameters
    ----------
    document
        A plan document (docs/plan-format.md), its numbers whole numbers, Fractions or Decimals.
    only
        The fabrics, by their names in the plan, that are taken now; empty for all.

    Raises
    ------
    InputError
        The judge finds fault with the plan, or it has no fabric of such a name.
    """
    faults = judge_plan(document)
    if faults:
        raise InputError(where="plan", found=f"its cloth cannot be taken: {faults[0]}", hint="Make the plan again")
    names = [fabric["id"] for fabric in document["fabrics"]]
    for name in only:
        if name not in names:
            known = ", ".join(f'"{known}"' for known in names)
            raise InputError(where="plan", found=f'it has no fabric "{name}"', wanted=f"Its fabrics are {known}")
    scale = unit_length(document["unit"])
    project = str(document.get("project", ""))
    chosen = [fabric for fabric in document["fabrics"] if not only or fabric["id"] in only]
    fabrics = tuple(replace(_fabric(node, scale), digest=_digest(document, node)) for node in chosen)
    keep = Fraction(document["keep"]) * scale
    return Taking(project=project, unit=document["unit"], keep=keep, exact=_NEAR * scale, fabrics=fabrics)


def _fabric(node: Node, scale: Fraction) -> FabricTaking:
    on_hand = [cloth for cloth in node["cloths"] if cloth["source"] == Source.ON_HAND.value]
    lengthwise, crosswise = (Fraction(share) for share in node["shrinks"])
    return FabricTaking(
        fabric=node["id"],
        name=str(node.get("ledger") or node["id"]),
        digest="",
        shrinks=(lengthwise, crosswise),
        taken=tuple(_taken(cloth, scale) for cloth in on_hand if cloth.get("ledger")),
        bought=tuple(_bought(cloth, scale) for cloth in node["cloths"] if cloth["source"] == Source.BUY.value),
    )


def _taken(node: Node, scale: Fraction) -> TakenCloth:
    lengths = {name: Fraction(node[name]) * scale for name in ("width", "length", "across", "used", "squaring")}
    return TakenCloth(
        id=read_id(str(node["ledger"])),
        **lengths,
        whole=bool(node["whole"]),
        outline=None if node["outline"] is None else _polygon(node["outline"], scale),
        flaws=tuple(_polygon(flaw, scale) for flaw in node["flaws"]),
        offcuts=_offcuts(node, scale),
    )


def _bought(node: Node, scale: Fraction) -> BoughtCloth:
    rest = Fraction(node["length"]) - Fraction(node["along"]) - Fraction(node["squaring"])
    width, across = (Fraction(node[name]) * scale for name in ("width", "across"))
    return BoughtCloth(width=width, across=across, rest=rest * scale, offcuts=_offcuts(node, scale))


def _offcuts(node: Node, scale: Fraction) -> tuple[Offcut, ...]:
    """Offcuts, and what was kept back."""
    keys = ("x", "y", "across", "along")
    kept = [placed for placed in node["placed"] if placed["piece"].startswith(kept_id(""))]
    return tuple(Offcut(**{key: Fraction(offcut[key]) * scale for key in keys}) for offcut in (*node["offcuts"], *kept))


def _polygon(corners: Any, scale: Fraction) -> Polygon:
    return tuple((Fraction(x) * scale, Fraction(y) * scale) for x, y in corners)


def _digest(document: Node, fabric: Node) -> str:
    """Tells the layouts of a fabric from all others; equal numbers count as equal however they are written."""
    told = {"project": document.get("project"), "unit": document["unit"], "fabric": fabric["id"]}
    text = json.dumps(_plain({**told, "cloths": fabric["cloths"]}), sort_keys=True)
    return sha256(text.encode()).hexdigest()


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _plain(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(entry) for entry in value]
    return value if value is None or isinstance(value, str | bool) else str(Fraction(value))
