"""Trees that three stages of cuts yield: bands, columns in them, items of one width in a column; a zone in a band."""

from __future__ import annotations

from collections.abc import Iterator

from ellwand.packing.tree import Part, Tree

__all__ = ["StagedTree"]


class StagedTree(Tree):
    """A tree whose stocks hold bands only, whose bands hold columns and at most one zone of bands.

    Its blocks must be made of columns. What lies on a block in a column must have the same columns.
    """

    def put(self, part: Part, number: int, along: bool) -> Iterator[Part]:
        """Put a block into a part's gap, as a band, a column or the beginning of a zone; tell new gaps."""
        block = self.blocks.blocks[number]
        for item, count in block.uses:
            self.left[item] -= count
        self._note(part)
        if part.beside and not along and not part.zoned and not any(_is_zone(child) for child in part.children):
            w, h = part.free
            zone = Part(w, h, False, h, part, zoned=True)
            part.children.append(zone)
            part.gap, part = 0, zone
        child = self._child(part, number)
        part.children.append(child)
        part.gap -= child.w if part.beside else child.h
        if part.gap:
            yield part
        if child.gap:
            yield child

    def _child(self, part: Part, number: int) -> Part:
        """The block itself, or it with a gap beside it in a band or above it in a column."""
        block = self.blocks.blocks[number]
        leaf = Part(block.w, block.h, False, 0, part, number)
        if part.beside and block.h < part.h:
            assert block.columns is not None
            child = Part(block.w, part.h, False, part.h - block.h, part, only=self.blocks.alike[block.columns])
        elif not part.beside and block.w < part.w:
            child = Part(part.w, block.h, True, part.w - block.w, part, zoned=part.zoned)
        else:
            return leaf
        leaf.up = child
        child.children.append(leaf)
        return child


def _is_zone(part: Part) -> bool:
    return part.zoned and not part.beside
