"""The example workshop, used until somebody has written down the values of a real one.

It is a workshop file like any other and is read by the same code. Sources of the figures:
kerfs (plywood 0.17 to 0.20 mm, basswood 0.15, card about 0.09) from university workshop notes
and cutting shops; unprintable margins (about 4 mm, up to 6.7 at the bottom) from printer
manuals; colours from Okabe & Ito, Color Universal Design, 2008. Speeds, bed, acceleration,
corners and minimum widths are common practice without a source: examples, to be replaced by
measured ones.
"""

BUILTIN_TOML = """\
[printer]
name = "Colour printer (example values)"
sheet = "a4"
# What the printer cannot reach: top, right, bottom, left. Printer manuals say about 4 mm all
# round, between 1.8 mm at the top and 6.7 mm at the bottom.
margins_mm = [5, 5, 7, 5]

[cutter]
name = "Laser cutter (example values)"
bed_mm = [600, 400]
travel_mm_s = 300
acceleration_mm_s2 = 1500
# For the times: so far off a corner the head may pass it. The larger, the faster.
corner_mm = 0.05
files = ["svg", "dxf"]

# Okabe & Ito 2008: distinct for all kinds of colour vision.
[cutter.colours]
mark = "#009e73"
engrave = "#000000"
inner = "#0072b2"
outer = "#d55e00"
window = "#cc79a7"

[material.card-160]
title = "Card 160 g/m²"
thickness_mm = 0.2          # paper of 80 g/m² is about 0.1 mm thick; in proportion
kerf_mm = 0.09
minimum_width_mm = 0.8
speeds_mm_s = { outer = 60, inner = 60, window = 60, mark = 120, engrave = 250 }
colour = "#fbf8f1"

[material.card-300]
title = "Card 300 g/m²"
thickness_mm = 0.38         # in proportion, as above
kerf_mm = 0.09
minimum_width_mm = 1.0
speeds_mm_s = { outer = 45, inner = 45, window = 45, mark = 120, engrave = 250 }
colour = "#f7f3ea"

[material.plywood-3]
title = "Birch plywood 3 mm"
sheet_mm = [600, 300]
thickness_mm = 3
kerf_mm = 0.18
# Below 1 mm a web of wood is fragile; as wide as it is thick is better still.
minimum_width_mm = 1.5
edge_mm = 3
speeds_mm_s = { outer = 15, inner = 15, window = 15, mark = 60, engrave = 200 }
colour = "#e3c79a"

[material.basswood-2]
title = "Basswood 2 mm"
sheet_mm = [600, 300]
thickness_mm = 2
kerf_mm = 0.15
minimum_width_mm = 1.5
edge_mm = 3
speeds_mm_s = { outer = 22, inner = 22, window = 22, mark = 80, engrave = 220 }
colour = "#ecdcba"

[material."stencil-card-0.5"]
title = "Oiled stencil card 0.5 mm"
sheet_mm = [420, 297]
thickness_mm = 0.5
kerf_mm = 0.09
minimum_width_mm = 1.0
edge_mm = 3
speeds_mm_s = { outer = 40, inner = 40, window = 40, mark = 100, engrave = 250 }
colour = "#d9b36c"
"""
