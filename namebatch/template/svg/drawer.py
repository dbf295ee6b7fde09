"""A process of its own that draws one SVG with resvg: text comes in, a PNG goes out.

Run as a file, so that nothing of the program has to be loaded for it.
"""

import contextlib
import sys

try:
    import resource
except ImportError:  # a system without such limits: there only time is bounded, from outside
    resource = None  # type: ignore[assignment]


def main(width: int, height: int, seconds: int, most_memory: int) -> int:
    """Draw standard input to standard output.

    Args:
        width: of the picture in pixels.
        height: of the picture in pixels.
        seconds: of computing after which the system ends this.
        most_memory: address space in bytes.
    """
    if resource is not None:
        for kind, most in ((resource.RLIMIT_CPU, seconds), (resource.RLIMIT_AS, most_memory)):
            with contextlib.suppress(ValueError, OSError):
                resource.setrlimit(kind, (most, most))
    import resvg_py

    png = resvg_py.svg_to_bytes(
        svg_string=sys.stdin.buffer.read().decode("utf-8"),
        width=width,
        height=height,
        dpi=96,  # how resvg turns mm inside the drawing into px
        skip_system_fonts=True,
    )
    sys.stdout.buffer.write(bytes(png))
    return 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
