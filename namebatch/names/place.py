"""What people call the places of a list: lines; rows in records of spreadsheets from before."""


def kind(where: str) -> str:
    """``line`` or ``row``, by how the beginning of a message calls it.

    Args:
        where: ``Line 3``, or ``Row 3, "name"``.
    """
    return "row" if where.startswith("Row") else "line"
