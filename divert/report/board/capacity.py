"""What the beds are fed and what comes out of them, a sentence each, beside the ordinary bands."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.factors import Band
from divert.figures.numbers.printed import THIN, Printed
from divert.figures.numbers.scales import FACTOR, Scale
from divert.report.board.figures import Board

_MOST_NAMED = 5


def yield_band(board: Board) -> Band | None:
    """Return the band of the site's product: castings where it has beds, else compost."""
    return board.bands.get("castings-yield" if board.site.beds else "compost-yield")


def capacity(board: Board) -> Markup | None:
    """Return what the beds are fed a week against the ordinary band; None where it is not known."""
    printer, band = board.printer, board.bands.get("bed-feed")
    known = [
        (i, b, b.feed_kg_per_m2_week) for i, b in enumerate(board.now.beds)
        if b.feed_kg_per_m2_week is not None
    ]  # fmt: skip
    if not known or band is None:
        return None
    unit = printer.scale("bed load", 1.0).unit
    scale = Scale(unit, 0.1 if max(load for _, _, load in known) >= FACTOR[unit] else 0.01)
    loads = sorted(
        (printer.one(f"beds[{i}].feed_kg_per_m2_week", load, scale) for i, _, load in known),
        key=lambda figure: figure.value,
    )
    heavy = [b.bed for _, b, _ in known if b.band in ("ask", "implausible")]
    values: dict[str, object] = {
        "low": loads[0],
        "load": printer.with_unit(loads[-1]),
        "high": printer.number(band.ordinary[1] / FACTOR[unit], 1),
        "beds": printer.names(heavy[:_MOST_NAMED]),
        "source": Text(band.printed.citation.rstrip(".")),
    }
    return printer.say(Text(_message(loads, bool(heavy)), values))


def _message(loads: list[Printed], heavy: bool) -> str:
    alike = loads[0].text == loads[-1].text
    if heavy:
        if alike:
            return N_("Capacity: the beds are fed {load}, mean of twelve months, above the ordinary "
                      "{high}: {beds} (band: {source}).")  # fmt: skip
        return N_("Capacity: the beds are fed {low} to {load}, mean of twelve months; above the "
                  "ordinary {high}: {beds} (band: {source}).")  # fmt: skip
    if alike:
        return N_("Capacity: the beds are fed {load}, mean of twelve months; ordinary is up to "
                  "{high} (band: {source}).")  # fmt: skip
    return N_("Capacity: the beds are fed {low} to {load}, mean of twelve months; ordinary is up to "
              "{high} (band: {source}).")  # fmt: skip


def yielded(board: Board) -> Markup | None:
    """Return the yield of the last 12 months against its band, or None where it is not known."""
    found, band, printer = board.now.yield_, yield_band(board), board.printer
    if found is None or found.share is None or band is None or not found.product.central:
        return None  # without a harvest nothing is known of the yield
    share = printer.share("yield.share", found.share)
    values = {
        "share": printer.with_unit(share),
        "low": _percent(band.ordinary[0], board),
        "high": _percent(band.ordinary[1], board),
        "most": _percent(band.ask[1], board),
        "source": Text(band.printed.citation.rstrip(".")),
    }
    return printer.say(
        Text(
            N_("Yield: mass of product over wet mass fed, twelve months: {share}. Ordinary is {low} to "
               "{high}; above {most} is not plausible (band: {source})."), values,
        )
    )  # fmt: skip


def _percent(share: float, board: Board) -> str:
    return f"{board.printer.number(share * 100)}{THIN}%"
