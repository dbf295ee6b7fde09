"""What `namebatch --help` says.

It is told without the parts that read options, which take longer to load than all of it takes to
print; a test sees that both know the same commands.
"""

from typing import Final

from namebatch import __version__

WHAT: Final = "From a list of names and a template to sheets that can be printed and cut."

COMMANDS: Final = {
    "serve": "Open the page: look at every piece before it is cut. Ctrl-C ends it.",
    "make": "Make a job: sheets to print, files to cut, proof and work card.",
    "check": "Say what is to look at in a list; nothing is written.",
    "remake": "Make spoiled pieces of a job again, the same as they were, on new sheets.",
    "align": "Move a sheet's cut files onto its print as it lies under the cutter.",
    "calibrate": "Test sheets for printer and cutter, and their results in the workshop file.",
    "templates": "List the bundled templates.",
    "fonts": "List the typefaces, or say which can set a text and how small it can be cut.",
    "demo": "Make every bundled template from the example lists.",
}
"""Command → what it does, in the order in which a newcomer needs them."""


def overview() -> str:
    """The whole page of help."""
    width = max(map(len, COMMANDS))
    lines = (f"  {name:<{width}}  {told}" for name, told in COMMANDS.items())
    return "\n".join(
        (
            f"namebatch {__version__}. {WHAT}",
            "",
            "Usage: namebatch COMMAND …",
            "",
            *lines,
            "",
            "namebatch COMMAND --help tells what a command takes; namebatch --version the version.",
        )
    )
