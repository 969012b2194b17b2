"""Running heads and feet in a PDF: marked as furniture of the page, so that no reader speaks them."""

from __future__ import annotations

from typing import Any


def mark_running_heads(pdf: Any) -> None:
    """Turn marked content outside the structure tree into artifacts (ISO 32000-1, 14.8.2.2).

    ``pdf`` is the pydyf document that WeasyPrint hands to its finisher. WeasyPrint gives the boxes
    in the margins structure elements that hang on no tree.
    """
    things: list[Any] = [o for o in pdf.objects if isinstance(o, dict)]
    elements = {o.reference: o for o in things}
    root = elements[pdf.catalog["StructTreeRoot"]]
    document = elements[root["K"][0]]
    held = set(document["K"])
    numbers = elements[root["ParentTree"]]["Nums"]
    for page, parents in zip(numbers[0::2], numbers[1::2], strict=True):
        if not isinstance(parents, list) or page >= len(pdf.page_references):
            continue
        loose = {
            mcid
            for mcid, reference in enumerate(parents)
            if _stem(reference, elements, document) not in held
        }
        for mcid in loose:
            parents[mcid] = "null"
        _rewrite(pdf, elements[pdf.page_references[page]], loose)


def _stem(reference: Any, elements: dict[Any, Any], document: Any) -> Any:
    """Return the ancestor of a structure element that hangs right below the document."""
    while elements[reference]["P"] != document.reference:
        reference = elements[reference]["P"]
    return reference


def _rewrite(pdf: Any, page: Any, loose: set[int]) -> None:
    """Name loose content an artifact: in a stream, a tag and its properties stand before each BDC."""
    contents = {o.reference: o for o in pdf.objects if hasattr(o, "stream")}
    drawn = contents[page["Contents"]].stream
    for place, item in enumerate(drawn):
        if item == b"BDC" and drawn[place - 1].get("MCID") in loose:
            drawn[place - 2] = "/Artifact"
            properties = drawn[place - 1]
            del properties["MCID"]
            properties["Type"] = "/Pagination"
