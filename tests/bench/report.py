"""The table of what was measured, made from ``bench.json`` and nothing else."""

PARTS = {
    "import": "what an import costs, against sympy's own; part by part",
    "derive": "deriving the reactions, against SymPy's beam solver; more and more loads",
    "montecarlo": "draws of an uncertainty, against numpy by hand; more and more draws",
    "exercises": "how well slips are named, and what an attempt costs",
    "marking": (
        "marking answer files, against reading them as JSON; more and more files, "
        "and some made to be slow"
    ),
    "panels": "a move of every sliding panel in Python alone; more and more panels",
    "slider": (
        "from key to picture in a real browser, against a slider that only prints and "
        "against a fresh figure; 2,000 moves"
    ),
}


def page(record):
    """The record as a page in Markdown."""
    lines = [
        "# What it costs, measured",
        "",
        _made(record),
        "",
        "Times of each part: median and spread, on this machine at that time. "
        "A ratio is taken in one run, both sides in turn. *Wanted* is what we set ourselves.",
        "",
    ]
    for name, words in PARTS.items():
        if name in record["parts"]:
            lines += _part(name, words, record["parts"][name])
    return "\n".join(lines)


def _made(record):
    here = record["machine"]
    packages = ", ".join(
        f"{name} {version}" for name, version in here["packages"].items() if version
    )
    trial = "**A trial with few repeats: these numbers say nothing.** " if record["quick"] else ""
    return (
        f"{trial}Measured {here['at']} in {record['seconds'] / 60:.1f} minutes by "
        f"`python tests/bench`: Python {here['python']}, "
        f"{here['system']}, {here['processors']} × {here['processor']}; {packages}."
    )


def _part(name, words, part):
    lines = [
        f"## {name.capitalize()}",
        "",
        f"{words[0].upper()}{words[1:]}. `bench_{name}.py`, {part['seconds']:.0f} s, load average "
        f"{_number(part['machine']['load_average'])} at its end.",
        "",
    ]
    checks = [
        [
            check["what"],
            _number(check["value"]),
            f"{check['bound']} {check['limit']:g}",
            "met" if check["met"] else "**missed**",
        ]
        for check in part["checks"]
    ]
    lines += _table("", ["what", "found", "wanted", ""], checks)
    for one in part["tables"]:
        lines += _table(one["title"], one["head"], one["rows"])
    return lines


def _number(value):
    return "-" if value is None else f"{value:.3g}"


def _table(title, head, rows):
    """A table: the first column left, the others right."""
    cells = [[cell.replace("|", "\\|") for cell in row] for row in rows]
    rule = ["---", *("--:" for _ in head[1:])]
    return [
        *([f"**{title}**", ""] if title else []),
        *(f"| {' | '.join(row)} |" for row in (head, rule, *cells)),
        "",
    ]
