"""The page and the programming interface beneath it: HTTP in, calls of `desk` out.

It translates only; what is done with a docket is done in `desk/`. Front doors: `make_app` for the
application and `serve` for a server on this computer.
"""
