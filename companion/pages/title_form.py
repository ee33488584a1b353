"""The form that begins a show: what it is called, and a button."""

from companion.pages.markup import Html, tag


def title_form_html(name: str, button: Html) -> tuple[Html, Html]:
    """Return the form with this id, and the note under it. The page posts the title to the address of that name."""
    title = tag("input", id=f"{name}-title", maxlength="200", required=True, autocomplete="off")
    label = tag("p", tag("label", "What is it called? ", title))
    return (
        tag("form", label, button, id=name, data_begins=f"/{name}"),
        tag("p", id=f"{name}-slip", class_="slip"),
    )
