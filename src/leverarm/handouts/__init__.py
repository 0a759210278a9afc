"""Pages to print, drawn by matplotlib: no browser, no other program.

slips.slips(handed, path, paper="A4")          number slips to cut out, four a page
weigh_sheet.weigh_sheet(path, paper="A4")      the weigh-day sheet: cautions, readings, working
customer_page.customer_page(case, path, ...)   the page to hand over, PDF or HTML: loader on against loader off
"""
