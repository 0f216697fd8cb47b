"""The report as one HTML page: whole, by itself, escaped, reachable by key, and small for a kit."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from ellwand.model import Plan
from ellwand_cli.views.cutlist import steps_of
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.html import Pictures, html_report
from ellwand_cli.views.pattern import allowances, materials

EMPTY = {"meta", "path", "use", "image", "br"}
HOSTILE = "</title><script>alert(1)</script> \" ' & \u05e9\u05dc\u05d5\u05dd \U0001f9f5 " + "long " * 40


class Page(HTMLParser):
    """A page taken apart: its tags with what they say of themselves, its text, and tags that do not close."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self.open: list[str] = []
        self.faults: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """One more tag is open."""
        self.tags.append((tag, {key: value or "" for key, value in attrs}))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A tag that closes itself."""
        self.tags.append((tag, {key: value or "" for key, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        """The last tag that is open has to be this."""
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}>")

    def handle_data(self, data: str) -> None:
        """Words."""
        self.words.append(data)

    @property
    def text(self) -> str:
        """All words, without spaces, as line breaks fall anywhere, and without marks of direction."""
        return "".join("".join(self.words).split()).replace("\N{LEFT-TO-RIGHT MARK}", "")

    def values(self, key: str) -> list[str]:
        """What tags say under a key."""
        return [found[key] for _, found in self.tags if key in found]


def pictures_of(plan: Plan) -> Pictures:
    """The drawings of every cloth."""
    figures = [cloth_figure(plan, answer, layout) for answer in plan.fabrics for layout in answer.layouts]
    return Pictures(cloths=tuple(figure_bytes(figure, "svg") for figure in figures))


def report(plan: Plan) -> str:
    """The page of a plan."""
    return html_report(plan, pictures_of(plan))


def squeezed(text: str) -> str:
    """Without spaces."""
    return "".join(text.split())


def test_the_page_is_whole(plan: Plan) -> None:
    """Every tag that opens closes, no two things have one id, and every link inside the page leads somewhere."""
    page = Page(report(plan))

    ids = page.values("id")
    links = page.values("href") + [
        link for value in page.values("clip-path") for link in re.findall(r"#[\w.-]+", value)
    ]
    assert (page.faults, page.open) == ([], [])
    assert [id for id, count in Counter(ids).items() if count > 1] == []
    assert links
    assert [link for link in links if not link.startswith("#") or link[1:] not in ids] == []


def test_the_page_needs_nothing_else(plan: Plan) -> None:
    """No address, no script, no style or font from elsewhere."""
    text = report(plan)
    page = Page(text)

    assert not {"script", "link", "iframe", "object", "embed", "img"} & {tag for tag, _ in page.tags}
    assert page.values("src") == []
    assert re.findall(r"https?:|@import|url\((?!#)", text) == []
    assert [key for _, found in page.tags for key in found if key.startswith("on")] == []


def test_all_is_told(plan: Plan) -> None:
    """Names, sizes and sums of all pieces, all steps of all cloths, the materials page: nothing is left out."""
    page = Page(report(plan))
    notation = plan.project.notation

    wanted = [piece.id for answer in plan.fabrics for piece in answer.pieces]
    wanted += [piece.why for answer in plan.fabrics for piece in answer.pieces]
    wanted += [notation.pair(piece.across, piece.along) for answer in plan.fabrics for piece in answer.pieces]
    wanted += [text for answer in plan.fabrics for layout in answer.layouts
               for step in steps_of(plan, answer, layout) for text in (step.words, *step.parts)]  # fmt: skip
    wanted += [text for one in materials(plan) for text in (one.fabric, one.amount, *one.notes)]
    wanted += allowances(plan)
    assert [text for text in wanted if squeezed(text) not in page.text] == []


def test_hostile_names_stay_words(named_plan: Callable[[str], Plan]) -> None:
    """A name that is a script, closes the title or breaks out of quotes is told, and does nothing."""
    plan = named_plan("hostile")
    plan = replace(plan, project=replace(plan.project, name=HOSTILE), warnings=(HOSTILE,))
    text = report(plan)

    page = Page(text)
    assert "script" not in {tag for tag, _ in page.tags}
    assert "<b>bold" not in text
    assert page.text.count(squeezed(HOSTILE)) == 3  # title, heading, warning
    assert squeezed("<b>bold</b>") in page.text
    assert page.faults == []


def test_the_page_can_be_used_by_key_and_read_aloud(plan: Plan) -> None:
    """A skip link first; tables that may scroll take the focus and have a name, a caption and headed rows."""
    page = Page(report(plan))
    first = next(found for tag, found in page.tags if tag == "a")

    tables = sum(tag == "table" for tag, _ in page.tags)
    scrolling = [found for tag, found in page.tags if found.get("class") == "scroll"]
    assert first["href"] == "#main"
    assert tables == sum(tag == "caption" for tag, _ in page.tags) == len(scrolling) == 2 + len(plan.fabrics)
    assert all(found["tabindex"] == "0" and found["aria-label"] for found in scrolling)
    assert all("scope" in found for tag, found in page.tags if tag == "th")
    svgs = [found for tag, found in page.tags if tag == "svg"]
    assert len(svgs) == sum(len(answer.layouts) for answer in plan.fabrics)
    assert all(found["role"] == "img" and found["aria-label"] for found in svgs)
    assert {"lang": "en"} in [found for tag, found in page.tags if tag == "html"]


def contrast(one: str, other: str) -> float:
    """How far two colours are from each other."""

    # Source: Web Content Accessibility Guidelines 2.1, "contrast ratio" and "relative luminance"
    def light(colour: str) -> float:
        parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
        red, green, blue = (part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    high, low = sorted((light(one), light(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_words_stand_out_in_light_and_dark(named_plan: Callable[[str], Plan]) -> None:
    """Ink, second thoughts and links have a contrast of 4.5 to their ground, on screens of either kind and on paper."""
    # Source: Web Content Accessibility Guidelines 2.1, 1.4.3: 4.5 to 1
    text = re.sub(r"#(\w)(\w)(\w);", r"#\1\1\2\2\3\3;", report(named_plan("metric")))
    colour = re.compile(r"--(ground|ink|soft|mark): (#\w{6})")

    sets = [dict(colour.findall(line)) for line in text.splitlines() if "--ground:" in line]
    assert len(sets) == 3
    pairs = [(found[name], found["ground"]) for found in sets for name in ("ink", "soft", "mark")]
    assert [pair for pair in pairs if contrast(*pair) < 4.5] == []
    assert "prefers-color-scheme: dark" in text
    assert "@media print" in text


def test_equal_plans_make_equal_pages(named_plan: Callable[[str], Plan]) -> None:
    """No date and nothing by chance is on the page."""
    plan = named_plan("long bolt")

    assert report(plan) == report(plan)


@pytest.mark.parametrize("name", ["kit"])
def test_a_kit_makes_no_larger_page_than_a_quilt(named_plan: Callable[[str], Plan], name: str) -> None:
    """Equal strips are drawn once, so 1500 pieces take no more than a few hundred do."""
    plan, less = named_plan(name), named_plan("many")

    assert sum(len(layout.placed) for answer in plan.fabrics for layout in answer.layouts) > 1500
    assert len(report(plan)) < 2 * len(report(less))
