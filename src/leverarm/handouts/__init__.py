"""Pages to print, drawn by matplotlib: no browser, no other program.

tickets.print_tickets(tickets, path, paper)    number tickets to cut out, four a page
weigh_sheet.weigh_sheet(path, paper="A4")      the weigh-day sheet: cautions, readings, working
worksheets.worksheet(lesson, size, seed)       a lesson's problems in both unit systems
worksheets.key(size, seed)                     every answer with every step
plank_lab.plank_lab(size)                      the laboratory sheet: predictions before readings
poll_cards.poll_cards(size)                    cards A to D to cut; poll_questions(size) what to ask
parts.write_parts(folder), stale_parts(folder) every generated page of lessons:
                                               python -m leverarm.handouts [--check]
customer_page.customer_page(day, path, ...)    the page to hand over, HTML: what came off the front
sheet.PAPERS, Sheet                            the papers, and a page to write on
"""
