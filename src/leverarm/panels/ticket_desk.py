"""Where a student's ticket comes from: a file beside the notebook, brought along, or typed."""

from collections.abc import Callable
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm.marking import Ticket, add_file, files_beside, shown_code, write_ticket
from leverarm.panels.base import button, html, row, set_if_changed, show_if
from leverarm.panels.controls import dropdown, offer, text_box
from leverarm.quantities import Refusal


class TicketDesk:
    """Where a ticket comes from: a file beside the notebook, a file brought along, or typed.

    widget      the whole of it;  found  the marking.FilesBeside of the folder
    use         called with the Ticket chosen or typed;  attempt  runs a click and shows its error
    """

    def __init__(
        self, folder: Path, use: Callable[[Ticket], object], attempt: Callable[..., object]
    ) -> None:
        self._folder, self._use, self._attempt = folder, use, attempt
        self.advice = html()
        self.tickets, self.assignments = dropdown("Ticket", []), dropdown("Assignment", [])
        self.code = text_box("Code", placeholder="such as K7MP-TDC")
        self.key_box = text_box("Number key", placeholder="four groups of four")
        self.use_button = button(
            "Open this ticket", lambda: attempt(self._use_chosen), primary=True
        )
        self.start_button = button(
            "Start", lambda: attempt(lambda: use(self.typed())), primary=True
        )
        self.chosen = row(self.tickets, self.use_button)
        self.boxes = w.VBox([self.assignments, self.code, self.key_box, self.start_button])
        # In a browser's Python there is no other way in for a file.
        self.upload = w.FileUpload(
            accept=".txt", multiple=True, description="Bring a ticket or saved answers", tooltip=""
        )
        self.upload.layout.width = "auto"
        self.upload.observe(self._uploaded, "value")
        self.brought = html("", "lv-say")
        look = button("Look again for files", lambda: attempt(self.look))
        self.widget = w.VBox(
            [self.advice, self.chosen, self.boxes, self.upload, self.brought, look]
        )
        self.look()

    def look(self) -> None:
        """Look for tickets and assignments beside the notebook."""
        self.found = files_beside(self._folder)
        tickets, assignments = self.found.tickets, self.found.assignments
        names = [f"{ticket.assignment.name}, code {shown_code(ticket.code)}" for ticket in tickets]
        offer(self.tickets, [(name, at) for at, name in enumerate(names)])
        offer(self.assignments, [(one.name, at) for at, one in enumerate(assignments)])
        show_if(tickets, self.chosen)
        show_if(assignments, self.boxes)
        notes = "".join(f'<p class="lv-error">{escape(note)}</p>' for note in self.found.notes)
        set_if_changed(self.advice, self._advice() + notes)

    def _advice(self) -> str:
        """What to do next."""
        if self.found.tickets:
            other = " Or type another one." if self.found.assignments else ""
            return f"<p>Choose your ticket.{other}</p>"
        if self.found.assignments:
            return "<p>Type the code and the number key from your ticket. You do this once.</p>"
        return (
            "<p>There is no ticket and no assignment beside this notebook yet. Put the file from "
            "your instructor here: its name ends in <b>.assignment.txt</b> or <b>.ticket.txt</b>. "
            "Then look again.</p>"
        )

    def _use_chosen(self) -> None:
        self._use(self.found.tickets[self.tickets.value])

    def typed(self) -> Ticket:
        """The ticket in the boxes, kept in a file, so that it is typed once."""
        return self.type(self.code.value, self.key_box.value)

    def type(self, code: str, key: str) -> Ticket:
        """A ticket given by its code and number key, kept in a file."""
        if not self.found.assignments:
            raise Refusal(
                "assignment",
                None,
                "one whose file is beside this notebook",
                "put the assignment file from your instructor there, then look again",
            )
        ticket = Ticket(code, key, self.found.assignments[self.assignments.value])
        write_ticket(ticket, self._folder)
        return ticket

    def _uploaded(self, change: dict) -> None:
        files = change["new"]
        if files:
            self._attempt(lambda: self.take(*(bytes(one["content"]) for one in files)))
            self.upload.value = ()

    def take(self, *files: bytes) -> None:
        """Keep the files that were brought, then look again."""
        words = " ".join(add_file(data, self._folder) for data in files)
        set_if_changed(self.brought, f"<p>{escape(words)}</p>")
        self.look()
