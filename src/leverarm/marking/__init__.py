"""Homework for a class: codes, answer files, marking, mark sheets.  Codes only, no names.

mark_folder(folder, class_key, *, assignment=None, codes=None, received="files") -> ClassResult
                                    .marks .items .mistakes .skipped .notes; also of a zip file
processors()                        how many processes can mark at once: (..., processes=)
Assignment(name, kinds, *, system="", tries=0, tolerance=0.5, hints=3, due="")
Desk(folder)                        the instructor's folder: .start(24) .add_codes(2)
                                    .write_assignment(assignment) .tickets(assignment)
                                    .mark(name) .with_names(name, roster)
Homework(ticket, folder)              the student's side: .problem(item) .check(item, text)
files_beside(folder), write_ticket(ticket, folder), Ticket(code, number_key, assignment)
add_file(data, folder)              a file that a student brings
invented_class(folder), practice_ticket()     to look at before there are real ones
CANNOT                              what all this cannot prevent, in sentences
"""

from leverarm.marking.assignment import Assignment, Item, Ticket
from leverarm.marking.codes import new_class_key, new_codes, number_key, read_code, shown_code
from leverarm.marking.demo import invented_class, practice_ticket
from leverarm.marking.desk import CANNOT, Desk
from leverarm.marking.homework import Homework, add_file, files_beside, write_ticket
from leverarm.marking.mark import mark_folder, processors
from leverarm.marking.results import ClassResult, write_sheets

__all__ = [
    "CANNOT",
    "Assignment",
    "ClassResult",
    "Desk",
    "Homework",
    "Item",
    "Ticket",
    "add_file",
    "files_beside",
    "invented_class",
    "mark_folder",
    "new_class_key",
    "new_codes",
    "number_key",
    "practice_ticket",
    "processors",
    "read_code",
    "shown_code",
    "write_sheets",
    "write_ticket",
]
