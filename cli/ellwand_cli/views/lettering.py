"""One line of words as matplotlib draws it, its place worked out from the width that is known already.

matplotlib lays out a text anew for every file format it writes, which is most of the time a picture takes.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin
from typing import TYPE_CHECKING

from matplotlib.text import Text

from ellwand_cli.views.direction import runs
from ellwand_cli.views.typeset import drawn_width

if TYPE_CHECKING:
    from matplotlib.backend_bases import RendererBase
    from matplotlib.font_manager import FontProperties

__all__ = ["Lettering"]

_BEFORE = {"left": 0.0, "center": 0.5, "right": 1.0}


class Lettering(Text):
    """A line of words that starts, ends or is centred at a point of its baseline, and is `width` points long."""

    def __init__(self, x: float, y: float, text: str, *, width: float, font: FontProperties, colour: str) -> None:
        super().__init__(x, y, text, color=colour, fontproperties=font, rotation_mode="anchor", parse_math=False)
        self._width = width

    def draw(self, renderer: RendererBase) -> None:
        """Draw the words; the layout that matplotlib would make is not needed for one line."""
        x, y = self.get_transform().transform(self.get_position())
        pixels = float(renderer.points_to_pixels(1.0))  # type: ignore[arg-type]
        before = pixels * self._width * _BEFORE[str(self.get_horizontalalignment())]
        angle = float(self.get_rotation())
        x, y = x - before * cos(radians(angle)), y - before * sin(radians(angle))
        down = -1 if renderer.flipy() else 1
        if renderer.flipy():
            y = renderer.get_canvas_width_height()[1] - y
        gc = renderer.new_gc()
        gc.set_foreground(self.get_color())
        self._set_gc_clip(gc)  # type: ignore[attr-defined]  # of Artist, not in the stubs
        parts = tuple(self._runs())
        whole = self if len(parts) == 1 else None  # an SVG would put every part where the whole is
        for run, along in parts:
            at = x + pixels * along * cos(radians(angle)), y + pixels * along * sin(radians(angle)) * down
            renderer.draw_text(gc, *at, run, self.get_fontproperties(), angle, ismath=False, mtext=whole)
        gc.restore()
        self.stale = False

    def _runs(self) -> Iterator[tuple[str, float]]:
        """The runs of one direction, each with its place along the line, points."""
        parts = runs(self.get_text())
        if len(parts) == 1:
            yield self.get_text(), 0.0
            return
        done = ""
        for part in parts:
            words = part.strip()  # a picture's reader may leave spaces at an end out
            start = done + part[: len(part) - len(part.lstrip())]
            yield words, self._measure(f"{start}|") - self._measure("|")  # nor have they a width, but for the stroke
            done += part

    def _measure(self, text: str) -> float:
        return drawn_width(text, float(self.get_fontsize()), bold=self.get_fontweight() == "bold")
