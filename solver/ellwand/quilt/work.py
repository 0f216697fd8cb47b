"""The front door of the quilt arithmetic: a project in, all its pieces out."""

from __future__ import annotations

from ellwand.model import Part, Quilt, Sizes
from ellwand.project.tables import Project
from ellwand.quilt.backing import backing_parts, backing_warnings
from ellwand.quilt.batting import batting_parts, batting_warnings
from ellwand.quilt.binding import binding_parts, binding_warnings
from ellwand.quilt.blocks import block_parts, block_warnings
from ellwand.quilt.borders import border_parts, border_warnings
from ellwand.quilt.loose import loose_parts
from ellwand.quilt.patches import patch_parts, patch_warnings
from ellwand.quilt.sashing import sashing_parts
from ellwand.quilt.sizes import measure, measured_warnings, seam_warnings
from ellwand.quilt.sleeve import sleeve_parts
from ellwand.quilt.stabiliser import stabiliser_parts, stabiliser_warnings
from ellwand.quilt.triangles import triangle_parts

__all__ = ["work_out"]


def work_out(project: Project) -> Quilt:
    """Everything that must be cut for `project`, with every way it may be cut, and the sums behind it.

    Raises
    ------
    NoPlanError
        A piece is too large for its cloth in every way it may be cut.
    """
    sizes = measure(project)
    parts = (
        *block_parts(project),
        *patch_parts(project),
        *(_round_the_blocks(project, sizes) if sizes else ()),
        *stabiliser_parts(project),
        *loose_parts(project),
    )
    warnings = (
        *block_warnings(project),
        *patch_warnings(project),
        *(_warnings_round_the_blocks(project, sizes) if sizes else ()),
        *stabiliser_warnings(project),
        *_unused(project, parts),
    )
    return Quilt(sizes=sizes, parts=parts, warnings=warnings)


def _round_the_blocks(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    return (
        *sashing_parts(project),
        *triangle_parts(project),
        *border_parts(project, sizes),
        *binding_parts(project, sizes),
        *backing_parts(project, sizes),
        *batting_parts(project, sizes),
        *sleeve_parts(project, sizes),
    )


def _warnings_round_the_blocks(project: Project, sizes: Sizes) -> tuple[str, ...]:
    return (
        *measured_warnings(project),
        *seam_warnings(project),
        *border_warnings(project, sizes),
        *binding_warnings(project),
        *backing_warnings(project, sizes),
        *batting_warnings(project),
    )


def _unused(project: Project, parts: tuple[Part, ...]) -> tuple[str, ...]:
    """Fabrics of which nothing is cut, though nobody left that open."""
    used = {part.fabric for part in parts}
    used.update(name for mix in used & project.fabrics.keys() for name in project.fabrics[mix].any_of)
    used.update(project.mixing.fabrics if project.mixing else ())
    return tuple(f"fabric {name} is used by nothing." for name in project.fabrics if name not in used)
