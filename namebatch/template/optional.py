"""Fields of a template that a row may leave empty."""

from namebatch.template.model import Template


def optional_fields(template: Template) -> frozenset[str]:
    """Fields that no text box insists on; a formula of several is looked at when it is set."""
    alone = [box.fields for box in template.boxes if not box.optional and len(box.fields) == 1]
    needed = {field for fields in alone for field in fields}
    return frozenset(template.fields) - needed
