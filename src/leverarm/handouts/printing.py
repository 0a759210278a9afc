"""HTML sheets printed as PDF files with tags, by Chromium through Playwright.

A development command: nobody who uses the workbook needs it, since any browser prints the sheets.
Chromium writes the tags, the title and the language.  What it leaves out is added here as an
incremental update (ISO 32000-1, 7.5.6): the fingerprint of the sheet as a keyword, and metadata
with the title, by which a reader shows it.
"""

import hashlib
import re
import shutil
from collections.abc import Iterable
from html import escape, unescape
from pathlib import Path

from leverarm.files import write_whole

# Outlined letters stand in a PDF file as shapes, each size in a font of its own: two thirds of a
# worksheet's bytes.  Printed, the outline is a piece of paper behind each line of words.
_PAPER_BEHIND = """() => {
  for (const text of document.querySelectorAll('.lv-halo, .st-halo')) {
    const lines = text.children.length ? [...text.children] : [text];
    const paper = document.createElementNS('http://www.w3.org/2000/svg', 'g');
    for (const line of lines.filter((one) => one.getNumberOfChars())) {
      const size = parseFloat(getComputedStyle(line).fontSize);
      const start = line.getStartPositionOfChar(0);
      const piece = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
      const wide = line.getComputedTextLength() + 0.1 * size;
      const [left, top] = [start.x - 0.05 * size, start.y - 0.76 * size];
      const told = {x: left, y: top, width: wide, height: 0.84 * size};
      for (const [name, value] of Object.entries(told)) piece.setAttribute(name, value);
      piece.style.cssText = 'fill:#fff;stroke:none';
      paper.append(piece);
    }
    if (text.hasAttribute('transform'))
      paper.setAttribute('transform', text.getAttribute('transform'));
    text.before(paper);
    text.style.setProperty('stroke', 'none', 'important');
  }
}"""
_NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


class NoBrowser(RuntimeError):
    """There is no browser to print with, said in sentences."""

    def __init__(self) -> None:
        super().__init__(
            "No PDF file was printed, because no Chromium or Chrome was found that Playwright can "
            "start. The pages are written: open them in any browser and print from there."
        )


def fingerprint(html: str) -> str:
    """Sixteen letters that name a sheet's text, whatever the line ends of its file.

    >>> fingerprint("a\\r\\nb") == fingerprint("a\\nb") != fingerprint("a b")
    True
    """
    return hashlib.sha256(html.replace("\r\n", "\n").encode("utf-8")).hexdigest()[:16]


def carries(pdf: bytes, html: str) -> bool:
    """Whether a PDF file was printed from this sheet, whole."""
    keyword = f"/Keywords ({fingerprint(html)})".encode()
    return keyword in pdf and pdf.rstrip().endswith(b"%%EOF")


def print_sheets(wanted: Iterable[tuple[str, Path, str]]) -> list[Path]:
    """Print sheets, each whole or not at all; NoBrowser where there is none for it.

    wanted      (text of the sheet, path of the PDF file, paper) of each
    """
    try:
        from playwright.sync_api import Error, sync_playwright
    except ImportError:
        raise NoBrowser from None
    printed = []
    with sync_playwright() as program:
        own = next(filter(None, map(shutil.which, _NAMES)), None)
        try:
            browser = program.chromium.launch(executable_path=own)
        except Error:
            raise NoBrowser from None
        page = browser.new_page(java_script_enabled=False)
        for html, path, paper in wanted:
            page.set_content(html)
            page.evaluate(_PAPER_BEHIND)
            data = page.pdf(format=paper, print_background=True, tagged=True, outline=True)
            write_whole(path, stamped(data, html))
            printed.append(path)
        browser.close()
    return printed


def stamped(pdf: bytes, html: str) -> bytes:
    """A PDF file of Chromium with fingerprint and metadata added at its end."""
    found = re.search(r"<title>(.*?)</title>", html)
    title = escape(unescape(found[1]) if found else "", quote=False)
    trailer = pdf[pdf.rindex(b"trailer") :]
    size, root, info, start = (
        int(_found(words, trailer))
        for words in (rb"/Size (\d+)", rb"/Root (\d+)", rb"/Info (\d+)", rb"startxref\s+(\d+)")
    )
    about = _METADATA.format(title=title).encode("utf-8")
    keyword = f"\n/Keywords ({fingerprint(html)})>>".encode()
    new = {
        info: _found(_OBJECT % info, pdf)[:-2] + keyword,
        root: _found(_OBJECT % root, pdf)[:-2] + f"\n/Metadata {size} 0 R>>".encode(),
        size: f"<</Type /Metadata\n/Subtype /XML\n/Length {len(about)}>> stream\n".encode()
        + about
        + b"\nendstream",
    }
    table = b"xref\n"
    for number, content in new.items():
        table += f"{number} 1\n{len(pdf):010d} 00000 n \n".encode()
        pdf += f"{number} 0 obj\n".encode() + content + b"\nendobj\n"
    end = f"trailer\n<</Size {size + 1}\n/Root {root} 0 R\n/Info {info} 0 R\n/Prev {start}>>\n"
    return pdf + table + f"{end}startxref\n{len(pdf)}\n%%EOF\n".encode()


_OBJECT = rb"\n%d 0 obj\n(.*?>>)\s*endobj"
_METADATA = (
    '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
    '<x:xmpmeta xmlns:x="adobe:ns:meta/">'
    '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/">'
    '<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>'
    "<dc:language><rdf:Bag><rdf:li>en</rdf:li></rdf:Bag></dc:language>"
    "</rdf:Description></rdf:RDF></x:xmpmeta>"
    '<?xpacket end="r"?>'
)


def _found(pattern: bytes, data: bytes) -> bytes:
    """What the group of a pattern finds; ValueError where the file is not as Chromium writes it."""
    found = re.search(pattern, data, re.DOTALL)
    if found is None:
        raise ValueError(f"no {pattern!r} in this PDF file")
    return found[1]
