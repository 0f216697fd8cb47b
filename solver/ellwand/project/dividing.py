"""What of a project comes from mixes, in batches, and the project once each batch is given to fabrics.

Pieces of blocks and loose pieces may be divided by their number; a border, the binding, the sashes and other parts
that make one line or one surface come from one fabric. Where a mix asks for whole blocks, all mixes in that block are
divided by blocks. Numbers are of one quilt: its copies are alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from math import ceil
from typing import Any

from ellwand.project.tables import Block, BlockPiece, Fabric, LoosePiece, Patch, Project

__all__ = ["Batch", "Division", "Shares", "batches", "divide"]

Shares = tuple[tuple[str, int], ...]  # fabrics, and how many each gives
Given = Mapping[tuple[str, str], Shares]  # by mix and name of a batch

_ONE_FABRIC = {  # of single tables, the keys that name a fabric, and how the pieces are called
    "setting": {"triangles": "triangle"},
    "sashing": {"fabric": "sash", "cornerstones": "cornerstone"},
    "binding": {"fabric": "binding"},
    "backing": {"fabric": "backing"},
    "batting": {"fabric": "batting"},
    "sleeve": {"fabric": "sleeve"},
    "stabiliser": {"fabric": "stabiliser"},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """What is divided at one go: a kind of block, a piece of a block, a loose piece, or a part that is not divided.

    Parameters
    ----------
    mix
        The mix that it comes from.
    name
        The block's, or as its pieces are called.
    count
        Into how many it can be divided: blocks, or cut pieces.
    blocks
        Whether these are blocks.
    """

    mix: str
    name: str
    count: int = 1
    blocks: bool = False


Division = Mapping[Batch, Shares]


def batches(project: Project) -> tuple[Batch, ...]:
    """Everything that is cut from a mix, in the file's order."""
    mixes = {name for name, fabric in project.fabrics.items() if fabric.any_of}
    found = [batch for block in project.blocks for batch in _of_block(project.fabrics, block)]
    found += [Batch(mix=piece.fabric, name=piece.name, count=piece.count) for piece in project.pieces]
    for part, keys in _lines(project):
        found += [Batch(mix=name, name=called) for key, called in keys.items() if (name := getattr(part, key))]
    return tuple(dict.fromkeys(batch for batch in found if batch.mix in mixes))


def divide(project: Project, division: Division) -> Project:
    """`project` with the fabrics of `division` in its tables, whose names get the fabric's behind where they divide."""
    given = {(batch.mix, batch.name): shares for batch, shares in division.items()}
    singles: dict[str, Any] = {
        title: _dressed(getattr(project, title), keys, given) for title, keys in _ONE_FABRIC.items()
    }
    return replace(
        project,
        blocks=tuple(part for block in project.blocks for part in _blocks(project.fabrics, block, given)),
        pieces=tuple(part for piece in project.pieces for part in _loose(piece, given)),
        borders=tuple(_dressed(border, _border_keys(border.name), given) for border in project.borders),
        **singles,
    )


def _lines(project: Project) -> Iterator[tuple[object, Mapping[str, str]]]:
    """Every table whose parts each come from one fabric, with the keys that name it."""
    for border in project.borders:
        yield border, _border_keys(border.name)
    for title, keys in _ONE_FABRIC.items():
        if getattr(project, title) is not None:
            yield getattr(project, title), keys


def _border_keys(name: str) -> Mapping[str, str]:
    return {"fabric": name, "cornerstones": name}


def _of_block(fabrics: Mapping[str, Fabric], block: Block) -> Iterator[Batch]:
    if _is_whole(fabrics, block):
        for name in _fabrics_of(block):
            yield Batch(mix=name, name=block.name, count=block.count, blocks=True)
        return
    for piece in block.pieces:
        yield Batch(mix=piece.fabric, name=f"{block.name}/{piece.name}", count=block.count * piece.count)
    for patch in block.patches:
        yield Batch(mix=patch.fabric, name=f"{block.name}/{patch.name}", count=_squares(block, patch))
        if patch.sky:
            yield Batch(mix=patch.sky, name=f"{block.name}/{patch.name}/sky")


