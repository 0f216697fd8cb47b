"""A figure as a file's bytes: equal figures make equal files, on every day and every run."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["SETTINGS", "figure_bytes", "pdf_metadata"]

_MAKER = "Ellwand"
SETTINGS = {
    "svg.fonttype": "none",  # words stay words: they can be searched and read aloud
    "svg.hashsalt": "ellwand",  # else the names of shared shapes change from run to run
    "pdf.fonttype": 42,
}
_DOTS_PER_INCH = 120


def figure_bytes(figure: Figure, format: str) -> bytes:
    """`figure` as an SVG, PNG or PDF file.

    Parameters
    ----------
    figure
        Its label is the file's title; what follows the first line break of it, the description.
    format
        ``"svg"``, ``"png"`` or ``"pdf"``.

    Raises
    ------
    ValueError
        It is another format.
    """
    from matplotlib import rc_context

    title, _, description = str(figure.get_label()).partition("\n")
    metadata = {
        "svg": {"Title": title, "Description": description, "Creator": _MAKER, "Date": None},
        "png": {"Title": title, "Description": description, "Software": _MAKER},
        "pdf": pdf_metadata(title, description),
    }
    if format not in metadata:
        raise ValueError(f'no picture format "{format}"; there are svg, png and pdf')
    buffer = BytesIO()
    with rc_context(SETTINGS):  # type: ignore[arg-type]  # its keys are literals in the stubs
        figure.savefig(buffer, format=format, dpi=_DOTS_PER_INCH, metadata=metadata[format])
    return buffer.getvalue()


def pdf_metadata(title: str, description: str) -> dict[str, str | None]:
    """What a PDF file says of itself: no date, so that equal content is an equal file."""
    return {"Title": title, "Subject": description, "Creator": _MAKER, "Producer": _MAKER, "CreationDate": None}
