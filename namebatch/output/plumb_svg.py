"""The plumb line of a picture as SVG."""

from namebatch.output.plumb import PLUMB_COLOUR, Plumb

GROUP = "hang"
"""Class of its group."""


def plumb_svg(plumb: Plumb | None, line_mm: float) -> str:
    """A dashed line through a ringed dot, with a pale edge so that any print shows it.

    Args:
        plumb: what to draw; nothing if None.
        line_mm: width of the picture's lines.
    """
    if plumb is None:
        return ""
    (x0, y0), (x1, y1), (x, y) = plumb.start, plumb.end, plumb.mass
    dash, gap = plumb.dashes_mm
    way = f'd="M{x0:.3f} {y0:.3f}L{x1:.3f} {y1:.3f}" stroke-dasharray="{dash:.3g} {gap:.3g}"'
    centre = f'cx="{x:.3f}" cy="{y:.3f}"'
    return (
        f'<g class="{GROUP}" fill="#fff" stroke-linecap="round"><title>{plumb.told}</title>'
        f'<path {way} stroke="#fff" stroke-width="{2.5 * line_mm:.3g}"/>'
        f'<path {way} stroke="{PLUMB_COLOUR}" stroke-width="{line_mm:.3g}"/>'
        f'<circle {centre} r="{plumb.ring_mm + 1.25 * line_mm:.3g}"/>'
        f'<circle {centre} r="{plumb.ring_mm:.3g}" stroke="{PLUMB_COLOUR}" '
        f'stroke-width="{line_mm:.3g}"/>'
        f'<circle {centre} r="{plumb.dot_mm:.3g}" fill="{PLUMB_COLOUR}"/></g>'
    )