def _is_whole(fabrics: Mapping[str, Fabric], block: Block) -> bool:
    return any(fabrics[name].whole_blocks for name in _fabrics_of(block) if name in fabrics)


def _fabrics_of(block: Block) -> tuple[str, ...]:
    names = [*(piece.fabric for piece in block.pieces), *(patch.fabric for patch in block.patches)]
    return tuple(dict.fromkeys([*names, *(patch.sky for patch in block.patches if patch.sky)]))


def _blocks(fabrics: Mapping[str, Fabric], block: Block, given: Given) -> Iterator[Block]:
    if not _is_whole(fabrics, block):
        pieces = tuple(part for piece in block.pieces for part in _layers(block, piece, given))
        patches = tuple(part for patch in block.patches for part in _patches(block, patch, given))
        yield replace(block, pieces=pieces, patches=patches)
        return
    shares = {name: given[name, block.name] for name in _fabrics_of(block) if (name, block.name) in given}
    if not shares:
        yield block
        return
    each = zip(*([name for name, count in of for _ in range(count)] for of in shares.values()), strict=True)
    for names, run in groupby(each):
        worn = dict(zip(shares, names, strict=True))
        divided = [name for mix, name in worn.items() if len(shares[mix]) > 1]
        yield _worn(block, worn, name="/".join([block.name, *divided]), count=len(list(run)))


def _worn(block: Block, worn: Mapping[str, str], *, name: str, count: int) -> Block:
    """`block` with real fabrics in place of its mixes."""
    return replace(
        block,
        name=name,
        count=count,
        pieces=tuple(replace(piece, fabric=worn.get(piece.fabric, piece.fabric)) for piece in block.pieces),
        patches=tuple(
            replace(
                patch,
                fabric=worn.get(patch.fabric, patch.fabric),
                sky=worn.get(patch.sky, patch.sky) if patch.sky else None,
            )
            for patch in block.patches
        ),
    )


def _layers(block: Block, piece: BlockPiece, given: Given) -> Iterator[BlockPiece]:
    shares = given.get((piece.fabric, f"{block.name}/{piece.name}"), ((piece.fabric, 0),))
    if len(shares) == 1:
        yield replace(piece, fabric=shares[0][0])
        return
    for fabric, count in shares:
        share = count, block.count * piece.count
        yield replace(piece, name=f"{piece.name}/{fabric}", fabric=fabric, share=share)


def _patches(block: Block, patch: Patch, given: Given) -> Iterator[Patch]:
    name = f"{block.name}/{patch.name}"
    if patch.sky and (patch.sky, f"{name}/sky") in given:
        patch = replace(patch, sky=given[patch.sky, f"{name}/sky"][0][0])
    shares = given.get((patch.fabric, name), ((patch.fabric, 0),))
    if len(shares) == 1:
        yield replace(patch, fabric=shares[0][0])
        return
    for fabric, count in shares:
        share = count, _squares(block, patch)
        yield replace(patch, name=f"{patch.name}/{fabric}", fabric=fabric, share=share)


def _squares(block: Block, patch: Patch) -> int:
    """Cut pieces of a patch in all blocks of a kind; of geese, the large squares."""
    return ceil(patch.count * block.count / patch.yields)


def _loose(piece: LoosePiece, given: Given) -> Iterator[LoosePiece]:
    shares = given.get((piece.fabric, piece.name), ((piece.fabric, piece.count),))
    if len(shares) == 1:
        yield replace(piece, fabric=shares[0][0])
        return
    for fabric, count in shares:
        yield replace(piece, name=f"{piece.name}/{fabric}", fabric=fabric, count=count)


def _dressed(part: Any, keys: Mapping[str, str], given: Given) -> Any:  # tables of many kinds, each as it came
    """A table whose `keys` name real fabrics, as far as they were `given`."""
    if part is None:
        return None
    changes = {
        key: given[name, called][0][0] for key, called in keys.items() if (name := getattr(part, key), called) in given
    }
    return replace(part, **changes)
