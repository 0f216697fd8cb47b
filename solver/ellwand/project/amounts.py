"""How many pieces a project cuts, told before any of them is worked out."""

from __future__ import annotations

from math import ceil

from ellwand.project.tables import Block, Corners, Patch, PatchShape, Project, Sashing, Setting

__all__ = ["pieces_in_all"]


def pieces_in_all(project: Project) -> int:
    """Pieces of all copies, joined strips as whole ones; binding, backing, batting and sleeve are few and left out."""
    copies = project.copies
    layers = project.stabiliser.layers if project.stabiliser else 0
    in_blocks = sum(_in_blocks(block, layers) for block in project.blocks)
    borders = sum(8 if border.corners is Corners.CORNERSTONES else 4 for border in project.borders)
    loose = sum(piece.count for piece in project.pieces)
    return copies * (in_blocks + borders + loose + _in_setting(project))


def _in_blocks(block: Block, layers: int) -> int:
    """Layers, sheets of stabiliser, and the squares that patches are cut as."""
    whole = sum(piece.count for piece in block.pieces) + block.hoopings * layers
    return block.count * whole + sum(_in_patches(patch, block.count) for patch in block.patches)


def _in_patches(patch: Patch, blocks: int) -> int:
    """Four geese at a time take a large square and four of the sky, one goose alone takes two of the sky."""
    large = ceil(patch.count * blocks / patch.yields)
    if patch.shape is not PatchShape.GEESE:
        return large
    return large * (5 if patch.yields > 1 else 3)


def _in_setting(project: Project) -> int:
    if project.setting is None:
        return 0
    if project.setting.on_point:
        return _triangle_squares(project.setting)
    return _sashes(project.setting, project.sashing) if project.sashing else 0


def _triangle_squares(setting: Setting) -> int:
    """A square gives four of the triangles at the sides (print with a way may take more), or two in the corners."""
    sides = 2 * (setting.across - 1) + 2 * (setting.down - 1)
    return ceil(sides / 4) + 2


def _sashes(setting: Setting, sashing: Sashing) -> int:
    """Sashes and cornerstones of one quilt; without cornerstones the level ones run through."""
    edges = 1 if sashing.outside else -1
    upright = (setting.across + edges) * setting.down
    level = setting.down + edges
    if sashing.cornerstones is None:
        return upright + level
    return upright + level * setting.across + level * (setting.across + edges)
