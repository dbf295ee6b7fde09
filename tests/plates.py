"""A plain printed plate, the head of templates that tests write."""

PLATE = """
format = 1
title = "Test plate"
build = "printed"
rule = "base"
material = "card-300"

[base]
shape = "rounded-rectangle"
width_mm = 60
height_mm = 30
corner_mm = 2
"""
