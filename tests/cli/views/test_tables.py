"""Plain-text tables: as wide as a page, and no line ends within a size."""

from __future__ import annotations

from ellwand_cli.views.tables import WIDTH, table

HEADS = ("width", "fabric", "cloths", "note", "the largest")
NOTE = "a long remark on this cloth that takes more than its share of the line and of the next one besides"


def test_no_line_ends_within_a_size_or_a_cloths_name() -> None:
    """Where a table is too wide, words are what gives way; sizes stay whole, and so does `night sky 3`."""
    rows = [("2 1/2 in", "night sky", "night sky 1, night sky 2, night sky 13", NOTE, "17 1/2 × 5 7/8")]
    told = table(HEADS, rows)
    first = told.splitlines()[1]

    assert max(map(len, told.splitlines())) <= WIDTH
    assert first.startswith("2 1/2 in  ")
    assert first.endswith("  17 1/2 × 5 7/8")
    assert all(not line.strip().startswith(("13", "2,")) for line in told.splitlines()[1:])


def test_nothing_of_a_long_name_is_lost() -> None:
    """A name without a space that is wider than the page is folded."""
    name = "n" * (WIDTH + 30)

    assert "".join(table(("fabric", "cost"), [(name, "1")]).split()).count("n") == len(name)
