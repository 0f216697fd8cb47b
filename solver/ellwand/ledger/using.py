"""Taking a plan's cloth out of the ledger and putting its offcuts back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction

from ellwand.ledger.nouns import (
    BoughtCloth,
    FabricTaking,
    Kind,
    OwnedCloth,
    Selvage,
    TakenCloth,
    Taking,
    Used,
)
from ellwand.ledger.problems import AlreadyUsedError, ClothGoneError, NotInLedgerError
from ellwand.ledger.shelf import Shelf
from ellwand.lengths import Notation
from ellwand.model import Offcut, Pair
from ellwand.project.tables import Polygon

__all__ = ["use_taking"]


def use_taking(shelf: Shelf, taking: Taking, today: date) -> Used:
    """Take out what a plan cuts and put back what it leaves; the caller holds a transaction.

    Raises
    ------
    AlreadyUsedError
        A fabric of this plan was taken before, or there is nothing to take.
    ClothGoneError
        A cloth is not there, or is not as the plan found it.
    NotInLedgerError
        What is left of bought cloth belongs to no fabric of the ledger.
    LedgerError
        What the plan leaves cannot be cloth of its fabric.
    """
    use = _Use(shelf=shelf, taking=taking, today=today)
    for part in taking.fabrics:
        use.fabric(part)
    if not any(part.taken or part.bought for part in taking.fabrics):
        found = "it cuts no cloth of the ledger"
        raise ClothGoneError(where=f'plan of "{taking.project}"', found=found, hint="Nothing has been changed")
    less = tuple(short for short in dict.fromkeys(use.less) if short not in use.gone)
    return Used(gone=tuple(use.gone), less=less, new=tuple(use.new))


@dataclass(slots=True)
class _Use:
    """One use, while it is done."""

    shelf: Shelf
    taking: Taking
    today: date
    gone: list[str] = field(default_factory=list)
    less: list[str] = field(default_factory=list)
    new: list[OwnedCloth] = field(default_factory=list)

    def fabric(self, part: FabricTaking) -> None:
        if not (part.taken or part.bought):
            return
        if self.shelf.was_taken(part.digest):
            found = f'the cloth of "{part.fabric}" was taken for this plan before'
            hint = "Undo that first; a second quilt is a project of another name"
            raise AlreadyUsedError(where=f'plan of "{self.taking.project}"', found=found, hint=hint)
        for cloth in part.taken:
            self._take(part, cloth)
        for bought in part.bought:
            self._shelve(part, bought)
        self.shelf.mark_taken(part.digest, self.taking.project, part.fabric)

    def _take(self, part: FabricTaking, cut: TakenCloth) -> None:
        owned = self.shelf.find(cut.id)
        if owned is None:
            took = Notation(self.taking.unit).pair(cut.width, cut.length)
            found = f"it is not in the ledger any more; the plan took it as {took}"
            raise ClothGoneError(where=f"cloth {cut.id}", found=found, hint="Make the plan again")
        self._check(part, owned, cut)
        if owned.kind is Kind.LENGTH:
            self._shorten(owned, cut, part.shrinks)
        else:
            self._take_one(owned)
        washed = owned.washed or any(part.shrinks)
        parent = replace(owned, washed=washed, note=f"offcut of {owned.id}, {self.taking.project}")
        self._put_offcuts(parent, cut.offcuts, cut.across)

    def _check(self, part: FabricTaking, owned: OwnedCloth, cut: TakenCloth) -> None:
        """Refuse a cloth that is not as the plan found it: its fabric, its size washed, its kind, outline and flaws."""
        there, then = _washed_size(owned, part.shrinks), (cut.width, cut.length)
        changed = ""
        if owned.fabric != part.name:
            changed = f'it is cloth of "{owned.fabric}", and the plan took it for "{part.name}"'
        elif not self._same_size(owned.kind, there, then):
            show = Notation(self.taking.unit).near
            sizes = [" × ".join(show(side) for side in size) for size in (there, then)]
            changed = f"it is {sizes[0]} as it is cut, and the plan took {sizes[1]}"
        elif cut.whole != (owned.kind is not Kind.LENGTH):
            took = "whole" if cut.whole else "as a length"
            changed = f"it is now kept as a {owned.kind.value}, and the plan took it {took}"
        elif not self._same_shapes(part.shrinks, owned, cut):
            changed = "its outline or its flaws have changed since the plan was made"
        if changed:
            raise ClothGoneError(where=f"cloth {owned.id}", found=changed, hint="Make the plan again")

    def _same_size(self, kind: Kind, there: Pair, then: Pair) -> bool:
        """A length may be wider than the plan knew: a project has one width for all lengths of a fabric."""
        wider, longer = (one - other for one, other in zip(there, then, strict=True))
        near = self.taking.exact
        return abs(longer) <= near and (-near <= wider if kind is Kind.LENGTH else abs(wider) <= near)

    def _same_shapes(self, shrinks: Pair, owned: OwnedCloth, cut: TakenCloth) -> bool:
        there = [owned.outline or (), *owned.flaws]
        then = [cut.outline or (), *cut.flaws]
        if [len(shape) for shape in there] != [len(shape) for shape in then]:
            return False
        kept = _kept(owned, shrinks)
        corners = [corner for shape in there for corner in shape], [corner for shape in then for corner in shape]
        return all(
            max(abs(x * kept[1] - u), abs(y * kept[0] - v)) <= self.taking.exact
            for (x, y), (u, v) in zip(*corners, strict=True)
        )

    def _shorten(self, owned: OwnedCloth, cut: TakenCloth, shrinks: Pair) -> None:
        """Cut what is used off a length, before it is washed; the rest stays as it is."""
        kept = _kept(owned, shrinks)[0]
        rest = owned.along - cut.used / kept
        flaws = _beyond(owned.flaws, cut.used / kept, cut.squaring / kept)
        if rest <= self.taking.exact:
            self._take_one(owned)
        elif owned.count == 1:
            self.shelf.change(owned, replace(owned, along=rest, flaws=flaws))
            self.less.append(owned.id)
        else:
            self._take_one(owned)
            self._put(replace(owned, along=rest, flaws=flaws, count=1, note=f"rest of one of {owned.id}"))

    def _take_one(self, owned: OwnedCloth) -> None:
        last = self.shelf.take_one(owned)
        (self.gone if last else self.less).append(owned.id)

    def _shelve(self, part: FabricTaking, bought: BoughtCloth) -> None:
        """Put in what is left of bought cloth: the rest beyond need, where it is worth keeping, and offcuts."""
        rest = bought.rest >= self.taking.keep and bought.width >= self.taking.keep
        if not (rest or bought.offcuts):
            return
        if not self.shelf.has_fabric(part.name):
            found = f'the ledger has no fabric "{part.name}" for what is left of "{part.fabric}"'
            hint = "Enter it with ellwand cloth fabric, or take the others alone, naming each with --only"
            raise NotInLedgerError(where=f'plan of "{self.taking.project}"', found=found, hint=hint)
        whole = OwnedCloth(
            fabric=part.name,
            kind=Kind.LENGTH,
            across=bought.width,
            along=bought.rest,
            washed=any(part.shrinks),
            selvages=tuple(Selvage),
            since=self.today,
            note=f"left of what was bought for {self.taking.project}",
        )
        if rest:
            self._put(whole)
        self._put_offcuts(whole, bought.offcuts, bought.across)

    def _put_offcuts(self, parent: OwnedCloth, offcuts: Sequence[Offcut], across: Fraction) -> None:
        for offcut in offcuts:
            edges = {Selvage.LEFT: offcut.x == 0, Selvage.RIGHT: offcut.x + offcut.across == across}
            self._put(
                replace(
                    parent,
                    kind=Kind.RECTANGLE,
                    across=offcut.across,
                    along=offcut.along,
                    outline=None,
                    flaws=(),
                    count=1,
                    selvages=tuple(edge for edge in parent.selvages if edges[edge]),
                    trimmed=True,
                    since=self.today,
                )
            )

    def _put(self, cloth: OwnedCloth) -> None:
        self.new.append(self.shelf.add(replace(cloth, id="")))


def _kept(owned: OwnedCloth, shrinks: Pair) -> Pair:
    """Shares of length and width that washing leaves of a cloth."""
    return (Fraction(1), Fraction(1)) if owned.washed else (1 - shrinks[0], 1 - shrinks[1])


def _washed_size(owned: OwnedCloth, shrinks: Pair) -> Pair:
    lengthwise, crosswise = _kept(owned, shrinks)
    return owned.across * crosswise, owned.along * lengthwise


def _beyond(flaws: Sequence[Polygon], used: Fraction, squaring: Fraction) -> tuple[Polygon, ...]:
    """Flaws of what is left of a length, each as a rectangle round all places where it may lie.

    Flaws are counted from the squared end, and the rest is squared again: by as much, and a flaw lies `used` nearer
    to the new end; by nothing, and it lies `squaring` farther from it.
    """
    kept = []
    for flaw in flaws:
        (left, low), (right, high) = [[pick(values) for values in zip(*flaw, strict=True)] for pick in (min, max)]
        bottom, top = max(low - used, Fraction(0)), high - used + squaring
        if top > 0:
            kept.append(((left, bottom), (right, bottom), (right, top), (left, top)))
    return tuple(kept)
