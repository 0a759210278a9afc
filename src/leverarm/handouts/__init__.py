"""Pages to print as HTML: any browser shows and prints them, a screen reader reads them.

tickets.print_tickets(tickets, path, paper)    number tickets to cut out, four a page
weigh_sheet.weigh_sheet(system)                the weigh-day sheet: cautions, readings, working
worksheets.worksheet(lesson, system, seed)     a lesson's problems, each with its drawing
worksheet_key.worksheets_key(system, seed)     answers, what counts, working, what to ask
plank_lab.plank_lab(system)                    the laboratory sheet: predictions before readings
poll_cards.poll_cards()                        cards A to D to cut; poll_questions(system, seed)
parts.write_parts(folder), stale_parts(folder) every generated page of lessons:
                                               python -m leverarm.handouts [--check] [--html]
printing.print_sheets(wanted)                  the same as PDF files with tags, where there is
                                               Chromium with Playwright
customer_page.customer_page(day, path, ...)    the page to hand over: what came off the front
sheet.sheet_html(title, *pages, kind=...)      the frame of every sheet; sheet.PAPERS
"""
