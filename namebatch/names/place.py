"""What people call the places of a list: lines of a text file, rows of a spreadsheet."""


def kind(where: str) -> str:
    """``line`` or ``row``, by how the beginning of a message calls it.

    Args:
        where: ``Line 3``, or ``Row 3, "name"``.
    """
    return "row" if where.startswith("Row") else "line"
