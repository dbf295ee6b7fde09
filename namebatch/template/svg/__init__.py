"""Reading SVG files that nobody vouches for: shapes for the cutter, pictures for the printer.

Order of reading: `node` (safe XML), `references` (nothing from outside, no bombs), `style`
(rules and inheritance), `walk` (every drawn shape with its map to mm); then either
`outline` (one base to cut) or `picture` (artwork).
"""
