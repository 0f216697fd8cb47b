"""Binding: strips joined to one run round the bound edge, folded double; crosswise, lengthwise or on the bias."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from math import ceil

from ellwand.cloths import cloths_on_hand, purchase
from ellwand.errors import NoPlanError
from ellwand.lengths import round_down, round_up
from ellwand.model import Construction, Part, Piece, Role, Run, Sizes
from ellwand.project.tables import Binding, Fabric, Project, StripGrain
from ellwand.quilt.bias import bias_length, bias_square
from ellwand.quilt.pieces import part_in_one_way, require_fit, strip_width, sum_text, usable
from ellwand.quilt.strips import JOIN_WORDS, Splice, join_loss, merge_equal, splice, spliced_text

__all__ = ["binding_parts", "binding_warnings"]

_TURN_TO_THE_BACK = Fraction(1, 4)  # what a double binding of six seams' width lacks to reach the back
_MOST_STRIPS = 100  # of equal length, or squares
_MOST_NUMBERS = 15  # of equal strips that are offered
_MOST_FITTED = 12  # copies whose strips are fitted to what is left
_MORE_SQUARES = 3  # than the fewest


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edging:
    """A project's binding with all that settles how its strips can be cut.

    Parameters
    ----------
    run
        Length of the joined strip: once round the bound edge, and the extra.
    terms
        The sum that gave `run`.
    """

    project: Project
    binding: Binding
    run: Fraction
    terms: str

    @property
    def fabric(self) -> Fabric:
        """What it is cut from."""
        return self.project.fabrics[self.binding.fabric]

    @property
    def width(self) -> Fraction:
        """Cut width of its strips."""
        return round_up(self.binding.strip, self.project.ruler)

    @property
    def loss(self) -> Fraction:
        """Length that one join takes."""
        return join_loss(self.binding.join, self.width, self.project.seam)

    @property
    def shortest(self) -> Fraction:
        """No joined bit is shorter, on the ruler."""
        return round_up(self.binding.shortest, self.project.ruler)

    @property
    def turns(self) -> bool:
        """Whether its strips may lie a quarter turned."""
        return self.binding.grain is StripGrain.ANY or not self.fabric.woven

    def each_of(self, number: int) -> Fraction:
        """Length of each of so many equal strips that are joined."""
        return (self.run + (number - 1) * self.loss) / number

    def why(self, made: str = "") -> str:
        """The run's sum, how it is `made`, and what is seen of it."""
        run = sum_text(self.project.notation, self.terms, self.run, self.run)
        return "; ".join(filter(None, (run, made, self.shown)))

    @property
    def shown(self) -> str:
        """What is seen of it, folded double; at the nearest mark of the ruler where it lies not even between two."""
        show, ruler = self.project.notation.show, self.project.ruler
        shows = (self.binding.strip - 2 * self.binding.seam) / 4
        marked = round_down(shows + ruler / 2, ruler)
        exact = (2 * shows / ruler).denominator == 1 or not marked
        seen = show(shows) if exact else f"about {show(marked)}"
        return f"folded double it shows {seen} a side, if shared evenly"


