"""Binding: crosswise strips joined to one run round the bound edge, folded double."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import round_down, round_up
from ellwand.model import Construction, Part, Piece, Role, Sizes
from ellwand.project.tables import Binding, Project
from ellwand.quilt.pieces import part_in_one_way, sum_text
from ellwand.quilt.strips import JOIN_WORDS, Splice, join_loss, merge_equal, splice, spliced_text

__all__ = ["binding_parts", "binding_warnings"]

_TURN_TO_THE_BACK = Fraction(1, 4)  # what a double binding of six seams' width lacks to reach the back


def binding_parts(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    """The binding, where there is one.

    Raises
    ------
    NoPlanError
        Its joins take too much of its cloth, or its shortest bit is longer than the cloth is wide.
    """
    if project.binding is None:
        return ()
    lengths = _lengths(project, project.binding, sizes)
    number = len(lengths)
    construction = Construction(
        name="crosswise" if number == 1 else "crosswise, joined",
        joins=(number - 1) * project.copies,
        pieces=merge_equal(
            _piece(project, project.binding, sizes, lengths),
            lengths,
            project.notation,
            round_up(project.binding.shortest, project.ruler),
        ),
    )
    return (part_in_one_way("binding", construction),)


def _lengths(project: Project, binding: Binding, sizes: Sizes) -> tuple[Fraction, ...]:
    strip = Splice(
        name="binding",
        fabric=binding.fabric,
        run=_run(binding, sizes),
        loss=_loss(project, binding),
        shortest=binding.shortest,
    )
    return splice(project, strip)


def _loss(project: Project, binding: Binding) -> Fraction:
    return join_loss(binding.join, _width(project, binding), project.seam)


def _width(project: Project, binding: Binding) -> Fraction:
    return round_up(binding.strip, project.ruler)


def _run(binding: Binding, sizes: Sizes) -> Fraction:
    """Length of the joined strip: once round the bound edge, and the extra."""
    return 2 * sum(sizes.bound, Fraction(0)) + binding.extra


def _piece(project: Project, binding: Binding, sizes: Sizes, lengths: tuple[Fraction, ...]) -> Piece:
    """The strip that stands for all of the binding's."""
    return Piece(
        id="binding",
        fabric=binding.fabric,
        role=Role.BINDING,
        across=lengths[0],
        along=_width(project, binding),
        count=project.copies,
        turnable=not project.fabrics[binding.fabric].woven,
        why=_why(project, binding, sizes, lengths),
        after=JOIN_WORDS[binding.join] if len(lengths) > 1 else "",
    )


def _why(project: Project, binding: Binding, sizes: Sizes, lengths: tuple[Fraction, ...]) -> str:
    notation = project.notation
    across, down = (notation.bare(side) for side in sizes.bound)
    run = _run(binding, sizes)
    terms = f"2 × ({across} + {down}) bound edge + {notation.bare(binding.extra)} extra"
    if len(lengths) == 1:
        text = sum_text(notation, terms, run, lengths[0])
    else:
        text = f"{terms} = {notation.show(run)}; {spliced_text(lengths, _loss(project, binding), 'joins', notation)}"
    return f"{text}; folded double it shows {_shown(project, binding)}"


def _shown(project: Project, binding: Binding) -> str:
    """What is seen of the binding, folded double; down to a mark of the ruler where it lies not even between two."""
    shows = (binding.strip - 2 * binding.seam) / 4
    marked = round_down(shows, project.ruler)
    if (2 * shows / project.ruler).denominator == 1 or not marked:
        return project.notation.show(shows)
    return f"about {project.notation.show(marked)}"


def binding_warnings(project: Project) -> tuple[str, ...]:
    """A binding too narrow for its seam: strip < 6·seam + 1/4 in does not reach the back."""
    binding = project.binding
    if binding is None:
        return ()
    least = 6 * binding.seam + _TURN_TO_THE_BACK
    if binding.strip >= least:
        return ()
    show = project.notation.show
    return (
        f"binding: a strip of {show(binding.strip)} sewn with a seam of {show(binding.seam)} will not reach the back; "
        f"take at least {show(round_up(least, project.ruler))}.",
    )
