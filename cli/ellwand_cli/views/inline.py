"""An SVG picture made fit to stand inside an HTML page, several of them side by side."""

from __future__ import annotations

import re
from xml.etree import ElementTree

__all__ = ["inline_svg"]

_REFERENCE = re.compile(r"#([\w.-]+)")
_DROPPED = ("metadata", "style")  # the page has its own title, and one style for all pictures


def inline_svg(picture: bytes, *, name: str, label: str) -> str:
    """`picture` without its prolog and name spaces, its ids led by `name` so that no two pictures share one.

    `label` is what it is called where it cannot be seen.
    """
    root = ElementTree.fromstring(picture)
    for parent in list(root.iter()):
        for child in list(parent):
            if _local(child.tag) in _DROPPED:
                parent.remove(child)
    for element in root.iter():
        element.tag = _local(element.tag)
        element.attrib = {_local(key): _renamed(_local(key), value, name) for key, value in element.attrib.items()}
        if element.tag not in ("text", "title"):
            element.text = element.tail = None  # nothing but line breaks
    root.attrib = {"viewBox": root.attrib["viewBox"], "role": "img", "aria-label": label}
    return ElementTree.tostring(root, encoding="unicode")


def _local(name: str) -> str:
    """A name without its name space."""
    return name.rpartition("}")[2]


def _renamed(key: str, value: str, name: str) -> str:
    if key == "id":
        return f"{name}-{value}"
    if key == "href" or "url(#" in value:
        return _REFERENCE.sub(rf"#{name}-\1", value)
    return value