def binding_parts(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    """The binding, where there is one, in every way that its grain allows and that may be best.

    Raises
    ------
    NoPlanError
        Its joins take too much of its cloth, or its shortest bit, its strip or its squares do not go on it.
    """
    if project.binding is None:
        return ()
    edging = _edging(project, project.binding, sizes)
    options = _options(edging)
    if len(options) == 1:
        return (part_in_one_way("binding", options[0]),)
    bias = "in strips from bias squares" if project.binding.grain is StripGrain.BIAS else ""
    whole = _piece(edging, edging.width, round_up(edging.run, project.ruler), edging.why(bias))
    pieces = (replace(whole, turnable=True, open_form=True),)
    return (Part(name="binding", fabric=edging.fabric.id, options=options, pieces=pieces),)


def _edging(project: Project, binding: Binding, sizes: Sizes) -> _Edging:
    bare = project.notation.bare
    across, down = sizes.bound
    return _Edging(
        project=project,
        binding=binding,
        run=2 * (across + down) + binding.extra,
        terms=f"2 × ({bare(across)} + {bare(down)}) bound edge + {bare(binding.extra)} extra",
    )


def _options(edging: _Edging) -> tuple[Construction, ...]:
    """The ways that its grain allows; the first refusal where there is none."""
    found: list[Construction] = []
    refusals = []
    for ways in _WAYS[edging.binding.grain]:
        try:
            found += ways(edging)
        except NoPlanError as refusal:
            refusals.append(refusal)
    if not found:
        raise refusals[0]
    return tuple(found)


def _any(edging: _Edging) -> list[Construction]:
    """Strips of equal length beside those from selvage to selvage; a single strip may lie any way as it is."""
    return [] if edging.run <= usable(edging.project, edging.fabric.id) else _lengthwise(edging)


def _made(edging: _Edging, name: str, lengths: tuple[Fraction, ...], pieces: tuple[Piece, ...]) -> Construction:
    """The way in which each copy is joined from `lengths`; where these may be any, with the runs that they make up."""
    runs = _runs(edging)
    return Construction(
        name=name,
        joins=(len(lengths) - 1) * edging.project.copies,
        pieces=pieces,
        runs=runs,
        bits=(lengths,) * len(runs),
        fitted="{} fitted to what is left",
    )


def _runs(edging: _Edging) -> tuple[Run, ...]:
    """A run for each copy, where its bits may have any lengths and the copies are few."""
    project = edging.project
    is_open = edging.binding.grain is StripGrain.ANY and edging.run > usable(project, edging.fabric.id)
    if not is_open or project.copies > _MOST_FITTED:
        return ()
    return tuple(
        Run(
            width=edging.width,
            length=edging.run,
            loss=edging.loss,
            shortest=edging.shortest,
            pieces=partial(_of_bits, edging, copy),
        )
        for copy in range(1, project.copies + 1)
    )


def _of_bits(edging: _Edging, copy: int, lengths: tuple[Fraction, ...]) -> tuple[Piece, ...]:
    """Bits of any `lengths` for one copy, which is told where there are more."""
    piece = _of_joined(edging, _piece(edging, lengths[0], edging.width, _why_strips(edging, lengths)), len(lengths))
    one = replace(piece, count=1)
    if edging.project.copies > 1:
        one = replace(one, id=f"binding/{copy}", where=f"round the edge of copy {copy}")
    return merge_equal(one, lengths, edging.project.notation, edging.shortest, "from what is left")


def _crosswise(edging: _Edging) -> list[Construction]:
    """Strips from selvage to selvage, as few as the width allows: full ones and the rest."""
    run = Splice(
        name="binding",
        fabric=edging.fabric.id,
        run=edging.run,
        loss=edging.loss,
        shortest=edging.binding.shortest,
    )
    lengths = splice(edging.project, run)
    piece = _of_joined(edging, _piece(edging, lengths[0], edging.width, _why_strips(edging, lengths)), len(lengths))
    name = "crosswise" if len(lengths) == 1 else "crosswise, joined"
    return [_made(edging, name, lengths, merge_equal(piece, lengths, edging.project.notation, edging.shortest))]


def _lengthwise(edging: _Edging) -> list[Construction]:
    """Strips of equal length along the selvage, in every number that may be best."""
    return [_of_equal(edging, number) for number in _numbers(edging)]


def _numbers(edging: _Edging) -> list[int]:
    """Numbers of equal strips worth trying.

    They are the least for every amount that would be bought for these strips alone, lying side by side, and the least
    for strips no longer than some cloth on hand: more joins would save nothing.
    """
    ruler = edging.project.ruler
    beside = max(1, int(usable(edging.project, edging.fabric.id) / edging.width))
    for_steps: dict[int, int] = {}
    for number in range(1, min(beside, _MOST_STRIPS) + 1):
        for_steps.setdefault(purchase(edging.fabric, _equal(edging, number), ruler).steps, number)
    for_cloths = {_least_number(edging, cloth.along) for cloth in cloths_on_hand(edging.fabric, ruler)}
    numbers = sorted(number for number in {*for_steps.values(), *for_cloths} if number <= _MOST_STRIPS)
    allowed = [number for number in numbers if number == 1 or _equal(edging, number) >= edging.shortest]
    return allowed[:_MOST_NUMBERS]


def _least_number(edging: _Edging, length: Fraction) -> int:
    """The least number of equal strips none of which is longer than `length`; 1 where a join takes all of that."""
    return max(1, ceil((edging.run - edging.loss) / (length - edging.loss))) if length > edging.loss else 1


def _equal(edging: _Edging, number: int) -> Fraction:
    """Length of each of so many equal strips, on the ruler."""
    return round_up(edging.each_of(number), edging.project.ruler)


def _of_equal(edging: _Edging, number: int) -> Construction:
    length = _equal(edging, number)
    lengths = (length,) * number
    piece = _of_joined(edging, _piece(edging, edging.width, length, _why_strips(edging, lengths)), number)
    kind = f"{number} equal strips, joined" if edging.turns else f"lengthwise, {number} strips joined"
    name = "lengthwise" if number == 1 else kind
    return _made(edging, name, lengths, (require_fit(edging.project, _numbered(piece, number)),))


def _of_joined(edging: _Edging, piece: Piece, number: int) -> Piece:
    """`piece`, of which so many are joined."""
    return replace(piece, after=JOIN_WORDS[edging.binding.join]) if number > 1 else piece


def _bias(edging: _Edging) -> list[Construction]:
    """Squares of equal size, as few as go on the cloth or up to three more: smaller ones may leave less beside them."""
    width = strip_width(edging.project, edging.fabric.id)
    fewest = next((number for number in range(1, _MOST_STRIPS) if _square(edging, number) <= width), _MOST_STRIPS)
    numbers = range(fewest, min(fewest + _MORE_SQUARES + 1, _MOST_STRIPS))
    allowed = [number for number in numbers if number == 1 or _is_long(edging, number)]
    if not allowed:
        raise _no_square(edging, width)
    return [_of_squares(edging, number) for number in allowed]


def _square(edging: _Edging, number: int) -> Fraction:
    """Side of each of so many squares whose bias strips are joined."""
    project = edging.project
    return bias_square(edging.each_of(number), strip=edging.width, seam=project.seam, ruler=project.ruler)


def _given(edging: _Edging, side: Fraction) -> Fraction:
    """Length of bias strip that a square gives."""
    return bias_length(side, strip=edging.width, seam=edging.project.seam)


def _is_long(edging: _Edging, number: int) -> bool:
    """Whether the strip that each of so many squares gives is as long as the shortest may be."""
    return _given(edging, _square(edging, number)) >= edging.shortest


def _of_squares(edging: _Edging, number: int) -> Construction:
    side = _square(edging, number)
    piece = replace(
        _piece(edging, side, side, _why_squares(edging, side, number)), turnable=True, after=_cut(edging, side, number)
    )
    return Construction(
        name="bias, from 1 square" if number == 1 else f"bias, from {number} squares, joined",
        joins=(number - 1) * edging.project.copies,
        pieces=(_numbered(piece, number),),
    )


def _no_square(edging: _Edging, width: Fraction) -> NoPlanError:
    show = edging.project.notation.show
    shortest = f": no bit of it may be shorter than {show(edging.shortest)}" if edging.shortest else ""
    return NoPlanError(
        where=f"{edging.project.source}: binding",
        found=f"a square of {show(width)}, as wide as {edging.fabric.id} can be used for, gives too little bias strip "
        f"of {show(edging.width)}{shortest}",
        hint="Take a wider cloth or another grain" + (", or lower shortest" if shortest else ""),
    )


_WAYS: dict[StripGrain, tuple[Callable[[_Edging], list[Construction]], ...]] = {
    StripGrain.CROSSWISE: (_crosswise,),
    StripGrain.LENGTHWISE: (_lengthwise,),
    StripGrain.BIAS: (_bias,),
    StripGrain.ANY: (_crosswise, _any),
}


def _piece(edging: _Edging, across: Fraction, along: Fraction, why: str) -> Piece:
    """The piece that stands for all of the binding's."""
    return Piece(
        id="binding",
        fabric=edging.fabric.id,
        role=Role.BINDING,
        across=across,
        along=along,
        count=edging.project.copies,
        turnable=edging.turns,
        why=why,
        where="round the edge",
    )


def _numbered(piece: Piece, number: int) -> Piece:
    """`piece` as the only kind of the binding's, so many for each copy."""
    return replace(piece, id=f"{piece.id}/1", count=number * piece.count)


def _cut(edging: _Edging, side: Fraction, number: int) -> str:
    """How a square becomes a bias strip."""
    text = (
        "cut once on the diagonal, the halves sewn to a parallelogram; lines drawn along its bias edges, "
        f"{edging.project.notation.show(edging.width)} apart, sewn to a tube one line on, "
        f"cut along the line: {_about(edging, _given(edging, side))} from a square"
    )
    return text if number == 1 else f"{text}; {JOIN_WORDS[edging.binding.join]}"


def _why_strips(edging: _Edging, lengths: tuple[Fraction, ...]) -> str:
    """The run's sum, and how strips of `lengths` reach it."""
    notation = edging.project.notation
    if len(lengths) == 1:
        return f"{sum_text(notation, edging.terms, edging.run, lengths[0])}; {edging.shown}"
    return edging.why(spliced_text(lengths, edging.loss, "joins", notation))


def _why_squares(edging: _Edging, side: Fraction, number: int) -> str:
    """The run's sum, and how the bias strips from so many squares of `side` reach it."""
    bare = edging.project.notation.bare
    square, seams = f"{bare(side)} × {bare(side)}", f"4 × {bare(edging.project.seam)} × {bare(side)}"
    terms = f"({square} − {seams}) ÷ {bare(edging.width)}"
    text = f"a square of {edging.project.notation.show(side)} gives {terms}, {_about(edging, _given(edging, side))}"
    if number == 1:
        return edging.why(text)
    reach = number * _given(edging, side) - (number - 1) * edging.loss
    return edging.why(
        f"{text}; {number} of them less {number - 1} × {bare(edging.loss)} for joins, {_about(edging, reach)}"
    )


def _about(edging: _Edging, length: Fraction) -> str:
    """`length` down to the ruler, and whether it is a little more."""
    marked = round_down(length, edging.project.ruler)
    text = edging.project.notation.show(marked)
    return text if marked == length else f"about {text}"


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
