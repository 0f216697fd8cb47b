"""The widest border that fits: what limits it, what stops a wider one, and what is left of the ratio."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

import pytest

import ellwand.fit
from ellwand.errors import InputError
from ellwand.fit import Fit, fit_border
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import Draft, finish_plans, make_plan, start_plan
from ellwand.project.vary import border_key, parse_varied, together
from ellwand.search import Means
from ellwand.slack import NO_SLACK, USUAL_SLACK, Slack, spared

# Four blocks of 6 in; butted borders of ink cut lengthwise: two of 12 1/2 in, two longer by two widths. Invented.
FRAMED = """
[project]
name = "framed"
[quilt]
across = 2
down = 2
[[block]]
name = "top"
finished = [6, 6]
[[block.piece]]
name = "ground"
fabric = "oat"
[[border]]
name = "inner"
fabric = "brass"
width = 1
corners = "butted"
[[border]]
name = "edge"
fabric = "ink"
width = 2
corners = "butted"
cut = "lengthwise"
[fabric.ink]
width = 43
square_up = 0
{ink}
[fabric.brass]
width = 43
[fabric.oat]
width = 43
{oat}
"""

# Blocks, border and binding of one cloth: a first layout takes twice as much as a good one. Invented.
CROWDED = """
[project]
name = "crowded"
[quilt]
across = 3
down = 3
[[block]]
name = "top"
finished = [10, 10]
[[block.piece]]
name = "ground"
fabric = "ink"
cut = [9, 11]
[[border]]
name = "edge"
width = 2
fabric = "ink"
corners = "butted"
[binding]
fabric = "ink"
strip = "2 1/2 in"
grain = "any"
[fabric.ink]
width = 43
"""


def fit(
    cloth: str = "",
    oat: str = "",
    *,
    text: str = FRAMED,
    slack: Slack = NO_SLACK,
    all_borders: bool = False,
    stop: Callable[[], bool] | None = None,
    **stated: float,
) -> Fit:
    """What fits, looked at quickly."""
    text = text.replace("{ink}", cloth).replace("{oat}", oat)
    varied = parse_varied(text, "framed.toml", border_key("edge"))
    varied = together(varied) if all_borders else varied
    lengths = {name: Fraction(inches) for name, inches in stated.items()}
    return fit_border(varied, stated=lengths, slack=slack, effort=Effort.QUICK, stop=stop)


def test_what_stops_a_wider_one_is_named() -> None:
    """Top and bottom of 14 1/2 + 2·10 3/4 are as long as the cloth; an eighth more, and they are longer."""
    found = fit(ink=36)

    assert found.value == Fraction(43, 4)
    assert found.proven
    (stop,) = found.stopped
    assert stop.answer.fabric.id == "ink"
    assert dict(stop.pieces) == {"edge/top": 1, "edge/bottom": 1}
    assert (stop.missing, stop.proven) == (Fraction(1, 4), True)


def test_the_length_is_the_limit() -> None:
    """20 in hold strips of 14 + 2 w + 1/2 in: 2 3/4 in finished, and 1/8 in more is 1/4 in too long."""
    found = fit(ink=20)

    assert found.value == Fraction(11, 4)
    assert (found.beyond, found.proven) == (Fraction(23, 8), True)
    assert found.stopped[0].missing == Fraction(1, 4)


def test_the_slack_is_kept() -> None:
    """1/2 in less of the length is 1/4 in less of the width."""
    assert fit(ink=20, slack=USUAL_SLACK).value == Fraction(5, 2)


def test_cloth_on_hand_limits_its_border() -> None:
    """A length on hand is the same as one that is stated; the others are bought."""
    found = fit('on_hand = [ { length = "20 in" } ]')

    assert found.limits == ("ink",)
    assert found.value == Fraction(11, 4)
    assert found.plan is not None
    assert {answer.fabric.id: answer.needed > 0 for answer in found.plan.fabrics} == {
        "ink": False,
        "brass": True,
        "oat": True,
    }


def test_the_widest_is_what_a_plan_says() -> None:
    """Planned afresh, it takes no more than there is, and the next width does."""
    ink = 'on_hand = [ { length = "26 in" } ]'
    found = fit(ink)
    assert found.value is not None
    needed = []
    for width in (found.value, found.beyond):
        plan = make_plan(spared(found.varied.at(width), NO_SLACK), effort=Effort.QUICK)
        needed.append(plan.fabrics[0].needed)

    assert needed[0] == 0 < needed[1]


def test_what_may_not_be_bought_limits_too() -> None:
    """Blocks that lack their cloth let no border fit, however narrow."""
    found = fit('on_hand = [ { length = "20 in" } ]', 'buy = false\non_hand = [ { length = "5 in" } ]')

    assert found.limits == ("ink", "oat")
    assert found.value is None
    assert found.plan is None
    assert [stop.answer.fabric.id for stop in found.stopped] == ["oat"]
    assert dict(found.stopped[0].pieces) == {"top/ground": 4}


def test_borders_keep_their_ratio() -> None:
    """One to two; the inner one is limited by what is stated for it."""
    found = fit(all_borders=True, ink=20)

    assert found.value is not None
    inner, edge = found.varied.at(found.value).borders
    assert edge.width == found.value
    assert 0 <= edge.width / 2 - inner.width < Fraction(1, 8)
    assert found.value < Fraction(11, 4)  # the inner one is wider than before, where 2 w + 2·w/2 + 12 1/2 must go


def test_a_width_at_which_nothing_goes_is_refused_in_words() -> None:
    """With no end of cloth, a strip wider than the cloth stops it."""
    found = fit(ink=9999)

    assert found.value == Fraction(83, 2)  # 42 in less two seams of 1/4 in
    assert found.stopped == ()
    assert found.proven
    assert "42 1/8" in found.refusal


def test_nothing_limits() -> None:
    """Without cloth on hand and nothing stated there is no widest."""
    with pytest.raises(InputError, match=r"nothing limits this border: no cloth is on hand\. State how much there is"):
        fit()


def test_a_fabric_that_is_not_there() -> None:
    """The refusal says which there are."""
    with pytest.raises(InputError, match=r'^framed\.toml: has no fabric "hem"\. It has: "ink", "brass", "oat"\.$'):
        fit(hem=20)


def test_more_spare_never_fits_more() -> None:
    """Law: the widest falls as the slack grows."""
    found = [fit(ink=30, slack=replace(NO_SLACK, along=Fraction(along, 4))).value for along in range(5)]

    assert all(value is not None for value in found)
    assert found == sorted(found, key=lambda value: -(value or 0))
    assert len(set(found)) > 1


def test_the_search_ends_unproven_where_nobody_looks_on() -> None:
    """Cloth of 400 in with no end: 120 in go on it, and nothing says that more do not."""
    found = fit(text=FRAMED.replace("width = 43", "width = 400"), ink=9999)

    assert found.value == 120
    assert found.beyond == Fraction(961, 8)
    assert (found.proven, found.refusal, found.stopped, found.cut_short) == (False, "", (), False)


def test_time_that_was_up_before_leaves_a_width_that_fits() -> None:
    """Nothing but first layouts is looked at: what is found fits, and is not called the widest."""
    found = fit(text=CROWDED, slack=USUAL_SLACK, ink=67.5, stop=lambda: True)
    at_leisure = fit(text=CROWDED, slack=USUAL_SLACK, ink=67.5)

    assert found.value is not None
    assert at_leisure.value is not None
    assert found.value < at_leisure.value
    assert (found.cut_short, found.proven, at_leisure.cut_short) == (True, False, False)
    assert [stop.answer.fabric.id for stop in found.stopped] == ["ink"]  # one mark more was looked at
    assert found.plan is not None
    assert found.plan.fabrics[0].steps == 1


def test_time_that_was_up_before_is_told_where_nothing_was_found() -> None:
    """The first layouts are all too long: one of the narrowest border is there to say by how much."""
    found = fit(text=CROWDED, ink=72, stop=lambda: True)

    assert (found.value, found.cut_short, found.proven) == (None, True, False)
    assert found.beyond == Fraction(1, 8)
    assert found.stopped[0].missing > 0


def test_what_is_proven_was_not_cut_short() -> None:
    """A first layout of the widest is enough where the bound refutes one mark more."""
    found = fit(ink=36, stop=lambda: True)

    assert (found.value, found.proven, found.cut_short) == (Fraction(43, 4), True, False)


@pytest.mark.parametrize("eighths", [15, 16, 17])
def test_the_plan_is_what_was_found_to_fit(monkeypatch: pytest.MonkeyPatch, eighths: int) -> None:
    """Ended just before it is planned, the width keeps the layout that made it fit."""
    ended = []

    def begun(*given: object, **options: object) -> Draft:
        ended.append(True)
        return start_plan(*given, **options)  # type: ignore[arg-type]  # handed on as they came

    monkeypatch.setattr(ellwand.fit, "start_plan", begun)
    found = fit(text=CROWDED, slack=USUAL_SLACK, ink=36 * eighths / 8, stop=lambda: bool(ended))

    assert ended
    assert found.plan is not None
    assert [answer.steps for answer in found.plan.fabrics] == [1]


def test_a_plan_that_is_short_is_a_fault_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    """More cloth than there is is never handed back."""

    def short(drafts: Sequence[Draft], means: Means) -> tuple[Plan, ...]:
        (plan,) = finish_plans(drafts, means)
        return (replace(plan, fabrics=tuple(replace(answer, steps=answer.steps + 1) for answer in plan.fabrics)),)

    monkeypatch.setattr(ellwand.fit, "finish_plans", short)
    with pytest.raises(AssertionError, match=r"^ink takes more cloth than there is at a width that fits$"):
        fit(ink=20)
